"""The front from the command line: shown as a list of openings, and changed one step at a time."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

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
from partsbench.cli.pieces import size_of
from partsbench.core.outcomes import Refused
from partsbench.core.piece import shaping
from partsbench.core.piece.codes import Family, parse_short, short_number
from partsbench.core.piece.front import Front, OpeningKind, parse_rows
from partsbench.core.piece.piece import Piece, opening_words
from partsbench.core.piece.shaping import Axis
from partsbench.core.sums.shown import show_across
from partsbench.core.wording import or_list
from partsbench.services.books import pieces
from partsbench.services.known.measures import measures
from partsbench.services.shop import Shop

Shaped = Front | Refused

KINDS = {kind.value.replace(" ", "-"): kind for kind in OpeningKind}


@click.command("front")
@click.argument("tag")
@click.argument("action", default="show")
@click.argument("words", nargs=-1)
@json_option
@click.pass_context
def front(ctx: click.Context, tag: str, action: str, words: tuple[str, ...], as_json: bool) -> int:
    """Show the openings of a piece, or change them. ACTION and its words:

    \b
    show                     the openings, with their homes and sizes
    rows “2 2 3”             another front of the same size
    split H5 columns 2       divide an opening into columns or rows
    join H1 H2               one opening from several
    kind H5 door             drawer, door, open-shelf, false-front, empty
    behind H5 “1 2”          drawers behind a door, per row
    width H5 “12 in”         also height; the whole grows with it
    remove H5                solid front instead
    fill                     a drawer in each solid place
    """
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    if action == "show":
        return _show(shop, piece, as_json)
    if action == "rows":
        made = pieces.start_over(shop, piece.tag, " ".join(words))
    else:
        if action not in _ACTIONS:
            raise BadInputError(f"front: no action “{action}”; there are show, rows, {_LIST}.")
        shape = _ACTIONS[action](piece, words)
        said = f"Front: {action} {' '.join(words)}".rstrip()
        made = pieces.reshape(shop, piece.tag, shape, said)
    return _show(shop, _changed(made), as_json)


def _changed(made: Piece | Refused) -> Piece:
    return good(made)


def _show(shop: Shop, piece: Piece, as_json: bool) -> int:
    rows = [_opening_row(piece, o.number) for o in piece.front.openings]
    if as_json:
        say_json(
            {
                "tag": piece.tag,
                "width_mm": round(piece.front.width, 1),
                "height_mm": round(piece.front.height, 1),
                "openings": rows,
            }
        )
        return OK
    show = measures(shop)
    whole = show_across(piece.front.width, piece.front.height, show)
    say(f"{piece.codename} {piece.tag}: {whole}")
    for row in rows:
        size = show_across(row["width_mm"], row["height_mm"], show)
        say(f"{row['home']:<4} {row['kind']:<12} {row['part'] or '':<5} {size:<20} {row['words']}")
    return OK


def _opening_row(piece: Piece, number: int) -> dict[str, Any]:
    opening = piece.front.opening(number)
    assert opening is not None
    _, _, width, height = piece.front.box(opening.span)
    occupant = piece.occupant(number)
    return {
        "home": short_number(Family.HOME, number),
        "code": str(piece.home_code(number)),
        "kind": opening.kind.value,
        "part": occupant.short if occupant else None,
        "behind": short_number(Family.HOME, opening.behind) if opening.behind else None,
        "width_mm": round(width, 1),
        "height_mm": round(height, 1),
        "words": opening_words(piece.front, opening),
    }


def _split(piece: Piece, words: Sequence[str]) -> Callable[[Front], Shaped]:
    home, axis, *count = _few(words, 2, 3, "split H5 columns 2")
    axes = [a.value for a in Axis]
    if axis not in axes:
        raise BadInputError(f"front split: “{axis}” is no axis: {or_list(axes)}.")
    parts = _whole(count[0]) if count else 2
    return partial(shaping.split, number=_home(piece, home), axis=Axis(axis), parts=parts)


def _join(piece: Piece, words: Sequence[str]) -> Callable[[Front], Shaped]:
    homes = [_home(piece, word) for word in _few(words, 2, 99, "join H1 H2")]
    return partial(shaping.merge, numbers=homes)


def _kind(piece: Piece, words: Sequence[str]) -> Callable[[Front], Shaped]:
    home, kind = _few(words, 2, 2, "kind H5 door")
    if kind not in KINDS:
        raise BadInputError(f"front kind: “{kind}” is none of {', '.join(KINDS)}.")
    return partial(shaping.set_kind, number=_home(piece, home), kind=KINDS[kind])


def _behind(piece: Piece, words: Sequence[str]) -> Callable[[Front], Shaped]:
    home, *counts = _few(words, 2, 99, "behind H5 “1 2”")
    rows = parse_rows(" ".join(counts))
    if isinstance(rows, Refused):
        raise BadInputError(rows.sentence)
    return partial(shaping.put_behind, door=_home(piece, home), counts=rows)


def _size(axis: Axis, piece: Piece, words: Sequence[str]) -> Callable[[Front], Shaped]:
    home, *size = _few(words, 2, 9, "width H5 “12 in”")
    mm = size_of(" ".join(size), "size")
    if mm is None:
        raise BadInputError("front: write it as in width H5 “12 in”.")
    return partial(shaping.resize_opening, number=_home(piece, home), axis=axis, size=mm)


def _remove(piece: Piece, words: Sequence[str]) -> Callable[[Front], Shaped]:
    (home,) = _few(words, 1, 1, "remove H5")
    return partial(shaping.remove, number=_home(piece, home))


def _fill(_: Piece, words: Sequence[str]) -> Callable[[Front], Shaped]:
    _few(words, 0, 0, "fill")
    return shaping.fill


_ACTIONS: dict[str, Callable[[Piece, Sequence[str]], Callable[[Front], Shaped]]] = {
    "split": _split,
    "join": _join,
    "kind": _kind,
    "behind": _behind,
    "width": partial(_size, Axis.COLUMNS),
    "height": partial(_size, Axis.ROWS),
    "remove": _remove,
    "fill": _fill,
}
_LIST = ", ".join(_ACTIONS)


def _few(words: Sequence[str], least: int, most: int, example: str) -> Sequence[str]:
    if not least <= len(words) <= most:
        raise BadInputError(f"front: write it as in {example}.")
    return words


def _home(piece: Piece, text: str) -> int:
    short = parse_short(text)
    if short is None or short[0] is not Family.HOME or piece.front.opening(short[1]) is None:
        have = ", ".join(short_number(Family.HOME, o.number) for o in piece.front.openings[:12])
        raise BadInputError(f"{piece.codename} has no opening “{text}”; it has {have}.")
    return short[1]


def _whole(text: str) -> int:
    if not (text.isascii() and text.isdigit()) or len(text) > 3:
        raise BadInputError(f"“{text}” is no whole number.")
    return int(text)


COMMANDS = {front.name: book_options(front)}
