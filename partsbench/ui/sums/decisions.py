"""The decisions that a sum can help with, as one table: what is asked, noted and answered."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from partsbench.core.outcomes import Done, Refused
from partsbench.core.sums.shown import Measures
from partsbench.services.shop import Shop
from partsbench.services.sums.told import Told

Values = Mapping[str, str]
"""What stands in the fields, by their keys."""
Answering = Callable[[Shop, str, Values], Told | Refused]
Noting = Callable[[Shop, str, Values], Done | Refused]


@dataclass(frozen=True, slots=True)
class SumField:
    """One field: its key, its words, an example to type, and the choices where there are some.

    `us` is the example in a shop that reads US units; empty: the same.
    """

    key: str
    label: str
    hint: str = ""
    choices: tuple[str, ...] = ()
    us: str = ""

    def example(self, measures: Measures) -> str:
        """What stands in the empty field of this shop."""
        return self.us if self.us and measures is Measures.US else self.hint


@dataclass(frozen=True, slots=True)
class SumEntry:
    """Something to note that makes an answer better: fields, and what keeps them."""

    title: str
    asks: tuple[SumField, ...]
    note: Noting
    now: Callable[[Shop], Values] | None = None
    """What is kept already, to be shown and changed; None for what is noted afresh each time."""


@dataclass(frozen=True, slots=True)
class SumQuestion:
    """A decision. `asks` are read by the answer at once; `of_piece` needs a piece at work."""

    key: str
    title: str
    question: str
    answer: Answering
    asks: tuple[SumField, ...] = ()
    entries: tuple[SumEntry, ...] = ()
    of_piece: bool = True
    picture: bool = False
    sheet: bool = False
    """It can be written as a PDF, and two scans compare sheet and front."""


def find(decisions: tuple[SumQuestion, ...], key: str) -> SumQuestion:
    """The decision of that key, else the first."""
    return next((d for d in decisions if d.key == key), decisions[0])
