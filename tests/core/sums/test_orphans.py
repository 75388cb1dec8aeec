from __future__ import annotations

from math import inf
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.orphans import Known, Match, Matches, match, usual_play
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE


def drawer(name: str, **sizes: float) -> Known:
    return Known(name, {size.replace("_", " "): mm for size, mm in sizes.items()})


def test_the_likeliest_the_runner_up_and_what_to_measure() -> None:
    orphan = drawer("the orphan", width=599, right_height=148)
    homes = [
        drawer("opening 4", width=600.7, right_height=150.0, left_height=155),
        drawer("opening 6", width=600.9, right_height=150.0, left_height=150),
    ]
    answer = answered(Matches, match([orphan], homes))
    assert answer.sentence == (
        "Most likely opening 6 (1.9 mm play). "
        "Opening 4 is almost as good: measure the left height of the orphan."
    )
    assert answer.next_measurement is not None
    assert answer.next_measurement.expected_margin == pytest.approx(5**2 / 2)
    assert answer.lacks == ("left height of the orphan",)


def test_the_measurement_asked_for_settles_it() -> None:
    orphan = drawer("the orphan", width=599, right_height=148, left_height=153)
    homes = [
        drawer("opening 4", width=600.7, right_height=150.0, left_height=155),
        drawer("opening 6", width=600.9, right_height=150.0, left_height=150),
    ]
    found = answered(Matches, match([orphan], homes)).matches[0]
    assert (found.home, found.runner_up, found.told_apart) == ("opening 4", None, True)


def test_the_margin_is_half_the_squared_misfits_apart() -> None:
    """Plays 2.5 and 3.8 against a usual 2.0: 1.8² / 2 - 0.5² / 2."""
    homes = [drawer("near", width=601.5), drawer("far", width=602.8)]
    found = answered(Matches, match([drawer("A", width=599)], homes)).matches[0]
    assert (found.home, found.runner_up) == ("near", "far")
    assert found.margin == pytest.approx(1.495)


def test_two_of_a_size_cannot_be_told_apart() -> None:
    orphans = [drawer("orphan A", width=599), drawer("orphan B", width=599.1)]
    homes = [drawer("opening 2", width=601), drawer("opening 3", width=601.1)]
    answer = answered(Matches, match(orphans, homes))
    assert answer.ambiguous == (("orphan A", "orphan B"),)
    assert "orphan A and orphan B cannot be told apart." in answer.sentence
    assert answer.next_measurement is None
    assert "look for an old mark, or try both" in answer.matches[0].sentence


def test_an_old_mark_decides_between_equal_sizes() -> None:
    sizes = {"width": 599.0}
    orphans = [Known("A", sizes, frozenset({"III"})), Known("B", sizes, frozenset({"II"}))]
    homes = [
        Known("opening 2", {"width": 601.0}, frozenset({"II"})),
        Known("opening 3", {"width": 601.0}, frozenset({"III"})),
    ]
    found = answered(Matches, match(orphans, homes))
    assert [m.home for m in found.matches] == ["opening 3", "opening 2"]
    assert all(m.margin == pytest.approx(8) for m in found.matches)


def test_wear_counts_less_than_a_mark() -> None:
    orphan = Known("A", {"width": 599.0}, frozenset({"II"}), frozenset({"left runner worn"}))
    homes = [
        Known("worn", {"width": 601.0}, frozenset({"I"}), frozenset({"left runner worn"})),
        Known("marked", {"width": 601.0}, frozenset({"II"}), frozenset({"right runner worn"})),
    ]
    assert answered(Matches, match([orphan], homes)).matches[0].home == "marked"


def test_a_drawer_larger_than_every_opening_belongs_elsewhere() -> None:
    answer = answered(Matches, match([drawer("A", width=640)], [drawer("1", width=601)]))
    assert answer.matches[0].home is None
    assert "may belong to another piece" in answer.sentence


def test_more_orphans_than_homes_leave_one_over() -> None:
    orphans = [drawer("A", width=599), drawer("B", width=560)]
    answer = answered(Matches, match(orphans, [drawer("1", width=601)]))
    assert [m.home for m in answer.matches] == ["1", None]


def test_one_orphan_one_home_has_no_rival() -> None:
    found = answered(Matches, match([drawer("A", width=599)], [drawer("1", width=601)])).matches[0]
    assert found == Match("A", "1", None, inf, 2.0)


