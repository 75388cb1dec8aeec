"""The same code within 1.5 s counts once."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from partsbench.reading.repeats import COUNTS_ONCE, Repeats


def test_the_limit_is_what_the_shop_was_promised() -> None:
    assert COUNTS_ONCE == 1.5


def test_a_bounce_counts_once_and_a_second_scan_counts() -> None:
    repeats = Repeats()
    assert repeats.counts("K7Q4-D05AK", 10.0)
    assert not repeats.counts("K7Q4-D05AK", 10.3)
    assert not repeats.counts("K7Q4-D05AK", 11.4)
    assert repeats.counts("K7Q4-D05AK", 11.5)


def test_two_codes_do_not_hide_each_other() -> None:
    repeats = Repeats()
    assert repeats.counts("K7Q4-D05AK", 10.0)
    assert repeats.counts("K7Q4-D06AG", 10.2)
    assert not repeats.counts("K7Q4-D05AK", 10.4)


def test_after_forgetting_every_code_counts() -> None:
    repeats = Repeats()
    assert repeats.counts("K7Q4-D05AK", 10.0)
    repeats.forget()
    assert repeats.counts("K7Q4-D05AK", 10.1)


@given(st.lists(st.tuples(st.sampled_from("abc"), st.floats(0.01, 3.0)), max_size=60))
def test_counted_scans_of_one_code_lie_apart(sights: list[tuple[str, float]]) -> None:
    repeats, now = Repeats(), 0.0
    last: dict[str, float] = {}
    for code, gap in sights:
        now += gap
        apart = code not in last or now - last[code] >= COUNTS_ONCE
        assert repeats.counts(code, now) is apart
        if apart:
            last[code] = now
