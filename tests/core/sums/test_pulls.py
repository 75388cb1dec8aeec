from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import permutations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.sums.census import Census, Condition, Count, Hardware, census
from partsbench.core.sums.pulls import (
    Allotment,
    Order,
    OrderBy,
    PullPlace,
    allot,
    order_by,
    order_list,
)
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE

GOOD, WORN, BENT, BROKEN = Condition.GOOD, Condition.WORN, Condition.BENT, Condition.BROKEN
HERON = [
    PullPlace("D1", "1", 1.0),
    PullPlace("D2", "1", 1.0),
    PullPlace("D3", "2", 0.8),
    PullPlace("D4", "2", 0.8),
    PullPlace("D5", "3", 0.5),
    PullPlace("D6", "4", 0.3),
    PullPlace("D7", "5", 0.2),
]


def pull(name: str, condition: Condition = GOOD, front: str = "") -> Hardware:
    return Hardware(name, front, "pull", condition, 96.0, "M4")


def counted(found: Sequence[Hardware], **wanted: int) -> Census:
    """The census of a piece whose one front takes these."""
    return answered(Census, census(found, {"D1": wanted}))


def seated(
    survivors: Sequence[Hardware], places: Sequence[PullPlace], price: float, **more: Any
) -> Allotment | Refused:
    count = counted(survivors, pull=len(places)).of("pull")
    return allot(count, survivors, places, price, **more)


def test_the_order_list_has_spares_only_where_something_is_bought() -> None:
    found = [pull("P1"), pull("P2", BROKEN), *[Hardware(f"K{i}", "", "knob", GOOD) for i in "ab"]]
    orders = answered(tuple, order_list(counted(found, pull=4, knob=2), spare_each=1))
    assert orders == (Order("pull", 3, 1, 96.0, "M4"),)
    assert orders[0].count == 4


def test_what_serves_is_not_bought_and_what_does_not_is() -> None:
    """3-3/4 in goes over 96 mm holes, 3 in does not."""
    most = [pull("P1"), pull("P2")]
    for spacing, needed in ((95.25, 1), (76.2, 2)):
        odd = Hardware("P9", "D2", "pull", GOOD, spacing, "M4")
        (order,) = answered(tuple, order_list(counted([*most, odd], pull=4), 0))
        assert (order.needed, order.spacing) == (needed, 96.0)


def test_the_day_to_order_by_is_a_working_day() -> None:
    """Needed Wednesday 16 December 2026; ten days and two of margin: Friday the 4th."""
    answer = answered(OrderBy, order_by(date(2026, 11, 25), date(2026, 12, 16), 10))
    assert answer.day == date(2026, 12, 4)
    assert answer.sentence == ("Order by Friday 4 December or it becomes the last thing to arrive.")
    last = answered(OrderBy, order_by(date(2026, 12, 4), date(2026, 12, 16), 10))
    assert (last.day, last.passed, last.lacks) == (date(2026, 12, 4), False, ())
    sunday = answered(OrderBy, order_by(date(2026, 11, 25), date(2026, 12, 18), 10))
    assert sunday.day == date(2026, 12, 4)


