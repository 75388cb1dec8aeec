"""What a scanned or typed text stands for in this book; what to say when it stands for nothing."""

from __future__ import annotations

from dataclasses import dataclass, replace

from partsbench.core.outcomes import Answer, Outcome, Refused, Tone
from partsbench.core.piece.codes import Code, CodeFault, Family, parse_code, parse_short
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece, home_words, opening_words
from partsbench.core.said_often import NO_PIECE_AT_WORK
from partsbench.core.shown_times import day
from partsbench.core.verbs import is_reserved
from partsbench.services.shop import Shop, find_short
from partsbench.store import pieces as piece_rows
from partsbench.store import records


@dataclass(frozen=True, slots=True)
class KnownLabel:
    """A label of this book: its piece, and the part or the home it stands for."""

    piece: Piece
    part: Part | None = None
    home: int = 0


def identify(shop: Shop, text: str | KnownLabel, here: str = "") -> KnownLabel | Outcome:
    """What a scanned or typed text stands for; the answer to give when it stands for nothing.

    `here` is the tag of the piece at work: within it `D5` is enough, and a part of another job
    is answered as such. What is known already is handed back.
    """
    if isinstance(text, KnownLabel):
        return text
    code = parse_code(text)
    if code is CodeFault.SHAPE and here and parse_short(text):
        piece = shop.piece(here)
        home = _home_named(piece, text) if piece else None
        if home:
            return home
        short = find_short(piece, text) if piece else Refused(NO_PIECE_AT_WORK)
        if isinstance(short, Refused):
            return Outcome(Answer.STOP, Tone.UNKNOWN, short.sentence, code=text)
        assert piece is not None
        return KnownLabel(piece, piece.part(short))
    if isinstance(code, CodeFault):
        return _no_code(text, code)
    if is_reserved(code.tag):
        return Outcome(
            Answer.STOP,
            Tone.UNKNOWN,
            f"{code} is a code of the wall, not a label.",
            because="Verbs, reasons, people, cups, loads and places are scanned at the bench.",
            code=str(code),
        )
    piece = shop.piece(code.tag)
    found = _labelled(piece, code) if piece else None
    if piece is None or found is None:
        return Outcome(
            Answer.STOP,
            Tone.UNKNOWN,
            f"{code} is in no job of this book.",
            because="The label may be of another book.",
            code=str(code),
        )
    return _replaced(shop, found, code) or _foreign(shop, found, here, code) or found


def _home_named(piece: Piece, text: str) -> KnownLabel | None:
    """The home that a typed `H3` means."""
    short = parse_short(text)
    if short is None or short[0] is not Family.HOME or short[1] not in _homes(piece):
        return None
    return KnownLabel(piece, home=short[1])


def _homes(piece: Piece) -> set[int]:
    return {o.number for o in piece.front.openings} | {c.number for c in piece.corners}


def _labelled(piece: Piece, code: Code) -> KnownLabel | None:
    if code.family is Family.HOME:
        return KnownLabel(piece, home=code.number) if code.number in _homes(piece) else None
    part = piece.numbered(code.family, code.number)
    return KnownLabel(piece, part) if part else None


def _replaced(shop: Shop, known: KnownLabel, code: Code) -> Outcome | None:
    """The answer when a newer label was printed, or the part is no longer there."""
    current = known.part.generation if known.part else dict(known.piece.home_generations).get(
        known.home, "A"
    )  # fmt: skip
    name = f"{known.piece.codename} {code.short}"
    if known.part and known.part.retired:
        return Outcome(
            Answer.STOP,
            Tone.REPLACED,
            f"{name} is no longer part of the piece: {known.part.retired}.",
            tag=known.piece.tag,
            part=code.short,
            code=str(code),
        )
    if code.generation == current:
        return None
    if code.of_sheet and known.part:
        return Outcome(
            Answer.STOP,
            Tone.REFUSED,
            f"This is the drilling sheet of {name}, not its label.",
            because="Scan the label on the front itself.",
            tag=known.piece.tag,
            part=code.short,
            code=str(code),
        )
    key = piece_rows.piece_id(shop.book, known.piece.tag)
    assert key is not None
    printed = records.printed(shop.book, key, code.family, code.number)
    newer = [at for generation, at in printed.items() if generation > code.generation]
    if not newer:
        return Outcome(
            Answer.STOP,
            Tone.UNKNOWN,
            f"{code}: no such label of {name} was printed.",
            code=str(code),
        )
    return Outcome(
        Answer.STOP,
        Tone.REPLACED,
        f"This label of {name} was replaced on {day(min(newer), shop.clock())}. Do not use it.",
        because=f"The label in use ends in {str(replace(code, generation=current))[-2:]}.",
        tag=known.piece.tag,
        part=code.short,
        code=str(code),
    )


def _foreign(shop: Shop, known: KnownLabel, here: str, code: Code) -> Outcome | None:
    """The answer when the label belongs to another piece than the one at work."""
    if not here or known.piece.tag == here:
        return None
    mine = shop.piece(here)
    lives = home_words(known.piece, known.part) if known.part else _home_place(known)
    other = "the other piece of this job" if _same_job(mine, known.piece) else "another job"
    name = f"{known.piece.codename} {code.short}"
    name = f"{name} ({known.piece.title})" if known.piece.title else name
    return Outcome(
        Answer.OTHER_JOB,
        Tone.FOREIGN,
        f"This is {name}, of {other}. Its home there: {lives}.",
        because=f"{mine.codename} {mine.tag} is at work here." if mine else "",
        tag=known.piece.tag,
        part=code.short if known.part else "",
        home=known.home,
        code=str(code),
    )


def _same_job(mine: Piece | None, other: Piece) -> bool:
    return mine is not None and mine.codename == other.codename


def _home_place(known: KnownLabel) -> str:
    opening = known.piece.front.opening(known.home)
    return opening_words(known.piece.front, opening) if opening else f"corner {known.home}"


def _no_code(text: str, fault: CodeFault) -> Outcome:
    shown = text if len(text) <= 24 else f"{text[:24]}…"
    if fault is CodeFault.CHECK:
        return Outcome(
            Answer.STOP,
            Tone.MISREAD,
            f"“{shown}” has a wrong character: the check at its end does not fit.",
            because="Scan again, or compare it with the label letter by letter.",
            code=text,
        )
    return Outcome(
        Answer.STOP,
        Tone.UNKNOWN,
        f"“{shown}” is not a code of partsbench.",
        because="A code looks like K7Q4-D05AK.",
        code=text,
    )