def test_known_pairs_tell_the_usual_play() -> None:
    pairs = [(drawer("1", width=601), drawer("D1", width=600.2 + i / 10)) for i in range(3)]
    play = usual_play(pairs)
    assert play == {"width": pytest.approx(0.7)}
    tight = drawer("A", width=600.2)
    homes = [drawer("tight", width=600.9), drawer("loose", width=602.2)]
    assert answered(Matches, match([tight], homes, play)).matches[0].home == "tight"
    assert answered(Matches, match([tight], homes)).matches[0].home == "loose"


def test_openings_not_yet_measured_are_asked_for() -> None:
    """Depths of the three known openings spread by 4 mm: worth more than the left heights."""
    orphan = drawer("the orphan", width=599)
    homes = [
        drawer("opening 4", width=601),
        drawer("opening 5", width=601),
        drawer("opening 7", width=640, depth=400, left_height=150),
        drawer("opening 8", width=640, depth=404, left_height=150.1),
        drawer("opening 9", width=640, depth=396, left_height=150.2),
    ]
    answer = answered(Matches, match([orphan], homes))
    assert answer.next_measurement is not None
    assert answer.next_measurement.sentence == (
        "Measure the depth of the orphan and opening 4 and opening 5."
    )
    assert answer.next_measurement.expected_margin == pytest.approx(32 / 3)
    few = answered(Matches, match([orphan], [*homes[:2], drawer("opening 7", depth=400)]))
    assert few.next_measurement is not None
    assert few.next_measurement.size == "depth"


def test_the_best_measurement_of_several_orphans_is_said_once() -> None:
    orphans = [drawer("A", width=599), drawer("B", width=599)]
    homes = [drawer("1", width=601, depth=400), drawer("2", width=601, depth=410)]
    said = answered(Matches, match(orphans, homes)).sentence
    assert said == (
        "0 of 2 orphans have one clear home. A and B cannot be told apart. Measure the depth of A."
    )


def test_many_pairs_are_counted_not_read_out() -> None:
    orphans = [drawer(f"D{i}", width=599) for i in range(5)]
    homes = [drawer(f"{i}", width=601) for i in range(5)]
    answer = answered(Matches, match(orphans, homes))
    assert len(answer.ambiguous) == 10
    assert "Nor can 7 more pairs." in answer.sentence


def test_an_orphan_left_over_is_no_pair() -> None:
    orphans = [drawer("A", width=599), drawer("B", width=599)]
    answer = answered(Matches, match(orphans, [drawer("1", width=601)]))
    assert answer.ambiguous == ()


@given(st.permutations(range(8)), st.lists(st.floats(-0.3, 0.3), min_size=8, max_size=8))
def test_drawers_that_differ_enough_all_find_home(order: list[int], error: list[float]) -> None:
    homes = [drawer(f"{i}", width=500 + 5 * i) for i in range(8)]
    orphans = [drawer(f"of {i}", width=498 + 5 * i + error[i]) for i in order]
    answer = answered(Matches, match(orphans, homes))
    assert [m.home for m in answer.matches] == [f"{i}" for i in order]
    assert all(m.told_apart for m in answer.matches)
    assert answer.ambiguous == ()


@given(
    st.lists(st.floats(590, 610), min_size=2, max_size=5),
    st.lists(st.floats(590, 610), min_size=2, max_size=5),
)
def test_margins_are_never_negative_and_homes_never_shared(
    drawers: list[float], openings: list[float]
) -> None:
    orphans = [drawer(f"o{i}", width=mm) for i, mm in enumerate(drawers)]
    homes = [drawer(f"h{i}", width=mm) for i, mm in enumerate(openings)]
    answer = answered(Matches, match(orphans, homes))
    taken = [m.home for m in answer.matches if m.home is not None]
    assert len(taken) == len(set(taken))
    assert all(m.margin >= 0 for m in answer.matches)


@pytest.mark.parametrize("value", NONSENSE)
def test_sizes_that_cannot_be(value: Any) -> None:
    said = refused(match([drawer("A", width=value)], [drawer("1", width=601)]))
    assert said.startswith("width of A: ")


def test_nobody_and_nowhere() -> None:
    assert refused(match([], [drawer("1", width=601)])) == "orphans: there are none."
    assert refused(match([drawer("A", width=601)], [])) == "open homes: there are none."
