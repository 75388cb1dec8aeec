"""What a language does to words: a count, names in a row, sentences after one another.

Everything else is written as whole sentences with parameters. These few functions are where the
rules of a second language would go in; none of them reads a text again.
"""

from __future__ import annotations

from collections.abc import Iterable


def plural(count: float, one: str, many: str) -> str:
    """Of two whole texts the one for that count: `plural(n, "1 hole", f"{n} holes")`."""
    return one if count == 1 else many


def nth(place: int) -> str:
    """`1st`, `2nd`, `3rd`, `11th`, `21st`: which one in a row."""
    last = place % 100
    ending = {1: "st", 2: "nd", 3: "rd"}.get(last if last < 20 else last % 10, "th")
    return f"{place}{ending}"


def listed(names: Iterable[object]) -> str:
    """`A, B, C`: names, faces, or notes in no sentence; what is empty is left out."""
    return ", ".join(text for name in names if (text := str(name)))


def and_list(names: Iterable[str]) -> str:
    """`A`, `A and B`, `A, B and C`."""
    return _ended(names, "{first} and {last}")


def or_list(names: Iterable[str]) -> str:
    """`A`, `A or B`, `A, B or C`."""
    return _ended(names, "{first} or {last}")


def then_list(names: Iterable[str]) -> str:
    """`A`, `A, then B`, `A, then B, then C`."""
    first, *rest = list(names) or [""]
    return listed([first, *(f"then {name}" for name in rest)])


def notes(*texts: str) -> str:
    """`until 14:00, insisted`: notes beside one another, each whole; an empty one is left out."""
    return listed(texts)


def sentences(*texts: str) -> str:
    """Whole sentences one after the other; an empty one is left out."""
    return " ".join(text for text in texts if text)


def clauses(texts: Iterable[str]) -> str:
    """`one reason; another`: what stands by itself but shares a full stop."""
    return "; ".join(text for text in texts if text)


def within(sentence: str) -> str:
    """A sentence, or the text of a button, as it stands inside another: without what ends it."""
    return sentence.removesuffix(".").removesuffix("…")


def capital(text: str) -> str:
    """A name or words at the start of a sentence: the first letter large, the others kept."""
    return f"{text[:1].upper()}{text[1:]}"


def capitals(text: str) -> str:
    """Words in capitals, as a verb in force is shown."""
    return text.upper()


def _ended(names: Iterable[str], joint: str) -> str:
    *before, last = list(names) or [""]
    return joint.format(first=", ".join(before), last=last) if before else last
