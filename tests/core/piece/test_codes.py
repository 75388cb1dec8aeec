from __future__ import annotations

import random
from string import ascii_letters, ascii_uppercase, digits

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from partsbench.core.piece.codes import (
    CODE_LENGTH,
    HIGHEST_NUMBER,
    SHEET,
    TAG_ALPHABET,
    Code,
    CodeFault,
    Family,
    check_character,
    new_tag,
    next_generation,
    number_text,
    number_value,
    parse_code,
    parse_short,
    short_number,
)

codes = st.builds(
    Code,
    tag=st.text(TAG_ALPHABET, min_size=4, max_size=4),
    family=st.sampled_from(Family),
    number=st.integers(1, HIGHEST_NUMBER),
    generation=st.sampled_from(ascii_uppercase),
)


def test_the_code_that_the_program_gives_as_an_example() -> None:
    assert str(Code("K7Q4", Family.DRAWER, 5)) == "K7Q4-D05AK"


@given(codes)
def test_a_code_is_read_back_as_itself(code: Code) -> None:
    text = str(code)
    assert len(text) == CODE_LENGTH
    assert set(text) <= set(digits + ascii_uppercase + "-")
    assert parse_code(text) == code


@given(codes, st.sampled_from(["", " ", "  ", "-", "–", "\t"]), st.booleans())
def test_case_spaces_and_hyphens_do_not_matter(code: Code, gap: str, small: bool) -> None:
    text = str(code)
    typed = text[:4] + gap + text[5:8] + gap + text[8:]
    assert parse_code(typed.lower() if small else typed) == code


@given(codes)
def test_in_the_tag_o_reads_as_0_and_i_and_l_as_1(code: Code) -> None:
    text = str(code)
    for written, read in (("O", "0"), ("I", "1"), ("L", "1"), ("l", "1")):
        assert parse_code(text[:4].replace(read, written) + text[4:]) == code


@given(codes, st.data())
def test_one_wrong_character_is_never_taken(code: Code, data: st.DataObject) -> None:
    text = str(code)
    place = data.draw(st.sampled_from([0, 1, 2, 3, *range(5, 10)]))
    wrong = data.draw(st.sampled_from(digits + ascii_uppercase))
    changed = text[:place] + wrong + text[place + 1 :]
    read_alike = {"O": "0", "I": "1", "L": "1"} if place < 4 else {}
    assume(read_alike.get(wrong, wrong) != text[place])
    assert parse_code(changed) in (CodeFault.SHAPE, CodeFault.CHECK)


def test_every_wrong_character_of_a_code_is_told() -> None:
    """All 9 places, all 36 characters: none is taken for another code."""
    for number in (1, 9, 10, 99, 100, 207, 359):
        text = str(Code("K7Q4", Family.DRAWER, number, "C"))
        for place in (0, 1, 2, 3, 5, 6, 7, 8, 9):
            for wrong in digits + ascii_uppercase:
                changed = text[:place] + wrong + text[place + 1 :]
                read = parse_code(changed)
                if str(read) != text:
                    assert isinstance(read, CodeFault), changed


@given(codes, st.integers(0, 7))
def test_a_neighbour_swap_is_missed_only_between_neighbours_in_the_alphabet(
    code: Code, place: int
) -> None:
    body = str(code).replace("-", "")
    a, b = body[place], body[place + 1]
    assume(a != b)
    swapped = body[:place] + b + a + body[place + 2 :]
    if isinstance(parse_code(swapped), Code):
        alphabet = digits + ascii_uppercase
        apart = abs(alphabet.index(a) - alphabet.index(b))
        assert apart in (1, 35)


@given(st.text(max_size=30))
def test_any_text_is_a_code_or_a_fault(text: str) -> None:
    read = parse_code(text)
    if isinstance(read, Code):
        assert check_character(str(read)[:-1].replace("-", "")) == str(read)[-1]
    else:
        assert read in (CodeFault.SHAPE, CodeFault.CHECK)


@pytest.mark.parametrize(
    "text",
    ["", "K7Q4", "K7Q4-D00A7", "K7Q4-Z05A7", "K7Q4-D5A7", "K7Q4-D0AA7", "U7Q4-D05A7",
     "K7Q4-D05A77", "K7Q4-D0५A7", "K7Q4_D05A7"],
)  # fmt: skip
def test_what_has_not_the_shape(text: str) -> None:
    assert parse_code(text) is CodeFault.SHAPE


@given(st.integers(1, HIGHEST_NUMBER), st.sampled_from(Family))
def test_numbers_are_written_in_two_characters_and_said_short(number: int, family: Family) -> None:
    assert len(number_text(number)) == 2
    assert number_value(number_text(number)) == number
    for said in (short_number(family, number), short_number(family, number).lower()):
        assert parse_short(said) == (family, number)


def test_numbers_sort_as_they_are_written() -> None:
    written = [number_text(n) for n in range(1, HIGHEST_NUMBER + 1)]
    assert written == sorted(written)
    assert (written[0], written[98], written[99], written[-1]) == ("01", "99", "A0", "Z9")
    for wrong in (0, -1, HIGHEST_NUMBER + 1):
        with pytest.raises(ValueError, match="1 to 359"):
            number_text(wrong)


@pytest.mark.parametrize("text", ["", "D", "5", "D0", "D00", "E5", "D555", "DÂ", "D5 6"])
def test_what_is_no_short_number(text: str) -> None:
    found = parse_short(text)
    assert found is None or text == "D5 6"


def test_generations_end_at_y_since_z_is_the_drilling_sheet() -> None:
    assert next_generation("A") == "B"
    assert next_generation("Y") is None
    assert next_generation(SHEET) is None
    assert Code("K7Q4", Family.DRAWER, 5, SHEET).of_sheet
    assert not Code("K7Q4", Family.DRAWER, 5, "Y").of_sheet


def test_new_tags_are_free_and_neither_word_nor_number() -> None:
    choose = random.Random(4).choice
    taken: set[str] = set()
    for _ in range(500):
        tag = new_tag(taken, choose)
        assert tag not in taken
        assert set(tag) <= set(TAG_ALPHABET)
        assert set(tag) & set(digits) and set(tag) & set(ascii_letters)
        taken.add(tag)
