"""Phones and tablets that were paired with the shop's own server, and what each of them sent.

Not through the undo stack: an undo must never let a device in again that was thrown out. What was
done to them stands in the journal as notes.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from partsbench.store.book import NEWEST, Book
from partsbench.store.journal import note, text_time, time_text

KEPT_ACTS = 2000
"""So many of a device's acts are remembered: it sends an act again within minutes."""


@dataclass(frozen=True, slots=True)
class Device:
    """A paired device: whose it is, and whether it is shown who a job is for."""

    id: int
    name: str
    person: str
    sees_clients: bool
    paired_at: datetime
    out_at: datetime | None = None


def pair(book: Book, name: str, person: str, secret_sum: str, at: datetime) -> int:
    """A new device; its number. BookWriteError when the book cannot be written."""
    with book.transaction() as db:
        made = db.execute(
            "INSERT INTO device (name, person, secret_sum, paired_at) VALUES (?, ?, ?, ?)",
            (name, person, secret_sum, time_text(at)),
        )
        book.wrote("device")
        note(book, f"{name} of {person} was paired", at, person)
        return int(made.lastrowid)


def throw_out(book: Book, device: Device, at: datetime, who: str) -> None:
    """The device is no longer let in. BookWriteError when the book cannot be written."""
    with book.transaction() as db:
        db.execute(
            "UPDATE device SET out_at = ?, sees_clients = 0 WHERE id = ?",
            (time_text(at), device.id),
        )
        book.wrote("device")
        note(book, f"{device.name} of {device.person} was thrown out", at, who)


def show_clients(book: Book, device: Device, yes: bool, at: datetime, who: str) -> None:
    """Whether a device is shown who a job is for. BookWriteError when it cannot be written."""
    with book.transaction() as db:
        db.execute("UPDATE device SET sees_clients = ? WHERE id = ?", (int(yes), device.id))
        book.wrote("device")
        whose = f"{device.name} of {device.person}"
        may, no_more = f"{whose} may show clients", f"{whose} may no longer show clients"
        note(book, may if yes else no_more, at, who)


def all_devices(book: Book) -> list[Device]:
    """Every device that is let in, in the order of pairing."""
    return [_device(r) for r in book.rows("SELECT * FROM device WHERE out_at = '' ORDER BY id")]


def of_secret(book: Book, secret_sum: str) -> Device | None:
    """The device that has this secret, also one that was thrown out."""
    row = book.row("SELECT * FROM device WHERE secret_sum = ?", (secret_sum,))
    return _device(row) if row else None


def keep_act(book: Book, device: int, number: int, mark: str) -> None:
    """The newest entry of the journal came of this act. Call inside a transaction."""
    newest = book.connection.execute(NEWEST).fetchone()
    book.connection.execute(
        "INSERT OR REPLACE INTO device_act VALUES (?, ?, ?, ?)",
        (device, number, mark, newest["id"]),
    )
    gone = book.connection.execute(
        "DELETE FROM device_act WHERE device = ? AND number <= ?", (device, number - KEPT_ACTS)
    )
    book.wrote("device_act", 1 + gone.rowcount)


def last_act(book: Book, device: int) -> int:
    """The number of the latest act of a device that changed the book; 0 for none."""
    row = book.row("SELECT max(number) AS top FROM device_act WHERE device = ?", (device,))
    return int(row["top"] or 0) if row else 0


def entry_of(book: Book, device: int, mark: str) -> int:
    """The entry that came of an act; 0 when none did, or it is long ago."""
    row = book.row("SELECT entry FROM device_act WHERE device = ? AND mark = ?", (device, mark))
    return int(row["entry"]) if row else 0


def others_on(book: Book, part: int, since: int, device: int) -> int:
    """The latest entry after `since` about a part's faces or place that this device did not make,
    what was undone or done again among them; 0 for none. `part` is the row of the part."""
    row = book.row(_OTHERS, (since, device, part, part))
    return int(row["id"]) if row else 0


_OTHERS = """
SELECT journal.id FROM journal JOIN journal_row
  ON journal_row.journal = CASE WHEN kind IN ('undo', 'redo') THEN target ELSE journal.id END
WHERE journal.id > ? AND kind <> 'note'
  AND NOT EXISTS (SELECT 1 FROM device_act WHERE device = ? AND entry = journal.id)
  AND ((tbl = 'movement' AND coalesce(json_extract(after, '$.part'),
                                      json_extract(before, '$.part')) = ?)
    OR (tbl = 'mark' AND coalesce(json_extract(after, '$.face'), json_extract(before, '$.face'))
        IN (SELECT id FROM face WHERE part = ?)))
ORDER BY journal.id DESC LIMIT 1
"""


def _device(row: Any) -> Device:
    return Device(
        row["id"],
        row["name"],
        row["person"],
        bool(row["sees_clients"]),
        text_time(row["paired_at"]),
        text_time(row["out_at"]) if row["out_at"] else None,
    )
