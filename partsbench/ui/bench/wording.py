"""Sentences of the journal made short enough for one line."""

from __future__ import annotations

import re

_LISTED = re.compile(r" ?\(([^()]*)\)")
NAMED_IN_FULL = 2


def brief(sentence: str) -> str:
    """The sentence with long lists in brackets counted: `(front, back, sides)` → `(3 faces)`."""
    return _LISTED.sub(_counted, sentence)


def without_lists(sentence: str) -> str:
    """The sentence with what stands in brackets left out."""
    return _LISTED.sub("", sentence)


def _counted(found: re.Match[str]) -> str:
    names = found[1].split(", ")
    return found[0] if len(names) <= NAMED_IN_FULL else f" ({len(names)} faces)"
