"""What a shop writes down besides its pieces: air, power cuts, answers, people, places, paths."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from partsbench.store.book import Book
from partsbench.store.journal import Change, text_time, time_text


@dataclass(frozen=True, slots=True)
class Reading:
    """Air and surface at a time: °C, %, °C (None: not measured)."""

    at: datetime
    temperature_c: float
    humidity: float
    surface_c: float | None = None
    place: str = ""


@dataclass(frozen=True, slots=True)
class PowerCut:
    """From when to when there was no power; `heating` when heater or fan stood still with it."""

    start: datetime
    end: datetime
    heating: bool
    note: str = ""


@dataclass(frozen=True, slots=True)
class Person:
    """Who is at the bench. `only`: the operations they are limited to; () for all."""

    number: int
    name: str
    only: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Place:
    """A place in the shop with a code on the wall."""

    number: int
    name: str


def add_reading(change: Change, reading: Reading, who: str) -> None:
    change.insert(
        "climate",
        {
            "at": time_text(reading.at),
            "temperature_c": reading.temperature_c,
            "humidity": reading.humidity,
            "surface_c": reading.surface_c,
            "place": reading.place,
            "who": who,
        },
    )


def reading(book: Book, now: datetime) -> Reading | None:
    """The newest reading that is not of later than `now`."""
    row = book.row(
        "SELECT * FROM climate WHERE at <= ? ORDER BY at DESC, id DESC LIMIT 1", (time_text(now),)
    )
    if row is None:
        return None
    return Reading(
        text_time(row["at"]), row["temperature_c"], row["humidity"], row["surface_c"], row["place"]
    )


def add_power_cut(change: Change, cut: PowerCut, who: str) -> None:
    change.insert(
        "power_cut",
        {
            "from_at": time_text(cut.start),
            "to_at": time_text(cut.end),
            "heating": int(cut.heating),
            "note": cut.note,
            "who": who,
        },
    )


def power_cuts(book: Book) -> list[PowerCut]:
    return [
        PowerCut(text_time(r["from_at"]), text_time(r["to_at"]), bool(r["heating"]), r["note"])
        for r in book.rows("SELECT * FROM power_cut ORDER BY id")
    ]


def answer(change: Change, question: str, said: str, at: datetime, who: str) -> None:
    change.insert(
        "answered", {"question": question, "answer": said, "at": time_text(at), "who": who}
    )


def answers(book: Book, question: str) -> list[datetime]:
    """When a question was answered."""
    return [
        text_time(r["at"])
        for r in book.rows("SELECT at FROM answered WHERE question = ? ORDER BY id", (question,))
    ]


def add_person(change: Change, book: Book, name: str, only: Sequence[str]) -> int:
    number = _next(book, "person")
    change.insert("person", {"number": number, "name": name, "only": json.dumps(list(only))})
    return number


def update_person(change: Change, book: Book, number: int, values: dict[str, Any]) -> None:
    row = book.row("SELECT id FROM person WHERE number = ?", (number,))
    assert row is not None, f"no person {number}"
    change.update("person", row["id"], values)


def people(book: Book, here: bool = True) -> list[Person]:
    where = "WHERE here = 1" if here else ""
    return [
        Person(r["number"], r["name"], tuple(json.loads(r["only"])))
        for r in book.rows(f"SELECT * FROM person {where} ORDER BY number")
    ]


def add_place(change: Change, book: Book, name: str) -> int:
    number = _next(book, "place")
    change.insert("place", {"number": number, "name": name})
    return number


def places(book: Book) -> list[Place]:
    return [Place(r["number"], r["name"]) for r in book.rows("SELECT * FROM place ORDER BY number")]


def own_path(book: Book, key: str) -> str | None:
    """The text of the shop's own path of that key."""
    row = book.row("SELECT text FROM own_path WHERE key = ?", (key,))
    return None if row is None else str(row["text"])


def own_paths(book: Book) -> dict[str, str]:
    return {r["key"]: r["text"] for r in book.rows("SELECT key, text FROM own_path ORDER BY key")}


def put_own_path(
    change: Change, book: Book, key: str, text: str, at: datetime, who: str
) -> None:  # fmt: skip
    have = book.row("SELECT id FROM own_path WHERE key = ?", (key,))
    row = {"text": text, "at": time_text(at), "who": who}
    if have:
        change.update("own_path", have["id"], row)
    else:
        change.insert("own_path", {"key": key, **row})


def drop_own_path(change: Change, book: Book, key: str) -> bool:
    have = book.row("SELECT id FROM own_path WHERE key = ?", (key,))
    if have:
        change.delete("own_path", have["id"])
    return have is not None


def faces_on_path(book: Book, key: str) -> int:
    row = book.row("SELECT count(*) AS many FROM face WHERE path = ?", (key,))
    assert row is not None
    return int(row["many"])


def add_worked(
    change: Change,
    operation: str,
    minutes: float,
    faces: int,
    at: datetime,
    who: str,
    piece: int | None = None,
) -> None:
    change.insert(
        "worked",
        {
            "operation": operation,
            "minutes": minutes,
            "faces": faces,
            "piece": piece,
            "at": time_text(at),
            "who": who,
        },
    )


@dataclass(frozen=True, slots=True)
class TimedSpan:
    """Hands-on work of which the length is known: a load (minutes, on so many faces), or a stretch
    of the clock on a piece that is over (begun; operation "", for its word is anybody's)."""

    ended: datetime
    operation: str
    minutes: float
    faces: int
    tag: str
    begun: datetime | None


def timed(book: Book, since: datetime, until: datetime) -> list[TimedSpan]:
    """All that ended in that time, the newest first, without work that was done again; read at
    once, since each record asks for it."""
    between = (time_text(since), time_text(until))
    return [
        TimedSpan(
            text_time(r["ended"]),
            r["operation"],
            r["minutes"],
            r["faces"],
            r["tag"] or "",
            text_time(r["begun"]) if r["begun"] else None,
        )
        for r in book.rows(
            "SELECT worked.id, operation, minutes, faces, worked.at AS ended, NULL AS begun, tag "
            "FROM worked LEFT JOIN piece ON piece.id = worked.piece "
            "WHERE worked.at >= ? AND worked.at <= ? UNION ALL "
            "SELECT work.id, '', 0, 0, ended, begun, tag FROM work "
            "JOIN piece ON piece.id = work.piece WHERE NOT redo AND ended >= ? AND ended <= ? "
            "ORDER BY ended DESC, 1 DESC",
            (*between, *between),
        )
    ]


def _next(book: Book, table: str) -> int:
    row = book.row(f"SELECT ifnull(max(number), 0) AS top FROM {table}")
    assert row is not None
    return int(row["top"]) + 1
