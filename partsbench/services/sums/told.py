"""A sum as it is shown, alike everywhere: a sentence, figures, what is missing, where from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from partsbench.core.outcomes import Refused
from partsbench.core.sums.refusal import SumAnswer
from partsbench.core.sums.units import Measures

T = TypeVar("T")
Rows = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Told:
    """One sentence first, figures under it, what is missing to answer better, where from.

    `data` are the figures by name, unrounded, for JSON.
    """

    sentence: str
    head: tuple[str, ...] = ()
    rows: Rows = ()
    lacks: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    caution: str = ""
    valid: str = ""
    """Where the method holds, when that is not everywhere."""
    data: Mapping[str, object] = field(default_factory=dict)
    measures: Measures = Measures.METRIC
    """What a picture of the figures is worded in."""


def good(found: T | Refused, measures: Measures = Measures.METRIC) -> T | Refused:
    """What a sum found, or why not in the shop's units."""
    return found.told_in(measures) if isinstance(found, Refused) else found


def said(answer: SumAnswer, measures: Measures) -> str:
    """The sentence in the shop's units, where the answer has any."""
    say = getattr(answer, "say", None)
    return str(say(measures)) if say else answer.sentence


def told_of(
    answer: SumAnswer,
    measures: Measures = Measures.METRIC,
    *,
    head: Sequence[str] = (),
    rows: Sequence[Sequence[str]] = (),
    lacks: Sequence[str] = (),
    sources: Sequence[str] = (),
    valid: str = "",
    caution: str = "",
    data: Mapping[str, object] | None = None,
) -> Told:
    """An answer of the core as it is shown, with what the use case has to add."""
    return Told(
        said(answer, measures),
        tuple(head),
        tuple(tuple(row) for row in rows),
        once(*answer.lacks, *lacks),
        once(*answer.sources, *sources),
        caution or str(getattr(answer, "caution", "") or getattr(answer, "advice", "")),
        valid,
        data or {},
    )


def once(*texts: str) -> tuple[str, ...]:
    """Each text once, in order."""
    return tuple(dict.fromkeys(text for text in texts if text))
