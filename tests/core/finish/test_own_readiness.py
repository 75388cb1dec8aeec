from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import inf, isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.own_readiness import (
    ENOUGH_FILMS,
    OwnWait,
    ReadySpan,
    Try,
    by_share,
    figures,
    last_try,
    own_wait,
    sentence,
    shares,
    span_of,
    spans_of,
    true_range,
)
from partsbench.core.finish.products import Ready

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
HOURS = st.integers(0, 60)
SPANS = st.lists(
    st.builds(
        lambda low, more: ReadySpan(low, low + more), HOURS, st.integers(1, 30) | st.just(inf)
    ),
    min_size=1,
    max_size=25,
)


def tried(hours: float, is_ready: bool, part: str = "D1", coat: datetime = NOON) -> Try:
    at = coat + timedelta(hours=hours)
    return Try(part, Ready.TAPE, is_ready, "stain_oil", "", coat, at)


def test_a_film_became_ready_between_two_tries():
    assert span_of([tried(26, False), tried(31, True)]) == ReadySpan(26, 31)
    assert span_of([tried(31, True)]) == ReadySpan(0, 31)
    assert span_of([tried(26, False)]) == ReadySpan(26, inf)
    often = [tried(20, False), tried(31, True), tried(26, False), tried(40, True)]
    assert span_of(often) == ReadySpan(26, 31)


def test_of_two_tries_that_disagree_the_later_not_ready_counts():
    assert span_of([tried(20, True), tried(26, False), tried(40, True)]) == ReadySpan(26, 40)
    assert span_of([tried(20, True), tried(26, False)]) == ReadySpan(26, inf)


def test_of_two_words_at_one_moment_the_later_counts():
    assert span_of([tried(26, False), tried(26, True)]) == ReadySpan(0, 26)
    assert span_of([tried(26, True), tried(26, False)]) == ReadySpan(26, inf)
    newest = last_try([tried(26, False), tried(26, True)], Ready.TAPE, "stain_oil", NOON)
    assert newest is not None and newest.is_ready


def test_one_coat_on_one_part_is_one_film_and_two_parts_are_two():
    again = NOON + timedelta(days=3)
    found = spans_of([tried(20, False), tried(30, True), tried(25, True, "D2"),
                      tried(22, True, "D1", again)])  # fmt: skip
    assert found == [ReadySpan(20, 30), ReadySpan(0, 25), ReadySpan(0, 22)]


def test_tries_at_the_same_hour_give_the_plain_share():
    spans = [ReadySpan(0, 24)] * 3 + [ReadySpan(24, 48)] * 5 + [ReadySpan(48, inf)] * 2
    assert [(m.low, m.high, round(m.share, 6)) for m in shares(spans)] == [
        (0, 24, 0.3), (24, 48, 0.5), (48, inf, 0.2),
    ]  # fmt: skip
    assert by_share(shares(spans), 0.8) == (24, 48)
    assert by_share(shares(spans), 0.9) == (48, inf)


@given(SPANS)
def test_the_shares_are_at_the_maximum_of_the_likelihood(spans):
    """The conditions of Kuhn and Tucker: no move of mass to any place makes it likelier."""
    found = shares(spans)
    assert isclose(sum(m.share for m in found), 1, abs_tol=1e-3)
    held = [sum(m.share for m in found if s.low <= m.low and m.high <= s.high) for s in spans]
    assert min(held) > 0
    for mass in found:
        pull = sum(
            1 / p for s, p in zip(spans, held, strict=True)
            if s.low <= mass.low and mass.high <= s.high
        )  # fmt: skip
        assert pull <= len(spans) * 1.01


@given(SPANS, st.sampled_from([0.5, 0.8]))
def test_the_figure_stands_on_what_was_seen(spans, share):
    low, high = by_share(shares(spans), share)
    assert low < high
    assert low == 0 or any(s.low == low for s in spans)
    assert high == inf or any(s.high == high for s in spans)
    least, most = true_range(spans, share)
    assert least <= most


def test_few_films_are_too_few_to_tell():
    spans = [ReadySpan(20, 30)] * (ENOUGH_FILMS - 1)
    assert own_wait(spans) is None
    told = sentence("oil stain", Ready.TAPE, len(spans), None)
    assert told == "When oil stain is ready for tape here: 4 tries, too few to tell (from 5 on)."
    assert own_wait([*spans, ReadySpan(20, 30)]) is not None
    assert "here: 1 try, too few" in sentence("oil stain", Ready.TAPE, 1, None)
    assert by_share((), 0.8) == (0, inf)


def test_the_sentence_says_in_how_many_tries_and_how_wide_it_is():
    spans = (
        [ReadySpan(20, 26)] * 6 + [ReadySpan(26, 31)] * 2 + [ReadySpan(31, 40), ReadySpan(31, inf)]
    )
    own = own_wait(spans)
    assert own is not None
    assert (own.low, own.high, own.ready, own.films) == (26, 31, 8, 10)
    assert sentence("oil stain", Ready.TAPE, 10, own) == (
        "In your shop oil stain was ready for tape by 31 h in 8 of 10 tries; "
        "the true figure lies from 20 h upwards, no end can be told yet (80%)."
    )
    assert "safe" not in sentence("oil stain", Ready.TAPE, 10, own)


def test_a_film_never_seen_ready_is_only_estimated():
    own = own_wait([ReadySpan(5, 7)] * 5 + [ReadySpan(5, inf)])
    assert own is not None and (own.ready, own.seen, own.films) == (6, 5, 6)
    said = sentence("paint", Ready.SAND, 6, own)
    assert "by 7 h in an estimated 6 of 6 tries (5 seen)" in said


