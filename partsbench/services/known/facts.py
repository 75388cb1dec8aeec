"""What is known of faces besides their marks: said once, kept for ever, read by the rules."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from partsbench.core.finish import facts as rules
from partsbench.core.finish.masks import wants_cover
from partsbench.core.finish.old_finish import FOUND, FREE, LEAD, meant
from partsbench.core.finish.seams import Seam, of_face
from partsbench.core.finish.sheets import full_name
from partsbench.core.finish.steps import FinishPath
from partsbench.core.naming import together
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.parts import Face, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import no_face, no_piece
from partsbench.core.sums.shown import Measures, show_length
from partsbench.services.known.measures import measures
from partsbench.services.shop import Shop, find_short, writing
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
    shop: Shop, tag: str, key: str, value: str, names: Iterable[str] = (), note: str = ""
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
        return Refused(fault)
    names = tuple(names)
    if word == rules.KIND and names:
        return Refused(f"{word}: is said of the whole piece.")
    if word == LEAD and said in TESTED and not note.strip():
        return Refused(NOTE_FOR_LEAD)
    found = places(piece, names)
    if isinstance(found, Refused):
        return found
    told = value_words(word, said, measures(shop))
    sentence = f"{piece.codename} {place_words(found)}: {word} {told}"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        write(shop, entry, tag, found, word, said, note)
    return Done(f"{sentence}.", tag)


def write(
    shop: Shop,
    entry: Change,
    tag: str,
    found: Sequence[tuple[str, str]],
    key: str,
    value: str,
    note: str = "",
) -> None:
    """One thing said of places (`places`), checked already, as part of a change."""
    row = piece_rows.piece_id(shop.book, tag)
    assert row is not None
    ids = records.part_ids(shop.book, row)
    spots = [(ids[short] if short else None, face) for short, face in found]
    said = meant(key, value)
    rows.add_facts(entry, row, spots, key, said, shop.clock(), shop.who, note.strip())


@dataclass(frozen=True, slots=True)
class DescribedFact:
    """One thing that a description says of places, checked."""

    key: str
    value: str
    places: tuple[tuple[str, str], ...]
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
            fault = NOTE_FOR_LEAD
        if fault:
            return Refused(f"{where}: {fault}")
        named = places(piece, of)
        if isinstance(named, Refused):
            return Refused(f"{where}: {named.sentence}")
        found.append(DescribedFact(key, value, tuple(named), table.get("note", "")))
    return tuple(found)


def place_words(found: Sequence[tuple[str, str]]) -> str:
    """`D1, D3 front`, or `all of it`."""
    return together(f"{short} {face}".strip() for short, face in found if short) or "all of it"


def of_piece(shop: Shop, tag: str) -> Facts:
    """Everything said of a piece."""
    key = piece_rows.piece_id(shop.book, tag)
    return rows.NOTHING if key is None else rows.facts(shop.book, key)


def said(shop: Shop, tag: str) -> tuple[StoredFact, ...]:
    """What was said of a piece, in order, for showing."""
    return of_piece(shop, tag).said


def words(fact: StoredFact, show: Measures) -> str:
    """`veneer yes`, `depth mm 450 (17-11/16")`"""
    return f"{fact.key} {value_words(fact.key, fact.value, show)}"


def line(fact: StoredFact, show: Measures) -> str:
    """`D1 front: veneer yes (looked at the edge)`."""
    where = f"{fact.part} {fact.face}".strip() or "all of it"
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


def beside(shop: Shop, part: Part, face: str, facts: Facts, found: list[Seam]) -> tuple[str, ...]:
    """The faces that this one meets at a seam and that want tape between, by full names.

    What was said to need no mask is left out.
    """
    if not found:
        return ()
    name, paths = full_name(part, face), {full_name(part, f.name): f.path for f in part.faces}
    own = shop.path(paths[name])
    open_ = rules.not_masked(facts.of(part.short, face))
    return tuple(
        other
        for other in of_face(found, name)
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


def places(piece: Piece, names: Iterable[str]) -> list[tuple[str, str]] | Refused:
    """(short number, face or "") of each name; the whole piece when there is none."""
    found: list[tuple[str, str]] = []
    for name in names:
        first, _, face = name.strip().partition(" ")
        short = find_short(piece, first)
        if isinstance(short, Refused):
            return short
        part = piece.part(short)
        assert part is not None
        face = " ".join(face.lower().split())
        if face and part.face(face) is None:
            have = [f.name for f in part.faces]
            return Refused(no_face(short, face, have))
        found.append((short, face))
    return found or [("", "")]
