"""A migration: tins, cups, loads, masks, facts and the air, for the finish paths."""

from __future__ import annotations

from typing import Any

CUP_CLASS = """
ALTER TABLE cup ADD COLUMN product TEXT NOT NULL DEFAULT '';

DROP VIEW mixes;

CREATE VIEW mixes AS
SELECT piece.tag, part.family, part.number, face.name AS face, mark.step, mark.at,
       cup.number AS cup, cup.name AS mix, cup.product, cup.poured, cup.tint, cup.thinned,
       cup.strained
FROM mark JOIN cup ON cup.id = mark.cup JOIN face ON face.id = mark.face
     JOIN part ON part.id = face.part JOIN piece ON piece.id = part.piece
ORDER BY mark.id;
"""

TABLES = """
CREATE TABLE tin_card (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  product TEXT NOT NULL,
  waits TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(waits)),
  least_c REAL,
  most_c REAL,
  most_humidity REAL,
  over_dew_c REAL,
  thin_most REAL,
  pot_life_min REAL,
  over TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(over)),
  under TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(under)),
  in_use INTEGER NOT NULL DEFAULT 1 CHECK (in_use IN (0, 1)),
  note TEXT NOT NULL DEFAULT '',
  at TEXT NOT NULL,
  who TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE cup (
  id INTEGER PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE CHECK (number > 0),
  name TEXT NOT NULL,
  poured TEXT NOT NULL CHECK (json_valid(poured)),
  volume_ml REAL,
  tint REAL NOT NULL DEFAULT 0,
  thinned REAL NOT NULL DEFAULT 0,
  strained INTEGER NOT NULL DEFAULT 0 CHECK (strained IN (0, 1)),
  sheen TEXT NOT NULL DEFAULT '',
  pot_life_min REAL,
  made_at TEXT NOT NULL,
  emptied_at TEXT,
  who TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE load (
  id INTEGER PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE CHECK (number > 0),
  piece INTEGER NOT NULL REFERENCES piece(id),
  step TEXT NOT NULL,
  cup INTEGER REFERENCES cup(id),
  made_at TEXT NOT NULL,
  ended_at TEXT,
  who TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE load_face (
  id INTEGER PRIMARY KEY,
  load INTEGER NOT NULL REFERENCES load(id),
  face INTEGER NOT NULL REFERENCES face(id),
  place INTEGER NOT NULL,
  UNIQUE (load, face)
) STRICT;

CREATE TABLE mask (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  covers TEXT NOT NULL,
  against TEXT NOT NULL CHECK (json_valid(against)),
  tape TEXT NOT NULL DEFAULT '',
  rating_min REAL,
  on_at TEXT NOT NULL,
  off_at TEXT,
  who TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE fact (
  id INTEGER PRIMARY KEY,
  piece INTEGER NOT NULL REFERENCES piece(id),
  part INTEGER REFERENCES part(id),
  face TEXT NOT NULL DEFAULT '',
  key TEXT NOT NULL,
  value TEXT NOT NULL,
  at TEXT NOT NULL,
  who TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE climate (
  id INTEGER PRIMARY KEY,
  at TEXT NOT NULL,
  temperature_c REAL NOT NULL,
  humidity REAL NOT NULL,
  surface_c REAL,
  place TEXT NOT NULL DEFAULT '',
  who TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE power_cut (
  id INTEGER PRIMARY KEY,
  from_at TEXT NOT NULL,
  to_at TEXT NOT NULL,
  heating INTEGER NOT NULL DEFAULT 0 CHECK (heating IN (0, 1)),
  note TEXT NOT NULL DEFAULT '',
  who TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE answered (
  id INTEGER PRIMARY KEY,
  question TEXT NOT NULL,
  answer TEXT NOT NULL,
  at TEXT NOT NULL,
  who TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE person (
  id INTEGER PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE CHECK (number > 0),
  name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  only TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(only)),
  here INTEGER NOT NULL DEFAULT 1 CHECK (here IN (0, 1))
) STRICT;

CREATE TABLE place (
  id INTEGER PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE CHECK (number > 0),
  name TEXT NOT NULL UNIQUE COLLATE NOCASE
) STRICT;

CREATE TABLE own_path (
  id INTEGER PRIMARY KEY,
  key TEXT NOT NULL UNIQUE,
  text TEXT NOT NULL,
  at TEXT NOT NULL,
  who TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE worked (
  id INTEGER PRIMARY KEY,
  operation TEXT NOT NULL,
  minutes REAL NOT NULL CHECK (minutes >= 0),
  faces INTEGER NOT NULL DEFAULT 1 CHECK (faces > 0),
  piece INTEGER REFERENCES piece(id),
  at TEXT NOT NULL,
  who TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT ''
) STRICT;

ALTER TABLE mark ADD COLUMN cup INTEGER REFERENCES cup(id);

ALTER TABLE mark ADD COLUMN load INTEGER REFERENCES load(id);

CREATE INDEX mark_by_time ON mark(at);
CREATE INDEX mark_from_cup ON mark(cup) WHERE cup IS NOT NULL;
CREATE INDEX mark_of_load ON mark(load) WHERE load IS NOT NULL;
CREATE INDEX load_of_piece ON load(piece, id);
CREATE INDEX face_of_load ON load_face(load, place);
CREATE INDEX load_with_face ON load_face(face);
CREATE INDEX mask_of_piece ON mask(piece, id);
CREATE INDEX fact_of_piece ON fact(piece, id);
CREATE INDEX climate_by_time ON climate(at);
CREATE INDEX worked_by_time ON worked(at);
"""

VIEWS = """
CREATE VIEW mixes AS
SELECT piece.tag, part.family, part.number, face.name AS face, mark.step, mark.at,
       cup.number AS cup, cup.name AS mix, cup.poured, cup.tint, cup.thinned, cup.strained
FROM mark JOIN cup ON cup.id = mark.cup JOIN face ON face.id = mark.face
     JOIN part ON part.id = face.part JOIN piece ON piece.id = part.piece
ORDER BY mark.id;

CREATE VIEW insisted AS
SELECT piece.tag, part.family, part.number, face.name AS face, mark.step, mark.at, mark.who,
       mark.note
FROM mark JOIN face ON face.id = mark.face JOIN part ON part.id = face.part
     JOIN piece ON piece.id = part.piece
WHERE mark.insisted ORDER BY mark.id;

CREATE VIEW tape_on AS
SELECT piece.tag, mask.covers, mask.against, mask.tape, mask.on_at, mask.rating_min
FROM mask JOIN piece ON piece.id = mask.piece WHERE mask.off_at IS NULL ORDER BY mask.id;

CREATE VIEW facts AS
SELECT piece.tag, part.family, part.number, fact.face, fact.key, fact.value, fact.at, fact.who,
       fact.note
FROM fact JOIN piece ON piece.id = fact.piece LEFT JOIN part ON part.id = fact.part
ORDER BY fact.id;
"""


def add_finishing(db: Any) -> None:
    """The migration: everything here is added, nothing that was there changes."""
    for statement in (TABLES + VIEWS).split(";\n"):
        if statement.strip():
            db.execute(statement.strip())


def add_cup_class(db: Any) -> None:
    """The migration: which class of product a cup holds; of older cups nobody said."""
    for statement in CUP_CLASS.split(";\n"):
        if statement.strip():
            db.execute(statement.strip())
