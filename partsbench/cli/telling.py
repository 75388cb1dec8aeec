"""How a sum is printed: the sentence, the figures under it, what is missing, and where from."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

import click

from partsbench import files
from partsbench.cli.base import NO, OK, book_path, good, open_book, say, say_json
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.sums import units
from partsbench.services import shop as shops
from partsbench.services.shop import Shop
from partsbench.services.sums.habits import NONE_SET, Habits, habits
from partsbench.services.sums.told import Told

T = TypeVar("T")
WIDEST = 60

units_option = click.option(
    "--units",
    "given_units",
    type=click.Choice([m.value for m in units.Measures]),
    default=None,
    help="What a bare number is in, and what is answered in; else as the setting says.",
)


def tell(told: Told | Refused, as_json: bool) -> int:
    """Print a sum; a refusal is bad input."""
    found = good(told)
    if as_json:
        words = {
            "sentence": found.sentence,
            "lacks": list(found.lacks),
            "sources": list(found.sources),
            "valid": found.valid,
            "caution": found.caution,
        }
        say_json({**found.data, **words})
        return OK
    say(found.sentence)
    _say_rows(found)
    if found.lacks:
        say(f"To answer better: {'; '.join(found.lacks)}.")
    for source in found.sources:
        say(f"From: {source}.")
    if found.valid:
        say(f"Valid: {found.valid}.")
    if found.caution:
        say(f"Mind: {found.caution}.".replace("..", "."))
    return OK


def tell_after(
    done: Done | Refused | None, told: Callable[[], Told | Refused], as_json: bool
) -> int:
    """Say what was noted, if anything, then the answer that follows; no answer yet is a no."""
    if done is not None:
        noted = good(done)
        if not as_json:
            say(noted.sentence)
    found = told()
    if done is not None and isinstance(found, Refused):
        if as_json:
            say_json({"sentence": found.sentence})
        else:
            say(found.sentence)
        return NO
    return tell(found, as_json)


def at(ctx: click.Context, asked: str) -> tuple[Shop, Piece]:
    """The open shop and the piece meant."""
    shop = open_book(ctx)
    return shop, good(shops.find_piece(shop, asked))


def own_habits(ctx: click.Context) -> Habits:
    """The shop's settings; those of a shop that has said nothing, where there is no book yet."""
    return habits(open_book(ctx)) if files.is_there(book_path(ctx.find_root().obj)) else NONE_SET


def _say_rows(told: Told) -> None:
    if not told.rows:
        return
    table = [told.head, *told.rows] if any(told.head) else list(told.rows)
    widths = [
        min(max(len(row[i]) for row in table if i < len(row)), WIDEST)
        for i in range(max(len(row) for row in table))
    ]
    for row in table:
        say(f"  {_line(row, widths)}".rstrip())


def _line(row: Sequence[str], widths: Sequence[int]) -> str:
    return "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=False))
