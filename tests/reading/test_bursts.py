"""A scanner's characters never reach a field, and a person's always do."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.piece.codes import TAG_ALPHABET, Code, CodeFault, Family
from partsbench.reading.bursts import (
    FAST_GAP,
    PATIENT_GAP,
    SUFFIX_GRACE,
    BurstReader,
    KeyStroke,
    parse_scan,
)
from tests.support.keys import Field

CODE = "K7Q4-D05AK"


def codes() -> st.SearchStrategy[str]:
    return st.builds(
        lambda tag, family, number: str(Code(tag, family, number)),
        st.text(TAG_ALPHABET, min_size=4, max_size=4).filter(lambda t: len(set(t)) > 1),
        st.sampled_from(Family),
        st.integers(1, 359),
    )


def test_the_code_used_here_is_one() -> None:
    assert str(parse_scan(CODE)) == CODE


@pytest.mark.parametrize("suffix", ["\r", "\n", "\t", "\r\n", ""])
def test_a_scan_leaves_the_field_alone(suffix: str) -> None:
    field = Field()
    field.strike_all(CODE + suffix)
    field.rest()
    assert (field.text, field.codes) == ("", [CODE])


def test_enter_ends_a_scan_without_waiting() -> None:
    field = Field()
    field.strike_all(CODE + "\r")
    assert field.codes == [CODE]
    assert field.reader.deadline is None


def test_typing_comes_through_in_order_and_soon() -> None:
    field = Field()
    end = field.strike_all("old mark 3", gap=0.060)
    assert field.text == "old mark "
    assert field.reader.deadline == pytest.approx(end + FAST_GAP)
    field.rest()
    assert (field.text, field.scans) == ("old mark 3", [])


def test_a_rolled_pair_of_keys_and_enter_is_typing() -> None:
    field = Field()
    field.strike_all("the\n", gap=0.020)
    assert (field.text, field.scans) == ("the\n", [])


def test_a_typed_code_is_left_to_the_field() -> None:
    field = Field()
    field.strike_all(CODE + "\n", gap=0.070)
    assert (field.text, field.scans) == (CODE + "\n", [])


@pytest.mark.parametrize("gap", [0.008, 0.030, 0.060])
def test_a_held_key_is_typing(gap: float) -> None:
    field = Field()
    field.strike("a", 0.0)
    field.strike_all("a" * 20, start=0.4, gap=gap)
    field.rest()
    assert (field.text, field.scans) == ("a" * 21, [])


def test_a_held_key_does_not_hide_the_scan_after_it() -> None:
    field = Field()
    end = field.strike_all("a" * 9, gap=0.030)
    field.strike_all(CODE + "\r", start=end + 0.030)
    assert (field.text, field.codes) == ("a" * 9, [CODE])


def test_a_hiccup_in_mid_code_loses_nothing() -> None:
    field = Field()
    end = field.strike_all(CODE[:6])
    field.strike_all(CODE[6:], start=end + PATIENT_GAP - 0.010)
    field.rest()
    assert (field.text, field.codes) == ("", [CODE])


def test_a_late_enter_of_the_scanner_presses_nothing() -> None:
    field = Field()
    end = field.strike_all(CODE)
    field.strike("\r", end + SUFFIX_GRACE - 0.010)
    assert (field.text, field.codes) == ("", [CODE])


def test_enter_after_a_scan_is_the_persons_when_it_comes_later() -> None:
    field = Field()
    end = field.strike_all(CODE + "\r")
    field.strike("\r", end + SUFFIX_GRACE + 0.010)
    assert (field.text, field.codes) == ("\r", [CODE])


def test_a_code_that_is_not_ours_is_a_scan_too() -> None:
    field = Field()
    field.strike_all("4006381333931\r")
    assert (field.text, field.scans) == ("", ["4006381333931"])
    assert field.codes == [CodeFault.SHAPE]


def test_a_wrong_check_character_is_told_not_repaired() -> None:
    field = Field()
    field.strike_all("K7Q4-D05A8\r")
    assert (field.text, field.codes) == ("", [CodeFault.CHECK])


@pytest.mark.parametrize("sent", ["k7q4-d05ak", "K7Q4ßD05AK", "K7Q4'D05AK", "]Q1K7Q4-D05AK"])
def test_other_keyboards_and_settings_send_the_same_code(sent: str) -> None:
    field = Field()
    field.strike_all(sent + "\r")
    assert (field.text, field.codes) == ("", [CODE])


def test_a_long_foreign_text_around_a_code_stays_one_scan() -> None:
    field = Field()
    field.strike_all("https://example.org/" + CODE + "\r")
    assert (field.text, field.codes) == ("", [CodeFault.SHAPE])


def test_settle_gives_what_is_held_before_an_arrow_key() -> None:
    reader = BurstReader()
    event = object()
    assert reader.feed(KeyStroke("a", 0.0, event)).taken
    assert reader.settle().replay == (KeyStroke("a", 0.0, event),)
    assert reader.settle().replay == ()


def test_expire_waits_for_the_deadline() -> None:
    reader = BurstReader()
    reader.feed(KeyStroke("a", 0.0))
    assert reader.expire(FAST_GAP / 2).replay == ()
    assert [k.character for k in reader.expire(FAST_GAP * 2).replay] == ["a"]


typed = st.tuples(
    st.just("person"), st.characters(min_codepoint=32, max_codepoint=0x24F), st.floats(0.060, 0.5)
)
entered = st.tuples(st.just("person"), st.sampled_from("\r\t"), st.floats(0.160, 0.5))
scanned = st.tuples(
    st.just("scanner"),
    st.tuples(codes(), st.sampled_from(["", "\r", "\n", "\t", "\r\n"])),
    st.floats(0.0005, 0.030),
)


@given(st.lists(st.one_of(typed, typed, entered, scanned), max_size=25), st.floats(0.001, 0.2))
def test_person_and_scanner_in_any_order(acts: list, pause: float) -> None:  # type: ignore[type-arg]
    """Nothing is lost, doubled or put out of order, however close a key comes to a scan."""
    field, now, last_struck = Field(), 0.0, -1.0
    meant_text, meant_codes = "", []
    for who, what, gap in acts:
        if who == "person":
            # 60 ms after the person's own last key, even if a scan came between the two.
            after_scan = 0.160 if what in "\r\t" else 0.001
            now = max(last_struck + gap, now + after_scan)
            last_struck = now
            field.strike(what, now)
            meant_text += what
        else:
            code, suffix = what
            now = field.strike_all(code + suffix, start=now + pause, gap=gap)
            meant_codes.append(code)
    field.rest()
    assert field.text == meant_text
    assert field.codes == meant_codes


foreign = st.text("0123456789ABCDEFGHXYZ:/.%+*", min_size=10, max_size=40).filter(
    lambda text: len(set(text[:4])) > 1
)


@given(foreign, st.floats(0.0005, 0.030), st.text("abc xyz", max_size=8), st.booleans())
def test_foreign_codes_among_typing(sent: str, gap: float, words: str, suffix: bool) -> None:
    field = Field()
    now = field.strike_all(words, gap=0.080)
    now = field.strike_all(sent + "\r" * suffix, start=now + 0.080, gap=gap)
    field.strike_all(words, start=now + PATIENT_GAP + 0.01, gap=0.080)
    field.rest()
    assert field.text == words * 2
    assert field.scans == [sent]
