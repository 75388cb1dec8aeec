"""What waits and until when, and what to do now."""

from __future__ import annotations

from datetime import datetime

import click

from partsbench.cli.base import (
    OK,
    BadInputError,
    at_option,
    book_options,
    iso,
    json_option,
    open_book,
    piece_of,
    say,
    say_json,
    time_of,
)
from partsbench.cli.rows import JsonRow
from partsbench.core.finish.answer import Decision
from partsbench.core.finish.hands import Hands
from partsbench.core.finish.loads import behind_words
from partsbench.core.finish.loops import Loop
from partsbench.core.key_words import word_of
from partsbench.core.shown_times import moment
from partsbench.services.books import restart
from partsbench.services.plan import evening
from partsbench.services.rules import clocks
from partsbench.services.rules.clocks import FaceClock, Group
from partsbench.services.shown import day
from partsbench.services.shown.day import Day, Task


@click.command("clock")
@click.argument("tag")
@click.argument("part", default="")
@at_option
@json_option
@click.pass_context
def clock(ctx: click.Context, tag: str, part: str, at: str, as_json: bool) -> int:
    """The clocks of a piece, face by face: the answer, until when, and six times of readiness."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    short = part.strip().upper()
    if part and piece.part(short) is None:
        raise BadInputError(f"{piece.codename} has no part “{part}”.")
    found = clocks.clocks_of(shop, piece.tag, time_of(shop, at))
    shown = [c for c in found if not part or c.face.part == short]
    if as_json:
        say_json([_clock_row(c) for c in shown])
        return OK
    for face in shown:
        _say_clock(face)
    if not shown:
        say("No face of it gets a finish.")
    return OK


@click.command("day")
@click.argument("tags", nargs=-1)
@click.option("--minutes", type=click.FloatRange(min=0, min_open=True), help="Time at hand.")
@click.option("--hands", type=click.Choice([h.value for h in Hands]), default=Hands.CLEAN.value,
              help="What hands are now: clean ones can begin anything.")  # fmt: skip
@click.option("--tonight", is_flag=True, help="Only what to begin tonight, and what it saves.")
@at_option
@json_option
@click.pass_context
def today(
    ctx: click.Context,
    tags: tuple[str, ...],
    minutes: float | None,
    hands: str,
    tonight: bool,
    at: str,
    as_json: bool,
) -> int:
    """What to do now and why; then what waits, what is open, and who lags behind.

    Of the pieces in hand, or of those named.
    """
    shop = open_book(ctx)
    named = [piece_of(shop, tag).tag for tag in tags]
    when = time_of(shop, at)
    if tonight:
        found = evening.tonight(shop, named, when)
        if as_json:
            saves = found.saves.total_seconds() / 3600 if found else 0
            say_json({"sentence": found.sentence if found else None, "saves_hours": saves})
        else:
            say(found.sentence if found else "Nothing that can be begun now saves anything.")
        return OK
    shown = day.day(shop, minutes, Hands(hands), named, when)
    say_json(_day_row(shown)) if as_json else _say_day(shown)
    restart.was_asked(shop)
    return OK


def _clock_row(face: FaceClock) -> JsonRow:
    return {
        "face": face.face.key,
        "path": face.path,
        "step": face.step or None,
        "step_name": face.step_name or None,
        "answer": face.said.answer.value if face.said else None,
        "until": iso(face.said.until) if face.said else None,
        "because": face.said.because if face.said else "",
        "source": face.said.source if face.said else "",
        "opens": iso(face.opens),
        "closes": iso(face.closes),
        "ready": {
            r.ready.value: {
                "at": iso(r.at),
                "until": iso(r.until),
                "because": r.because,
                "words": clocks.ready_words(r, face.now),
            }
            for r in face.ready
        },
    }


def _until(said: Decision, now: datetime) -> str:
    """`WAIT until Tue 17 Mar 09:05`, or the word alone."""
    word = word_of(said.answer)
    return f"{word} until {moment(said.until, now)}" if said.until else word


def _say_clock(face: FaceClock) -> None:
    if face.said is None:
        say(f"{face.face}: every step is done.")
    else:
        word = _until(face.said, face.now)
        say(f"{face.face}: {word}. {face.step_name}. {face.said.because}.")
    for ready in face.ready:
        if ready.at:
            say(f"    {clocks.ready_words(ready, face.now)}")


def _group_row(group: Group) -> JsonRow:
    return {
        "tag": group.tag,
        "codename": group.piece.codename,
        "faces": [s.key for s in group.names],
        "step": group.step.key,
        "step_name": group.step.name,
        "answer": group.said.answer.value,
        "until": iso(group.said.until),
        "opens": iso(group.opens),
        "closes": iso(group.closes),
        "warn_at": iso(group.warn_at),
        "minutes": group.minutes,
        "because": group.said.because,
        "source": group.said.source,
    }


def _task_row(task: Task) -> JsonRow:
    ends = {"hands": task.hands.value, "ends": iso(task.ends), "sentence": task.sentence}
    return _group_row(task.group) | ends


def _loop_row(loop: Loop) -> JsonRow:
    return {"sentence": loop.sentence, "since": iso(loop.since), "holds": loop.holds}


def _day_row(shown: Day) -> JsonRow:
    return {
        "at": iso(shown.at),
        "sentence": shown.sentence,
        "because": shown.because,
        "tasks": [_task_row(t) for t in shown.tasks],
        "clocks": [_group_row(g) for g in shown.clocks],
        "alarms": [_group_row(g) for g in shown.alarms],
        "loops": [_loop_row(x) for x in shown.loops],
        "stragglers": [f"{name} {s.sentence}" for name, s in shown.stragglers],
        "ends": {tag: iso(at) for tag, at in shown.ends.items()},
        "said": list(shown.said),
        "notes": list(shown.notes),
    }


def _say_day(shown: Day) -> None:
    for words in (*shown.said, *shown.notes):
        say(words)
    say(shown.sentence)
    if shown.because:
        say(f"  {shown.because}")
    for loop in shown.loops:
        say(f"Open: {loop.sentence}")
    for task in shown.tasks:
        say(f"Now: {task.sentence} ({word_of(task.hands)})")
    for group in shown.clocks:
        say(f"{_until(group.said, shown.at)}: {group.where}: {group.step.name}")
    for words in behind_words(shown.stragglers):
        say(f"Behind: {words}.")


COMMANDS = {c.name: book_options(c) for c in (clock, today)}
