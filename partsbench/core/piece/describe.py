"""A piece written down: the description a person writes (TOML) made into a piece.

The front is drawn in words, one per cell; equal words are one opening, and its first letter says
the kind: D drawer, G door, S open shelf, F false front, E empty, `.` solid front.

    codename = "Heron"
    legs = 4
    top = true
    [front]
    columns = [300, 150, 150, 300]   # mm, or words with a unit: "11 3/4 in"
    rows = [180, 200, 220]
    map = ["D1 D1 D2 D2", "D3 D3 D4 D4", "D5 G1 G1 D6"]
    [behind]
    G1 = [2]                         # drawers per row, top to bottom
    [fittings.pull]                  # also knob, plate, lock, key, runner
    D1 = 1
    [[bag]]
    name = "screws of the pulls"
    contents = "24 screws"
    [paths]
    paint = ["D1", "D2 front", "C1 left side"]
    stain = ["T1", "D3"]
    [old_marks]
    D5 = "3"
    [[fact]]                         # what is known of it; of all of it without "of"
    key = "old finish"
    value = "clear"
    of = ["T1"]

Numbers of openings and parts are those that the piece gives them, in its own order.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any
from unicodedata import category

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import parse_short
from partsbench.core.piece.described import add_described
from partsbench.core.piece.front import (
    USUAL_ROW,
    USUAL_WIDTH,
    Front,
    Opening,
    OpeningKind,
    Span,
    check,
    front_from_rows,
    parse_rows,
)
from partsbench.core.piece.furnish import furnish, with_front
from partsbench.core.piece.parts import FAMILY_NAMES, Face, Part, many_of
from partsbench.core.piece.piece import Numbering, Piece
from partsbench.core.piece.shaping import put_behind
from partsbench.core.piece.sound import LONGEST_CODENAME
from partsbench.core.said_often import no_face
from partsbench.core.sums.units import length

MOST_CELLS = 80
"""Columns or rows of a map."""

_MOST_BEHIND = 40
_KIND_OF = {
    "D": OpeningKind.DRAWER,
    "G": OpeningKind.DOOR,
    "S": OpeningKind.SHELF,
    "F": OpeningKind.FALSE_FRONT,
    "E": OpeningKind.EMPTY,
}
_WORDS = {"codename", "title", "numbering", "rows", "mirrored_twin"}
_TABLES = {"front", "behind", "fittings", "paths", "old_marks", "notes"}
_KEYS = {
    *_WORDS, *_TABLES, "legs", "equal_legs", "pulls", "top", "bag", "fragile", "secret",
    "fact",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Described:
    """A described piece, and the twin it asks for, if any, before the twin has a tag."""

    piece: Piece
    twin: str = ""
    """Title of the mirrored piece; empty when there is none."""


def describe(doc: Mapping[str, Any], tag: str) -> Described | Refused:
    """The piece that a description says, under `tag`; the first thing wrong with it otherwise."""
    fault = _shape_fault(doc)
    if fault:
        return fault
    front = _front(doc)
    if isinstance(front, Refused):
        return front
    options = _options(doc)
    if isinstance(options, Refused):
        return options
    piece = furnish(tag, doc["codename"].strip(), front, **options)
    if isinstance(piece, Refused):
        return piece
    piece = replace(piece, title=doc.get("title", "").strip())
    for step in (_with_hidden, add_described, _with_paths):
        made = step(piece, doc)
        if isinstance(made, Refused):
            return made
        piece = made
    return Described(piece, doc.get("mirrored_twin", "").strip())


def with_paths(piece: Piece, path: str, names: Iterable[str]) -> Piece | Refused:
    """Give parts (`D1`, `top`, `legs`) or single faces (`D1 front`) a finish path."""
    for name in names:
        found = _parts_named(piece, name)
        if isinstance(found, Refused):
            return found
        for part, face in found:
            piece = piece.with_part(part.with_path(path, frozenset({face.name}) if face else None))
    return piece


def _shape_fault(doc: Mapping[str, Any]) -> Refused | None:
    """What a description is in the whole: its words are text, its tables tables, none unknown."""
    unknown = set(doc) - _KEYS
    if unknown:
        return Refused(f"{min(unknown)}: not a word of a description.")
    for key in sorted(_WORDS & set(doc)):
        if not isinstance(doc[key], str):
            return Refused(f"{key}: write it in quotes.")
    for key in sorted(_TABLES & set(doc)):
        if not isinstance(doc[key], Mapping):
            return Refused(f"{key}: write a table, [{key}].")
    odd = next(_odd_texts(doc, ""), None)
    if odd:
        return Refused(odd)
    codename = doc.get("codename", "").strip()
    if not 0 < len(codename) <= LONGEST_CODENAME:
        return Refused(
            f"codename: write the public name of the job in quotes, 1 to {LONGEST_CODENAME} "
            "characters."
        )
    return None


def _odd_texts(value: Any, where: str) -> Iterator[str]:
    """Texts with characters that are no letters; only notes and contents may have lines."""
    if isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _odd_texts(key, where or "a word")
            yield from _odd_texts(inner, f"{where}.{key}" if where else key)
    elif isinstance(value, list):
        for inner in value:
            yield from _odd_texts(inner, where)
    elif isinstance(value, str):
        lines = where.startswith("notes.") or where.endswith(".contents")
        if any(category(c) == "Cc" and not (lines and c in "\n\t") for c in value):
            yield f"{where}: holds a character that cannot be shown, as a line end or a control."


def _parts_named(piece: Piece, name: str) -> list[tuple[Part, Face | None]] | Refused:
    words = name.split()
    if not words:
        return Refused("A finish path needs the names of parts, as in D1 or top.")
    lead, rest = words[0], " ".join(words[1:]).lower()
    short = parse_short(lead)
    if short:
        one = piece.numbered(*short)
        parts = [one] if one and not one.retired else []
    else:
        names = {f: (name, many_of(name)) for f, name in FAMILY_NAMES.items()}
        parts = [p for p in piece.present if lead.lower() in names[p.family]]
    if not parts:
        have = ", ".join(p.short for p in piece.present[:12])
        return Refused(f"There is no part {lead} here; there are {have}…")
    if not rest:
        return [(p, None) for p in parts]
    found = [(p, p.face(rest)) for p in parts]
    if any(face is None for _, face in found):
        return Refused(no_face(parts[0].short, rest, [f.name for f in parts[0].faces]))
    return list(found)


def _front(doc: Mapping[str, Any]) -> Front | Refused:
    table = doc.get("front", {})
    unknown = set(table) - {"map", "columns", "rows"}
    if unknown:
        return Refused(f"front.{min(unknown)}: a front has columns, rows and a map.")
    if "rows" in doc:
        counts = parse_rows(doc["rows"])
        return counts if isinstance(counts, Refused) else front_from_rows(counts)
    if not isinstance(table.get("map"), list):
        return Refused('front: give rows = "2 2 3", or a [front] with a map of its openings.')
    lines = [str(line).split() for line in table["map"]]
    fault = _map_fault(lines)
    if fault:
        return fault
    columns = _sizes(table, "columns", len(lines[0]), USUAL_WIDTH / len(lines[0]))
    if isinstance(columns, Refused):
        return columns
    rows = _sizes(table, "rows", len(lines), USUAL_ROW)
    if isinstance(rows, Refused):
        return rows
    openings = _openings(lines)
    if isinstance(openings, Refused):
        return openings
    front = Front(columns, rows, openings)
    return next(iter(check(front)), front)


def _map_fault(lines: list[list[str]]) -> Refused | None:
    if not lines or not lines[0]:
        return Refused("front.map: write one line of words for each row.")
    for place, line in enumerate(lines, 1):
        if len(line) != len(lines[0]):
            return Refused(
                f"front.map: line {place} has {len(line)} cells, line 1 has {len(lines[0])}."
            )
    if max(len(lines), len(lines[0])) > MOST_CELLS:
        return Refused(f"front.map: {MOST_CELLS} columns and rows can be drawn.")
    return None


def _openings(lines: list[list[str]]) -> tuple[Opening, ...] | Refused:
    cells: dict[str, list[Span]] = {}
    for row, line in enumerate(lines):
        for column, word in enumerate(line):
            cells.setdefault(word.upper(), []).append(Span(column, row))
    openings: list[Opening] = []
    for word, places in cells.items():
        if word.strip(".") == "":
            continue
        kind = _KIND_OF.get(word[0])
        if kind is None:
            return Refused(f"front.map: “{word}” begins with none of D, G, S, F, E.")
        span = places[0]
        for place in places[1:]:
            span = span.joined(place)
        if span.columns * span.rows != len(places):
            return Refused(f"front.map: the cells of {word} do not make one rectangle.")
        openings.append(Opening(len(openings) + 1, span, kind))
    return tuple(openings)


def _sizes(
    table: Mapping[str, Any], key: str, count: int, usual: float
) -> tuple[float, ...] | Refused:
    given = table.get(key)
    if given is None:
        return (round(usual, 1),) * count
    if not isinstance(given, list):
        return Refused(f"front.{key}: write a list of sizes, as in [300, 150].")
    if len(given) != count:
        return Refused(f"front.{key}: {len(given)} sizes, but the map has {count}.")
    sizes = []
    for value in given:
        size = _mm(value, f"front.{key}")
        if isinstance(size, Refused):
            return size
        sizes.append(size)
    return tuple(sizes)


def _mm(value: object, where: str) -> float | Refused:
    """Millimetres from a number, or from words with a unit as `11 3/4 in`."""
    if isinstance(value, str):
        found = length(value, what=where)
        return found if isinstance(found, Refused) else found.value
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 1e6:
        return Refused(f"{where}: “{value}” is no size; write 300 or “11 3/4 in”.")
    return float(value)


def _options(doc: Mapping[str, Any]) -> dict[str, Any] | Refused:
    options: dict[str, Any] = {}
    for key in ("legs", "pulls"):
        value = doc.get(key, 0)
        if not isinstance(value, int) or isinstance(value, bool):
            return Refused(f"{key}: write a whole number.")
        options[key] = value
    for key in ("top", "equal_legs"):
        value = doc.get(key, False)
        if not isinstance(value, bool):
            return Refused(f"{key}: write true or false.")
        options[key] = value
    numbering = doc.get("numbering", Numbering.BY_ROW.value)
    if numbering not in {n.value for n in Numbering}:
        return Refused(f"numbering: one of {', '.join(n.value for n in Numbering)}.")
    return options | {"numbering": Numbering(numbering)}


def _with_hidden(piece: Piece, doc: Mapping[str, Any]) -> Piece | Refused:
    for name, counts in doc.get("behind", {}).items():
        short = parse_short(name)
        door = piece.numbered(*short) if short else None
        if door is None:
            return Refused(f"behind.{name}: there is no such door.")
        if not isinstance(counts, list) or not all(map(_few, counts)):
            return Refused(f"behind.{name}: write drawers per row, as in [1, 2].")
        front = put_behind(piece.front, door.home.number, counts)
        if isinstance(front, Refused):
            return front.at(f"behind.{name}")
        made = with_front(piece, front)
        if isinstance(made, Refused):
            return made
        piece = made
    return piece


def _few(count: object) -> bool:
    return isinstance(count, int) and not isinstance(count, bool) and 0 < count <= _MOST_BEHIND


def _with_paths(piece: Piece, doc: Mapping[str, Any]) -> Piece | Refused:
    for path, names in doc.get("paths", {}).items():
        if not isinstance(names, list):
            return Refused(f"paths.{path}: write a list of parts or faces.")
        made = with_paths(piece, path, [str(n) for n in names])
        if isinstance(made, Refused):
            return made.at(f"paths.{path}")
        piece = made
    return piece
