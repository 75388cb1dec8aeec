"""What was measured, counted, bought and timed, as rows: read as values, written by their names."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from partsbench.store.book import Book
from partsbench.store.journal import Change, text_time


@dataclass(frozen=True, slots=True)
class TypedSize:
    """One size of a part or opening, mm, and what was typed."""

    mm: float
    typed: str


@dataclass(frozen=True, slots=True)
class Weight:
    """What a piece weighs, g, and what was typed."""

    grams: float
    typed: str


@dataclass(frozen=True, slots=True)
class Counted:
    """Hardware counted at one place: so many of a kind in one condition."""

    family: str
    number: int
    kind: str
    condition: str
    count: int
    spacing_mm: float | None
    spacing_typed: str
    thread: str
    screw_mm: float | None
    screw_typed: str


@dataclass(frozen=True, slots=True)
class Candidate:
    """A pull that may be bought."""

    name: str
    spacing_mm: float
    spacing_typed: str
    plate_width_mm: float
    plate_height_mm: float
    foot_mm: float
    each: int
    thread: str
    thread_depth_mm: float | None
    price: float | None
    lead_days: int | None


@dataclass(frozen=True, slots=True)
class OrphanRow:
    """A thing without a label: sizes by name, its marks and wear in words, separated by commas."""

    name: str
    sizes: Mapping[str, TypedSize]
    marks: str
    wear: str


@dataclass(frozen=True, slots=True)
class TinRow:
    """A tin of the shop. `holds` and `empty` in `unit`: ml, or g with the tin's own weight."""

    id: int
    name: str
    price: float | None
    unit: str
    holds: float
    empty: float
    holds_typed: str


@dataclass(frozen=True, slots=True)
class TinUse:
    """What one piece took out of a tin: its measure before and after, in the tin's unit."""

    tin: TinRow
    before: float
    after: float
    at: datetime


@dataclass(frozen=True, slots=True)
class Money:
    """A sum of money of a piece: what it is, and a note that tells it from others of its kind."""

    what: str
    amount: float
    note: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Work:
    """A stretch of work that was started, and ended unless it still runs."""

    id: int
    step: str
    begun: datetime
    ended: datetime | None
    redo: bool
    who: str


@dataclass(frozen=True, slots=True)
class Corrected:
    """How long a step really took on one day (`2026-11-25`, local)."""

    step: str
    day: str
    minutes: float


def sizes(book: Book, piece: int) -> dict[tuple[str, int], dict[str, TypedSize]]:
    """Every size of a piece by (family letter, number), then by what was measured."""
    found: dict[tuple[str, int], dict[str, TypedSize]] = {}
    for r in book.rows("SELECT * FROM measured WHERE piece = ? ORDER BY id", (piece,)):
        found.setdefault((r["family"], r["number"]), {})[r["what"]] = TypedSize(r["mm"], r["typed"])
    return found


def weight(book: Book, piece: int) -> Weight | None:
    """What the whole piece weighs; None while nobody weighed it."""
    row = book.row("SELECT * FROM weighed WHERE piece = ?", (piece,))
    return None if row is None else _value(Weight, row)


def woods(book: Book, piece: int) -> dict[tuple[str, int], tuple[str, str]]:
    """Key of the wood and cut by (family letter, number)."""
    rows = book.rows("SELECT * FROM wood WHERE piece = ? ORDER BY id", (piece,))
    return {(r["family"], r["number"]): (r["wood"], r["cut"]) for r in rows}


def hardware(book: Book, piece: int) -> list[Counted]:
    return [_value(Counted, r) for r in _of(book, "hardware", piece)]


def holes(book: Book, piece: int) -> dict[tuple[str, int], list[tuple[float, float]]]:
    """Hole centres, mm from the left and from the top of each front, by (family, number)."""
    found: dict[tuple[str, int], list[tuple[float, float]]] = {}
    for r in book.rows("SELECT * FROM hole WHERE piece = ? ORDER BY place", (piece,)):
        found.setdefault((r["family"], r["number"]), []).append((r["x_mm"], r["y_mm"]))
    return found


def candidates(book: Book, piece: int) -> list[Candidate]:
    return [_value(Candidate, r) for r in _of(book, "candidate", piece)]


def vetoes(book: Book, piece: int) -> set[tuple[str, str]]:
    return {(r["survivor"], r["place"]) for r in _of(book, "veto", piece)}


def orphans(book: Book, piece: int) -> list[OrphanRow]:
    return [
        OrphanRow(r["name"], _sizes_in(r["sizes"]), r["marks"], r["wear"])
        for r in _of(book, "orphan", piece)
    ]


