"""What was tried, ready or not, and what that says of the shop's own waits."""

from __future__ import annotations

from math import inf

import click

from partsbench.cli.base import (
    OK,
    BadInputError,
    at_option,
    book_options,
    json_option,
    open_book,
    piece_of,
    say,
    say_done,
    say_json,
    time_of,
)
from partsbench.cli.rows import JsonRow
from partsbench.core.finish.products import Ready
from partsbench.core.wording import or_list
from partsbench.services.acts import tries
from partsbench.services.rules import own_waits
from partsbench.services.rules.own_waits import OwnFigure
from partsbench.services.shop import Shop

ANSWERS = ("ready", "not")
NEXT = "next"
"""The state that the next step of the part asks for."""


@click.command("tried")
@click.argument("code", default="")
@click.argument("state", default="")
@click.argument("answer", default="")
@click.option("--face", default="", help="Only this face: “front”. Else what was coated last.")
@click.option("--piece", default="", metavar="TAG", help="The piece at work: then D5 is enough.")
@click.option("--note", default="", help="How it was tried.")
@at_option
@json_option
@click.pass_context
def tried(
    ctx: click.Context,
    code: str,
    state: str,
    answer: str,
    face: str,
    piece: str,
    note: str,
    at: str,
    as_json: bool,
) -> int:
    """Write down that a film was tried: tried D5 tape not --piece K7Q4.

    STATE is sand, recoat, tape, handle, touch or service, or next for what the next step asks;
    ANSWER is ready or not. Without CODE:
    what all tries of the shop say. They lengthen a wait where they must and never shorten one.
    """
    shop = open_book(ctx)
    if not code:
        return _figures(shop, as_json)
    states = [NEXT, *(r.value for r in Ready)]
    if state not in states:
        raise BadInputError(f"“{state}” is no state: {', '.join(states)}.")
    if answer not in ANSWERS:
        raise BadInputError(f"“{answer}” is no answer: {or_list(ANSWERS)}.")
    here = piece_of(shop, piece).tag if piece else ""
    done = tries.say_tried(
        shop, code, None if state == NEXT else Ready(state), answer == "ready",
        here=here, face=face, at=time_of(shop, at), note=note,
    )  # fmt: skip
    return say_done(done, as_json)


def _figures(shop: Shop, as_json: bool) -> int:
    found = own_waits.own_figures(shop)
    if as_json:
        say_json([_row(f) for f in found])
        return OK
    for figure in found:
        say(figure.sentence)
    if not found:
        say("Nothing was tried yet.")
    return OK


def _row(figure: OwnFigure) -> JsonRow:
    own = figure.own
    return {
        "product": figure.product,
        "tin": figure.tin or None,
        "state": figure.ready.value,
        "tries": figure.films,
        "ready": own.ready if own else None,
        "seen_ready": own.seen if own else None,
        "by_hours": _hours(own.high) if own else None,
        "not_by_hours": _hours(own.low) if own else None,
        "range_hours": [_hours(own.least), _hours(own.most)] if own else None,
        "sentence": figure.sentence,
    }


def _hours(hours: float) -> float | None:
    """Hours to 0.1; None where no end can be told."""
    return None if hours == inf else round(hours, 1)


COMMANDS = {c.name: book_options(c) for c in (tried,)}