@pytest.mark.parametrize(
    ("today", "needed", "lead", "day", "late"),
    [
        # Thursday 10 December and ten days: Sunday 20, there on Monday 21; needed Wednesday 16.
        ("2026-12-10", "2026-12-16", 10, "2026-12-10", 3),
        # Saturday and Sunday nothing is ordered: Monday 7 and ten days are Thursday 17.
        ("2026-12-05", "2026-12-16", 10, "2026-12-07", 1),
        ("2026-12-06", "2026-12-16", 10, "2026-12-07", 1),
        # One day less on the way, and it comes on the very day.
        ("2026-12-05", "2026-12-16", 9, "2026-12-07", 0),
        # Friday 4 and seven days: Friday 11; the weekend between needed and there is no delay.
        ("2026-12-04", "2026-12-10", 7, "2026-12-04", 1),
        ("2026-12-04", "2026-12-11", 8, "2026-12-04", 1),
        ("2026-12-04", "2026-12-12", 8, "2026-12-04", 0),
        # A day that has gone by: Monday 30 November, ordered Friday 4 to come the same day.
        ("2026-12-04", "2026-11-30", 0, "2026-12-04", 4),
    ],
)
def test_once_that_day_is_past_the_next_working_day_and_how_late(
    today: str, needed: str, lead: int, day: str, late: int
) -> None:
    answer = answered(
        OrderBy, order_by(date.fromisoformat(today), date.fromisoformat(needed), lead)
    )
    assert (answer.day, answer.late_days) == (date.fromisoformat(day), late)
    assert answer.passed and answer.lacks


def test_a_late_order_says_so_in_working_days() -> None:
    late = answered(OrderBy, order_by(date(2026, 12, 10), date(2026, 12, 16), 10))
    assert late.sentence == "Late by 3 working days: order at once, on Thursday 10 December."
    one = answered(OrderBy, order_by(date(2026, 12, 5), date(2026, 12, 16), 10))
    assert one.sentence == "Late by 1 working day: order at once, on Monday 7 December."
    tight = answered(OrderBy, order_by(date(2026, 12, 5), date(2026, 12, 16), 9))
    assert tight.sentence.startswith("Order by Monday 7 December or") and not tight.late


@given(
    st.dates(date(2020, 1, 1), date(2040, 1, 1)), st.integers(-60, 60), st.integers(0, 40),
    st.integers(0, 9),
)  # fmt: skip
def test_no_day_named_is_past_or_a_weekend(today: date, ahead: int, lead: int, margin: int) -> None:
    needed = today + timedelta(days=ahead)
    answer = answered(OrderBy, order_by(today, needed, lead, margin))
    assert answer.day >= today and answer.day.weekday() < 5
    assert bool(answer.late_days) == (answer.day + timedelta(days=lead) > needed)


@given(st.dates(date(2020, 1, 1), date(2040, 1, 1)), st.integers(0, 300), st.integers(0, 60))
def test_ordered_that_day_it_arrives_in_time(needed: date, lead: int, margin: int) -> None:
    today = needed - timedelta(days=800)
    answer = answered(OrderBy, order_by(today, needed, lead, margin))
    assert answer.day + timedelta(days=lead + margin) <= needed
    assert answer.day.weekday() < 5


def test_whole_rows_of_originals_and_the_best_where_they_are_seen() -> None:
    survivors = [pull("worn", WORN), *[pull(f"P{i}") for i in range(4)]]
    answer = answered(Allotment, seated(survivors, HERON, 6.5))
    assert answer.rows == ("1", "2", "3")
    assert dict(answer.kept)["worn"] == "D5"
    assert answer.new_places == ("D6", "D7")
    assert answer.sentence == (
        "Keep 5 originals on rows 1, 2, 3; buy 2 and 1 spare: 20 instead of 52. "
        "It takes 7 pulls: 5 usable, 0 broken, 2 missing (2 not counted yet)."
    )


def test_a_row_is_not_mixed_and_what_that_costs_is_told() -> None:
    answer = answered(Allotment, seated([pull("P1")], HERON[:4], 6.5))
    assert (answer.kept, answer.left_over) == ((), ("P1",))
    assert answer.sentence.startswith(
        "No row can be filled with originals: a new set costs 32. "
        "1 original left over; beside new ones, 3 would do. "
    )
    assert len(answer.new_places) == 4 and answer.count.needed == 3
    unpriced = answered(Allotment, seated([pull("P1")], HERON[:4], 0))
    assert unpriced.sentence.startswith("No row can be filled with originals. ")


