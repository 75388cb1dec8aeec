"""Where things stand in the shop: putting parts to a place, and finding them again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from partsbench.core.key_words import word_of
from partsbench.core.naming import ALL, together
from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.piece.codes import CodeFault, parse_code, parse_short
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece, home_words
from partsbench.core.said_often import STILL_TO_COME
from partsbench.core.shown_times import moment
from partsbench.core.wording import notes
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.known.state import PartState, Where, part_state, piece_state
from partsbench.services.rules.marking import fix_numbers
from partsbench.services.shop import Shop, writing
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.journal import change
from partsbench.store.records import MoveKind

LONGEST_PLACE = 40
_MOST_DIGITS = 4
"""No part has a number so long; an old mark may."""


@dataclass(frozen=True, slots=True)
class Sighting:
    """A part, where it is, and when it was last dealt with."""

    tag: str
    codename: str
    short: str
    where: str
    seen: datetime | None
    now: datetime
    old_mark: str = ""

    @property
    def seen_words(self) -> str:
        """`last seen Tue 17 Mar 09:05`, or that it never was."""
        return f"last seen {moment(self.seen, self.now)}" if self.seen else "never scanned"

    @property
    def sentence(self) -> str:
        name = f"{self.codename} {self.short}"
        name = f"{name} (old mark {self.old_mark})" if self.old_mark else name
        return f"{name}: {notes(self.where, self.seen_words if self.seen else '')}."


@writing
def put(
    shop: Shop,
    place: str,
    texts: Sequence[str | KnownLabel],
    *,
    here: str = "",
    at: datetime | None = None,
) -> Done | Outcome | Refused:
    """Record that parts stand at a place (`rack 2`), all or none; the parts may be of many jobs."""
    name = " ".join(place.split())
    if not name or len(name) > LONGEST_PLACE:
        return Refused(f"A place needs a name of 1 to {LONGEST_PLACE} characters.")
    known = []
    for text in texts:
        short = isinstance(text, str) and parse_code(text) is CodeFault.SHAPE
        found = identify(shop, text, here if short else "")
        if isinstance(found, Outcome):
            return found
        if found.part is None:
            return Refused("That is the label of a home; scan the part that stands there.")
        known.append(found)
    now = shop.clock()
    if at and at > now:
        return Refused(STILL_TO_COME)
    names = _names(known)
    tag = known[0].piece.tag if known else here
    with change(shop.book, f"{names} put at {name}", now, shop.who, tag) as entry:
        for found in known:
            assert found.part is not None
            fix_numbers(shop, entry, found.piece)
            key = piece_rows.part_id(
                shop.book, found.piece.tag, found.part.family, found.part.number
            )
            assert key is not None
            records.add_movements(
                entry, [key], kind=MoveKind.PLACE, at=at or now, who=shop.who, place=name
            )
    return Done(f"{names} at {name}.", tag)


def find(shop: Shop, asked: str, here: str = "") -> list[Sighting]:
    """Where parts are: of a code, of a number as `D6` (in every job, `here` first), or of a bare
    number, which lists both the parts numbered so and those with that old mark."""
    code = parse_code(asked)
    if not isinstance(code, CodeFault):
        piece = shop.piece(code.tag)
        part = piece.numbered(code.family, code.number) if piece else None
        return [_sighting(shop, piece, part)] if piece and part else []
    short, plain = parse_short(asked), asked.strip()
    number = int(plain) if plain.isdecimal() and len(plain) <= _MOST_DIGITS else None
    found = []
    for line in sorted(piece_rows.listed(shop.book), key=lambda p: p.tag != here):
        if short is None and number is None:
            break
        piece = shop.piece(line.tag)
        if piece is None:
            continue
        if short:
            part = piece.numbered(*short)
            found += [_sighting(shop, piece, part)] if part and not part.retired else []
        elif line.tag == here or not here:
            found += [_sighting(shop, piece, p) for p in piece.present if p.number == number]
    seen = {(s.tag, s.short) for s in found}
    for tag, _, name in records.old_marks(shop.book, asked.strip()):
        piece = shop.piece(tag)
        part = piece.part(name) if piece else None
        if piece and part and (tag, name) not in seen:
            found.append(_sighting(shop, piece, part))
    return found


def unseen_since(shop: Shop, tag: str, since: datetime) -> list[Sighting]:
    """The parts of a piece not dealt with since then: where to look for a label that is gone."""
    piece = shop.piece(tag)
    if piece is None:
        return []
    states = piece_state(shop, piece).parts.values()
    old = [s for s in states if s.last_seen is None or s.last_seen[0] < since]
    return [_told(piece, s, shop.clock()) for s in old if s.where is not Where.STAYS]


def known_places(shop: Shop) -> list[str]:
    """Places used so far, the latest first."""
    return [p for p in records.places(shop.book) if not p.endswith("not its home")]


def _sighting(shop: Shop, piece: Piece, part: Part) -> Sighting:
    return _told(piece, part_state(shop, piece, part), shop.clock())


def _told(piece: Piece, state: PartState, now: datetime) -> Sighting:
    part = state.part
    words = {
        Where.IN: f"not taken out, {home_words(piece, part)}",
        Where.OUT: f"at {state.place}" if state.place else "out, no place noted",
        Where.HOME: f"home, {home_words(piece, part)}",
        Where.WRONG: state.moved.place if state.moved else word_of(Where.WRONG),
        Where.STAYS: "stays where it stands",
    }[state.where]
    seen = state.last_seen[0] if state.last_seen else None
    return Sighting(piece.tag, piece.codename, part.short, words, seen, now, part.old_mark)


def _names(known: Iterable[KnownLabel]) -> str:
    """`Heron D1–D6; Quill D2`"""
    jobs: dict[str, list[str]] = {}
    for each in known:
        if each.part:
            jobs.setdefault(each.piece.codename, []).append(each.part.short)
    return "; ".join(f"{codename} {together(shorts, ALL)}" for codename, shorts in jobs.items())
