"""Pieces: laid out, taken in, listed, exported, and who they are for."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

import click

from partsbench import trade
from partsbench.cli import rows
from partsbench.cli.base import (
    OK,
    BadInputError,
    book_options,
    good,
    in_book,
    json_option,
    names_in,
    new_file,
    open_book,
    piece_of,
    say,
    say_done,
    say_json,
    written_whole,
)
from partsbench.cli.old_finish_options import age_option, on_it_option
from partsbench.core.finish.old_finish import AGE, OLD
from partsbench.core.key_words import parts_word, word_of
from partsbench.core.outcomes import Refused
from partsbench.core.piece.parts import FAMILY_NAMES, LEAVE, RAW, family_word
from partsbench.core.piece.piece import Numbering, Piece
from partsbench.core.sums.units import length
from partsbench.core.wording import listed, plural
from partsbench.services.books import clients, exchange, pieces
from partsbench.services.known import state
from partsbench.services.shop import Shop
from partsbench.services.shown import putting_away
from partsbench.services.sums.habits import follow_typed

PATH_KEYS = (*trade.path_texts(), RAW, LEAVE)


def path_options(command: Any) -> Any:
    """One option for each finish path that is shipped: `--paint D1,D3`."""
    for key in reversed(PATH_KEYS):
        command = click.option(
            f"--{key.replace('_', '-')}", key, metavar="NAMES", default="",
            help=f"Parts or faces on the path “{key}”.",
        )(command)  # fmt: skip
    return command


@click.command("lay-out")
@click.argument("codename")
@click.option("--rows", "counts", required=True, help="Drawers per row, top to bottom: “2 2 3”.")
@click.option("--title", default="", help="What the piece is, beside its codename.")
@click.option("--width", metavar="SIZE", default="", help="Width of the front: 876, “34 1/2 in”.")
@click.option("--height", metavar="SIZE", default="", help="Height of the front.")
@click.option("--legs", type=int, default=0, help="How many legs.")
@click.option("--equal-legs", is_flag=True, help="Any leg may stand at any corner.")
@click.option("--pulls", type=int, default=0, help="Pulls on each drawer.")
@click.option("--top", is_flag=True, help="It has a top that comes off.")
@click.option(
    "--numbering",
    type=click.Choice([n.value for n in Numbering]),
    default=Numbering.BY_ROW.value,
    help="Order of the numbers, as seen from the front.",
)
@on_it_option
@age_option
@path_options
@json_option
@click.pass_context
def lay_out(
    ctx: click.Context,
    /,
    codename: str,
    counts: str,
    title: str,
    width: str,
    height: str,
    legs: int,
    equal_legs: bool,
    pulls: int,
    top: bool,
    numbering: str,
    on_it: str | None,
    age: str | None,
    as_json: bool,
    **paths: str,
) -> int:
    """Make a piece from its drawers per row. Prints its tag last."""
    wide, high = size_of(width, "width"), size_of(height, "height")
    asked = partial(
        pieces.lay_out,
        codename=codename,
        counts=counts,
        title=title,
        width=wide,
        height=high,
        legs=legs,
        equal_legs=equal_legs,
        pulls=pulls,
        top=top,
        numbering=Numbering(numbering),
        paths=[(key, names_in(paths[key])) for key in PATH_KEYS if paths[key]],
        known={key: said for key, said in ((OLD, on_it), (AGE, age)) if said},
    )

    def laid_out(shop: Shop) -> Piece | Refused:
        follow_typed(shop, width, height)
        return asked(shop)

    return _told([in_book(ctx, laid_out)], "Laid out", as_json)


@click.command("take-in")
@click.argument("file", type=click.Path(path_type=Path))
@json_option
@click.pass_context
def take_in(ctx: click.Context, file: Path, as_json: bool) -> int:
    """Take in the piece that FILE describes (TOML), or one that was exported (JSON).

    Prints the new tags last, one to a line.
    """
    return _told(in_book(ctx, partial(pieces.take_in, file=file)), "Took in", as_json)


@click.command("mirror")
@click.argument("tag")
@click.option("--title", default="", help="What the second piece is.")
@json_option
@click.pass_context
def mirror(ctx: click.Context, tag: str, title: str, as_json: bool) -> int:
    """Make the second piece of a pair by reflection, with a tag and codes of its own."""
    shop = open_book(ctx)
    return _told([good(pieces.mirror(shop, tag, title))], "Mirrored", as_json)


@click.command("parts")
@click.argument("tag")
@json_option
@click.pass_context
def parts(ctx: click.Context, tag: str, as_json: bool) -> int:
    """List the parts of a piece: number, code, home, faces and how far each has come."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    now = state.piece_state(shop, piece)
    states = [now.of(p.short) for p in piece.present]
    if as_json:
        say_json([rows.part_row(piece, s) for s in states])
        return OK
    for own in states:
        part = own.part
        row = rows.part_row(piece, own)
        where = word_of(own.where)
        say(f"{part.short:<4} {row['code']}  {row['home']:<30} {where:<16} {own.status}")
    return OK


