"""A book as it was before a migration, with the rows that it would have had by then."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from partsbench.store import schema


def as_before(book: Path, migration: str, old: Path) -> None:
    """Writes `book`, which must be closed, to `old` in the form before that migration."""
    names = [name for name, _ in schema.MIGRATIONS]
    count = names.index(migration)
    with closing(sqlite3.connect(old, isolation_level=None)) as made:
        for _, migrate in schema.MIGRATIONS[:count]:
            migrate(made)
        made.execute("ATTACH ? AS new", (str(book),))
        tables = "SELECT name FROM sqlite_master WHERE type = 'table' AND sql IS NOT NULL"
        for (table,) in made.execute(tables).fetchall():
            columns = [r[1] for r in made.execute(f'PRAGMA table_info("{table}")')]
            listed = ", ".join(f'"{column}"' for column in columns)
            made.execute(
                f'INSERT INTO main."{table}" ({listed}) SELECT {listed} FROM new."{table}"'
            )
        made.execute("DETACH new")
        made.execute(f"PRAGMA application_id = {schema.APPLICATION_ID}")
        made.execute(f"PRAGMA user_version = {count}")
