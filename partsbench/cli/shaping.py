"""Changing a piece that is in the book: its finish paths, parts, pulls, legs and numbers."""

from __future__ import annotations

import click

from partsbench.cli.base import (
    OK,
    BadInputError,
    book_options,
    good,
    json_option,
    open_book,
    piece_of,
    say,
    say_json,
)
from partsbench.core.naming import together
from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family, parse_short
from partsbench.core.piece.fittings import FITTINGS
from partsbench.core.piece.parts import Home, HomeKind
from partsbench.core.piece.piece import Numbering, Piece
from partsbench.services.books import pieces

SORTS = {
    "drawer": Family.DRAWER,
    "door": Family.DOOR,
    "shelf": Family.SHELF,
    "leg": Family.LEG,
    "pull": Family.PULL,
    "knob": Family.PULL,
    "plate": Family.PULL,
    "lock": Family.LOCK,
    "key": Family.LOCK,
    "runner": Family.RUNNER,
    "top": Family.TOP,
    "bag": Family.BAG,
    "part": Family.OTHER,
}
"""Words for what can be added, and the family that numbers it."""


@click.command("path")
@click.argument("tag")
@click.argument("key")
@click.argument("names", nargs=-1, required=True)
@json_option
@click.pass_context
def path(ctx: click.Context, tag: str, key: str, names: tuple[str, ...], as_json: bool) -> int:
    """Give parts (D1, top, legs) or faces (“D1 front”) the finish path KEY."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    changed = pieces.give_path(shop, piece.tag, key, names)
    return _told(changed, f"{', '.join(names)}: {key}.", as_json)


@click.command("add-part")
@click.argument("tag")
@click.argument("sort", type=click.Choice(list(SORTS)), metavar="SORT")
@click.option("--name", default="", help="What it is.")
@click.option("--on", "host", default="", metavar="PART", help="It sits on that part.")
@click.option("--in", "home", default="", metavar="HOME", help="Its home: H5.")
@click.option("--spot", default="", help="Where there: left, “upper left”.")
@click.option("--contents", default="", help="What a bag holds.")
@click.option("--fragile", is_flag=True, help="Store upright, two people.")
@json_option
@click.pass_context
def add_part(
    ctx: click.Context,
    tag: str,
    sort: str,
    name: str,
    host: str,
    home: str,
    spot: str,
    contents: str,
    fragile: bool,
    as_json: bool,
) -> int:
    """Add one part: a drawer, door, shelf, leg, pull, knob, plate, lock, key, runner, top, bag or
    other part. It gets the next number of its family; no other number moves.
    """
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    family = SORTS[sort]
    parent = _short_of(piece, host) if host else ""
    changed = pieces.add_part(
        shop,
        piece.tag,
        family,
        _home(piece, family, parent, home, spot),
        name or (sort if sort in ("knob", "plate", "lock", "key") else ""),
        parent=parent,
        contents=contents,
        fragile=fragile,
    )
    if isinstance(changed, Refused):
        raise BadInputError(changed.sentence)
    old = {p.short for p in piece.parts}
    new = next(p for p in changed.parts if p.short not in old)
    return _told(changed, f"Added {new.short}: {changed.code(new)}.", as_json)


@click.command("edit-part")
@click.argument("tag")
@click.argument("part")
@click.option("--name", help="What it is.")
@click.option("--old-mark", help="The mark that an earlier owner left.")
@click.option("--note", help="A note.")
@click.option("--contents", help="What a bag holds.")
@click.option("--fragile/--not-fragile", default=None, help="Store upright, two people.")
@click.option("--hidden/--shown", default=None, help="Left off papers that a client may see.")
@json_option
@click.pass_context
def edit_part(
    ctx: click.Context,
    tag: str,
    part: str,
    name: str | None,
    old_mark: str | None,
    note: str | None,
    contents: str | None,
    fragile: bool | None,
    hidden: bool | None,
    as_json: bool,
) -> int:
    """Change the words about a part: its name, old mark, note, what a bag holds."""
    if all(v is None for v in (name, old_mark, note, contents, fragile, hidden)):
        raise BadInputError("Say what to change: --name, --old-mark, --note, --contents …")
    shop = open_book(ctx)
    changed = pieces.edit_part(
        shop,
        piece_of(shop, tag).tag,
        part,
        name=name,
        old_mark=old_mark,
        note=note,
        contents=contents,
        fragile=fragile,
        hidden=hidden,
    )
    return _told(changed, f"{part.upper()} changed.", as_json)


@click.command("retire-part")
@click.argument("tag")
@click.argument("part")
@click.option("--reason", required=True, help="Why it is no longer there.")
@json_option
@click.pass_context
def retire_part(ctx: click.Context, tag: str, part: str, reason: str, as_json: bool) -> int:
    """Take a part out of the piece for good. Its number is not given again."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    short = _short_of(piece, part)
    changed = pieces.retire_part(shop, piece.tag, short, reason)
    return _told(changed, f"{short} retired: {reason}.", as_json)


