"""Sums of a piece: sizes, gaps, orphans, swaps, how it stands, and what is masked.

Those described for the window too are made from that; the settings and the swaps print in a way of
their own.
"""

from __future__ import annotations

import click

from partsbench.cli.asking import sum_commands
from partsbench.cli.base import (
    OK,
    BadInputError,
    in_book,
    json_option,
    say,
    say_done,
    say_json,
)
from partsbench.cli.telling import at, own_habits
from partsbench.core.said_often import no_setting
from partsbench.services.acts import returning
from partsbench.services.known.state import piece_state
from partsbench.services.sums.asked.fitting import COMMANDED
from partsbench.services.sums.habits import KNOWN, set_habit


@click.command("setting")
@click.argument("name", default="")
@click.argument("value", default=None, required=False)
@json_option
@click.pass_context
def setting(ctx: click.Context, name: str, value: str | None, as_json: bool) -> int:
    """The shop's own figures for the sums, kept as typed; an empty value forgets one."""
    if name and value is not None:
        given = value
        return say_done(in_book(ctx, lambda shop: set_habit(shop, name, given)), as_json)
    wanted = name.lower().replace("-", " ")
    if wanted and wanted not in KNOWN:
        raise BadInputError(no_setting(name, KNOWN))
    own = own_habits(ctx)
    typed = own.typed
    rows = [h for h in KNOWN.values() if not wanted or h.name == wanted]
    means = {h.name: h.means(typed[h.name]) for h in rows if h.means and h.name in typed}
    if as_json:
        say_json([{"name": h.name, "value": typed.get(h.name), "about": h.about,
                   "means": means.get(h.name)} for h in rows])  # fmt: skip
        return OK
    for habit in rows:
        value = typed.get(habit.name) or "-"
        say(f"{habit.name:<12} {value:<12} {habit.about}, as in {habit.shown(own.measures)}")
        if habit.name in means:
            say(f"{'':<25} {means[habit.name]}")
    return OK


@click.command("swaps")
@click.argument("tag")
@json_option
@click.pass_context
def swaps(ctx: click.Context, tag: str, as_json: bool) -> int:
    """The fewest moves that bring swapped parts home, with one free place on the bench."""
    shop, piece = at(ctx, tag)
    state = piece_state(shop, piece)
    sentence = returning.moves_sentence(state)
    if as_json:
        moves = [
            {"part": m.part, "from": m.source if isinstance(m.source, int) else None,
             "to": m.target if isinstance(m.target, int) else None}
            for m in returning.moves_home(state)
        ]  # fmt: skip
        say_json({"sentence": sentence, "moves": moves})
    else:
        say(sentence)
    return OK


COMMANDS = sum_commands(COMMANDED, setting, swaps)
