"""The week on paper: one sheet, whatever has no room is counted."""

from __future__ import annotations

import re

from partsbench.paper.week_sheet import WeekEntry, WeekRow, WeekSheet, week_sheet
from tests.support.paper import text_of

DAYS = tuple((f"Day {n}", (f"Heron done {n}:00",)) for n in range(1, 8))


def pages(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


def told(rows: tuple[WeekRow, ...], said: tuple[str, ...] = ()) -> str:
    made = week_sheet(WeekSheet("The week", "All is done Friday.", DAYS, rows, said))
    assert pages(made) == 1
    return " ".join(text_of(made).split())


def row(name: str, count: int, *, waits: bool = False) -> WeekRow:
    entries = tuple(WeekEntry(n / 10, (n + 1) / 10, f"{name} act {n}") for n in range(count))
    return WeekRow(name, (entries, *((),) * 6), waits)


def test_every_lane_and_day_stands_on_it() -> None:
    text = told((row("You", 2), row("Gun", 1), row("Heron waits", 2, waits=True)), ("Said.",))
    for words in ("All is done Friday.", "Day 7", "Heron done 3:00", "You act 1", "Gun act 0",
                  "Heron waits act 0, Heron waits act 1", "Said."):  # fmt: skip
        assert words in text
    assert "more" not in text


def test_what_has_no_room_is_counted() -> None:
    lanes = (row("You", 9), *(row(f"Room {n}", 9) for n in range(2)))
    waits = tuple(row(f"P{n} waits", 1, waits=True) for n in range(5))
    text = told((*lanes, *waits), tuple(f"Sentence {n} of many." for n in range(60)))
    shown = len(set(re.findall(r"You act \d", text)))
    assert 0 < shown < 9 and f"and {9 - shown} more" in text
    last = len(re.findall(r"Sentence \d+ of many", text))
    assert f"{60 - last} more sentences stand in the window." in text
