"""The check character against another implementation and against published codes.

Sources: python-stdnum 2.2 (A. de Jong), modules iso7064.mod_37_36, grid and isan; the scheme is
ISO/IEC 7064:2003, MOD 37,36. The swaps counted here are those that the scheme lets through: 36 of
22,680 neighbouring pairs, only characters that stand next to one another in the alphabet.
"""

from __future__ import annotations

from itertools import pairwise, product
from string import ascii_uppercase, digits

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum import grid, isan
from stdnum.iso7064 import mod_37_36

from partsbench.core.piece.codes import (
    HIGHEST_NUMBER,
    TAG_ALPHABET,
    Code,
    CodeFault,
    Family,
    check_character,
    parse_code,
)

ALPHABET = digits + ascii_uppercase

codes = st.builds(
    Code,
    tag=st.text(TAG_ALPHABET, min_size=4, max_size=4),
    family=st.sampled_from(Family),
    number=st.integers(1, HIGHEST_NUMBER),
    generation=st.sampled_from(ascii_uppercase),
)


@given(st.text(ALPHABET, min_size=1, max_size=24))
def test_it_is_the_character_that_stdnum_gives(text: str) -> None:
    assert check_character(text) == mod_37_36.calc_check_digit(text)


@given(codes)
def test_stdnum_accepts_every_code(code: Code) -> None:
    assert mod_37_36.is_valid(str(code).replace("-", ""))


@given(codes, st.sampled_from(ALPHABET))
def test_stdnum_refuses_what_we_refuse(code: Code, last: str) -> None:
    text = str(code)[:-1] + last
    ours = parse_code(text) is not CodeFault.CHECK
    assert ours == mod_37_36.is_valid(text.replace("-", ""))


@pytest.mark.parametrize(
    ("body", "check"),
    [
        ("A12425GABC1234002", "M"),  # a GRid, as python-stdnum's grid module prints it
        ("0000000189470000", "8"),  # ISANs, as its isan module prints them
        ("00000000D07A0090", "Q"),
        ("000000018947000000000000", "D"),
    ],
)
def test_published_codes(body: str, check: str) -> None:
    assert check_character(body) == check


def test_the_published_codes_are_valid_whole() -> None:
    assert grid.is_valid("A12425GABC1234002M")
    assert isan.is_valid("0000-0000-D07A-0090-Q-0000-0000-X")
    assert not isan.is_valid("0000-0001-8CFA-0000-A-0000-0000-K")


def test_which_neighbour_swaps_are_missed() -> None:
    """Every state of the sum before a pair, every pair: the whole scheme, not a sample."""
    states: dict[int, str] = {}
    for lead in ("", *ALPHABET, *map("".join, product(ALPHABET, repeat=2))):
        states.setdefault(_state(lead), lead)
    assert len(states) == 36
    missed = [
        (lead, a, b)
        for lead in states.values()
        for i, a in enumerate(ALPHABET)
        for b in ALPHABET[i + 1 :]
        if check_character(lead + a + b) == check_character(lead + b + a)
    ]
    cases = 36 * 36 * 35 // 2
    assert (len(missed), cases) == (36, 22_680)
    next_to = {*pairwise(ALPHABET), ("0", "Z")}
    assert {(a, b) for _, a, b in missed} == next_to


def _state(text: str) -> int:
    total = 36
    for character in text:
        total = ((total + ALPHABET.index(character)) % 36 or 36) * 2 % 37
    return total
