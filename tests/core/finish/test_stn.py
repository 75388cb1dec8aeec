from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.stn import (
    Arc,
    Impossible,
    at_least,
    at_most,
    earliest,
    latest,
    slack,
)

POINTS = "abcd"


def test_a_chain_of_waits_adds_up():
    arcs = [at_least("now", "a", 10), at_least("a", "b", 30), at_least("now", "b", 20)]
    assert earliest(arcs, "now") == {"now": 0, "a": 10, "b": 40}


def test_a_window_pulls_the_first_step_later_than_its_own_wait():
    arcs = [
        at_least("now", "condition", 0),
        at_least("now", "stain", 60),
        at_most("condition", "stain", 10),
    ]
    assert earliest(arcs, "now") == {"now": 0, "condition": 50, "stain": 60}


def test_latest_times_run_back_from_the_end():
    arcs = [at_least("now", "a", 5), at_least("a", "b", 30), at_least("b", "end", 10)]
    assert latest(arcs, "end", 100) == {"end": 100, "b": 90, "a": 60, "now": 55}
    early, late = earliest(arcs, "now"), latest(arcs, "end", 100)
    assert slack(early, late, ["a", "b", "elsewhere"]) == {"a": 55, "b": 55}


def test_what_cannot_be_is_told_in_words():
    arcs = [
        at_least("now", "coat", 0),
        at_least("coat", "topcoat", 720, "the coat needs 12 h"),
        at_most("coat", "topcoat", 480, "the topcoat must follow within 8 h"),
    ]
    found = earliest(arcs, "now")
    assert isinstance(found, Impossible)
    assert found.seconds == 240
    assert found.sentence.startswith("Impossible, because the ")
    assert "the coat needs 12 h" in found.sentence
    assert "the topcoat must follow within 8 h" in found.sentence
    assert isinstance(latest(arcs, "topcoat", 0), Impossible)


def test_a_circle_that_fits_exactly_is_possible():
    arcs = [at_least("now", "a", 0), at_least("a", "b", 10), at_most("a", "b", 10)]
    assert earliest(arcs, "now") == {"now": 0, "a": 0, "b": 10}


ARCS = st.lists(
    st.builds(Arc, st.sampled_from(POINTS), st.sampled_from(POINTS), st.integers(-3, 3)),
    max_size=8,
).map(lambda arcs: [a for a in arcs if a.before != a.after])


@given(ARCS)
def test_earliest_times_keep_every_arc_and_none_can_be_earlier(arcs):
    """Brute force over every whole time there can be: the pointwise least one is the answer."""
    arcs = [*arcs, *(at_least("a", p, -3) for p in POINTS[1:])]
    found = earliest(arcs, "a")
    fits = [
        times
        for values in product(range(-3, 10), repeat=3)
        if all(
            times[a.after] - times[a.before] >= a.seconds
            for times in [dict(zip(POINTS, (0, *values), strict=True))]
            for a in arcs
        )
        for times in [dict(zip(POINTS, (0, *values), strict=True))]
    ]
    if isinstance(found, Impossible):
        assert fits == []
    else:
        assert fits
        assert found == {p: min(times[p] for times in fits) for p in POINTS}


@given(ARCS, st.integers(-3, 3), st.integers(-3, 3), st.integers(1, 4))
def test_a_named_circle_is_a_circle_of_positive_length(arcs, first, second, over):
    impossible = [Arc("b", "c", first), Arc("c", "d", second), Arc("d", "b", over - first - second)]
    found = earliest([*arcs, *impossible, at_least("a", "b", 0)], "a")
    assert isinstance(found, Impossible)
    circle = found.circle
    for arc, following in zip(circle, (*circle[1:], circle[0]), strict=True):
        assert arc.after == following.before
    assert found.seconds > 0
