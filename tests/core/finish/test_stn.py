from __future__ import annotations

from itertools import product

from hypothesis import assume, given
from hypothesis import strategies as st

from partsbench.core.finish.stn import (
    Arc,
    Impossible,
    at_least,
    at_most,
    earliest,
    earliest_within,
    latest,
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


HOURS = {second: next(t for t in (0, 1, 5, 6, 10) if t >= second) for second in range(-9, 11)}
"""The shop is open in the seconds 0, 1, 5, 6 and 10: the soonest of them from a second on."""


def opened(_: str, second: int) -> int | None:
    return HOURS.get(second)


@given(ARCS)
def test_earliest_times_in_open_hours_are_the_least_that_there_are(arcs):
    """Brute force over every open second up to 9: the pointwise least one, or none at all."""
    arcs = [*arcs, *(at_least("a", p, 0) for p in POINTS[1:])]
    plain = earliest(arcs, "a")
    assume(not isinstance(plain, Impossible))
    found = earliest_within(arcs, "a", plain, opened, horizon=9)
    fits = [
        times
        for values in product((0, 1, 5, 6), repeat=3)
        for times in [dict(zip(POINTS, (0, *values), strict=True))]
        if all(times[a.after] - times[a.before] >= a.seconds for a in arcs)
    ]
    if not fits:
        assert found is None
    else:
        assert found == {p: min(times[p] for times in fits) for p in POINTS}


def in_hours(*arcs: Arc, horizon: int = 10, lift=opened) -> dict[str, int] | None:
    return earliest_within(arcs, "now", earliest(arcs, "now"), lift, horizon)


def test_work_that_would_begin_after_hours_begins_the_next_day_and_what_follows_with_it():
    chain = (at_least("now", "a", 2), at_least("a", "b", 0), at_least("b", "c", 2))
    assert in_hours(*chain) == {"now": 0, "a": 5, "b": 5, "c": 10}


def test_the_last_second_still_counts_and_what_comes_later_is_never():
    late = at_least("now", "a", 7)
    assert in_hours(late) == {"now": 0, "a": 10}
    assert in_hours(late, horizon=9) is None
    assert in_hours(at_least("now", "a", 11)) is None


def test_now_cannot_be_put_off():
    """Nothing may be planned where the plan would have to begin later than now."""
    shut = at_least("now", "a", 0)
    assert in_hours(shut, lift=lambda _, second: max(second, 1)) is None
    tied = (at_least("now", "a", 2), at_most("now", "a", 3))
    assert in_hours(*tied) is None
