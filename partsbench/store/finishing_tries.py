"""A migration: films that were tried, ready or not, for one of the six states."""

from __future__ import annotations

from typing import Any

TABLES = """
CREATE TABLE tried (
  id INTEGER PRIMARY KEY,
  face INTEGER NOT NULL REFERENCES face(id),
  ready TEXT NOT NULL,
  is_ready INTEGER NOT NULL CHECK (is_ready IN (0, 1)),
  product TEXT NOT NULL,
  tin TEXT NOT NULL DEFAULT '',
  film_at TEXT NOT NULL,
  at TEXT NOT NULL,
  who TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE INDEX tried_of_face ON tried(face, id);

CREATE VIEW tries AS
SELECT piece.tag, part.family, part.number, face.name AS face, tried.ready, tried.is_ready,
       tried.product, tried.tin, tried.film_at, tried.at, tried.who, tried.note
FROM tried JOIN face ON face.id = tried.face JOIN part ON part.id = face.part
     JOIN piece ON piece.id = part.piece
ORDER BY tried.id;
"""


def add_tries(db: Any) -> None:
    """The migration: everything here is added, nothing that was there changes."""
    for statement in TABLES.split(";\n"):
        if statement.strip():
            db.execute(statement.strip())