def wanted_breaks(book: Book, piece: int) -> set[str]:
    return {r["name"] for r in _of(book, "wanted_break", piece)}


def tins(book: Book) -> list[TinRow]:
    return [_value(TinRow, r) for r in book.rows("SELECT * FROM tin ORDER BY name")]


def tin(book: Book, name: str) -> TinRow | None:
    row = book.row("SELECT * FROM tin WHERE name = ?", (name,))
    return None if row is None else _value(TinRow, row)


def tin_uses(book: Book, piece: int) -> list[TinUse]:
    rows = book.rows(
        "SELECT tin.*, before, after, at FROM tin_use JOIN tin ON tin.id = tin_use.tin "
        "WHERE tin_use.piece = ? ORDER BY tin_use.id",
        (piece,),
    )
    return [TinUse(_value(TinRow, r), r["before"], r["after"], text_time(r["at"])) for r in rows]


def last_level(book: Book, tin_id: int) -> float | None:
    """What a tin measured when it was last used, in any job."""
    row = book.row("SELECT after FROM tin_use WHERE tin = ? ORDER BY id DESC LIMIT 1", (tin_id,))
    return None if row is None else row["after"]


def money(book: Book, piece: int) -> list[Money]:
    return [
        Money(r["what"], r["amount"], r["note"], text_time(r["at"]))
        for r in _of(book, "sum_of_money", piece)
    ]


def sold(book: Book) -> list[tuple[int, str, str]]:
    """(row id, tag, codename) of the pieces that were sold, the latest first."""
    rows = book.rows(
        "SELECT piece.id, tag, codename, max(sum_of_money.id) AS latest FROM sum_of_money "
        "JOIN piece ON piece.id = sum_of_money.piece JOIN job ON job.id = piece.job "
        "WHERE what = 'sold' GROUP BY piece.id ORDER BY latest DESC"
    )
    return [(r["id"], r["tag"], r["codename"]) for r in rows]


def work(book: Book, piece: int) -> list[Work]:
    return [
        Work(
            r["id"],
            r["step"],
            text_time(r["begun"]),
            text_time(r["ended"]) if r["ended"] else None,
            bool(r["redo"]),
            r["who"],
        )
        for r in _of(book, "work", piece)
    ]


def corrected(book: Book, piece: int) -> list[Corrected]:
    return [_value(Corrected, r) for r in _of(book, "hours_corrected", piece)]


def habits(book: Book) -> dict[str, str]:
    """The shop's own settings as typed: units, rooms, rates, the printer's bars."""
    return {r["name"]: r["typed"] for r in book.rows("SELECT name, typed FROM habit")}


def put(change: Change, table: str, named: Mapping[str, Any], values: Mapping[str, Any]) -> int:
    """The row of `table` that `named` names gets these values, or is made."""
    where = " AND ".join(f"{column} = ?" for column in named)
    found = change.book.db.execute(
        f"SELECT id FROM {table} WHERE {where}", tuple(named.values())
    ).fetchone()
    if found is None:
        return change.insert(table, {**named, **values})
    if values:
        change.update(table, found[0], values)
    return int(found[0])


def drop(change: Change, table: str, named: Mapping[str, Any]) -> int:
    """Takes the rows that `named` names out; gives how many there were."""
    where = " AND ".join(f"{column} = ?" for column in named)
    found = change.book.db.execute(
        f"SELECT id FROM {table} WHERE {where} ORDER BY id", tuple(named.values())
    ).fetchall()
    for row in found:
        change.delete(table, row[0])
    return len(found)


def sizes_text(found: Mapping[str, TypedSize]) -> str:
    """Sizes as an orphan's row keeps them."""
    return json.dumps({name: [size.typed, size.mm] for name, size in found.items()})


def _sizes_in(text: str) -> dict[str, TypedSize]:
    """What the text holds of sizes; an export edited by hand may hold anything."""
    doc = json.loads(text)
    pairs = doc.items() if isinstance(doc, dict) else ()
    return {
        name: TypedSize(float(pair[1]), str(pair[0]))
        for name, pair in pairs
        if isinstance(pair, list) and len(pair) == 2 and isinstance(pair[1], int | float)
    }


def _of(book: Book, table: str, piece: int) -> Sequence[Any]:
    return book.rows(f"SELECT * FROM {table} WHERE piece = ? ORDER BY id", (piece,))


def _value(kind: Any, row: Any) -> Any:
    """A row as a value of a class whose fields bear the names of its columns."""
    return kind(**{name: row[name] for name in kind.__slots__})
