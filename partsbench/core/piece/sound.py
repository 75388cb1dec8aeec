"""Whether a piece can be: one set of rules for what is drawn, described, imported and checked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from unicodedata import category

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import HIGHEST_NUMBER, Family
from partsbench.core.piece.front import check
from partsbench.core.piece.furnish import MOST_LEGS
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece

LONGEST_CODENAME = 40
LONGEST_TITLE = 120
LONGEST_NAME = 120
LONGEST_NOTE = 4000
"""Characters. A title stands on every label; a note is read on the screen."""

_LINES = "\n\t"


def faults(piece: Piece) -> list[Refused]:
    """What is wrong with a piece, the first fault first; [] when it can be worked with."""
    return list(_faults(piece))


def first_fault(piece: Piece) -> Refused | None:
    return next(_faults(piece), None)


def _faults(piece: Piece) -> Iterator[Refused]:
    yield from _word_faults(piece)
    yield from check(piece.front)
    odd = [p for p in piece.parts if not 1 <= p.number <= HIGHEST_NUMBER or p.family is Family.HOME]
    for part in odd:
        yield Refused(f"Part {part.family} {part.number}: there is no such number.")
    if odd:
        return  # the rest asks for parts by their numbers
    yield from _number_faults(piece)
    for part in piece.parts:
        yield from _part_faults(piece, part)


def _word_faults(piece: Piece) -> Iterator[Refused]:
    if not piece.codename.strip():
        public = f"1 to {LONGEST_CODENAME} characters: the job's public name."
        yield Refused(f"A piece needs a codename of {public}")
    yield from _too_long("The codename", piece.codename, LONGEST_CODENAME)
    yield from _too_long("The title", piece.title, LONGEST_TITLE)


def _number_faults(piece: Piece) -> Iterator[Refused]:
    """Homes bear numbers of their own, and as far as a code can hold them."""
    homes = [o.number for o in piece.front.openings] + [c.number for c in piece.corners]
    for number, count in Counter(homes).items():
        if not 1 <= number <= HIGHEST_NUMBER:
            yield Refused(f"Home {number}: homes are numbered 1 to {HIGHEST_NUMBER}.")
        elif count > 1:
            yield Refused(f"{count} homes are numbered {number}.")
    if len(piece.corners) > MOST_LEGS:
        yield Refused(f"{len(piece.corners)} legs cannot be drawn; 0 to {MOST_LEGS} can.")
    for short, count in Counter(p.short for p in piece.parts).items():
        if count > 1:
            yield Refused(f"{count} parts are numbered {short}.")


def _part_faults(piece: Piece, part: Part) -> Iterator[Refused]:
    yield from _home_faults(piece, part)
    yield from _parent_faults(piece, part)
    for what, words in (("name", part.name), ("old mark", part.old_mark), ("place", part.home.spot),
                        ("group", part.group)):  # fmt: skip
        yield from _too_long(f"{part.short}: its {what}", words, LONGEST_NAME)
    for what, words in (("note", part.note), ("list of contents", part.contents),
                        ("reason to be gone", part.retired)):  # fmt: skip
        yield from _too_long(f"{part.short}: its {what}", words, LONGEST_NOTE, _LINES)
    names = Counter(f.name for f in part.faces)
    for name, count in names.items():
        if not name.strip() or count > 1:
            yield Refused(f"{part.short}: {count} faces are called “{name[:40]}”.")
        yield from _too_long(f"{part.short}: the name of a face", name, LONGEST_NAME)


def _home_faults(piece: Piece, part: Part) -> Iterator[Refused]:
    """A part that is there lives in a home that is there; of one retired the number counts."""
    home = part.home
    if not 0 <= home.number <= HIGHEST_NUMBER:
        yield Refused(f"{part.short}: there is no home {home.number}.")
    elif part.retired:
        return
    elif home.kind is HomeKind.OPENING and piece.front.opening(home.number) is None:
        yield Refused(f"{part.short}: there is no opening {home.number}.")
    elif home.kind is HomeKind.CORNER and home.number not in {c.number for c in piece.corners}:
        yield Refused(f"{part.short}: there is no corner {home.number}.")
    elif home.kind is HomeKind.ON_PART and not part.parent:
        yield Refused(f"{part.short}: the part that it sits on is missing.")


def _parent_faults(piece: Piece, part: Part) -> Iterator[Refused]:
    """What it travels with is there, and does not travel with it."""
    if not part.parent:
        return
    host = piece.part(part.parent)
    if host is None or (host.retired and not part.retired):
        yield Refused(f"{part.short}: there is no part {part.parent[:20]} for it to sit on.")
        return
    passed = {part.short}
    while host is not None and host.parent:
        if host.short in passed:
            break
        passed.add(host.short)
        host = piece.part(host.parent)
    if host is not None and host.short in passed:
        yield Refused(f"{part.short}: it sits on itself.")


def _too_long(what: str, words: str, most: int, allowed: str = "") -> Iterator[Refused]:
    if len(words) > most:
        yield Refused(f"{what} has {len(words)} characters; {most} can be shown.")
    elif any(category(c) == "Cc" and c not in allowed for c in words):
        yield Refused(f"{what} holds a character that cannot be shown.")
