"""Tables, views and numbered migrations of a book.

Times are UTC text, `2026-11-25T14:20:05Z`. Status is never stored: it follows from the records.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from partsbench.store.chain import add_chain
from partsbench.store.clock_table import add_clock_runs, add_made_rows
from partsbench.store.device_table import add_devices
from partsbench.store.finishing import add_cup_class, add_finishing
from partsbench.store.finishing_tries import add_tries
from partsbench.store.measuring import add_measuring, add_weighed
from partsbench.store.promising import add_promises

APPLICATION_ID = 0x50425631
"""Written into the file's header, so that another program's file is told from a book."""

TABLES = """
CREATE TABLE job (
  id INTEGER PRIMARY KEY,
  codename TEXT NOT NULL UNIQUE COLLATE NOCASE,
  created_at TEXT NOT NULL
) STRICT;

CREATE TABLE client (
  id INTEGER PRIMARY KEY,
  job INTEGER NOT NULL UNIQUE REFERENCES job(id),
  name TEXT NOT NULL DEFAULT '',
  contact TEXT NOT NULL DEFAULT '',
  address TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE piece (
  id INTEGER PRIMARY KEY,
  job INTEGER NOT NULL REFERENCES job(id),
  tag TEXT NOT NULL UNIQUE CHECK (length(tag) = 4),
  title TEXT NOT NULL DEFAULT '',
  columns_mm TEXT NOT NULL CHECK (json_valid(columns_mm)),
  rows_mm TEXT NOT NULL CHECK (json_valid(rows_mm)),
  numbering TEXT NOT NULL,
  numbers_fixed INTEGER NOT NULL DEFAULT 0 CHECK (numbers_fixed IN (0, 1)),
  mirror_of TEXT NOT NULL DEFAULT '',
  taken_in_at TEXT NOT NULL
) STRICT;

CREATE TABLE opening (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  number INTEGER NOT NULL CHECK (number > 0),
  kind TEXT NOT NULL,
  behind INTEGER,
  grid_column INTEGER NOT NULL,
  grid_row INTEGER NOT NULL,
  across INTEGER NOT NULL CHECK (across > 0),
  down INTEGER NOT NULL CHECK (down > 0),
  UNIQUE (piece, number)
) STRICT;

CREATE TABLE corner (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  number INTEGER NOT NULL CHECK (number > 0),
  spot TEXT NOT NULL,
  UNIQUE (piece, number)
) STRICT;

CREATE TABLE part (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  family TEXT NOT NULL CHECK (length(family) = 1),
  number INTEGER NOT NULL CHECK (number BETWEEN 1 AND 359),
  name TEXT NOT NULL DEFAULT '',
  parent TEXT NOT NULL DEFAULT '',
  home_kind TEXT NOT NULL,
  home_number INTEGER NOT NULL DEFAULT 0,
  home_spot TEXT NOT NULL DEFAULT '',
  old_mark TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT '',
  contents TEXT NOT NULL DEFAULT '',
  equals TEXT NOT NULL DEFAULT '',
  fragile INTEGER NOT NULL DEFAULT 0 CHECK (fragile IN (0, 1)),
  hidden INTEGER NOT NULL DEFAULT 0 CHECK (hidden IN (0, 1)),
  retired TEXT NOT NULL DEFAULT '',
  UNIQUE (piece, family, number)
) STRICT;

CREATE TABLE face (
  id INTEGER PRIMARY KEY,
  part INTEGER NOT NULL REFERENCES part(id),
  name TEXT NOT NULL,
  place INTEGER NOT NULL,
  path TEXT NOT NULL,
  UNIQUE (part, name)
) STRICT;

CREATE TABLE label (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  family TEXT NOT NULL CHECK (length(family) = 1),
  number INTEGER NOT NULL,
  generation TEXT NOT NULL CHECK (length(generation) = 1),
  printed_at TEXT NOT NULL,
  UNIQUE (piece, family, number, generation)
) STRICT;

CREATE TABLE mark (
  id INTEGER PRIMARY KEY,
  face INTEGER NOT NULL REFERENCES face(id),
  step TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('done', 'skipped', 'sent_back')),
  insisted INTEGER NOT NULL DEFAULT 0 CHECK (insisted IN (0, 1)),
  at TEXT NOT NULL,
  who TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE movement (
  id INTEGER PRIMARY KEY,
  part INTEGER NOT NULL REFERENCES part(id),
  kind TEXT NOT NULL CHECK (kind IN ('out', 'home', 'place')),
  place TEXT NOT NULL DEFAULT '',
  home INTEGER NOT NULL DEFAULT 0,
  how TEXT NOT NULL DEFAULT 'scanned',
  at TEXT NOT NULL,
  who TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE fit (
  id INTEGER PRIMARY KEY,
  part INTEGER NOT NULL REFERENCES part(id),
  result TEXT NOT NULL,
  at TEXT NOT NULL,
  who TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE journal (
  id INTEGER PRIMARY KEY,
  at TEXT NOT NULL,
  who TEXT NOT NULL DEFAULT '',
  kind TEXT NOT NULL CHECK (kind IN ('do', 'undo', 'redo', 'note')),
  target INTEGER REFERENCES journal(id),
  sentence TEXT NOT NULL,
  tag TEXT NOT NULL DEFAULT '',
  undo_top INTEGER,
  redo_top INTEGER,
  undo_below INTEGER,
  redo_below INTEGER
) STRICT;

CREATE TABLE journal_row (
  id INTEGER PRIMARY KEY,
  journal INTEGER NOT NULL REFERENCES journal(id),
  tbl TEXT NOT NULL,
  row INTEGER NOT NULL,
  before TEXT,
  after TEXT
) STRICT;

CREATE INDEX piece_of_job ON piece(job);
CREATE INDEX face_of_part ON face(part);
CREATE INDEX mark_of_face ON mark(face, id);
CREATE INDEX movement_of_part ON movement(part, id);
CREATE INDEX movement_to_place ON movement(place) WHERE place <> '';
CREATE INDEX fit_of_part ON fit(part, id);
CREATE INDEX journal_of_tag ON journal(tag, id);
CREATE INDEX row_of_journal ON journal_row(journal, id);
"""

VIEWS = """
CREATE VIEW parts_now AS
SELECT piece.tag, job.codename, part.family,
       part.family || CASE
         WHEN part.number < 100 THEN CAST(part.number AS TEXT)
         ELSE char(65 + (part.number - 100) / 10) || ((part.number - 100) % 10)
       END AS short,
       part.name, part.parent, part.old_mark, part.home_kind, part.home_number, part.home_spot,
       part.retired
FROM part JOIN piece ON piece.id = part.piece JOIN job ON job.id = piece.job;

CREATE VIEW finish_history AS
SELECT piece.tag, part.family, part.number, face.name AS face, face.path, mark.step, mark.kind,
       mark.at, mark.who, mark.note
FROM mark JOIN face ON face.id = mark.face JOIN part ON part.id = face.part
     JOIN piece ON piece.id = part.piece
ORDER BY mark.id;

CREATE VIEW whereabouts AS
SELECT piece.tag, part.family, part.number, movement.kind, movement.place, movement.home,
       movement.how, movement.at, movement.who
FROM movement JOIN part ON part.id = movement.part JOIN piece ON piece.id = part.piece
ORDER BY movement.id;

CREATE VIEW changes AS
SELECT id, at, who, kind, target, sentence, tag FROM journal ORDER BY id;
"""


def _first(db: Any) -> None:
    for statement in _statements(TABLES + VIEWS):
        db.execute(statement)


def _statements(script: str) -> list[str]:
    return [s for s in (part.strip() for part in script.split(";\n")) if s]


MIGRATIONS: list[tuple[str, Callable[[Any], None]]] = [
    ("001 first tables", _first),
    ("measuring", add_measuring),
    ("finishing", add_finishing),
    ("tries", add_tries),
    ("weighed", add_weighed),
    ("class of a cup", add_cup_class),
    ("chain of the journal", add_chain),
    ("runs of the clock", add_clock_runs),
    ("promises", add_promises),
    ("devices", add_devices),
    ("who put a row in", add_made_rows),
]
"""Name and function of each migration, oldest first. How many ran is the book's form: the lowest
byte of `user_version`."""
