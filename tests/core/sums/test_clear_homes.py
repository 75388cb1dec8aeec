"""Of the homes that are called clear at most one in twenty is wrong: the quick part of the
simulation in `tests.bench.orphans`, with its seed; the whole is run by hand."""

from __future__ import annotations

from functools import cache
from itertools import product

import pytest

from tests.bench.orphans import PATTERNS, PLAYS, Tally, drawn, interval, tally

CHESTS = {"alike": 180, "rows": 30, "graduated": 30}
"""Few homes are clear where openings are alike, and most of those that are wrong are there."""
KNOWN = (1, 2, 5)


@cache
def simulated(pattern: str, play: float) -> Tally:
    """1 to 5 known drawers."""
    found = Tally()
    for known in KNOWN:
        found.add(tally(drawn(CHESTS[pattern], play, known, pattern)))
    return found


def added(*tallies: Tally) -> Tally:
    total = Tally()
    for one in tallies:
        total.add(one)
    return total


@pytest.mark.parametrize("pattern", PATTERNS)
def test_one_clear_home_in_twenty_is_wrong_at_most_whatever_the_openings(pattern: str) -> None:
    found = added(*(simulated(pattern, play) for play in PLAYS))
    assert found.clear > 200
    assert found.wrong / found.clear <= 1 / 20


@pytest.mark.parametrize("play", PLAYS)
def test_one_clear_home_in_twenty_is_wrong_at_most_whatever_the_play(play: float) -> None:
    found = added(*(simulated(pattern, play) for pattern in PATTERNS))
    assert interval(found.wrong, found.clear)[1] <= 1 / 20


def test_homes_are_called_clear_where_they_can_be() -> None:
    """A test of claims alone would be passed by who never claims."""
    graduated = added(*(simulated("graduated", play) for play in PLAYS))
    rows = added(*(simulated("rows", play) for play in PLAYS))
    assert graduated.clear / graduated.asked > 0.55
    assert rows.clear / rows.asked > 0.35


def test_nothing_is_clear_without_a_known_drawer() -> None:
    found = added(*(tally(drawn(10, play, 0, p)) for play, p in product(PLAYS, PATTERNS)))
    assert found.asked > 200
    assert found.clear == 0
    assert found.first / found.asked > 0.6, "but the likeliest home is named"


def test_an_interval_as_published() -> None:
    """Newcombe, Two-sided confidence intervals for the single proportion, Statistics in Medicine
    17, 1998, table I: 81 of 263, score method (from memory)."""
    assert interval(81, 263) == pytest.approx((0.2553, 0.3662), abs=1e-4)
    assert interval(0, 0) == (0.0, 1.0)