@click.command("fittings")
@click.argument("tag")
@click.argument("sort", type=click.Choice(list(FITTINGS)), metavar="SORT")
@click.argument("count", type=int)
@click.argument("hosts", nargs=-1, required=True)
@json_option
@click.pass_context
def fittings(
    ctx: click.Context, tag: str, sort: str, count: int, hosts: tuple[str, ...], as_json: bool
) -> int:
    """Set how many pulls, knobs, plates, locks, keys or runners drawers or doors have each."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    shorts = [_short_of(piece, host) for host in hosts]
    changed = pieces.give_fittings(shop, piece.tag, shorts, count, sort)
    return _told(changed, f"{count} × {sort} on {', '.join(shorts)}.", as_json)


@click.command("legs")
@click.argument("tag")
@click.argument("count", type=int)
@click.option("--equal", is_flag=True, help="Any of them may stand at any corner.")
@json_option
@click.pass_context
def legs(ctx: click.Context, tag: str, count: int, equal: bool, as_json: bool) -> int:
    """Set how many legs a piece has."""
    shop = open_book(ctx)
    changed = pieces.give_legs(shop, piece_of(shop, tag).tag, count, equal)
    return _told(changed, f"{count} legs.", as_json)


@click.command("alike")
@click.argument("tag")
@click.argument("parts", nargs=-1, required=True)
@click.option("--off", is_flag=True, help="Each has its own place again.")
@json_option
@click.pass_context
def alike(ctx: click.Context, tag: str, parts: tuple[str, ...], off: bool, as_json: bool) -> int:
    """Say that pulls, legs or loose parts are alike: any of them goes to any of their places."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    shorts = [_short_of(piece, part) for part in parts]
    changed = pieces.make_alike(shop, piece.tag, shorts, not off)
    how = "each to its own place" if off else "alike, any to any place"
    return _told(changed, f"{together(shorts)}: {how}.", as_json)


@click.command("rename")
@click.argument("tag")
@click.argument("title")
@json_option
@click.pass_context
def rename(ctx: click.Context, tag: str, title: str, as_json: bool) -> int:
    """Say what a piece is, beside its codename."""
    shop = open_book(ctx)
    return _told(pieces.rename(shop, piece_of(shop, tag).tag, title), f"Called {title}.", as_json)


@click.command("number-by")
@click.argument("tag")
@click.argument("order", type=click.Choice([n.value for n in Numbering]), metavar="ORDER")
@json_option
@click.pass_context
def number_by(ctx: click.Context, tag: str, order: str, as_json: bool) -> int:
    """Choose the order of the numbers as seen from the front, until labels are printed: “by row”,
    “by column” or “from the bottom”.
    """
    shop = open_book(ctx)
    changed = pieces.number_by(shop, piece_of(shop, tag).tag, Numbering(order))
    return _told(changed, f"Numbered {order}.", as_json)


def _told(changed: Piece | Refused, sentence: str, as_json: bool) -> int:
    piece = good(changed)
    if as_json:
        say_json({"sentence": sentence, "tag": piece.tag})
    else:
        say(f"{piece.codename} {piece.tag}: {sentence}")
    return OK


def _short_of(piece: Piece, asked: str) -> str:
    from partsbench.services.shop import find_short

    return good(find_short(piece, asked))


def _home(piece: Piece, family: Family, parent: str, home: str, spot: str) -> Home:
    """Where a new part lives: on a part, in an opening, at a corner, or on the piece."""
    if not home:
        if family in (Family.DRAWER, Family.DOOR, Family.LEG) and not parent:
            raise BadInputError("Say which home it has, as in --in H5.")
        return Home(HomeKind.ON_PART if parent else HomeKind.ON_PIECE, spot=spot)
    short = parse_short(home)
    number = short[1] if short and short[0] is Family.HOME else 0
    corner = next((c for c in piece.corners if c.number == number), None)
    if corner:
        return Home(HomeKind.CORNER, number, corner.spot)
    if piece.front.opening(number) is None:
        raise BadInputError(f"{piece.codename} has no home “{home}”.")
    return Home(HomeKind.OPENING, number, spot)


COMMANDS = {
    c.name: book_options(c)
    for c in (path, add_part, edit_part, retire_part, fittings, legs, alike, rename, number_by)
}
