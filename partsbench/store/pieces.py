"""Pieces as rows: loaded whole, saved by what differs."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import Front, Opening, OpeningKind, Span
from partsbench.core.piece.parts import Corner, Face, Home, HomeKind, Part
from partsbench.core.piece.piece import Numbering, Piece
from partsbench.store.book import Book
from partsbench.store.journal import Change, text_time, time_text


@dataclass(frozen=True, slots=True)
class Listed:
    """A line of the list of pieces."""

    tag: str
    codename: str
    title: str
    taken_in_at: datetime


def tags(book: Book) -> set[str]:
    return {row["tag"] for row in book.rows("SELECT tag FROM piece")}


def listed(book: Book) -> list[Listed]:
    """All pieces, the newest first."""
    return [
        Listed(r["tag"], r["codename"], r["title"], text_time(r["taken_in_at"]))
        for r in book.rows(
            "SELECT tag, codename, title, taken_in_at FROM piece JOIN job ON job.id = piece.job "
            "ORDER BY piece.id DESC"
        )
    ]


def piece_id(book: Book, tag: str) -> int | None:
    row = book.row(_PIECE, (tag,))
    return None if row is None else row["id"]


def part_id(book: Book, tag: str, family: Family, number: int) -> int | None:
    piece = piece_id(book, tag)
    if book.has_read(_PARTS, (piece,)):
        wanted = (family.value, number)
        rows = book.rows(_PARTS, (piece,))
        return next((r["id"] for r in rows if (r["family"], r["number"]) == wanted), None)
    row = book.row(
        "SELECT id FROM part WHERE piece = ? AND family = ? AND number = ?",
        (piece, family.value, number),
    )
    return None if row is None else row["id"]


def face_ids(book: Book, tag: str, part: int) -> dict[str, int]:
    """Name → row id of the faces of a part, by its row id, of the piece of that tag."""
    piece = piece_id(book, tag)
    if book.has_read(_FACES, (piece,)):
        rows = [r for r in book.rows(_FACES, (piece,)) if r["part"] == part]
    else:
        rows = book.rows("SELECT id, name FROM face WHERE part = ? ORDER BY place", (part,))
    return {r["name"]: r["id"] for r in rows}


def load(book: Book, tag: str) -> Piece | None:
    """The piece of that tag as a value."""
    row = book.row(_PIECE, (tag,))
    if row is None:
        return None
    key = (row["id"],)
    newest = {
        (r["family"], r["number"]): r["newest"]
        for r in book.rows(
            "SELECT family, number, max(generation) AS newest FROM label WHERE piece = ? "
            "GROUP BY family, number",
            key,
        )
    }
    homes = tuple(sorted((n, g) for (f, n), g in newest.items() if f == Family.HOME.value))
    return Piece(
        tag=row["tag"],
        codename=row["codename"],
        front=Front(
            tuple(json.loads(row["columns_mm"])),
            tuple(json.loads(row["rows_mm"])),
            tuple(map(_opening, book.rows(_OPENINGS, key))),
        ),
        parts=_parts(book, row["id"], newest),
        corners=tuple(Corner(r["number"], r["spot"]) for r in book.rows(_CORNERS, key)),
        title=row["title"],
        numbering=Numbering(row["numbering"]),
        numbers_fixed=bool(row["numbers_fixed"]),
        mirror_of=row["mirror_of"],
        home_generations=homes,
    )


_PIECE = "SELECT piece.*, codename FROM piece JOIN job ON job.id = piece.job WHERE tag = ?"
_OPENINGS = "SELECT * FROM opening WHERE piece = ? ORDER BY number"
_CORNERS = "SELECT * FROM corner WHERE piece = ? ORDER BY number"


def add(change: Change, book: Book, piece: Piece, at: datetime) -> None:
    """A new piece in the job of its codename, which is made when it is new."""
    job = book.row("SELECT id FROM job WHERE codename = ?", (piece.codename,))
    job_id = (
        job["id"]
        if job
        else change.insert("job", {"codename": piece.codename, "created_at": time_text(at)})
    )
    key = change.insert("piece", {"job": job_id, **_piece_row(piece), "taken_in_at": time_text(at)})
    change.insert_all("opening", [{"piece": key, **_opening_row(o)} for o in piece.front.openings])
    change.insert_all(
        "corner", [{"piece": key, "number": c.number, "spot": c.spot} for c in piece.corners]
    )
    _add_parts(change, key, piece.parts)


def save(change: Change, book: Book, piece: Piece) -> None:
    """What differs between the stored piece and this one. Its tag and job stay."""
    stored = book.row("SELECT * FROM piece WHERE tag = ?", (piece.tag,))
    assert stored is not None, f"no piece {piece.tag}"
    key = stored["id"]
    if _differs(stored, _piece_row(piece)):
        change.update("piece", key, _piece_row(piece))
    _save_rows(
        change,
        "opening",
        {r["number"]: r for r in book.rows(_OPENINGS, (key,))},
        {o.number: {"piece": key, **_opening_row(o)} for o in piece.front.openings},
    )
    _save_rows(
        change,
        "corner",
        {r["number"]: r for r in book.rows(_CORNERS, (key,))},
        {c.number: {"piece": key, "number": c.number, "spot": c.spot} for c in piece.corners},
    )
    _save_parts(change, book, key, piece)


def _save_parts(change: Change, book: Book, key: int, piece: Piece) -> None:
    have = {(r["family"], r["number"]): r for r in book.rows(_PARTS, (key,))}
    faces = _rows_by(book.rows(_FACES, (key,)), "part")
    want = {(p.family.value, p.number): p for p in piece.parts}
    for name, row in have.items():
        if name not in want:
            for face in faces.get(row["id"], ()):
                change.delete("face", face["id"])
            change.delete("part", row["id"])
    for name, part in want.items():
        if name not in have:
            continue
        row = have[name]
        if _differs(row, _part_row(key, part)):
            change.update("part", row["id"], _part_row(key, part))
        _save_rows(
            change,
            "face",
            {f["name"]: f for f in faces.get(row["id"], ())},
            {f["name"]: f for f in _face_rows(row["id"], part)},
        )
    _add_parts(change, key, [p for name, p in want.items() if name not in have])


def _save_rows(
    change: Change, table: str, have: Mapping[Any, Any], want: Mapping[Any, Mapping[str, Any]]
) -> None:
    for name, row in have.items():
        if name not in want:
            change.delete(table, row["id"])
        elif _differs(row, want[name]):
            change.update(table, row["id"], want[name])
    change.insert_all(table, [row for name, row in want.items() if name not in have])


def _add_parts(change: Change, key: int, parts: Sequence[Part]) -> None:
    ids = change.insert_all("part", [_part_row(key, p) for p in parts])
    rows = [row for part, i in zip(parts, ids, strict=True) for row in _face_rows(i, part)]
    change.insert_all("face", rows)


def _differs(stored: Any, wanted: Mapping[str, Any]) -> bool:
    return any(stored[name] != value for name, value in wanted.items())


def _piece_row(piece: Piece) -> dict[str, Any]:
    return {
        "tag": piece.tag,
        "title": piece.title,
        "columns_mm": json.dumps(piece.front.columns),
        "rows_mm": json.dumps(piece.front.rows),
        "numbering": piece.numbering.value,
        "numbers_fixed": int(piece.numbers_fixed),
        "mirror_of": piece.mirror_of,
    }


def _opening_row(opening: Opening) -> dict[str, Any]:
    return {
        "number": opening.number,
        "kind": opening.kind.value,
        "behind": opening.behind,
        "grid_column": opening.span.column,
        "grid_row": opening.span.row,
        "across": opening.span.columns,
        "down": opening.span.rows,
    }


def _opening(row: Any) -> Opening:
    span = Span(row["grid_column"], row["grid_row"], row["across"], row["down"])
    return Opening(row["number"], span, OpeningKind(row["kind"]), row["behind"])


def _part_row(piece: int, part: Part) -> dict[str, Any]:
    return {
        "piece": piece,
        "family": part.family.value,
        "number": part.number,
        "name": part.name,
        "parent": part.parent,
        "home_kind": part.home.kind.value,
        "home_number": part.home.number,
        "home_spot": part.home.spot,
        "old_mark": part.old_mark,
        "note": part.note,
        "contents": part.contents,
        "equals": part.group,
        "fragile": int(part.fragile),
        "hidden": int(part.hidden),
        "retired": part.retired,
    }


def _face_rows(part_key: int, part: Part) -> list[dict[str, Any]]:
    return [
        {"part": part_key, "name": f.name, "place": i, "path": f.path}
        for i, f in enumerate(part.faces)
    ]


_PARTS = "SELECT * FROM part WHERE piece = ? ORDER BY instr('DGSLPKRTCBX', family), number"
_FACES = (
    "SELECT face.* FROM face JOIN part ON part.id = face.part WHERE part.piece = ? "
    "ORDER BY face.part, face.place"
)


def _parts(book: Book, piece: int, newest: Mapping[tuple[str, int], str]) -> tuple[Part, ...]:
    faces = _rows_by(book.rows(_FACES, (piece,)), "part")
    return tuple(
        Part(
            family=Family(r["family"]),
            number=r["number"],
            home=Home(HomeKind(r["home_kind"]), r["home_number"], r["home_spot"]),
            name=r["name"],
            parent=r["parent"],
            faces=tuple(Face(f["name"], f["path"]) for f in faces.get(r["id"], ())),
            old_mark=r["old_mark"],
            note=r["note"],
            contents=r["contents"],
            group=r["equals"],
            fragile=bool(r["fragile"]),
            hidden=bool(r["hidden"]),
            retired=r["retired"],
            generation=newest.get((r["family"], r["number"]), "A"),
        )
        for r in book.rows(_PARTS, (piece,))
    )


def _rows_by(rows: Iterable[Any], column: str) -> dict[Any, list[Any]]:
    grouped: dict[Any, list[Any]] = {}
    for row in rows:
        grouped.setdefault(row[column], []).append(row)
    return grouped
