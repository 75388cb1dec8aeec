"""A list of which part went into which home, written down or scanned to a file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from partsbench.core.outcomes import Outcome, Refused, Tone
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.parts import HomeKind
from partsbench.core.piece.piece import home_words
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.shop import Shop

_SEATED = (HomeKind.OPENING, HomeKind.CORNER)


@dataclass(frozen=True, slots=True)
class PairLine:
    """One line: the part's text, and the home's; `home` is empty for a part in its own home."""

    line: int
    part: str
    home: str = ""


@dataclass(frozen=True, slots=True)
class TurnedAway:
    """A line that is answered with no: its part or home is of another job, or was replaced."""

    pair: PairLine
    outcome: Outcome


def read_pairs(shop: Shop, tag: str, lines: Iterable[str]) -> list[PairLine] | TurnedAway | Refused:
    """The pairs `home-code part-code` in `lines`, or `part-code` alone; empty lines and those
    that begin with `#` are left out.

    Every line is looked at before any is given: the first that cannot be is told by its number,
    before what is answered with no.
    Whether a part is in its right home is not asked here.
    """
    pairs: list[PairLine] = []
    parts: dict[str, int] = {}
    homes: dict[int, tuple[str, int]] = {}
    away: TurnedAway | None = None
    for number, line in enumerate(lines, 1):
        words = line.split()
        if not words or words[0].startswith("#"):
            continue
        if len(words) > 2:
            return _bad(number, "write a home code and a part code, or a part code alone.")
        pair = PairLine(number, words[-1], words[0] if len(words) == 2 else "")
        read = _known(shop, tag, pair)
        if isinstance(read, Refused):
            return read
        if isinstance(read, TurnedAway):
            away = away or read
            continue
        known, home = read
        assert known.part is not None
        short = known.part.short
        if short in parts:
            return _bad(number, f"{short} stands in line {parts[short]} already.")
        parts[short] = number
        if home and known.part.family is not Family.RUNNER:
            if home in homes:
                first, at = homes[home]
                seat = short_number(Family.HOME, home)
                return _bad(number, f"{seat} was given to {first} in line {at}.")
            homes[home] = (short, number)
        pairs.append(pair)
    return away or pairs


def _known(shop: Shop, tag: str, pair: PairLine) -> tuple[KnownLabel, int] | TurnedAway | Refused:
    """The part of a pair, and the number of the opening or corner that it was put into."""
    known = identify(shop, pair.part, tag)
    if isinstance(known, Outcome):
        return _turned(pair, known)
    if known.part is None:
        return _bad(pair.line, f"{pair.part} is the label of a home, not of a part.")
    target = identify(shop, pair.home, tag) if pair.home else None
    if isinstance(target, Outcome):
        return _turned(pair, target)
    part = known.part
    seated = part.home.kind in _SEATED
    if target is None:
        return known, part.home.number if seated and not part.group else 0
    lives = home_words(known.piece, part)
    if target.home and not seated:
        return _bad(pair.line, f"{part.short} lives {lives}, not in an opening.")
    if target.part and seated and target.part.short != part.short:
        return _bad(
            pair.line, f"{target.part.short} is a part; give the home label of the opening first."
        )
    return known, target.home


def _turned(pair: PairLine, outcome: Outcome) -> TurnedAway | Refused:
    """What is no code, or in no job, cannot be read; what the book knows is answered."""
    if outcome.tone in (Tone.UNKNOWN, Tone.MISREAD):
        return _bad(pair.line, outcome.sentence)
    return TurnedAway(pair, outcome)


def _bad(line: int, sentence: str) -> Refused:
    return Refused(f"line {line}: {sentence}")
