"""The table of the bench as a picture: for each page what leads from which hand to what."""

from __future__ import annotations

from partsbench.core.bench.state import Mode, Waits
from partsbench.core.bench.table import ROWS, Row


def drawn() -> str:
    """The table in Markdown, in the order in which its rows are tried."""
    head = "| on | with in the hand | what happens | does |\n| --- | --- | --- | --- |"
    return "\n".join((head, *map(_line, ROWS))) + "\n"


def _line(row: Row) -> str:
    cells = (_all(row.modes, Mode, "every page"), _all(row.hands, Waits, "anything"),
             ", ".join(row.happens), row.does)  # fmt: skip
    return f"| {' | '.join(cells)} |"


def _all(chosen: tuple[Mode, ...] | tuple[Waits, ...], of: type, all_of_them: str) -> str:
    return ", ".join(chosen) if chosen and len(chosen) < len(of) else all_of_them  # type: ignore[arg-type]
