"""Draws the bench machine into DEVELOPERS.md: `python -m tests.support.draw_bench`.

The table as it is tried, and for each page what leads from which hand to which: found out by
feeding the machine itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from partsbench.core.bench.events import (
    Act,
    Answered,
    Event,
    Hit,
    Kind,
    Push,
    Pushed,
    Scanned,
    Snapshot,
    What,
)
from partsbench.core.bench.machine import happens
from partsbench.core.bench.state import Hand, Mode, State, Waits
from partsbench.core.bench.table import ROWS, Happens, Label, Row
from partsbench.core.outcomes import Answer, Hold, Outcome, Tone

DEVELOPERS = Path(__file__).parents[2] / "DEVELOPERS.md"
BEGIN, END = "<!-- the bench, drawn -->", "<!-- the bench ends -->"
NOW = datetime(2031, 3, 4, 8, 0, tzinfo=UTC)
HERE = "K7Q4"
PAGES = (Mode.BENCH, Mode.TEARDOWN, Mode.RETURN)
DRAWN: tuple[Happens, ...] = (
    Label.AGAIN, Label.PART, Label.HOME, Label.ELSEWHERE, Label.STRANGE, Push.ENTER, Push.LEAVE,
    Push.REASON,
)  # fmt: skip


def drawn() -> str:
    """What stands between the two marks."""
    pictures = "\n".join(_picture(mode) for mode in PAGES)
    return f"{BEGIN}\n{_table()}\n{pictures}\n{END}"


def _table() -> str:
    head = "| on | with in the hand | what happens | does |\n| --- | --- | --- | --- |"
    return "\n".join((head, *map(_line, ROWS))) + "\n"


def _line(row: Row) -> str:
    modes = _all(row.modes, len(Mode), "every page")
    hands = _all(row.hands, len(Waits), "anything")
    happens_ = _all(row.happens, len(Push) + len(Label), "whatever")
    return f"| {modes} | {hands} | {happens_} | {row.does} |"


def _all(chosen: Iterable[str], of: int, whole: str) -> str:
    names = tuple(chosen)
    return ", ".join(names) if 0 < len(names) < of else whole


def _picture(mode: Mode) -> str:
    """What leads from one hand to another on a page, as a state diagram (Mermaid)."""
    edges: dict[tuple[str, str], list[str]] = {}
    for start in Waits:
        for what in DRAWN:
            for end in _ends(mode, start, what):
                if end != start:
                    words = edges.setdefault((start, end), [])
                    if what not in words:
                        words.append(what)
    lines = [f"    {_key(a)} --> {_key(b)}: {', '.join(words)}" for (a, b), words in edges.items()]
    named = [f'    state "{w.value}" as {_key(w)}' for w in Waits]
    return "\n".join((f"{mode}:\n", "```mermaid", "stateDiagram-v2", *named, *lines, "```", ""))


def _key(waits: str) -> str:
    return Waits(waits).name.lower()


def _ends(mode: Mode, start: Waits, what: Happens) -> Iterator[Waits]:
    """The hands in which it may end, as the book answers yes, asks, or holds."""
    for kind in ("yes", "ask", "hold"):
        state = State(mode=mode, here=HERE, hand=_hand(start), last=NOW - timedelta(seconds=9))
        event, sees = _event(what)
        state, acts = happens(state, event, NOW, sees)
        for act in acts:
            if act.what in (What.SAY, What.PROOF, What.OLD_FINISH_ASKED):
                continue
            state, _ = happens(state, Answered(act, _said(act, kind)), NOW)
        yield state.hand.waits


def _hand(waits: Waits) -> Hand:
    if waits is Waits.EMPTY:
        return Hand()
    if waits is Waits.HOME:
        return Hand(waits, f"{HERE}-H1", HERE, home=1, since=NOW)
    if waits is Waits.ELSEWHERE:
        return Hand(waits, "XE9Q-D1", "XE9Q", "D1", since=NOW)
    if waits is Waits.STRANGE:
        return Hand(waits, "????", since=NOW)
    holds = ("not dry yet",) if waits is Waits.HELD else ()
    return Hand(waits, f"{HERE}-D1", HERE, "D1", 1, NOW, due="wash", holds=holds)


def _event(what: Happens) -> tuple[Event, Snapshot]:
    if isinstance(what, Push):
        pull = Hit(Kind.PART, f"{HERE}-D2", HERE, "D2", 2)
        return Pushed(what, "tried"), Snapshot(1, to_pull=pull)
    hits = {
        Label.AGAIN: Hit(Kind.PART, f"{HERE}-D1", HERE, "D1", 1),
        Label.PART: Hit(Kind.PART, f"{HERE}-D3", HERE, "D3", 3),
        Label.HOME: Hit(Kind.HOME, f"{HERE}-H3", HERE, "", 3),
        Label.ELSEWHERE: Hit(Kind.ELSEWHERE, "XE9Q-D2", "XE9Q", "D2", says=_stop("XE9Q-D2")),
        Label.STRANGE: Hit(Kind.STRANGE, "?", says=_stop("?")),
    }
    return Scanned(), Snapshot(1, hits[Label(what)])


def _stop(code: str) -> Outcome:
    word = Answer.OTHER_JOB if code.startswith("XE9Q") else Answer.STOP
    tag = "XE9Q" if code.startswith("XE9Q") else ""
    return Outcome(word, Tone.UNKNOWN, "said", tag=tag, part="D2" if tag else "", code=code)


def _said(act: Act, kind: str) -> Outcome:
    if act.answer:
        return act.answer
    of_home = act.code.split("-")[-1].startswith("H")
    shown = act.what in (What.SHOW, What.GO_TO, What.WHERE_HOME, What.HOME_WAITS)
    holds = (Hold("not dry yet", "because"),) if kind == "hold" and not of_home else ()
    return Outcome(
        Answer.WAIT if holds else Answer.GO,
        Tone.CONFIRM if kind == "ask" and not shown else Tone.ASK,
        "said",
        tag=HERE,
        part="" if of_home else act.code.split("-")[-1],
        home=1,
        code=act.code,
        step=None if of_home else "wash",
        holds=holds,
        checks=("so?",) if kind == "ask" and not shown else (),
        recorded=not shown and kind == "yes",
    )


def in_developers() -> str:
    """The drawing as it stands in DEVELOPERS.md."""
    text = DEVELOPERS.read_text(encoding="utf-8")
    return text[text.index(BEGIN) : text.index(END) + len(END)]


if __name__ == "__main__":
    text = DEVELOPERS.read_text(encoding="utf-8")
    DEVELOPERS.write_text(text.replace(in_developers(), drawn()), encoding="utf-8")
