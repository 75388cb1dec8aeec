"""A migration: where the journal shows that the computer's clock was set."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from partsbench.core.clock_runs import is_break

TABLE = """
CREATE TABLE clock_run (
  id INTEGER PRIMARY KEY,
  first INTEGER NOT NULL UNIQUE REFERENCES journal(id),
  shift_s INTEGER
) STRICT
"""
"""A run of the clock begins with journal entry `first`; the first run of a book has no row until
something is said of it. `shift_s`: by how much its records were moved; NULL: nobody said."""


def add_clock_runs(db: Any) -> None:
    """The migration: the table, and a row for each break that the journal shows already."""
    db.execute(TABLE)
    before: datetime | None = None
    made = db.execute("SELECT id, at FROM journal WHERE kind <> 'note' ORDER BY id").fetchall()
    for key, text in made:
        at = _time(text)
        if at and is_break(before, at):
            db.execute("INSERT INTO clock_run (first) VALUES (?)", (key,))
        before = at or before


def _time(text: str) -> datetime | None:
    """None for a damaged one: a check of the book tells of it, and no migration stops at it."""
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        return None
    return at if at.tzinfo else None
