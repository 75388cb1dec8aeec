"""A migration: where the journal shows that the computer's clock was set."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from partsbench.core.clock_runs import is_break

FORM = (
    "ALTER TABLE journal ADD COLUMN clock_set INTEGER NOT NULL DEFAULT 0 "
    "CHECK (clock_set IN (0, 1))",
    "CREATE INDEX journal_clock_set ON journal(id) WHERE clock_set = 1",
    """
CREATE TABLE clock_said (
  id INTEGER PRIMARY KEY,
  first INTEGER NOT NULL UNIQUE REFERENCES journal(id),
  shift_s INTEGER
) STRICT
""".strip(),
)
"""journal.clock_set: the clock was set between the entry made before and this one. clock_said: from
journal entry `first` on, by how many seconds what was recorded was moved, when somebody said what
time it was; NULL: from there on nobody has."""


def add_clock_runs(db: Any) -> None:
    """The migration: the form, and each break that the journal shows already."""
    for statement in FORM:
        db.execute(statement)
    before: datetime | None = None
    made = db.execute("SELECT id, at FROM journal WHERE kind <> 'note' ORDER BY id").fetchall()
    for key, text in made:
        at = _time(text)
        if at and is_break(before, at):
            db.execute("UPDATE journal SET clock_set = 1 WHERE id = ?", (key,))
        before = at or before


def add_made_rows(db: Any) -> None:
    """The migration: what put a row in is found without reading the whole journal."""
    db.execute("CREATE INDEX made_row ON journal_row(tbl, row) WHERE before IS NULL")


def _time(text: str) -> datetime | None:
    """None for a damaged one: a check of the book tells of it, and no migration stops at it."""
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        return None
    return at if at.tzinfo else None