@click.command("export")
@click.argument("tag")
@click.argument("file", type=click.Path(path_type=Path))
@click.pass_context
def export(ctx: click.Context, tag: str, file: Path) -> int:
    """Write everything of a piece but its client to FILE as JSON; take-in reads it back."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    target = new_file(ctx.find_root().obj, file)
    data = good(exchange.export(shop, piece.tag)).encode()
    with written_whole(target, data):
        pass
    say(f"Exported {piece.codename} {piece.tag} to {file}.")
    if len(data) > pieces.LARGEST_EXPORT:
        say("It is larger than take-in reads; only a copy of the book keeps all of it.")
    return OK


@click.command("put-away")
@click.argument("tag")
@click.option("--again", is_flag=True, help="Take it out again.")
@json_option
@click.pass_context
def put_away(ctx: click.Context, tag: str, again: bool, as_json: bool) -> int:
    """Put a finished piece away: the day, the plan and the board leave it out."""
    shop = open_book(ctx)
    act = putting_away.take_out_again if again else putting_away.put_away
    return say_done(act(shop, piece_of(shop, tag).tag), as_json)


@click.command("client")
@click.argument("tag")
@click.option("--name", help="Who the job is for.")
@click.option("--contact", help="Telephone or mail.")
@click.option("--address", help="Where it goes.")
@click.option("--note", help="Anything else about them.")
@json_option
@click.pass_context
def client(ctx: click.Context, /, tag: str, as_json: bool, **given: str | None) -> int:
    """Note who a job is for, or show it. Kept apart from the parts and never on a label."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    now = clients.client_of(shop, piece.codename)
    changed = {key: value for key, value in given.items() if value is not None}
    if changed:
        return say_done(clients.set_client(shop, piece.tag, **{**now, **changed}), as_json)
    if as_json:
        say_json(now)
        return OK
    for key, value in now.items():
        if value:
            say(f"{key}: {value}")
    if not any(now.values()):
        say(f"No client is noted for {piece.codename}.")
    return OK


@click.command("forget-client")
@click.argument("tag")
@json_option
@click.pass_context
def forget_client(ctx: click.Context, tag: str, as_json: bool) -> int:
    """Delete a client's data for good. The history of the parts stays; undo starts afresh."""
    return say_done(clients.forget_client(open_book(ctx), tag), as_json)


def size_of(text: str, what: str) -> float | None:
    """A size in mm from `876`, `34 1/2 in` or `2' 10"`; None when none was given."""
    if not text:
        return None
    found = length(text, what=what)
    if isinstance(found, Refused):
        raise BadInputError(found.sentence)
    return found.value


def _told(made: list[Piece], did: str, as_json: bool) -> int:
    if as_json:
        say_json(
            [
                {"tag": p.tag, "codename": p.codename, "title": p.title, "parts": len(p.present)}
                for p in made
            ]
        )
        return OK
    for piece in made:
        counts = (
            plural(n, f"{n} {family_word(f)}", f"{n} {parts_word(FAMILY_NAMES[f])}")
            for f, n in piece.count().items()
        )
        name = f"{piece.codename} ({piece.title})" if piece.title else piece.codename
        say(f"{did} {name}: {listed(counts)}.")
    for piece in made:
        say(piece.tag)
    return OK


COMMANDS = {
    c.name: book_options(c)
    for c in (lay_out, take_in, mirror, parts, export, put_away, client, forget_client)
}
