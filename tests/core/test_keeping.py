"""Which copies go: those of a week stay, then one a week, then one a month, three always."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.keeping import ALL_FOR, ALWAYS, to_drop

NOW = datetime(2026, 3, 14, 18, tzinfo=UTC)  # a Saturday


def days(*ago: float) -> list[datetime]:
    return [NOW - timedelta(days=each) for each in ago]


def left(made: list[datetime]) -> list[datetime]:
    gone = to_drop(made, NOW)
    return [at for at in made if at not in gone]


def test_all_of_the_last_seven_days_stay() -> None:
    made = [NOW - timedelta(hours=h) for h in range(0, 7 * 24, 5)]
    assert to_drop(made, NOW) == []


def test_seven_days_to_the_second() -> None:
    young = days(0, 0.1, 0.2)
    edge = [NOW - ALL_FOR, NOW - ALL_FOR - timedelta(seconds=1)]
    assert to_drop(young + edge, NOW) == [edge[1]]
    assert to_drop([*young, edge[0] + timedelta(seconds=1), edge[0]], NOW) == []


def test_then_the_last_one_of_each_week() -> None:
    # 28 February 2026 was a Saturday, as is the day of NOW.
    made = days(0, 1, 2, 14, 15, 16, 19, 20, 21, 22)
    assert left(made) == days(0, 1, 2, 14, 20)


def test_then_the_last_one_of_each_month() -> None:
    made = days(0, 1, 2, 80, 85, 100, 110, 130)  # 24 and 19 Dec, 4 Dec, 24 Nov, 4 Nov
    assert left(made) == days(0, 1, 2, 80, 110)


def test_after_two_years_they_go() -> None:
    made = days(0, 1, 2, 700, 731, 732, 900)
    assert left(made) == days(0, 1, 2, 700, 731)


def test_a_week_and_a_month_are_told_apart_by_their_years() -> None:
    made = days(0, 1, 2, 74, 74 + 365)  # the same week and month of two years
    assert left(made) == made


def test_the_latest_three_stay_however_old() -> None:
    made = days(900, 901, 902, 903)
    assert left(made) == made[:3]


def test_a_clock_that_is_behind_the_latest_copy_drops_nothing() -> None:
    made = [NOW + timedelta(seconds=1), *days(900, 901, 902, 903, 904)]
    assert to_drop(made, NOW) == []


@given(st.lists(st.floats(0, 3000), max_size=40))
def test_what_stays_is_the_same_whenever_it_is_asked_again(ago: list[float]) -> None:
    made = sorted(set(days(*ago)))
    stays = left(made)
    assert left(stays) == stays
    assert stays[-ALWAYS:] == made[-ALWAYS:]
    assert to_drop(reversed(made), NOW) == sorted(to_drop(made, NOW))


def test_the_bounds_are_seven_days_nine_weeks_and_two_years() -> None:
    assert left(days(0, 0.5, 1, 7.2, 7.4)) == days(0, 0.5, 1, 7.2)
    # 63 days ago was 10 January, 72 days ago the first, another week of that month.
    assert left(days(0, 1, 2, 63, 72)) == days(0, 1, 2, 63)
    assert left(days(0, 1, 2, 64, 72)) == days(0, 1, 2, 64)
    assert left(days(0, 1, 2, 62.9, 72)) == days(0, 1, 2, 62.9, 72)
    assert left(days(0, 1, 2, 731.5)) == days(0, 1, 2)
