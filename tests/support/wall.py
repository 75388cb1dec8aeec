"""What hangs on the wall, by the words on it."""

from __future__ import annotations

from partsbench.core.verbs import VERBS, Verb


def verb_named(name: str) -> Verb:
    """The verb of that name on the wall. KeyError for one that is not there."""
    return {v.name: v for v in VERBS}[name]
