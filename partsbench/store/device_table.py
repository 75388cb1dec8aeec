"""A migration: paired phones and tablets, and which record came of what they sent."""

from __future__ import annotations

from typing import Any

TABLES = """
CREATE TABLE device (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  person TEXT NOT NULL,
  secret_sum TEXT NOT NULL UNIQUE CHECK (length(secret_sum) = 64),
  sees_clients INTEGER NOT NULL DEFAULT 0 CHECK (sees_clients IN (0, 1)),
  paired_at TEXT NOT NULL,
  out_at TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE device_act (
  device INTEGER NOT NULL REFERENCES device(id),
  number INTEGER NOT NULL CHECK (number > 0),
  mark TEXT NOT NULL,
  entry INTEGER NOT NULL REFERENCES journal(id),
  PRIMARY KEY (device, number),
  UNIQUE (device, mark)
) STRICT, WITHOUT ROWID
"""
"""device_act: which entry of the journal came of which act of a device, known by its mark; written
in the transaction of the entry, so that what a device sends again is never recorded twice."""


def add_devices(db: Any) -> None:
    """The migration: everything here is added, nothing that was there changes."""
    for statement in TABLES.split(";\n"):
        if statement.strip():
            db.execute(statement.strip())
