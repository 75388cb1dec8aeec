"""What the finish paths keep of a piece, out to an export and in again, by natural names."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from partsbench.store.book import Book
from partsbench.store.journal import Change

CUP = ("number", "name", "poured", "volume_ml", "tint", "thinned", "strained", "sheen",
       "pot_life_min", "made_at", "emptied_at", "who", "note")  # fmt: skip
CLASS = "product"
"""Which class of product a cup holds; older exports do not say."""
LOAD = ("number", "step", "cup", "made_at", "ended_at", "who", "faces")
MASK = ("covers", "against", "tape", "rating_min", "on_at", "off_at", "who", "note")
FACT = ("family", "part", "face", "key", "value", "at", "who", "note")
LINK = ("family", "part", "face", "place", "cup", "load")
PATH = ("key", "text", "at", "who")
COLUMNS: Mapping[str, tuple[str, ...]] = {
    "cups": CUP,
    "loads": LOAD,
    "masks": MASK,
    "facts": FACT,
    "links": LINK,
    "own_paths": PATH,
}


def exported(book: Book, piece: int) -> dict[str, Any]:
    """Cups and loads by their numbers, faces by part and name, marks by their place on a face."""
    return {
        "cups": [_picked(r, (*CUP, CLASS)) for r in book.rows(_CUPS, (piece, piece))],
        "loads": [
            _picked(r, LOAD[:-1]) | {"faces": _faces_of(book, r["id"])}
            for r in book.rows(_LOADS, (piece,))
        ],
        "masks": [
            _picked(r, MASK)
            for r in book.rows("SELECT * FROM mask WHERE piece = ? ORDER BY id", (piece,))
        ],
        "facts": [_picked(r, FACT) for r in book.rows(_FACTS, (piece,))],
        "links": [_picked(r, LINK) for r in book.rows(_LINKS, (piece,))],
        "own_paths": [_picked(r, PATH) for r in book.rows(_PATHS, (piece,))],
    }


def take_in(change: Change, book: Book, piece: int, doc: Mapping[str, Any]) -> None:
    """Puts checked rows in. Cups and loads get numbers of this book; a path of one's own that is
    here under the same key must say the same.

    ValueError for what cannot be.
    """
    _check_times(doc)
    for path in doc["own_paths"]:
        have = book.row("SELECT text FROM own_path WHERE key = ?", (path["key"],))
        if have and have["text"] != path["text"]:
            raise ValueError(f"the finish path {path['key']} is another one in this book")
        if not have:
            change.insert("own_path", {c: path[c] for c in PATH})
    cups = _numbered(change, book, "cup", [_cup_row(r) for r in doc["cups"]])
    loads = _put_loads(change, book, piece, doc["loads"], cups)
    change.insert_all("mask", [{"piece": piece, **{c: r[c] for c in MASK}} for r in doc["masks"]])
    parts = _parts(book, piece)
    change.insert_all("fact", [_fact_row(r, piece, parts) for r in doc["facts"]])
    for link in doc["links"]:
        mark = _mark(book, _known(parts, link), link["face"], link["place"])
        change.update("mark", mark, {"cup": cups.get(link["cup"]), "load": loads.get(link["load"])})


_CUPS = (
    "SELECT DISTINCT cup.* FROM cup WHERE id IN (SELECT mark.cup FROM part JOIN face ON "
    "face.part = part.id JOIN mark ON mark.face = face.id WHERE part.piece = ?) OR id IN "
    "(SELECT cup FROM load WHERE piece = ?) ORDER BY id"
)
_LOADS = (
    "SELECT load.id, load.number, step, cup.number AS cup, load.made_at, ended_at, load.who "
    "FROM load LEFT JOIN cup ON cup.id = load.cup WHERE piece = ? ORDER BY load.id"
)
_FACTS = (
    "SELECT family, number AS part, face, key, value, at, who, fact.note FROM fact "
    "LEFT JOIN part ON part.id = fact.part WHERE fact.piece = ? ORDER BY fact.id"
)
_LINKS = (
    "SELECT family, part.number AS part, face.name AS face, cup.number AS cup, "
    "load.number AS load, (SELECT count(*) FROM mark AS m WHERE m.face = mark.face AND "
    "m.id < mark.id) AS place FROM part JOIN face ON face.part = part.id JOIN mark ON "
    "mark.face = face.id LEFT JOIN cup ON cup.id = mark.cup LEFT JOIN load ON load.id = mark.load "
    "WHERE part.piece = ? AND (mark.cup IS NOT NULL OR mark.load IS NOT NULL) ORDER BY mark.id"
)
_PATHS = (
    "SELECT DISTINCT own_path.* FROM own_path JOIN face ON face.path = own_path.key "
    "JOIN part ON part.id = face.part WHERE part.piece = ? ORDER BY own_path.key"
)


def _picked(row: Any, columns: tuple[str, ...]) -> dict[str, Any]:
    return {column: row[column] for column in columns}


def _faces_of(book: Book, load: int) -> list[list[Any]]:
    return [
        [r["family"], r["number"], r["name"]]
        for r in book.rows(
            "SELECT family, number, face.name FROM load_face JOIN face ON face.id = "
            "load_face.face JOIN part ON part.id = face.part WHERE load = ? "
            "ORDER BY load_face.place",
            (load,),
        )
    ]


def _check_times(doc: Mapping[str, Any]) -> None:
    named = (("cups", "made_at"), ("cups", "emptied_at"), ("loads", "made_at"),
             ("loads", "ended_at"), ("masks", "on_at"), ("masks", "off_at"), ("facts", "at"),
             ("own_paths", "at"))  # fmt: skip
    for key, column in named:
        for row in doc[key]:
            if row[column] is not None:
                datetime.fromisoformat(row[column])
    for mask in doc["masks"]:
        if not all(isinstance(name, str) for name in json.loads(mask["against"])):
            raise ValueError("a mask is against faces that are no names")
    for cup in doc["cups"]:
        for product, lot, parts in json.loads(cup["poured"]):
            if not (isinstance(product, str) and isinstance(lot, str) and float(parts) > 0):
                raise ValueError("a cup holds what cannot be poured")


def _numbered(
    change: Change, book: Book, table: str, rows: list[dict[str, Any]]
) -> dict[int, int]:  # fmt: skip
    """Rows under the next numbers of this book; old number → new row id."""
    top = book.row(f"SELECT ifnull(max(number), 0) AS top FROM {table}")
    assert top is not None
    fresh = [{**row, "number": top["top"] + i} for i, row in enumerate(rows, 1)]
    ids = change.insert_all(table, fresh)
    return {row["number"]: key for row, key in zip(rows, ids, strict=True)}


def _cup_row(row: Mapping[str, Any]) -> dict[str, Any]:
    return {c: row[c] for c in CUP} | {CLASS: str(row.get(CLASS, ""))}


def _put_loads(
    change: Change, book: Book, piece: int, loads: list[Mapping[str, Any]], cups: dict[int, int]
) -> dict[int, int]:
    rows = [
        {
            "piece": piece,
            **{c: r[c] for c in LOAD if c not in ("cup", "faces")},
            "cup": cups.get(r["cup"]),
        }
        for r in loads
    ]
    ids = _numbered(change, book, "load", rows)
    parts = _parts(book, piece)
    for load in loads:
        faces = [
            {
                "load": ids[load["number"]],
                "face": _face(book, _known(parts, {"family": family, "part": number}), name),
                "place": place,
            }
            for place, (family, number, name) in enumerate(load["faces"])
        ]
        change.insert_all("load_face", faces)
    return ids


def _fact_row(
    row: Mapping[str, Any], piece: int, parts: Mapping[tuple[str, int], int]
) -> dict[str, Any]:
    said = {c: row[c] for c in ("face", "key", "value", "at", "who", "note")}
    part = _known(parts, row) if row["family"] is not None else None
    return {"piece": piece, "part": part, **said}


def _parts(book: Book, piece: int) -> dict[tuple[str, int], int]:
    return {
        (r["family"], r["number"]): r["id"]
        for r in book.rows("SELECT id, family, number FROM part WHERE piece = ?", (piece,))
    }


def _known(parts: Mapping[tuple[str, int], int], row: Mapping[str, Any]) -> int:
    found = parts.get((row["family"], row["part"]))
    if found is None:
        number = f"{row['family']}{row['part']}"
        raise ValueError(f"there is no part {number}")
    return found


def _face(book: Book, part: int, name: str) -> int:
    row = book.row("SELECT id FROM face WHERE part = ? AND name = ?", (part, name))
    if row is None:
        raise ValueError(f"there is no face {name}")
    return int(row["id"])


def _mark(book: Book, part: int, face: str, place: int) -> int:
    row = book.row(
        "SELECT id FROM mark WHERE face = ? ORDER BY id LIMIT 1 OFFSET ?",
        (_face(book, part, face), place),
    )
    if row is None:
        raise ValueError(f"there is no record {place} of {face}")
    return int(row["id"])
