"""What a shop says of its days, helpers and rooms, and what it cannot mean."""

from __future__ import annotations

from datetime import date, time

import pytest

from partsbench.core.finish.hours import DaySpan
from partsbench.core.plan.shop_words import (
    HelperHours,
    parse_day,
    parse_days,
    parse_helpers,
    parse_rooms,
)

WEDNESDAY = date(2026, 12, 2)


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("Mon to Sat", {0, 1, 2, 3, 4, 5}),
        ("sat", {5}),
        ("Fri to Mon", {4, 5, 6, 0}),
        ("Monday, Wednesday and Friday", {0, 2, 4}),
    ],
)
def test_days(text: str, days: set[int]) -> None:
    assert parse_days(text) == days


@pytest.mark.parametrize("text", ["", "Mo", "Someday", "Mon3", "Mon to", "Mon to Tue to Wed", "3"])
def test_no_days(text: str) -> None:
    assert parse_days(text) is None


def test_helpers() -> None:
    found = parse_helpers(
        "Wren: Sat 9:00 to 13:00, Wed 14-18 only sand, wash; Rook: Mon to Fri 17-19"
    )
    assert found == (
        HelperHours(
            "Wren",
            (
                (frozenset({5}), DaySpan(time(9), time(13))),
                (frozenset({2}), DaySpan(time(14), time(18))),
            ),
            ("sand", "wash"),
        ),
        HelperHours("Rook", ((frozenset(range(5)), DaySpan(time(17), time(19))),)),
    )


@pytest.mark.parametrize(
    "text",
    ["Wren", "Wren: Sat", "Wren: 9-13", "Wren: Sat 9-9", "Wren: Sat 9-13 only sing", ": Sat 9-13"],
)
def test_no_helpers(text: str) -> None:
    assert isinstance(parse_helpers(text), str)


def test_rooms() -> None:
    assert parse_rooms("sand: shed, spray: booth") == {
        "dust": "shed", "spray": "booth", "fumes": "shop",
    }  # fmt: skip
    assert isinstance(parse_rooms("sand"), str)
    assert isinstance(parse_rooms("cook: kitchen"), str)


@pytest.mark.parametrize(
    ("text", "day", "at"),
    [
        ("2026-12-04", date(2026, 12, 4), None),
        ("Fri", date(2026, 12, 4), None),
        ("Wed", date(2026, 12, 9), None),
        ("tomorrow 16:05", date(2026, 12, 3), time(16, 5)),
        ("today 9.30", WEDNESDAY, time(9, 30)),
    ],
)
def test_a_day(text: str, day: date, at: time | None) -> None:
    assert parse_day(text, WEDNESDAY) == (day, at)


@pytest.mark.parametrize("text", ["", "someday", "2026-13-01", "Fri 25:00", "Fri 9:61", "Fri 9"])
def test_no_day(text: str) -> None:
    assert parse_day(text, WEDNESDAY) is None
