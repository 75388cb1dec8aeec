"""The code on a label: `K7Q4-D05AK`, ten characters that fit QR version 1 at level H.

tag (4), hyphen, family letter, two-character number, generation letter, check character.
The check character is ISO/IEC 7064 MOD 37,36 over the other eight, hyphen left out. It catches
every single wrong character and all but about 0.16 % of neighbour swaps; no more is claimed.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from string import ascii_uppercase, digits

TAG_ALPHABET = "".join(c for c in digits + ascii_uppercase if c not in "ILOU")
TAG_LENGTH = 4
CODE_LENGTH = 10
HIGHEST_NUMBER = 359
SHEET = "Z"
"""The printing letter of drilling sheets, so that a sheet is told from the label of its front."""

_CHECK_ALPHABET = digits + ascii_uppercase
_READ_ALIKE = str.maketrans("OIL", "011")
_IGNORED = re.compile(r"[\s\-‐-―]+")
_SHAPE = re.compile(
    rf"(?P<tag>[{TAG_ALPHABET}]{{4}})(?P<family>[A-Z])(?P<number>[0-9A-Z][0-9])(?P<gen>[A-Z])(?P<check>[0-9A-Z])"
)


class Family(StrEnum):
    """What kind of thing a numbered label belongs to; the value is its letter on the label."""

    DRAWER = "D"
    DOOR = "G"
    SHELF = "S"
    LEG = "L"
    PULL = "P"
    LOCK = "K"
    RUNNER = "R"
    TOP = "T"
    CARCASE = "C"
    BAG = "B"
    OTHER = "X"
    HOME = "H"


class CodeFault(StrEnum):
    """Why a text is no code: it has another shape, or its check character does not fit."""

    SHAPE = "shape"
    CHECK = "check"


@dataclass(frozen=True, slots=True)
class Code:
    """One label, or the drilling sheet of a front: whose it is and which printing of it."""

    tag: str
    family: Family
    number: int
    generation: str = "A"

    def __str__(self) -> str:
        body = f"{self.tag}{self.family}{number_text(self.number)}{self.generation}"
        return f"{body[:TAG_LENGTH]}-{body[TAG_LENGTH:]}{check_character(body)}"

    @property
    def of_sheet(self) -> bool:
        """Whether it stands on a drilling sheet and not on a label."""
        return self.generation == SHEET

    @property
    def short(self) -> str:
        """The number as people say it: `D5`, `P12`, `LA0`."""
        return short_number(self.family, self.number)


def check_character(text: str) -> str:
    """The ISO/IEC 7064 MOD 37,36 check character of `text` (digits and capitals only)."""
    product = 36
    for character in text:
        total = (product + _CHECK_ALPHABET.index(character)) % 36 or 36
        product = total * 2 % 37
    return _CHECK_ALPHABET[(1 - product) % 36]


def number_text(number: int) -> str:
    """Two characters for 1-359: `01`-`99`, then `A0`-`Z9`. ValueError outside."""
    if not 1 <= number <= HIGHEST_NUMBER:
        raise ValueError(f"a number on a label is 1 to {HIGHEST_NUMBER}, not {number}")
    if number < 100:
        return f"{number:02d}"
    return f"{ascii_uppercase[(number - 100) // 10]}{number % 10}"


def number_value(text: str) -> int | None:
    """The number that two label characters stand for; None when they stand for none."""
    if not re.fullmatch(r"[0-9A-Z][0-9]", text):
        return None
    if text[0] in digits:
        return int(text) or None
    return 100 + ascii_uppercase.index(text[0]) * 10 + int(text[1])


@functools.cache
def short_number(family: Family, number: int) -> str:
    """`D5` for drawer 5; from 100 on both characters stay: `DA0`."""
    text = number_text(number)
    return f"{family}{text.lstrip('0')}"


def parse_short(text: str) -> tuple[Family, int] | None:
    """Family and number of a typed `d5`, `D05` or `PA0`; None when it is neither."""
    cleaned = _IGNORED.sub("", text).upper()
    if len(cleaned) not in (2, 3) or cleaned[0] not in set(Family):
        return None
    value = number_value(cleaned[1:].zfill(2))
    return (Family(cleaned[0]), value) if value else None


def parse_code(text: str) -> Code | CodeFault:
    """The code that a scanned or typed text is. A wrong check character is told, never repaired.

    Case, spaces and hyphens do not matter; in the tag O reads as 0, I and L as 1.
    """
    cleaned = _IGNORED.sub("", text).upper()
    cleaned = cleaned[:TAG_LENGTH].translate(_READ_ALIKE) + cleaned[TAG_LENGTH:]
    found = _SHAPE.fullmatch(cleaned)
    if not found or found["family"] not in set(Family):
        return CodeFault.SHAPE
    number = number_value(found["number"])
    if number is None:
        return CodeFault.SHAPE
    if check_character(cleaned[:-1]) != found["check"]:
        return CodeFault.CHECK
    return Code(found["tag"], Family(found["family"]), number, found["gen"])


def next_generation(generation: str) -> str | None:
    """The letter of the next printing; None after Y: such a part wants a new number."""
    return None if generation >= "Y" else chr(ord(generation) + 1)


def new_tag(taken: set[str], choose: Callable[[str], str]) -> str:
    """A tag not in `taken`; `choose` picks one character of the alphabet (`random.choice`).

    A tag keeps at least one letter and one digit, so that it is read as neither word nor number.
    """
    while True:
        tag = "".join(choose(TAG_ALPHABET) for _ in range(TAG_LENGTH))
        mixed = any(c in digits for c in tag) and any(c not in digits for c in tag)
        if mixed and tag not in taken:
            return tag
