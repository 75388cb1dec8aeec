"""What is on a piece and whether it holds lead: told, and said in one go."""

from __future__ import annotations

from datetime import datetime

import click

from partsbench.cli.base import (
    OK,
    book_options,
    json_option,
    open_book,
    piece_of,
    say,
    say_done,
    say_json,
    time_of,
)
from partsbench.cli.old_finish_options import age_option, on_it_option
from partsbench.core.finish.old_finish import FOUND, FREE, TESTS, WAYS
from partsbench.core.piece.piece import Piece
from partsbench.services.known import old_finish
from partsbench.services.known.old_finish import Saying
from partsbench.services.shop import Shop


@click.command("old-finish")
@click.argument("tag")
@click.argument("names", nargs=-1)
@on_it_option
@age_option
@click.option("--test", type=click.Choice(TESTS), default=None, help="What a test for lead found.")
@click.option("--how", default="", help="For a test: test kit, laboratory …")
@click.option("--where", default="", help="For a test: of which place.")
@click.option("--by", default="", help="For a test: who made it; else who is at work.")
@click.option("--on", "on", default="", metavar="TIME", help="For a test: when; else now.")
@click.option("--work", type=click.Choice(WAYS), default=None, help="So it is worked.")
@json_option
@click.pass_context
def old_finish_command(
    ctx: click.Context,
    tag: str,
    names: tuple[str, ...],
    on_it: str | None,
    age: str | None,
    test: str | None,
    how: str,
    where: str,
    by: str,
    on: str,
    work: str | None,
    as_json: bool,
) -> int:
    """What is known of the old finish of a piece, by part, and everything that was said of it.

    With options: says it, of the parts or faces named, else of the whole piece. Until it is
    answered nothing is sanded or scraped dry, and no stripper goes on.
    """
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    if not any((on_it, age, test, work)):
        return _told(shop, piece, as_json)
    tested = test in (FREE, FOUND)
    when: datetime | None = (time_of(shop, on) or shop.clock()) if tested else None
    said = Saying(age or "", on_it or "", test or "", work or "", how.strip(), where.strip(),
                  by.strip() or shop.who, when)  # fmt: skip
    return say_done(old_finish.say(shop, piece.tag, said, names), as_json)


def _told(shop: Shop, piece: Piece, as_json: bool) -> int:
    found = old_finish.known(shop, piece)
    records = [old_finish.record_words(f) for f in old_finish.records(shop, piece.tag)]
    if as_json:
        say_json(
            {
                "known": [
                    {"of": [s.key for s in k.names], "lead": k.lead.value, "worked": k.way or None,
                     "cleared": k.cleared}
                    for k in found
                ],
                "said": records,
            }
        )  # fmt: skip
        return OK
    for each in found:
        say(each.sentence)
    for line in records:
        say(f"Said: {line}")
    if not found:
        say("No face of it is stripped or sanded.")
    return OK


COMMANDS = {"old-finish": book_options(old_finish_command)}
