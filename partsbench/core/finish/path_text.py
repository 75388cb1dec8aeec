"""The text of a finish path, edited step by step; comments and all else in it stay as written.

A block is the lines of one step: its heading `[[step]]`, comments right above it, and all down to
the next one. Rows are counted from 0.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise

from partsbench.core.toml_text import TomlFault, read_toml

_HEADING = re.compile(r"\s*\[\[\s*step\s*\]\]")
_INNER = re.compile(r"\s*\[")
_AFTER = re.compile(r"(?m)^\s*\[\[\s*step\.after\s*\]\]")
_QUOTED = re.compile(r'(?m)(\bstep\s*=\s*)"(\w+)"')


@dataclass(frozen=True, slots=True)
class MoveStep:
    """Take the step in `row` out and let it stand in row `to`."""

    row: int
    to: int


@dataclass(frozen=True, slots=True)
class DropStep:
    """Take the step in `row` out."""

    row: int


@dataclass(frozen=True, slots=True)
class AddStep:
    """Put the text of a step in, so that it stands in `row`."""

    row: int
    block: str


@dataclass(frozen=True, slots=True)
class SayOfStep:
    """Write `word = value` in the step in `row`, with `value` as TOML; "" takes the word out."""

    row: int
    word: str
    value: str


StepEdit = MoveStep | DropStep | AddStep | SayOfStep


def apply_edit(text: str, edit: StepEdit) -> str:
    """The text after an edit; a row that is not there changes nothing."""
    head, steps = blocks(text)
    if isinstance(edit, AddStep):
        steps.insert(min(max(edit.row, 0), len(steps)), edit.block)
    elif not 0 <= edit.row < len(steps):
        return text
    elif isinstance(edit, MoveStep):
        steps.insert(edit.to, steps.pop(edit.row))
    elif isinstance(edit, DropStep):
        del steps[edit.row]
    else:
        steps[edit.row] = _with_word(steps[edit.row], edit.word, edit.value)
        return head + "".join(steps)
    # The last block has no empty line at its end, which it needs where it is no longer the last.
    return "\n\n".join(part.strip("\n") for part in (head, *steps)) + "\n"


def blocks(text: str) -> tuple[str, list[str]]:
    """What stands before the first step, and the text of each step."""
    lines = text.splitlines(keepends=True)
    starts = []
    for i, line in enumerate(lines):
        if _HEADING.match(line):
            first = i
            while first and lines[first - 1].lstrip().startswith("#"):
                first -= 1
            starts.append(first)
    head = "".join(lines[: starts[0]]) if starts else text
    return head, ["".join(lines[a:b]) for a, b in pairwise([*starts, len(lines)])]


def block_for(block: str, key: str, taken: Sequence[str], before: Sequence[str]) -> str:
    """A step's text for another path: a key that is not `taken`, and no wait from a step that is
    not among those `before` it. What it says of itself follows its new key."""
    first, *afters = _AFTER.split(block)
    heads = _AFTER.findall(block)
    kept = [h + a for h, a in zip(heads, afters, strict=True) if _counts_from(a) in before]
    new = free_key(key, taken)
    text = re.sub(rf'(?m)^(\s*key\s*=\s*)"{re.escape(key)}"', rf'\1"{new}"', first, count=1)
    own = "".join([text, *kept])
    return _QUOTED.sub(lambda m: f'{m[1]}"{new}"' if m[2] == key else m[0], own)


def free_key(key: str, taken: Sequence[str]) -> str:
    """`sand` where nobody has it, or else `sand_2`, `sand_3` …"""
    number, free = 2, key
    while free in taken:
        free, number = f"{key}_{number}", number + 1
    return free


def quoted(words: str) -> str:
    """Words as TOML has them, on one line."""
    return json.dumps(" ".join(words.split()), ensure_ascii=False).replace("\x7f", "")


def listed(words: Sequence[str]) -> str:
    """A list of words as TOML has it; "" for none."""
    return f"[{', '.join(map(quoted, words))}]" if words else ""


def written(length: timedelta | None) -> str:
    """A length of time as it is written in a path: `1 d 12 h`; "" for none."""
    if length is None:
        return ""
    minutes = round(length.total_seconds() / 60, 2)
    days, rest = divmod(minutes, 1440)
    hours, left = divmod(rest, 60)
    parts = ((days, "d"), (hours, "h"), (left, "min"))
    return " ".join(f"{n:g} {unit}" for n, unit in parts if n) or "0 min"


def _counts_from(after: str) -> str:
    named = re.search(r'(?m)^\s*step\s*=\s*"(\w+)"', after)
    return named[1] if named else ""


def _with_word(block: str, word: str, value: str) -> str:
    lines = block.splitlines(keepends=True)
    heading = next(i for i, line in enumerate(lines) if _HEADING.match(line))
    i = heading + 1
    last = heading
    new = [f"{word} = {value}\n"] if value else []
    while i < len(lines) and not _INNER.match(lines[i]):
        size = _lines_of_value(lines[i:])
        if re.match(rf"\s*{word}\s*=", lines[i]):
            return "".join([*lines[:i], *new, *lines[i + size :]])
        if lines[i].strip() and not lines[i].lstrip().startswith("#"):
            last = i + size - 1
        i += size
    if not lines[last].endswith("\n"):
        lines[last] += "\n"
    return "".join([*lines[: last + 1], *new, *lines[last + 1 :]])


def _lines_of_value(lines: Sequence[str]) -> int:
    """How many lines the value takes that begins in the first: a list may go over several."""
    for size in range(1, len(lines) + 1):
        if not isinstance(read_toml("".join(lines[:size])), TomlFault):
            return size
    return 1
