"""What is on a face and whether it holds lead: said in one go, for a piece, parts or faces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from partsbench.core.finish import facts as rules
from partsbench.core.finish.old_finish import (
    AGE,
    CLEARED,
    FOUND,
    FREE,
    LEAD,
    OLD,
    WAYS,
    Lead,
    old_finish,
)
from partsbench.core.finish.steps import Operation
from partsbench.core.key_words import fact_words, word_of
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.said_often import no_piece
from partsbench.core.shown_times import day_and_year, full_date
from partsbench.core.verbs import Verb
from partsbench.core.wording import clauses, listed, notes
from partsbench.services.known import facts
from partsbench.services.shop import Shop, writing
from partsbench.store.facts import StoredFact
from partsbench.store.journal import change

WHO_TESTED = "A test is kept with who made it: scan or say who you are first."
NOT_WHOLE = "A test is kept with its record: say {}."
_TESTED = (FREE, FOUND)


@dataclass(frozen=True, slots=True)
class Saying:
    """What is said of an old finish; "" where nothing is.

    age, old: answers of those facts. test, way: answers of the fact `lead`. A test that found
    something out says how it was made, of what place, by whom, and when (aware).
    """

    age: str = ""
    old: str = ""
    test: str = ""
    way: str = ""
    how: str = ""
    where: str = ""
    by: str = ""
    on: datetime | None = None

    @classmethod
    def of_verb(cls, verb: Verb, short: str, who: str, at: datetime) -> Saying | Refused:
        """What a verb of the wall says of the part scanned, on which its test was made."""
        key, value = verb.says_of_old
        if key != LEAD:
            return cls(age=value) if key == AGE else cls(old=value)
        if value in _TESTED and not who:
            return Refused(WHO_TESTED)
        if value in _TESTED:
            return cls(test=value, how=verb.how, where=short, by=who, on=at)
        return cls(way=value) if value in WAYS else cls(test=value)

    @property
    def record(self) -> str:
        """`laboratory; chip from C1 base; by Wren; 3 March 2026`: kept with a test."""
        day = full_date(self.on.astimezone()) if self.on else ""
        of, by = f"of {self.where}" * bool(self.where), f"by {self.by}" * bool(self.by)
        return clauses([self.how, of, by, day])

    def words(self) -> Iterator[tuple[str, str, str]]:
        """Key, answer and note of each fact that it comes to."""
        for key, value in ((OLD, self.old), (AGE, self.age)):
            if value:
                yield key, value, ""
        if self.test:
            yield LEAD, self.test, self.record if self.test in _TESTED else ""
        if self.way:
            yield LEAD, self.way, ""


@writing
def say(shop: Shop, tag: str, said: Saying, names: Sequence[str | Spot] = ()) -> Done | Refused:
    """Write it down of parts or faces (`D1`, `D1 front`), of the whole piece when none is named."""
    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    fault = _fault(said)
    if fault:
        return fault
    places = facts.places(piece, names)
    if isinstance(places, Refused):
        return places
    where, now = facts.place_words(places), shop.clock()
    told = listed(fact_words(key, value) for key, value, _ in said.words())
    sentence = f"{piece.codename} {where}: {told}"
    with change(shop.book, sentence, now, shop.who, tag) as entry:
        for key, value, note in said.words():
            facts.write(shop, entry, tag, places, key, value, note)
    return Done(f"{sentence}.", tag)


def _fault(said: Saying) -> Refused | None:
    words = list(said.words())
    if not words:
        return Refused("Say what is on it, how old it is, what a test found, or how it is worked.")
    if said.test in _TESTED:
        lacks = [asked for asked, word in (("how", said.how), ("where", said.where),
                 ("by whom", said.by), ("when", said.on)) if not word]  # fmt: skip
        if lacks:
            return Refused(NOT_WHOLE.format(", ".join(lacks)))
    return next((f for key, value, _ in words if (f := rules.fact_fault(key, value))), None)


@dataclass(frozen=True, slots=True)
class KnownFinish:
    """What is known of some faces that get a finish, by the words of the rules."""

    lead: Lead
    way: str
    names: tuple[Spot, ...]

    @property
    def cleared(self) -> bool:
        """It may be worked dry, with the usual care for dust."""
        return self.lead in CLEARED

    @property
    def sentence(self) -> str:
        """`D1, D3 front: tested: none found.`"""
        way = f"to be worked {self.way}" if self.way else ""
        return f"{listed(self.names)}: {notes(word_of(self.lead), way)}."


def known(shop: Shop, piece: Piece) -> list[KnownFinish]:
    """The faces whose path strips or sands, by what is known of their old finish."""
    said = facts.of_piece(shop, piece.tag)
    found: dict[tuple[Lead, str], list[Spot]] = {}
    for part in piece.present:
        asked = [f for f in part.faces if _disturbed(shop, f.path)]
        told: dict[tuple[Lead, str], list[str]] = {}
        for face in asked:
            old = old_finish(said.of(part.short, face.name), said.lead_found)
            way = "wet" if old.wet else "by chemistry" if old.chemical else ""
            told.setdefault((old.lead, way), []).append(face.name)
        for key, names in told.items():
            whole = len(names) == len(asked)
            spots = [part.spot()] if whole else [part.spot(name) for name in names]
            found.setdefault(key, []).extend(spots)
    return [KnownFinish(lead, way, tuple(names)) for (lead, way), names in found.items()]


def records(shop: Shop, tag: str) -> tuple[StoredFact, ...]:
    """Everything that was said of the old finish of a piece, in order: it is never taken out."""
    return tuple(f for f in facts.said(shop, tag) if f.key in (AGE, OLD, LEAD))


def for_proof(shop: Shop, piece: Piece) -> Iterator[str]:
    """What a proof sheet says of the old finish: what was found and stays found, what was said and
    tested and by whom, and what nobody said. It claims nothing more."""
    by_lead = {k.lead: ", ".join(map(str, k.names)) for k in known(shop, piece)}
    if Lead.FOUND in by_lead:
        yield f"Lead was found in the old finish of {by_lead[Lead.FOUND]}: under the new one too."
    for lead, told in ((Lead.UNKNOWN, "it is not known whether it held lead"),
                       (Lead.NOT_SAID, "nobody has said what it was")):  # fmt: skip
        if lead in by_lead:
            yield f"Old finish of {by_lead[lead]}: {told}."
    for fact in records(shop, piece.tag):
        yield f"Old finish, {record_words(fact)}."


def record_words(fact: StoredFact) -> str:
    """`D1 front: a test found no lead (laboratory; of D1 front; by Wren, 03 March 2026)`."""
    where = str(Spot(fact.part, fact.face)) or "all of it"
    said = f"{where}: {fact_words(fact.key, fact.value)}"
    said = f"{said} ({fact.note})" if fact.note else said
    who = f"said by {fact.who}" if fact.who else ""
    return notes(said, who, day_and_year(fact.at.astimezone()))


def _disturbed(shop: Shop, path: str) -> bool:
    steps = shop.path(path).steps
    return any(s.operation in (Operation.STRIP, Operation.SAND, Operation.SCRAPE) for s in steps)
