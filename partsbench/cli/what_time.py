"""What time it really was, where the computer's clock was wrong."""

from __future__ import annotations

import click

from partsbench.cli.base import (
    NO,
    OK,
    book_options,
    iso,
    json_option,
    open_book,
    say,
    say_done,
    say_json,
)
from partsbench.cli.book import MOST
from partsbench.core.said_often import NO_TIME_IN_DOUBT
from partsbench.services.known import clock_doubt
from partsbench.services.shop import Shop


@click.command("what-time")
@click.argument("record", type=click.IntRange(1, MOST), required=False)
@click.argument("time", default="")
@json_option
@click.pass_context
def what_time(ctx: click.Context, record: int | None, time: str, as_json: bool) -> int:
    """Say when RECORD, a number of the history, was really made: what-time 12 "yesterday 14:20".

    TIME may be “as noted”. What was recorded while the clock ran on moves by as much. Without
    RECORD: what is in doubt; exit code 1 while something is.
    """
    shop = open_book(ctx)
    if record is None:
        return _asked(shop, as_json)
    if not time.strip():
        raise click.UsageError("Say the time too, or “as noted”.", ctx)
    return say_done(clock_doubt.say_time(shop, record, time), as_json)


def _asked(shop: Shop, as_json: bool) -> int:
    found, now = clock_doubt.time_questions(shop), shop.clock()
    if as_json:
        say_json([
            {
                "records": list(q.ids),
                "noted": iso(q.last.at),
                "why": q.why,
                "sentence": q.sentence(now),
            }
            for q in found
        ])  # fmt: skip
    else:
        for asked in found:
            say(f"{asked.last.id:>5}  {asked.sentence(now)}")
        if not found:
            say(NO_TIME_IN_DOUBT)
    return NO if found else OK


COMMANDS = {"what-time": book_options(what_time)}
