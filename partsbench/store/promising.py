"""A migration: days that pieces are promised for, and the plan that was shown last."""

from __future__ import annotations

from typing import Any

TABLES = """
CREATE TABLE promised (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL UNIQUE REFERENCES piece(id),
  by TEXT NOT NULL,
  worth REAL NOT NULL CHECK (worth > 0 AND worth <= 1000)
) STRICT;

CREATE TABLE plan_shown (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  at TEXT NOT NULL,
  plan TEXT NOT NULL CHECK (json_valid(plan))
) STRICT;
"""


def add_promises(db: Any) -> None:
    """The migration: everything here is added, nothing that was there changes."""
    for statement in TABLES.split(";\n"):
        if statement.strip():
            db.execute(statement.strip())
