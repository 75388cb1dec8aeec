"""The book itself: its history, undo and redo, a copy, a check."""

from __future__ import annotations

from pathlib import Path

import click

from partsbench.cli import rows
from partsbench.cli.base import (
    NO,
    OK,
    BadInputError,
    book_options,
    json_option,
    open_book,
    piece_of,
    say,
    say_done,
    say_json,
)
from partsbench.core.outcomes import NotYours
from partsbench.core.said_often import NOTHING_RECORDED_YET
from partsbench.services.acts import history as journal
from partsbench.services.books import exchange
from partsbench.services.books.copies import standing
from partsbench.services.known.clock_doubt import clock_set

SHOWN = 40
EVERYTHING = -1
MOST = 10**9


@click.command("history")
@click.argument("tag", default="")
@click.option("--limit", type=click.IntRange(1, MOST), help="How many changes at most.")
@json_option
@click.pass_context
def history(ctx: click.Context, tag: str, limit: int | None, as_json: bool) -> int:
    """List the changes of the book, or of one piece, the newest first."""
    shop = open_book(ctx)
    of = piece_of(shop, tag).tag if tag else ""
    entries = journal.history(shop, of, limit or (EVERYTHING if as_json else SHOWN))
    was_set = clock_set(shop)
    if as_json:
        say_json([rows.entry_row(e) | {"clock": was_set.get(e.id)} for e in entries])
        return OK
    for entry in entries:
        at = entry.at.astimezone()
        say(f"{entry.id:>5}  {at:%Y-%m-%d %H:%M}  {entry.who:<12} {entry.sentence}".rstrip())
        if entry.id in was_set:
            say(f"{'':>5}  Before this record {was_set[entry.id]}.")
    if not entries:
        say(NOTHING_RECORDED_YET)
    return OK


@click.command("undo")
@click.option(
    "--of",
    "record",
    type=click.IntRange(1, MOST),
    default=None,
    help="The latest change by its number, also one that somebody else made.",
)
@json_option
@click.pass_context
def undo(ctx: click.Context, record: int | None, as_json: bool) -> int:
    """Take the latest change back. It stays in the history."""
    said = journal.undo(open_book(ctx), record or 0)
    if isinstance(said, NotYours):
        raise BadInputError(f"{said.sentence} Then: undo --of {said.record}.")
    return say_done(said, as_json)


@click.command("redo")
@json_option
@click.pass_context
def redo(ctx: click.Context, as_json: bool) -> int:
    """Do again what was last undone."""
    return say_done(journal.redo(open_book(ctx)), as_json)


@click.command("correct")
@click.argument("tag")
@click.argument("wrong")
@click.argument("right")
@json_option
@click.pass_context
def correct(ctx: click.Context, tag: str, wrong: str, right: str, as_json: bool) -> int:
    """“That was RIGHT, not WRONG”: the latest record of one part becomes that of another."""
    shop = open_book(ctx)
    return say_done(journal.correct(shop, piece_of(shop, tag).tag, wrong, right), as_json)


@click.command("save-copy")
@click.argument("file", type=click.Path(path_type=Path))
@json_option
@click.pass_context
def save_copy(ctx: click.Context, file: Path, as_json: bool) -> int:
    """Write a whole copy of the book to FILE, also while it is in use. Never over a file."""
    return say_done(exchange.save_copy(open_book(ctx), file), as_json)


@click.command("check-book")
@json_option
@click.pass_context
def check_book(ctx: click.Context, as_json: bool) -> int:
    """Check the whole book. A damaged one that cannot be opened is bad input."""
    shop = open_book(ctx)
    found = exchange.check_book(shop)
    if as_json:
        say_json({"book": str(shop.book.path), "faults": found})
    elif found:
        for fault in found:
            say(fault)
    else:
        say(f"{shop.book.path} is sound. {standing(shop)}")
    return NO if found else OK


COMMANDS = {c.name: book_options(c) for c in (history, undo, redo, correct, save_copy, check_book)}
