"""The day on paper: nothing of a line is cut, whatever many parts it names."""

from __future__ import annotations

from partsbench.paper.day_sheet import DayLine, DaySheet, day_sheet
from tests.support.paper import text_of

ODD = [f"D{n}" for n in range(1, 60, 2)]


def sheet(*tasks: DayLine) -> str:
    made = day_sheet(DaySheet("Tuesday", "Do this.", "", tasks=tasks))
    return " ".join(text_of(made).split())


def test_every_part_and_the_step_stand_on_the_sheet() -> None:
    told = sheet(DayLine("59 min", f"Larch {', '.join(ODD)}: Colour coat 2, thin"))
    assert f"{', '.join(ODD)}: Colour coat 2, thin" in told.replace("at _______ ", "")
    assert "…" not in told


def test_what_has_to_be_done_by_a_time_keeps_clear_of_it() -> None:
    told = sheet(DayLine("", f"Larch {', '.join(ODD)}: Stain", "before Tue 14:00", True))
    for short in ODD:
        assert f"{short}," in told or f"{short}:" in told
    assert "before Tue 14:00" in told and "…" not in told


def test_a_day_of_many_lines_goes_on_over_the_page() -> None:
    tasks = [DayLine("", f"Larch D{n}: Sand 150") for n in range(1, 80)]
    told = sheet(*tasks)
    assert all(f"Larch D{n}: Sand 150" in told for n in range(1, 80))
