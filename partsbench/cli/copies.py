"""Copies of the book: where they go, which there are, and getting one back."""

from __future__ import annotations

from pathlib import Path

import click

from partsbench import files
from partsbench.cli.base import (
    NO,
    OK,
    BadInputError,
    CallSettings,
    book_options,
    book_path,
    good,
    iso,
    json_option,
    open_book,
    say,
    say_done,
    say_json,
    visible,
)
from partsbench.core.keeping import RULE
from partsbench.core.outcomes import Refused
from partsbench.core.said_often import no_file
from partsbench.services.books import copies as kept
from partsbench.services.shop import open_shop


@click.command("copies")
@click.option(
    "--folder", type=click.Path(path_type=Path), metavar="DIR", help="From now on they go there."
)
@click.option("--now", is_flag=True, help="Make one now.")
@json_option
@click.pass_context
def copies(ctx: click.Context, folder: Path | None, now: bool, as_json: bool) -> int:
    """List the copies that were made by themselves: one a day, and before each large change.

    A folder on a second disk outlives the first one. Each copy is looked through when it is
    written.
    """
    shop = open_book(ctx)
    if folder is not None:
        return say_done(kept.choose_folder(shop, folder), as_json)
    if now:
        return say_done(kept.make(shop), as_json)
    found = kept.kept(shop)
    if as_json:
        say_json([{"file": str(c.path), "at": iso(c.at)} for c in found])
        return OK
    for copy in found:
        say(f"{copy.at.astimezone():%Y-%m-%d %H:%M}  {copy.path}")
    say(kept.standing(shop))
    say(RULE)
    return OK


@click.command("restore")
@click.argument("copy", type=click.Path(path_type=Path))
@click.option("--yes", is_flag=True, help="Do it; without this, only what would be lost is told.")
@json_option
@click.pass_context
def restore(ctx: click.Context, copy: Path, yes: bool, as_json: bool) -> int:
    """Make COPY the book. Tells what that would lose; the book as it was is kept beside it."""
    desk: CallSettings = ctx.find_root().obj
    path = book_path(desk)
    if not files.is_there(copy):
        raise BadInputError(no_file(copy))
    if yes:
        return say_done(kept.restore(path, copy, desk.clock, desk.who), as_json)
    shop = open_shop(path, desk.clock, desk.who) if files.is_there(path) else None
    if isinstance(shop, Refused):
        click.echo(visible(f"partsbench: {shop.sentence}"), err=True)
        shop = None
    elif shop:
        ctx.call_on_close(shop.close)
    sentence = kept.loss_words(good(kept.would_lose(shop, copy)))
    say_json({"sentence": sentence}) if as_json else say(f"{sentence} With --yes it is done.")
    return NO


COMMANDS = {c.name: book_options(c) for c in (copies, restore)}
