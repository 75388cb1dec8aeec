"""Cups and loads as rows: what was in the gun, and which faces it coated."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from partsbench.core.finish.cups import Cup, Poured, StoredCup
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.spot import Spot
from partsbench.store.book import Book
from partsbench.store.journal import Change, text_time, time_text


@dataclass(frozen=True, slots=True)
class StoredLoad:
    """A load: the faces in spray order as (short number, face name)."""

    id: int
    number: int
    tag: str
    step: str
    faces: tuple[Spot, ...]
    cup: int
    made_at: datetime
    ended_at: datetime | None


def add_cup(change: Change, book: Book, cup: Cup, volume_ml: float | None, note: str = "") -> int:
    """A new cup under the next number, which is given back."""
    number = _next(book, "cup")
    change.insert(
        "cup",
        {
            "number": number,
            "name": cup.name,
            "poured": json.dumps([[p.product, p.lot, p.parts] for p in cup.poured]),
            "volume_ml": volume_ml,
            "tint": cup.tint,
            "thinned": cup.thinned,
            "strained": int(cup.strained),
            "sheen": cup.sheen,
            "product": cup.product,
            "pot_life_min": cup.pot_life.total_seconds() / 60 if cup.pot_life else None,
            "made_at": time_text(cup.made),
            "who": cup.by,
            "note": note,
        },
    )
    return number


def cup(book: Book, number: int) -> StoredCup | None:
    row = book.row("SELECT * FROM cup WHERE number = ?", (number,))
    return _cup(row) if row else None


def cups(book: Book, only_full: bool = False, limit: int = 50) -> list[StoredCup]:
    """Cups, the newest first."""
    where = "WHERE emptied_at IS NULL" if only_full else ""
    return [
        _cup(r) for r in book.rows(f"SELECT * FROM cup {where} ORDER BY id DESC LIMIT ?", (limit,))
    ]


def cups_on(book: Book, part: int) -> dict[str, list[Cup]]:
    """Face name → the cups used on it, in order of use, of one part."""
    found: dict[str, list[Cup]] = {}
    for r in book.rows(
        "SELECT cup.*, face.name AS face_name FROM face JOIN mark ON mark.face = face.id "
        "JOIN cup ON cup.id = mark.cup WHERE face.part = ? ORDER BY mark.id",
        (part,),
    ):
        found.setdefault(r["face_name"], []).append(_cup(r).cup)
    return found


def cups_for(book: Book, parts: Sequence[int], step: str) -> list[Cup]:
    """The cups used for one step on some parts."""
    asked = ",".join("?" * len(parts))
    return [
        _cup(r).cup
        for r in book.rows(
            "SELECT DISTINCT cup.* FROM face JOIN mark ON mark.face = face.id "
            f"JOIN cup ON cup.id = mark.cup WHERE face.part IN ({asked}) AND mark.step = ?",
            (*parts, step),
        )
    ]


def empty_cup(change: Change, cup: int, at: datetime) -> None:
    """`cup` is the row id."""
    change.update("cup", cup, {"emptied_at": time_text(at)})


def add_load(
    change: Change, book: Book, piece: int, step: str, faces: Iterable[int], at: datetime, who: str
) -> int:
    """A new load of the faces (row ids, in spray order) under the next number."""
    number = _next(book, "load")
    key = change.insert(
        "load",
        {"number": number, "piece": piece, "step": step, "made_at": time_text(at), "who": who},
    )
    change.insert_all(
        "load_face", [{"load": key, "face": f, "place": i} for i, f in enumerate(faces)]
    )
    return number


def load(book: Book, number: int) -> StoredLoad | None:
    row = book.row(
        "SELECT load.*, piece.tag, cup.number AS cup_number FROM load "
        "JOIN piece ON piece.id = load.piece LEFT JOIN cup ON cup.id = load.cup "
        "WHERE load.number = ?",
        (number,),
    )
    if row is None:
        return None
    faces = book.rows(
        "SELECT family, number, face.name FROM load_face JOIN face ON face.id = load_face.face "
        "JOIN part ON part.id = face.part WHERE load = ? ORDER BY load_face.place",
        (row["id"],),
    )
    return StoredLoad(
        row["id"],
        row["number"],
        row["tag"],
        row["step"],
        tuple(Spot(short_number(Family(f["family"]), f["number"]), f["name"]) for f in faces),
        row["cup_number"] or 0,
        text_time(row["made_at"]),
        text_time(row["ended_at"]) if row["ended_at"] else None,
    )


def open_load(book: Book, piece: int) -> int:
    """The number of the newest load of a piece that has not ended; 0 when there is none."""
    row = book.row(
        "SELECT number FROM load WHERE piece = ? AND ended_at IS NULL ORDER BY id DESC", (piece,)
    )
    return row["number"] if row else 0


def end_load(change: Change, load: int, at: datetime, cup: int | None) -> None:
    change.update("load", load, {"ended_at": time_text(at), "cup": cup})


def _next(book: Book, table: str) -> int:
    row = book.row(f"SELECT ifnull(max(number), 0) AS top FROM {table}")
    assert row is not None
    return int(row["top"]) + 1


def _cup(row: Any) -> StoredCup:
    life = row["pot_life_min"]
    poured = (Poured(p, lot, parts) for p, lot, parts in json.loads(row["poured"]))
    return StoredCup(
        row["id"],
        row["number"],
        Cup(
            f"{row['number']}",
            row["name"],
            tuple(poured),
            text_time(row["made_at"]),
            tint=row["tint"],
            thinned=row["thinned"],
            strained=bool(row["strained"]),
            sheen=row["sheen"],
            by=row["who"],
            pot_life=timedelta(minutes=life) if life is not None else None,
            product=row["product"],
        ),
        row["volume_ml"],
        text_time(row["emptied_at"]) if row["emptied_at"] else None,
    )
