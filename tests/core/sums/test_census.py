"""One count of the hardware: what is wanted, usable, broken, missing, and not counted yet."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.census import Census, Condition, Count, Hardware, census, say_counts
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE

GOOD, WORN, BROKEN = Condition.GOOD, Condition.WORN, Condition.BROKEN


def pull(
    name: str, condition: Condition = GOOD, front: str = "", spacing: float | None = 96.0
) -> Hardware:
    return Hardware(name, front, "pull", condition, spacing, "M4")


def test_a_census_counts_what_is_left() -> None:
    found = [pull("P1", front="D1"), pull("P2", WORN, "D1"), pull("P3", BROKEN, "D2")]
    found.append(Hardware("B1", "D1", "plate", GOOD, 96.0))
    answer = answered(Census, census(found, {f"D{i}": {"pull": 2, "plate": 1} for i in (1, 2)}))
    assert dict(answer.usable) == {"pull": 2, "plate": 1}
    assert dict(answer.missing) == {"pull": 1, "plate": 1}
    assert answer.sentence == (
        "It takes 2 plates and 4 pulls: 3 usable, 1 broken, 2 missing (1 not counted yet); "
        "1 complete set left."
    )
    assert answer.mixed == ()


def test_a_kind_with_two_spacings_is_named() -> None:
    odd = Hardware("P9", "D2", "pull", GOOD, 95.25, "M4")
    answer = answered(Census, census([pull("P1"), odd], {"D1": {"pull": 2}}))
    assert answer.mixed == ("pull",)


def test_what_was_not_measured_is_named() -> None:
    bare = Hardware("P1", "D1", "pull", GOOD)
    answer = answered(Census, census([bare], {"D1": {"pull": 1}}))
    assert answer.lacks == ("hole spacing and thread of P1",)


@given(st.lists(st.sampled_from(Condition), max_size=20), st.integers(0, 12))
def test_usable_broken_and_missing_add_up(conditions: list[Condition], wanted: int) -> None:
    found = [pull(f"P{i}", condition) for i, condition in enumerate(conditions)]
    answer = answered(Census, census(found, {f"D{i}": {"pull": 1} for i in range(wanted)}))
    there = answer.usable.get("pull", 0) + answer.broken.get("pull", 0)
    assert answer.missing.get("pull", 0) == max(0, wanted - there)
    assert answer.complete_sets == min(wanted, answer.usable.get("pull", 0))


FRONTS = {"D1": {"pull": 2}, "D2": {"pull": 2}, "D3": {"pull": 2}}


def of_pulls(*found: Hardware) -> Count:
    return answered(Census, census(found, FRONTS)).of("pull")


def test_what_nobody_counted_is_told_from_what_is_missing() -> None:
    """D1 has one of two, so one is missing; nobody has looked at D2 and D3."""
    count = of_pulls(pull("a", front="D1"))
    assert (count.wanted, count.counted, count.missing, count.not_counted) == (6, 1, 5, 4)


def test_what_lies_in_a_bag_stands_for_fronts_where_nothing_is_counted() -> None:
    """Three in a bag: of the four places on D2 and D3 one is left that nothing is counted for."""
    loose = [pull(name, front="B1") for name in "bcd"]
    count = of_pulls(pull("a", front="D1"), *loose)
    assert (count.missing, count.not_counted) == (2, 1)


def test_pulls_0_75_mm_apart_serve_and_pulls_20_mm_apart_do_not() -> None:
    """96 mm has most; 3-3/4 in is 0.375 mm off at each hole, 3 in nearly 10."""
    most = [pull(name, front="D1") for name in "ab"]
    near = of_pulls(*most, pull("c", front="D2", spacing=95.25))
    assert (near.usable, near.misfits, near.serving, near.needed) == (3, 0, 3, 3)
    assert near.over == (95.25,)
    far = of_pulls(*most, pull("c", front="D2", spacing=76.2))
    assert (far.usable, far.misfits, far.serving, far.needed) == (3, 1, 2, 4)
    assert "3 usable (1 of another hole spacing)" in say_counts([far])


def test_a_set_is_complete_with_what_serves() -> None:
    """Two of 96 mm fit one front out; a third of 3 in and a fourth of 96 mm no second one."""
    items = [*(pull(name) for name in "abc"), pull("d", spacing=76.2)]
    assert answered(Census, census(items, FRONTS)).complete_sets == 1
    items[-1] = pull("d", spacing=95.25)
    assert answered(Census, census(items, FRONTS)).complete_sets == 2


def test_how_far_off_still_serves() -> None:
    """Half a millimetre at each hole, so a whole one in the spacing."""
    most = [pull(name, front="D1") for name in "ab"]
    assert of_pulls(*most, pull("c", spacing=97.0)).misfits == 0
    assert of_pulls(*most, pull("c", spacing=97.1)).misfits == 1


def test_a_spacing_that_nobody_measured_is_not_another_one() -> None:
    count = of_pulls(pull("a", front="D1"), pull("b", front="D1", spacing=None))
    assert (count.misfits, count.spacing) == (0, 96.0)
    counted = answered(Census, census([pull("a"), pull("b", spacing=None)], FRONTS))
    assert counted.mixed == ()


def test_a_broken_one_tells_its_spacing_and_serves_nobody() -> None:
    count = of_pulls(pull("a", BROKEN, "D1"))
    assert (count.spacing, count.thread, count.serving, count.needed) == (96.0, "M4", 0, 6)


def test_a_knob_has_no_spacing_and_can_be_counted() -> None:
    """It was taken, and then no census would answer any more."""
    knob = Hardware("K1", "D1", "knob", GOOD, 0.0)
    answer = answered(Census, census([knob], {"D1": {"knob": 1}}))
    assert answer.of("knob").serving == 1


def test_what_the_piece_does_not_take_is_counted_and_not_added() -> None:
    hinge = Hardware("H1", "D1", "hinge", GOOD)
    answer = answered(Census, census([hinge], {"D1": {"pull": 1}}))
    assert answer.usable == {"hinge": 1}
    assert not answer.counted
    assert answer.sentence == "Nothing is counted yet of the 1 pull that it takes."
    assert answered(Census, census([hinge], {})).sentence == "It takes no pull, knob or plate."


@given(
    st.lists(
        st.tuples(
            st.sampled_from(Condition),
            st.sampled_from(["D1", "D2", "D3", "B1"]),
            st.sampled_from([96.0, 95.25, 76.2, None]),
        ),
        max_size=14,
    )
)
def test_every_place_is_served_or_needed(
    things: list[tuple[Condition, str, float | None]],
) -> None:
    items = [pull(f"P{i}", how, on, mm) for i, (how, on, mm) in enumerate(things)]
    count = of_pulls(*items)
    serving = [item for item in items if count.serves(item)]
    assert len(serving) == count.serving
    assert count.needed == max(0, 6 - len(serving))
    assert count.counted == len(items)
    assert 0 <= count.not_counted <= count.missing
    if len(items) <= 6:
        assert count.needed == count.missing + count.broken + count.misfits


@pytest.mark.parametrize("value", NONSENSE)
def test_figures_that_cannot_be(value: Any) -> None:
    if value is not True:
        assert "pull of D1" in refused(census([], {"D1": {"pull": value}}))
    if value is not None and value is not True:
        assert "spacing of P1" in refused(census([pull("P1", spacing=value)], FRONTS))
