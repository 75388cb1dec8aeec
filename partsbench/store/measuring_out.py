"""What the sums keep of a piece, out to an export and in again, by natural names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from partsbench.store.book import Book
from partsbench.store.journal import Change


@dataclass(frozen=True, slots=True)
class Kept:
    """One of the tables that belong to a piece: its name in an export, and its columns."""

    key: str
    table: str
    columns: tuple[str, ...]


KEPT = (
    Kept("measured", "measured", ("family", "number", "what", "mm", "typed")),
    Kept("woods", "wood", ("family", "number", "wood", "cut")),
    Kept("hardware", "hardware", ("family", "number", "kind", "condition", "count", "spacing_mm",
                                  "spacing_typed", "thread", "screw_mm", "screw_typed")),
    Kept("holes", "hole", ("family", "number", "place", "x_mm", "y_mm", "typed")),
    Kept("candidates", "candidate", ("name", "spacing_mm", "spacing_typed", "plate_width_mm",
                                     "plate_height_mm", "foot_mm", "each", "thread",
                                     "thread_depth_mm", "price", "lead_days")),
    Kept("vetoes", "veto", ("survivor", "place")),
    Kept("orphans", "orphan", ("name", "sizes", "marks", "wear")),
    Kept("wanted_breaks", "wanted_break", ("name",)),
    Kept("money", "sum_of_money", ("what", "amount", "note", "at")),
    Kept("work", "work", ("step", "begun", "ended", "redo", "who")),
    Kept("hours_corrected", "hours_corrected", ("step", "day", "minutes")),
)  # fmt: skip

TIN = ("name", "price", "unit", "holds", "empty", "holds_typed")
TIN_USE = ("before", "after", "typed", "at")


def exported(book: Book, piece: int) -> dict[str, Any]:
    """All of a piece's rows by natural names, and the tins it used with their own figures."""
    found: dict[str, Any] = {
        kept.key: [
            {column: row[column] for column in kept.columns}
            for row in book.rows(
                f"SELECT * FROM {kept.table} WHERE piece = ? ORDER BY id", (piece,)
            )
        ]
        for kept in KEPT
    }
    found["tin_uses"] = [
        {column: row[column] for column in (*TIN, *TIN_USE)}
        for row in book.rows(
            "SELECT tin.*, before, after, typed, at FROM tin_use JOIN tin ON tin.id = tin_use.tin "
            "WHERE tin_use.piece = ? ORDER BY tin_use.id",
            (piece,),
        )
    ]
    return found


WEIGHED = {"masses": ("grams", "typed")}


def weighed(book: Book, piece: int) -> dict[str, Any]:
    """What the piece weighs: one row, or none."""
    rows = book.rows("SELECT grams, typed FROM weighed WHERE piece = ?", (piece,))
    return {"masses": [{"grams": r["grams"], "typed": r["typed"]} for r in rows]}


def take_in_weighed(change: Change, book: Book, piece: int, doc: Mapping[str, Any]) -> None:
    rows = [{"piece": piece, **{c: r[c] for c in WEIGHED["masses"]}} for r in doc["masses"]]
    change.insert_all("weighed", rows)


def columns_of() -> Mapping[str, tuple[str, ...]]:
    """The columns that each list of an export must have."""
    return {kept.key: kept.columns for kept in KEPT} | {"tin_uses": (*TIN, *TIN_USE)}


def take_in(change: Change, book: Book, piece: int, doc: Mapping[str, Any]) -> None:
    """Puts the rows of a checked export in. A tin that is in stock here keeps its own figures.

    ValueError for a time that is none.
    """
    for row in (*doc["money"], *doc["tin_uses"]):
        datetime.fromisoformat(row["at"])
    for row in doc["work"]:
        datetime.fromisoformat(row["begun"])
        datetime.fromisoformat(row["ended"] or row["begun"])
    for kept in KEPT:
        rows = [{"piece": piece, **{c: r[c] for c in kept.columns}} for r in doc[kept.key]]
        change.insert_all(kept.table, rows)
    tins: dict[str, int] = {}
    for use in doc["tin_uses"]:
        name = use["name"]
        if name not in tins:
            have = book.row("SELECT id FROM tin WHERE name = ?", (name,))
            tins[name] = have["id"] if have else change.insert("tin", {c: use[c] for c in TIN})
        change.insert(
            "tin_use", {"piece": piece, "tin": tins[name], **{c: use[c] for c in TIN_USE}}
        )
