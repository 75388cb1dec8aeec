"""Values that an export may not hold are told with the place where they stand."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, seed, settings
from hypothesis import strategies as st

from partsbench.store.plain import LARGEST, LONGEST_TEXT, fault_of

AT = "2026-11-25T14:20:05Z"


def doc(**mark: Any) -> dict[str, Any]:
    return {"parts": [{"family": "D", "number": 5, "marks": [{"at": AT, "note": "", **mark}]}]}


def test_a_sound_one_has_no_fault() -> None:
    assert fault_of(doc()) is None
    assert fault_of(doc(at="2026-11-25T14:20:05+05:30", ended_at=None, day="2026-11-25")) is None


@pytest.mark.parametrize(
    ("mark", "told"),
    [
        ({"at": "x"}, "parts 1, marks 1, at: x is no time with its zone"),
        ({"at": "2026-11-25T14:20:05"}, "no time with its zone"),
        ({"at": "0001-01-01T00:00:00Z"}, "no time with its zone"),
        ({"at": 5}, "at: 5 is no time"),
        ({"emptied_at": [AT]}, "is no time"),
        ({"day": "2026-02-30"}, "day: 2026-02-30 is no day"),
        ({"day": None}, "day: None is no day"),
        ({"ml": float("nan")}, "ml: nan is no number"),
        ({"ml": float("inf")}, "ml: inf is no number"),
        ({"ml": 10**30}, "ml: is too large a number"),
        ({"note": "\ud800"}, "note: holds a character that is none"),
        ({"note": "x" * (LONGEST_TEXT + 1)}, "note: holds 100001 characters"),
        ({"a\udcffb": 1}, "a name in it holds a character that is none"),
        ({"of": {"family": "x", "number": 1}}, "of: x is no family"),
        ({"of": {"family": "D", "number": 360}}, "of: 360 is no number of a part"),
        ({"of": {"family": "D", "part": "5"}}, "of: 5 is no number of a part"),
    ],
)
def test_what_cannot_be_is_told_with_its_place(mark: dict[str, Any], told: str) -> None:
    found = fault_of(doc(**mark))
    assert found is not None and told in found


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(st.characters(codec=None)),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["at", "day", "family", "number", "ml", "made_at"]), inner
        )
    ),
    max_leaves=12,
)


@seed(20261125)
@settings(max_examples=300)
@given(ANYTHING)
def test_whatever_it_holds_is_judged_and_what_passes_is_plain(value: Any) -> None:
    if fault_of(value) is None:
        text = json.dumps(value, allow_nan=False, ensure_ascii=False)
        assert json.loads(text.encode()) == value
        assert str(LARGEST + 1) not in text
