"""What is known of faces besides their marks: said once, kept for ever, read by the rules."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from partsbench.core.finish import facts as rules
from partsbench.core.finish.masks import wants_cover
from partsbench.core.finish.old_finish import FOUND, FREE, LEAD, meant
from partsbench.core.finish.seams import Seam, of_face
from partsbench.core.finish.steps import FinishPath
from partsbench.core.key_words import fact_words
from partsbench.core.naming import together
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.parts import Face, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import WHOLE, Spot
from partsbench.core.said_often import no_piece
from partsbench.core.sums.shown import Measures, show_length
from partsbench.services.known.measures import measures
from partsbench.services.shop import Shop, find_spot, writing
from partsbench.store import facts as rows
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.facts import Facts, StoredFact
from partsbench.store.journal import Change, change
from partsbench.store.records import StoredMark

NOTE_FOR_LEAD = "Say what was tested, where and by whom, or how it is worked."
TESTED = (FREE, FOUND)


@writing
def say(
    shop: Shop, tag: str, key: str, value: str, names: Iterable[str | Spot] = (), note: str = ""
) -> Done | Refused:
    """Say one thing of parts or faces (`D1`, `D1 front`), of the whole piece when none is named.

    A test for lead needs its note: "tested: what, where, by whom".
    """
    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    word, said = key.strip().lower(), value.strip().lower()
    fault = rules.fact_fault(word, said)
    if fault:
        return fault
    names = tuple(names)
    if word == rules.KIND and names:
        return Refused(f"{word}: is said of the whole piece.")
    if word == LEAD and said in TESTED and not note.strip():
        return Refused(NOTE_FOR_LEAD)
    found = places(piece, names)
    if isinstance(found, Refused):
        return found
    told = fact_words(word, value_words(word, said, measures(shop)))
    sentence = f"{piece.codename} {place_words(found)}: {told}"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        write(shop, entry, tag, found, word, said, note)
    return Done(f"{sentence}.", tag)


def write(
    shop: Shop,
    entry: Change,
    tag: str,
    found: Sequence[Spot],
    key: str,
    value: str,
    note: str = "",
) -> None:
    """One thing said of places (`places`), checked already, as part of a change."""
    row = piece_rows.piece_id(shop.book, tag)
    assert row is not None
    ids = records.part_ids(shop.book, row)
    rows_of = [(ids[spot.part] if spot.part else None, spot.face) for spot in found]
    said = meant(key, value)
    rows.add_facts(entry, row, rows_of, key, said, shop.clock(), shop.who, note.strip())


@dataclass(frozen=True, slots=True)
class DescribedFact:
    """One thing that a description says of places, checked."""

    key: str
    value: str
    places: tuple[Spot, ...]
    note: str = ""


def described_facts(piece: Piece, doc: object) -> tuple[DescribedFact, ...] | Refused:
    """The facts of a description: tables with `key`, `value`, and maybe `of` and `note`."""
    if not isinstance(doc, list):
        return Refused("fact: write each as a [[fact]] of its own.")
    found = []
    for number, table in enumerate(doc, 1):
        where = f"fact {number}"
        of = table.get("of", []) if isinstance(table, Mapping) else None
        if not isinstance(of, list) or not all(isinstance(name, str) for name in of):
            return Refused(f"{where}: it has a key and a value, and may have “of” and a note.")
        strange = set(table) - {"key", "value", "of", "note"}
        if strange or not all(isinstance(table.get(w, ""), str) for w in ("key", "value", "note")):
            return Refused(f"{where}: it has a key, a value and a note, each in quotes, and “of”.")
        key, value = table.get("key", ""), table.get("value", "")
        fault = rules.fact_fault(key, value)
        if not fault and key == LEAD and value in TESTED and not table.get("note"):
            fault = Refused(NOTE_FOR_LEAD)
        if fault:
            return fault.at(where)
        named = places(piece, of)
        if isinstance(named, Refused):
            return named.at(where)
        found.append(DescribedFact(key, value, tuple(named), table.get("note", "")))
    return tuple(found)


def place_words(found: Sequence[Spot]) -> str:
    """`D1, D3 front`, or `all of it`."""
    return together(spot for spot in found if spot.part) or "all of it"


def of_piece(shop: Shop, tag: str) -> Facts:
    """Everything said of a piece."""
    key = piece_rows.piece_id(shop.book, tag)
    return rows.NOTHING if key is None else rows.facts(shop.book, key)


def said(shop: Shop, tag: str) -> tuple[StoredFact, ...]:
    """What was said of a piece, in order, for showing."""
    return of_piece(shop, tag).said


def words(fact: StoredFact, show: Measures) -> str:
    """`veneer yes`, `depth mm 450 (17-11/16")`"""
    return fact_words(fact.key, value_words(fact.key, fact.value, show))


def line(fact: StoredFact, show: Measures) -> str:
    """`D1 front: veneer yes (looked at the edge)`."""
    where = str(Spot(fact.part, fact.face)) or "all of it"
    said = f"{where}: {words(fact, show)}"
    return f"{said} ({fact.note})" if fact.note else said


def value_words(key: str, value: str, show: Measures) -> str:
    """What was said, and a size in inches beside it where the shop reads those."""
    if show is Measures.METRIC or key not in rules.IN_MM:
        return value
    return f"{value} ({show_length(float(value), show)})"


def asked() -> list[rules.FactKind]:
    """What can be said, with its answers."""
    return list(rules.KINDS.values())


def beside(shop: Shop, part: Part, face: str, facts: Facts, found: list[Seam]) -> tuple[Spot, ...]:
    """The faces that this one meets at a seam and that want tape between.

    What was said to need no mask is left out.
    """
    if not found:
        return ()
    spot, paths = part.spot(face), {part.spot(f.name): f.path for f in part.faces}
    own = shop.path(paths[spot])
    open_ = rules.not_masked(facts.of(part.short, face))
    return tuple(
        other
        for other in of_face(found, spot)
        if other not in open_ and wants_cover(own, shop.path(paths[other]))
    )


def suited(
    shop: Shop,
    part: Part,
    face: Face,
    facts: Facts,
    found: list[Seam],
    marks: Iterable[StoredMark],
) -> FinishPath:
    """The path for one face: steps that its facts and seams ask for are due."""
    path = shop.path(face.path)
    if not path.steps:
        return path
    seam = bool(beside(shop, part, face.name, facts, found))
    known = facts.of(part.short, face.name)
    return rules.suited(path, known, seam, frozenset(m.step for m in marks))


def places(piece: Piece, names: Iterable[str | Spot]) -> list[Spot] | Refused:
    """The part or face that each name means; the whole piece when there is none."""
    found: list[Spot] = []
    for name in names:
        spot = find_spot(piece, name)
        if isinstance(spot, Refused):
            return spot
        found.append(spot)
    return found or [WHOLE]
