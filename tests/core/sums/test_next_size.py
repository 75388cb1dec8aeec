from __future__ import annotations

from random import Random

import pytest

from partsbench.core.sums.next_size import Measurement, best_of, known_drawers, missing_sizes
from partsbench.core.sums.orphans import Match, Matches, match
from partsbench.core.sums.plays import Gap, KnownSizes, LearntPlay, expected
from tests.core.sums.answers import answered
from tests.core.sums.test_orphans import at_home, drawer


def plays(**known: int) -> dict[str, LearntPlay]:
    """So many known drawers with 2 mm of play in each direction."""
    return {d: expected(d, [Gap(2.0, 2.0)] * known.get(d, 0)) for d in ("width", "height", "depth")}


def test_the_size_that_homes_differ_most_in_parts_them_best() -> None:
    orphan = drawer("A", width=599)
    homes = [
        drawer("1", width=601, left_height=150, depth=400),
        drawer("2", width=601, left_height=154, depth=402),
    ]
    learnt = plays(width=5, height=5, depth=5)
    height, depth = missing_sizes(orphan, *homes, homes, learnt)
    assert (height.what, depth.what) == ("left height of A", "depth of A")
    usual = learnt["height"].usual_mm
    assert height.expected_margin == pytest.approx(learnt["height"].misfit(Gap(usual + 4, 0.0)))
    assert best_of([depth, height]) is height


def test_a_second_end_adds_only_what_the_first_does_not_say() -> None:
    """Both ends of one opening are 4 mm higher: the first tells most of it, the second no more."""
    homes = [
        drawer("1", left_height=150, right_height=150),
        drawer("2", left_height=154, right_height=154),
    ]
    learnt = plays(height=5)
    first = best_of(list(missing_sizes(drawer("A"), *homes, homes, learnt)))
    then = best_of(list(missing_sizes(drawer("A", left_height=148), *homes, homes, learnt)))
    assert first is not None and then is not None
    assert then.what == "right height of A"
    assert abs(then.expected_margin) < first.expected_margin / 4


def test_a_size_whose_play_is_not_learnt_is_not_asked_for() -> None:
    homes = [drawer("1", width=601, depth=400), drawer("2", width=601, depth=410)]
    assert not list(missing_sizes(drawer("A", width=599), *homes, homes, plays(width=3)))


def test_openings_not_yet_measured_are_asked_for() -> None:
    """Depths of the three others spread by 4 mm: worth more than the left heights, by 0.1 mm."""
    orphan = drawer("the orphan", width=599)
    homes = [
        drawer("opening 4", width=601),
        drawer("opening 5", width=601),
        drawer("opening 7", width=640, depth=400, left_height=150),
        drawer("opening 8", width=640, depth=404, left_height=150.1),
        drawer("opening 9", width=640, depth=396, left_height=150.2),
    ]
    learnt = plays(width=3, height=3, depth=3)
    best = best_of(list(missing_sizes(orphan, *homes[:2], homes, learnt)))
    assert best is not None
    assert best.sentence == "Measure the depth of the orphan, opening 4 and opening 5."
    apart = (2 * 32 / 3) ** 0.5
    usual = learnt["depth"].usual_mm
    assert best.expected_margin == pytest.approx(learnt["depth"].misfit(Gap(usual + apart, 0.0)))


def test_a_further_known_drawer_helps_most_where_least_is_known() -> None:
    homes = [drawer("1", width=601, depth=400), drawer("2", width=604, depth=403)]
    orphan, pair = drawer("A", width=599, depth=398), (drawer("opening 7"), drawer("D7"))
    width, depth = known_drawers(orphan, *homes, [pair], plays(width=5, depth=1))
    assert (width.what, depth.what) == ("width of D7 and opening 7", "depth of D7 and opening 7")
    assert 0 < width.expected_margin < depth.expected_margin


def test_a_drawer_that_is_measured_is_not_asked_for_again() -> None:
    homes = [drawer("1", width=601), drawer("2", width=604)]
    assert not list(known_drawers(drawer("A", width=599), *homes, at_home(), plays(width=5)))
    both = [drawer(name, left_height=150, right_height=150) for name in "12"]
    orphan = drawer("A", left_height=148, right_height=148)
    right_end = (drawer("opening 7", right_height=160), drawer("D7", right_height=158))
    assert not list(known_drawers(orphan, *both, [right_end], plays(height=1)))


def test_of_two_as_good_the_one_with_less_to_measure() -> None:
    one, two = Measurement("depth", ("A",), 3.0), Measurement("width", ("A", "1"), 3.0)
    assert best_of([two, one]) is one
    assert best_of([]) is None


MADE = {"width": 600.0, "left height": 150.0, "depth": 400.0}
KNOWN = [(KnownSizes(f"o{i}", MADE), KnownSizes(f"D{i}", {s: mm - 3 for s, mm in MADE.items()}))
         for i in range(4)]  # fmt: skip


def asked(own: dict[str, float], homes: list[KnownSizes], *taken: str) -> Match:
    """The answer for a drawer of which so much was taken."""
    orphan = KnownSizes("A", {size: own[size] for size in taken})
    return answered(Matches, match([orphan], homes, KNOWN)).matches[0]


def test_what_is_asked_for_tells_more_apart_than_any_other_size() -> None:
    """Four hundred drawers (seed 11), width taken, then one more: the one asked for, or another.

    Openings differ by 6 mm in height, in depth, in both or in neither; play is 3 mm, give or take
    0.5 (standard deviations).
    """
    chance = Random(11)
    by_asked, by_other = 0, 0
    for _ in range(400):
        differ = {"left height": chance.choice((0.5, 6)), "depth": chance.choice((0.5, 6))}
        homes = [
            KnownSizes(
                f"{i}", {s: mm + chance.gauss(0, differ.get(s, 1)) for s, mm in MADE.items()}
            )
            for i in range(4)
        ]
        own = {size: mm - chance.gauss(3, 0.5) for size, mm in homes[0].sizes.items()}
        following = asked(own, homes, "width").next_measurement
        if following is None:
            continue
        (other,) = differ.keys() - {following.size}
        by_asked += asked(own, homes, "width", following.size).told_apart
        by_other += asked(own, homes, "width", other).told_apart
    assert by_asked > 100
    assert by_asked > 1.5 * by_other
