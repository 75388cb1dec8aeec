"""A piece written down: the description a person writes (TOML) made into a piece.

The front is drawn in words, one per cell; equal words are one opening, and its first letter says
the kind: D drawer, G door, S open shelf, F false front, E empty, `.` solid front.

    codename = "Heron"
    legs = 4
    pulls = 2
    top = true
    [front]
    columns = [300, 150, 150, 300]   # mm
    rows = [180, 200, 220]
    map = ["D1 D1 D2 D2", "D3 D3 D4 D4", "D5 G1 G1 D6"]
    [behind]
    G1 = [2]                         # drawers per row, top to bottom
    [paths]
    paint = ["D1", "D2 front", "C1 left side"]
    stain = ["T1", "D3"]
    [old_marks]
    D5 = "3"
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from partsbench.core.piece.codes import parse_short
from partsbench.core.piece.front import (
    USUAL_ROW,
    USUAL_WIDTH,
    Front,
    FrontFault,
    Opening,
    OpeningKind,
    Span,
    check,
    front_from_rows,
    parse_rows,
)
from partsbench.core.piece.furnish import furnish, with_front
from partsbench.core.piece.parts import FAMILY_NAMES, Face, Part
from partsbench.core.piece.piece import Numbering, Piece
from partsbench.core.piece.shaping import put_behind

_KIND_OF = {
    "D": OpeningKind.DRAWER,
    "G": OpeningKind.DOOR,
    "S": OpeningKind.SHELF,
    "F": OpeningKind.FALSE_FRONT,
    "E": OpeningKind.EMPTY,
}


@dataclass(frozen=True, slots=True)
class Described:
    """A described piece, and the twin it asks for, if any, before the twin has a tag."""

    piece: Piece
    twin: str = ""
    """Title of the mirrored piece; empty when there is none."""


def describe(doc: Mapping[str, Any], tag: str) -> Described | FrontFault:
    """The piece that a description says, under `tag`; the first thing wrong with it otherwise."""
    codename = doc.get("codename")
    if not isinstance(codename, str) or not codename.strip():
        return FrontFault("codename: write the public name of the job in quotes.")
    unknown = set(doc) - _KEYS
    if unknown:
        return FrontFault(f"{min(unknown)}: not a word of a description.")
    front = _front(doc)
    if isinstance(front, FrontFault):
        return front
    options = _options(doc)
    if isinstance(options, FrontFault):
        return options
    piece = furnish(tag, codename.strip(), front, **options)
    if isinstance(piece, FrontFault):
        return piece
    piece = replace(piece, title=str(doc.get("title", "")).strip())
    steps = (_with_hidden, _with_fragile, _with_paths, _with_old_marks, _with_hidden_parts)
    for step in steps:
        piece = step(piece, doc)
        if isinstance(piece, FrontFault):
            return piece
    return Described(piece, str(doc.get("mirrored_twin", "")).strip())


_KEYS = {
    "codename", "title", "legs", "equal_legs", "pulls", "top", "numbering", "front", "rows",
    "behind", "paths", "old_marks", "fragile", "secret", "mirrored_twin",
}  # fmt: skip


def with_paths(piece: Piece, path: str, names: Iterable[str]) -> Piece | FrontFault:
    """Give parts (`D1`, `top`, `legs`) or single faces (`D1 front`) a finish path."""
    for name in names:
        found = _parts_named(piece, name)
        if isinstance(found, FrontFault):
            return found
        for part, face in found:
            piece = piece.with_part(part.with_path(path, frozenset({face.name}) if face else None))
    return piece


def _parts_named(piece: Piece, name: str) -> list[tuple[Part, Face | None]] | FrontFault:
    words = name.split()
    if not words:
        return FrontFault("A finish path needs the names of parts, as in D1 or top.")
    lead, rest = words[0], " ".join(words[1:]).lower()
    short = parse_short(lead)
    if short:
        one = piece.numbered(*short)
        parts = [one] if one and not one.retired else []
    else:
        plural = lead.lower().removesuffix("s")
        parts = [p for p in piece.present if FAMILY_NAMES[p.family] == plural]
    if not parts:
        have = ", ".join(p.short for p in piece.present[:12])
        return FrontFault(f"There is no part {lead} here; there are {have}…")
    if not rest:
        return [(p, None) for p in parts]
    found = [(p, p.face(rest)) for p in parts]
    if any(face is None for _, face in found):
        have = ", ".join(f.name for f in parts[0].faces)
        return FrontFault(f"{parts[0].short} has no face “{rest}”; it has {have}.")
    return list(found)


def _front(doc: Mapping[str, Any]) -> Front | FrontFault:
    if "rows" in doc:
        counts = parse_rows(str(doc["rows"]))
        return counts if isinstance(counts, FrontFault) else front_from_rows(counts)
    table = doc.get("front")
    if not isinstance(table, Mapping) or not isinstance(table.get("map"), list):
        return FrontFault('front: give rows = "2 2 3", or a [front] with a map of its openings.')
    lines = [str(line).split() for line in table["map"]]
    if not lines or not lines[0]:
        return FrontFault("front.map: write one line of words for each row.")
    for place, line in enumerate(lines, 1):
        if len(line) != len(lines[0]):
            return FrontFault(
                f"front.map: line {place} has {len(line)} cells, line 1 has {len(lines[0])}."
            )
    columns = _sizes(table, "columns", len(lines[0]), USUAL_WIDTH / len(lines[0]))
    rows = _sizes(table, "rows", len(lines), USUAL_ROW)
    if isinstance(columns, FrontFault):
        return columns
    if isinstance(rows, FrontFault):
        return rows
    openings = _openings(lines)
    if isinstance(openings, FrontFault):
        return openings
    front = Front(columns, rows, openings)
    return next(iter(check(front)), front)


def _openings(lines: list[list[str]]) -> tuple[Opening, ...] | FrontFault:
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
            return FrontFault(f"front.map: “{word}” begins with none of D, G, S, F, E.")
        span = places[0]
        for place in places[1:]:
            span = span.joined(place)
        if span.columns * span.rows != len(places):
            return FrontFault(f"front.map: the cells of {word} do not make one rectangle.")
        openings.append(Opening(len(openings) + 1, span, kind))
    return tuple(openings)


def _sizes(
    table: Mapping[str, Any], key: str, count: int, usual: float
) -> tuple[float, ...] | FrontFault:
    given = table.get(key)
    if given is None:
        return (round(usual, 1),) * count
    if not isinstance(given, list) or not all(_number(v) for v in given):
        return FrontFault(f"front.{key}: write a list of millimetres, as in [300, 150].")
    if len(given) != count:
        return FrontFault(f"front.{key}: {len(given)} sizes, but the map has {count}.")
    return tuple(float(v) for v in given)


def _number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _options(doc: Mapping[str, Any]) -> dict[str, Any] | FrontFault:
    options: dict[str, Any] = {}
    for key in ("legs", "pulls"):
        value = doc.get(key, 0)
        if not isinstance(value, int) or isinstance(value, bool):
            return FrontFault(f"{key}: write a whole number.")
        options[key] = value
    for key in ("top", "equal_legs"):
        value = doc.get(key, False)
        if not isinstance(value, bool):
            return FrontFault(f"{key}: write true or false.")
        options[key] = value
    numbering = doc.get("numbering", Numbering.BY_ROW.value)
    if numbering not in {n.value for n in Numbering}:
        return FrontFault(f"numbering: one of {', '.join(n.value for n in Numbering)}.")
    return options | {"numbering": Numbering(numbering)}


def _with_hidden(piece: Piece, doc: Mapping[str, Any]) -> Piece | FrontFault:
    for name, counts in doc.get("behind", {}).items():
        short = parse_short(str(name))
        door = piece.numbered(*short) if short else None
        if door is None:
            return FrontFault(f"behind.{name}: there is no such door.")
        if not isinstance(counts, list) or not all(isinstance(c, int) for c in counts):
            return FrontFault(f"behind.{name}: write drawers per row, as in [1, 2].")
        front = put_behind(piece.front, door.home.number, counts)
        if isinstance(front, FrontFault):
            return FrontFault(f"behind.{name}: {front.sentence}")
        made = with_front(piece, front)
        if isinstance(made, FrontFault):
            return made
        piece = made
    return piece


def _with_paths(piece: Piece, doc: Mapping[str, Any]) -> Piece | FrontFault:
    for path, names in doc.get("paths", {}).items():
        if not isinstance(names, list):
            return FrontFault(f"paths.{path}: write a list of parts or faces.")
        made = with_paths(piece, str(path), [str(n) for n in names])
        if isinstance(made, FrontFault):
            return FrontFault(f"paths.{path}: {made.sentence}")
        piece = made
    return piece


def _with_old_marks(piece: Piece, doc: Mapping[str, Any]) -> Piece | FrontFault:
    for name, mark in doc.get("old_marks", {}).items():
        short = parse_short(str(name))
        part = piece.numbered(*short) if short else None
        if part is None:
            return FrontFault(f"old_marks.{name}: there is no such part.")
        piece = piece.with_part(replace(part, old_mark=str(mark)))
    return piece


def _with_fragile(piece: Piece, doc: Mapping[str, Any]) -> Piece | FrontFault:
    return _flagged(piece, doc, "fragile", "fragile")


def _with_hidden_parts(piece: Piece, doc: Mapping[str, Any]) -> Piece | FrontFault:
    return _flagged(piece, doc, "secret", "hidden")


def _flagged(piece: Piece, doc: Mapping[str, Any], key: str, field: str) -> Piece | FrontFault:
    for name in doc.get(key, []):
        short = parse_short(str(name))
        part = piece.numbered(*short) if short else None
        if part is None:
            return FrontFault(f"{key}: there is no part {name}.")
        piece = piece.with_part(_with_flag(part, field))
    return piece


def _with_flag(part: Part, field: str) -> Part:
    return replace(part, fragile=True) if field == "fragile" else replace(part, hidden=True)