def test_what_does_not_serve_is_given_no_place() -> None:
    """Three of 96 mm fill the row of one; the two of 3 in would not sit on its holes."""
    odd = [Hardware(f"odd {i}", "", "pull", GOOD, 76.2) for i in "ab"]
    survivors = [*odd, *(pull(f"P{i}") for i in range(3))]
    answer = answered(Allotment, seated(survivors, HERON[:5], 6.5))
    assert {name for name, _ in answer.kept} <= {"P0", "P1", "P2"}
    assert len(answer.kept) == 3 and answer.left_over == ()
    assert len(answer.new_places) == answer.count.needed == 2


def test_a_veto_moves_it_elsewhere() -> None:
    survivors = [pull("P1"), pull("P2", WORN)]
    places = [PullPlace("D1", "1", 1.0), PullPlace("D2", "1", 0.5)]
    plain = dict(answered(Allotment, seated(survivors, places, 6)).kept)
    vetoed = dict(answered(Allotment, seated(survivors, places, 6, veto={("P1", "D1")})).kept)
    assert plain == {"P1": "D1", "P2": "D2"}
    assert vetoed == {"P1": "D2", "P2": "D1"}


@given(st.lists(st.sampled_from([GOOD, WORN, BENT]), min_size=4, max_size=6))
def test_no_other_seating_hides_the_wear_better(conditions: list[Condition]) -> None:
    """All ways of seating the survivors in the four places, enumerated."""
    survivors = [pull(f"P{i}", condition) for i, condition in enumerate(conditions)]
    answer = answered(Allotment, seated(survivors, HERON[:4], 6))
    places = {place.name: place.visibility for place in HERON}
    by_name = {s.name: s.condition for s in survivors}

    def seen(pairs: list[tuple[str, str]]) -> float:
        return sum(by_name[name] * places[place] for name, place in pairs)

    names = [place.name for place in HERON[:4]]
    best = min(seen(list(zip(chosen, names, strict=True))) for chosen in permutations(by_name, 4))
    assert seen(list(answer.kept)) == pytest.approx(best)


def test_nothing_to_buy_costs_nothing_and_a_new_set_would() -> None:
    """A new set would be one and a spare."""
    answer = answered(Allotment, seated([pull("P1")], [PullPlace("D1", "1", 1.0)], 22))
    assert (answer.cost, answer.full_cost, answer.spare) == (0, 44, 0)


def test_nothing_to_buy_and_no_price() -> None:
    answer = answered(Allotment, seated([pull("P1")], [PullPlace("D1", "1", 1.0)], 0))
    assert answer.sentence.startswith("Keep 1 original on row 1; nothing to buy. It takes 1 pull: ")
    assert answer.lacks == ("the price of a new one",)


@pytest.mark.parametrize("value", NONSENSE)
def test_figures_that_cannot_be(value: Any) -> None:
    if value is not True:
        assert "price" in refused(seated([], HERON, value))
        assert "lead time" in refused(order_by(date(2026, 1, 1), date(2026, 2, 1), value))
        assert "spares" in refused(order_list(counted([], pull=1), value))
        assert "spares" in refused(seated([], HERON, 1, spare=value))
    assert refused(allot(Count("pull", 0), [], [], 1)) == "places: there are none."


def test_hundreds_of_survivors_are_seated_at_once_and_as_well() -> None:
    """Of those alike no more are looked at than there are seats; the answer is the same."""
    places = [PullPlace(f"D{i}", f"row {i // 3}", 1 - i / 10) for i in range(9)]
    many = [
        Hardware(f"pull {i}", "D1", "pull", Condition.WORN if i % 2 else Condition.GOOD)
        for i in range(400)
    ]
    veto = {(f"pull {i}", "D0") for i in range(0, 400, 2)}
    found = answered(Allotment, seated(many, places, 22, veto=veto))
    held = {place: name for name, place in found.kept}
    assert len(held) == 9 and not found.new_places
    worn = [place for place, name in held.items() if int(name.split()[1]) % 2]
    assert worn == ["D0"]
