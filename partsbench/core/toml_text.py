"""The text of a TOML file as its table; one place for all that a file may do to its reader."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from typing import Any

MOST_DEEP = 20
"""Tables and lists within one another; what a person writes has at most four."""
TOO_DEEP = "one value lies in another too many times over"


@dataclass(frozen=True, slots=True)
class TomlFault:
    """One thing wrong with a TOML file: why, in which line (0: not known), and where in words.

    No `Refused`: a reader finds several at once, and each is shown at its line.
    """

    why: str
    line: int = 0
    where: str = "the file"

    def __str__(self) -> str:
        where = f"line {self.line}, {self.where}" if self.line else self.where
        return f"{where}: {self.why}"


def read_toml(text: str) -> dict[str, Any] | TomlFault:
    """The table that a text says. A byte-order mark before it does not matter."""
    try:
        doc = tomllib.loads(text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as error:
        at = re.search(r"\(at line (\d+)", str(error))
        line = int(at[1]) if at else len(text.splitlines())
        return TomlFault(str(error).split(" (at")[0], line)
    except RecursionError:
        return TomlFault(TOO_DEEP)
    except ValueError as error:
        # A number of thousands of digits.
        return TomlFault(str(error).split(":")[0])
    return TomlFault(TOO_DEEP) if _is_too_deep(doc) else doc


def _is_too_deep(doc: object) -> bool:
    layer: list[Any] = [doc]
    for _ in range(MOST_DEEP):
        layer = [
            inner
            for value in layer
            for inner in (value.values() if isinstance(value, dict) else value)
            if isinstance(inner, dict | list)
        ]
        if not layer:
            return False
    return True
