"""A piece with all its records as plain values, by natural names and not by row ids."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from partsbench.core.said_often import cannot_be
from partsbench.store import finishing_out, measuring_out, promises, tries
from partsbench.store.book import Book
from partsbench.store.journal import Change, add_old_notes
from partsbench.store.plain import fault_of

FORM = 1
"""The form of an export; a reader refuses one that it does not know."""

PIECE = ("tag", "title", "columns_mm", "rows_mm", "numbering", "numbers_fixed", "mirror_of",
          "taken_in_at")  # fmt: skip
OPENING = ("number", "kind", "behind", "grid_column", "grid_row", "across", "down")
CORNER = ("number", "spot")
PART = ("family", "number", "name", "parent", "home_kind", "home_number", "home_spot", "old_mark",
         "note", "contents", "equals", "fragile", "hidden", "retired")  # fmt: skip
FACE = ("name", "place", "path")
LABEL = ("family", "number", "generation", "printed_at")
MARK = ("id", "step", "kind", "insisted", "at", "who", "note")
MOVEMENT = ("id", "kind", "place", "home", "how", "at", "who")
FIT = ("id", "result", "at", "who")
ENTRY = ("at", "who", "kind", "sentence")
_SHAPES: Mapping[str, tuple[str, ...]] = {
    "openings": OPENING,
    "corners": CORNER,
    "labels": LABEL,
    "history": ENTRY,
}


class ExchangeError(ValueError):
    """An export that cannot be taken in: what is wrong, and where in it."""


@dataclass(frozen=True, slots=True)
class Section:
    """Lists of further rows of a piece under one key of an export; older exports lack the key.

    `columns` are those that a row of each list must have.
    """

    key: str
    export: Callable[[Book, int], dict[str, Any]]
    columns: Mapping[str, tuple[str, ...]]
    put: Callable[[Change, Book, int, Mapping[str, Any]], None]


SECTIONS = (
    Section("sums", measuring_out.exported, measuring_out.columns_of(), measuring_out.take_in),
    Section("weighed", measuring_out.weighed, measuring_out.WEIGHED, measuring_out.take_in_weighed),
    Section("finishing", finishing_out.exported, finishing_out.COLUMNS, finishing_out.take_in),
    Section("tries", tries.exported, tries.COLUMNS, tries.take_in),
    Section("promised", promises.exported, promises.COLUMNS, promises.take_in),
)


def export(book: Book, tag: str) -> dict[str, Any]:
    """Everything the book holds of a piece but its client. Marks and movements keep their order."""
    piece = book.row(
        "SELECT piece.*, codename FROM piece JOIN job ON job.id = piece.job WHERE tag = ?", (tag,)
    )
    assert piece is not None, f"no piece {tag}"
    key = piece["id"]
    return {
        "partsbench": FORM,
        "codename": piece["codename"],
        "piece": _picked(piece, PIECE),
        "openings": _all(book, "opening", OPENING, key),
        "corners": _all(book, "corner", CORNER, key),
        "labels": _all(book, "label", LABEL, key),
        "parts": [
            _picked(part, PART)
            | {
                "faces": [
                    _picked(face, FACE) | {"marks": _of(book, "mark", MARK, "face", face["id"])}
                    for face in book.rows(
                        "SELECT * FROM face WHERE part = ? ORDER BY place", (part["id"],)
                    )
                ],
                "movements": _of(book, "movement", MOVEMENT, "part", part["id"]),
                "fits": _of(book, "fit", FIT, "part", part["id"]),
            }
            for part in book.rows(
                "SELECT * FROM part WHERE piece = ? ORDER BY family, number", (key,)
            )
        ],
        "history": [
            _picked(r, ENTRY)
            for r in book.rows("SELECT * FROM journal WHERE tag = ? ORDER BY id", (tag,))
        ],
        **{section.key: section.export(book, key) for section in SECTIONS},
    }


def check(doc: Any) -> str:
    """The tag of an export that has every part it needs; ExchangeError otherwise."""
    if not isinstance(doc, dict) or "partsbench" not in doc:
        raise ExchangeError("it is not an export of partsbench")
    if doc["partsbench"] != FORM:
        raise ExchangeError(f"its form is {doc['partsbench']!r}; this program knows {FORM}")
    _has(doc.get("piece"), PIECE, "piece")
    if not isinstance(doc.get("codename"), str):
        raise ExchangeError("codename is missing")
    for name, columns in _SHAPES.items():
        for place, row in enumerate(_list(doc, name), 1):
            _has(row, columns, f"{name} {place}")
    for place, part in enumerate(_list(doc, "parts"), 1):
        where = f"parts {place}"
        _has(part, PART, where)
        for face in _list(part, "faces", where):
            _has(face, FACE, f"{where}, faces")
            for mark in _list(face, "marks", f"{where}, faces"):
                _has(mark, MARK, f"{where}, marks")
        for name, columns in (("movements", MOVEMENT), ("fits", FIT)):
            for row in _list(part, name, where):
                _has(row, columns, f"{where}, {name}")
    for section in SECTIONS:
        _check_section(doc, section)
    fault = fault_of(doc)
    if fault:
        raise ExchangeError(fault)
    return str(doc["piece"]["tag"])


def _check_section(doc: Mapping[str, Any], section: Section) -> None:
    lists = doc.get(section.key)
    if lists is None:
        return
    if not isinstance(lists, dict):
        raise ExchangeError(f"{section.key} is no table")
    for name, columns in section.columns.items():
        for place, row in enumerate(_list(lists, name, section.key), 1):
            _has(row, columns, f"{section.key}, {name} {place}")


def put(change: Change, book: Book, doc: Mapping[str, Any]) -> None:
    """Puts a checked export into the book as a piece of its own tag, with its history.

    ExchangeError for a value that a column cannot hold.
    """
    try:
        _put(change, book, doc)
    except (sqlite3.Error, ArithmeticError, LookupError, ValueError, TypeError) as error:
        raise ExchangeError(cannot_be(error)) from error


def _put(change: Change, book: Book, doc: Mapping[str, Any]) -> None:
    job = book.row("SELECT id FROM job WHERE codename = ?", (doc["codename"],))
    job_id = (
        job["id"]
        if job
        else change.insert(
            "job", {"codename": doc["codename"], "created_at": doc["piece"]["taken_in_at"]}
        )
    )
    key = change.insert("piece", {"job": job_id, **_picked(doc["piece"], PIECE)})
    for name, table in (("openings", "opening"), ("corners", "corner"), ("labels", "label")):
        rows = [{"piece": key, **_picked(r, _SHAPES[name])} for r in doc[name]]
        change.insert_all(table, rows)
    marks: list[tuple[int, dict[str, Any]]] = []
    moves: list[tuple[int, dict[str, Any]]] = []
    fits: list[tuple[int, dict[str, Any]]] = []
    part_ids = change.insert_all("part", [{"piece": key, **_picked(p, PART)} for p in doc["parts"]])
    for part_id, part in zip(part_ids, doc["parts"], strict=True):
        faces = [{"part": part_id, **_picked(f, FACE)} for f in part["faces"]]
        for face_id, face in zip(change.insert_all("face", faces), part["faces"], strict=True):
            marks += [(m["id"], {"face": face_id, **_picked(m, MARK[1:])}) for m in face["marks"]]
        moves += [
            (m["id"], {"part": part_id, **_picked(m, MOVEMENT[1:])}) for m in part["movements"]
        ]
        fits += [(f["id"], {"part": part_id, **_picked(f, FIT[1:])}) for f in part["fits"]]
    for table, rows_in_order in (("mark", marks), ("movement", moves), ("fit", fits)):
        rows_in_order.sort(key=_first)
        change.insert_all(table, [row for _, row in rows_in_order])
    for section in SECTIONS:
        if doc.get(section.key) is not None:
            section.put(change, book, key, doc[section.key])
    _put_history(book, doc)


def _put_history(book: Book, doc: Mapping[str, Any]) -> None:
    """The old entries become notes: they are read, but their rows are no longer here to undo."""
    notes = ({key: row[key] for key in ("at", "who", "sentence")} for row in doc["history"])
    add_old_notes(book, notes, doc["piece"]["tag"])


def _first(row: tuple[int, dict[str, Any]]) -> int:
    return row[0]


def _picked(row: Any, columns: tuple[str, ...]) -> dict[str, Any]:
    return {column: row[column] for column in columns}


def _all(book: Book, table: str, columns: tuple[str, ...], piece: int) -> list[dict[str, Any]]:
    rows = book.rows(f"SELECT * FROM {table} WHERE piece = ? ORDER BY id", (piece,))
    return [_picked(r, columns) for r in rows]


def _of(
    book: Book, table: str, columns: tuple[str, ...], owner: str, key: int
) -> list[dict[str, Any]]:
    rows = book.rows(f"SELECT * FROM {table} WHERE {owner} = ? ORDER BY id", (key,))
    return [_picked(r, columns) for r in rows]


def _has(row: Any, columns: tuple[str, ...], where: str) -> None:
    if not isinstance(row, dict):
        raise ExchangeError(f"{where} is missing")
    for column in columns:
        if column not in row:
            raise ExchangeError(f"{where}: {column} is missing")


def _list(doc: Mapping[str, Any], name: str, where: str = "") -> list[Any]:
    found = doc.get(name)
    if not isinstance(found, list):
        raise ExchangeError(f"{where}, {name} is missing" if where else f"{name} is missing")
    return found
