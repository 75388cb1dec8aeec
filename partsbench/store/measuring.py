"""Tables of what was measured, counted, bought and timed, for the sums.

Sizes are mm, volumes ml, weights g; beside each stands what was typed. A thing measured is named by
family and number as on its label (H for an opening or corner), so it keeps its sizes when retired.
"""

from __future__ import annotations

from typing import Any

TABLES = """
CREATE TABLE measured (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  family TEXT NOT NULL CHECK (length(family) = 1),
  number INTEGER NOT NULL CHECK (number > 0),
  what TEXT NOT NULL,
  mm REAL NOT NULL CHECK (mm > 0 AND mm < 100000),
  typed TEXT NOT NULL,
  UNIQUE (piece, family, number, what)
) STRICT;

CREATE TABLE wood (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  family TEXT NOT NULL CHECK (length(family) = 1),
  number INTEGER NOT NULL CHECK (number > 0),
  wood TEXT NOT NULL,
  cut TEXT NOT NULL,
  UNIQUE (piece, family, number)
) STRICT;

CREATE TABLE hardware (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  family TEXT NOT NULL CHECK (length(family) = 1),
  number INTEGER NOT NULL CHECK (number > 0),
  kind TEXT NOT NULL,
  condition TEXT NOT NULL CHECK (condition IN ('good', 'worn', 'bent', 'broken')),
  count INTEGER NOT NULL CHECK (count BETWEEN 1 AND 100),
  spacing_mm REAL CHECK (spacing_mm >= 0 AND spacing_mm < 10000),
  spacing_typed TEXT NOT NULL DEFAULT '',
  thread TEXT NOT NULL DEFAULT '',
  screw_mm REAL CHECK (screw_mm > 0 AND screw_mm < 10000),
  screw_typed TEXT NOT NULL DEFAULT '',
  UNIQUE (piece, family, number, kind, condition)
) STRICT;

CREATE TABLE hole (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  family TEXT NOT NULL CHECK (length(family) = 1),
  number INTEGER NOT NULL CHECK (number > 0),
  place INTEGER NOT NULL,
  x_mm REAL NOT NULL CHECK (x_mm >= 0 AND x_mm < 10000),
  y_mm REAL NOT NULL CHECK (y_mm >= 0 AND y_mm < 10000),
  typed TEXT NOT NULL,
  UNIQUE (piece, family, number, place)
) STRICT;

CREATE TABLE candidate (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  name TEXT NOT NULL,
  spacing_mm REAL NOT NULL CHECK (spacing_mm >= 0 AND spacing_mm < 10000),
  spacing_typed TEXT NOT NULL,
  plate_width_mm REAL NOT NULL DEFAULT 0 CHECK (plate_width_mm >= 0),
  plate_height_mm REAL NOT NULL DEFAULT 0 CHECK (plate_height_mm >= 0),
  foot_mm REAL NOT NULL DEFAULT 0 CHECK (foot_mm >= 0),
  each INTEGER NOT NULL DEFAULT 1 CHECK (each IN (1, 2)),
  thread TEXT NOT NULL DEFAULT '',
  thread_depth_mm REAL CHECK (thread_depth_mm > 0),
  price REAL CHECK (price >= 0),
  lead_days INTEGER CHECK (lead_days >= 0),
  UNIQUE (piece, name)
) STRICT;

CREATE TABLE veto (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  survivor TEXT NOT NULL,
  place TEXT NOT NULL,
  UNIQUE (piece, survivor, place)
) STRICT;

CREATE TABLE orphan (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  name TEXT NOT NULL,
  sizes TEXT NOT NULL CHECK (json_valid(sizes)),
  marks TEXT NOT NULL DEFAULT '',
  wear TEXT NOT NULL DEFAULT '',
  UNIQUE (piece, name)
) STRICT;

CREATE TABLE wanted_break (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  name TEXT NOT NULL,
  UNIQUE (piece, name)
) STRICT;

CREATE TABLE tin (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  price REAL CHECK (price > 0),
  unit TEXT NOT NULL CHECK (unit IN ('ml', 'g')),
  holds REAL NOT NULL CHECK (holds > 0 AND holds < 1000000),
  empty REAL NOT NULL DEFAULT 0 CHECK (empty >= 0),
  holds_typed TEXT NOT NULL
) STRICT;

CREATE TABLE tin_use (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  tin INTEGER NOT NULL REFERENCES tin(id),
  before REAL NOT NULL CHECK (before >= 0 AND before < 1000000),
  after REAL NOT NULL CHECK (after >= 0 AND after <= before),
  typed TEXT NOT NULL,
  at TEXT NOT NULL
) STRICT;

CREATE TABLE sum_of_money (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  what TEXT NOT NULL,
  amount REAL NOT NULL CHECK (abs(amount) < 1000000000),
  note TEXT NOT NULL DEFAULT '',
  at TEXT NOT NULL,
  UNIQUE (piece, what, note)
) STRICT;

CREATE TABLE work (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  step TEXT NOT NULL,
  begun TEXT NOT NULL,
  ended TEXT,
  redo INTEGER NOT NULL DEFAULT 0 CHECK (redo IN (0, 1)),
  who TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE hours_corrected (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  step TEXT NOT NULL,
  day TEXT NOT NULL,
  minutes REAL NOT NULL CHECK (minutes BETWEEN 0 AND 960),
  UNIQUE (piece, step, day)
) STRICT;

CREATE TABLE habit (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  typed TEXT NOT NULL
) STRICT;

CREATE INDEX tin_use_of_piece ON tin_use(piece);
CREATE INDEX sum_of_money_of_piece ON sum_of_money(piece);
CREATE INDEX work_of_piece ON work(piece);
"""


WEIGHED = """
CREATE TABLE weighed (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL UNIQUE REFERENCES piece(id),
  grams REAL NOT NULL CHECK (grams > 0 AND grams < 100000000),
  typed TEXT NOT NULL
) STRICT;
"""


def add_measuring(db: Any) -> None:
    """The migration: new tables only, nothing that was there is touched."""
    for statement in TABLES.split(";\n"):
        if statement.strip():
            db.execute(statement)


def add_weighed(db: Any) -> None:
    """The migration: what a piece weighs; a new table only."""
    db.execute(WEIGHED)
