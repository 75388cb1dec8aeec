"""What to mind at a step, in words. The tin, local codes and licensed practice come first."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping

from partsbench import trade


def words(keys: Iterable[str]) -> list[str]:
    """The caution of each key, in order and once each; an unknown key says nothing."""
    known = texts()
    return [known[key] for key in dict.fromkeys(keys) if key in known]


@functools.cache
def texts() -> Mapping[str, str]:
    """The shipped cautions by key."""
    return trade.load("cautions")