def test_with_more_films_the_range_gets_an_end():
    few, many = (
        [ReadySpan(20, 26), ReadySpan(26, 31)] * 3,
        [ReadySpan(20, 26), ReadySpan(26, 31)] * 15,
    )
    assert true_range(few, 0.8)[1] == inf
    assert true_range(many, 0.8) == (26, 31)


def test_a_wait_is_lengthened_only_where_the_tins_time_was_too_soon():
    own = OwnWait(10, 8, 8, 26, 31, 20, inf)
    assert own.longer_than(timedelta(hours=24)) == timedelta(hours=31)
    assert own.longer_than(timedelta(hours=26)) == timedelta(hours=31)
    assert own.longer_than(timedelta(hours=27)) is None
    assert own.longer_than(None) == timedelta(hours=31)
    quick = OwnWait(10, 8, 8, 0.5, 1, 0, inf)
    assert quick.longer_than(timedelta(minutes=20)) == timedelta(hours=1)
    assert own.source.text == "your own tries: 8 of 10 films ready by 31 h"


def test_films_first_tried_late_say_nothing_of_the_hours_before():
    own = own_wait([ReadySpan(0, 60)] * 8)
    assert own is not None and own.high == 60
    assert own.longer_than(timedelta(hours=24)) is None
    assert own.longer_than(None) is None


def test_films_never_seen_ready_lengthen_to_what_was_seen():
    own = own_wait([ReadySpan(30, inf)] * 6)
    assert own is not None and own.high == inf
    assert own.longer_than(timedelta(hours=24)) == timedelta(hours=30)
    assert (own.ready, own.seen) == (0, 0)
    assert own.source.text == "your own tries: fewer than 80% of 6 films ready at 30 h"
    assert "nothing longer was tried" in sentence("oil stain", Ready.TAPE, 6, own)


@given(SPANS, st.integers(0, 100))
def test_nothing_ever_shortens_a_wait(spans, hours):
    own, wait = own_wait(spans), timedelta(hours=hours)
    longer = own.longer_than(wait) if own else None
    assert longer is None or longer >= wait


def test_the_newest_try_of_a_film_is_found_among_others():
    other = tried(40, True, coat=NOON + timedelta(days=1))
    found = [tried(31, True), tried(26, False), other]
    newest = last_try(found, Ready.TAPE, "stain_oil", NOON)
    assert newest == tried(31, True)
    assert last_try(found, Ready.SAND, "stain_oil", NOON) is None


# By the binomial distribution: of n films the r-th lies below the 80 % quantile with the chance of
# at most r - 1 of n under it. Of 10: P(≤ 5) = 3.3 %, P(≤ 6) = 12.1 %, P(≤ 9) = 89.3 %; of 11
# P(≤ 10) = 91.4 %. So 6 and none of ten, 6 and the 11th of eleven (P(≤ 5) = 1.2, P(≤ 6) = 5.0,
# P(≤ 7) = 16.1 %: the 7th).
@pytest.mark.parametrize(("films", "below", "above"), [(10, 6, None), (11, 7, 11)])
def test_the_range_by_the_binomial_distribution(films, below, above):
    """Films ready in the hour before each whole one, 1 to n."""
    spans = [ReadySpan(hour, hour + 1) for hour in range(1, films + 1)]
    low, high = true_range(spans, 0.8)
    assert low == below
    assert high == (inf if above is None else above + 1)


def test_a_surer_range_is_wider():
    spans = [ReadySpan(hour, hour + 1) for hour in range(1, 21)]
    narrow, wide = true_range(spans, 0.5, 0.5), true_range(spans, 0.5, 0.95)
    assert wide[0] < narrow[0] < narrow[1] < wide[1]


def test_tries_are_counted_by_product_tin_and_state():
    other = replace(tried(30, True), tin="blue")
    sanded = replace(tried(30, True), ready=Ready.SAND)
    found = figures([tried(26, False), tried(31, True), other, sanded, tried(31, True, "D2")])
    assert found == {
        ("stain_oil", "", Ready.TAPE): [ReadySpan(26, 31), ReadySpan(0, 31)],
        ("stain_oil", "", Ready.SAND): [ReadySpan(0, 30)],
        ("stain_oil", "blue", Ready.TAPE): [ReadySpan(0, 30)],
    }


def test_a_range_with_an_end_tells_it():
    own = OwnWait(30, 24, 24, 26, 31, 20, 40)
    assert sentence("oil stain", Ready.TAPE, 30, own).endswith(
        "the true figure lies from 20 h to 40 h (80%)."
    )


def test_no_films_have_no_share():
    assert shares([]) == ()


def test_all_seen_ready_is_no_estimate_and_one_less_is():
    for seen, told in ((8, "8 of 10 tries"), (7, "an estimated 8 of 10 tries (7 seen)")):
        assert OwnWait(10, 8, seen, 26, 31, 20, inf).count("tries") == told


def test_of_a_film_ready_at_once_no_wait_is_told():
    """Not seen unready at all: nothing says that the figure is too short."""
    assert OwnWait(10, 8, 8, 0.0, 1, 0, inf).longer_than(timedelta()) is None
    exact = OwnWait(10, 8, 8, 26, 31, 20, inf)
    assert exact.longer_than(timedelta(hours=26, seconds=1)) is None
