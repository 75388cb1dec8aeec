"""How long a pull's screw has to be, and what a wrong one does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.said_often import span
from partsbench.core.sums import units
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import amount, because, first

BOTTOM_CLEARANCE_MM = 1.0
"""Thread left free at the bottom of the pull's hole: common practice."""
LONGEST_SCREW_MM = 300.0
"""Longer is no screw of a pull, but a slip of the keys (our own limit)."""
DEEPEST_THREAD_MM = 100.0
"""Nor is a pull threaded deeper (our own limit)."""


@dataclass(frozen=True, slots=True)
class Thread:
    """A screw thread and the lengths it is sold in, mm."""

    name: str
    diameter: Figure
    lengths: tuple[float, ...]
    sold: str = ""
    """Where the lengths are from."""


@dataclass(frozen=True, slots=True)
class Screw(units.Worded):
    """The screw for one front: shortest and longest that will do, and the stock length, mm."""

    thread: str
    least_mm: float
    most_mm: float | None
    stock_mm: float | None
    lacks: tuple[str, ...]
    sources: tuple[str, ...]

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`M4, 25 mm.`"""
        if self.stock_mm is None:
            least = units.show_length(self.least_mm, measures, 1)
            most = "" if self.most_mm is None else units.show_length(self.most_mm, measures, 1)
            between = span(least, most) if most else f"at least {least}"
            return f"No stock length of {self.thread} serves: it wants {between}; cut one down."
        return f"{self.thread}, {units.show_length(self.stock_mm, measures)}."


def screw(
    thread: Thread,
    engaged_diameters: Figure,
    front_mm: float,
    plate_mm: float = 0,
    thread_depth_mm: float | None = None,
) -> Screw | Refused:
    """The length through a front (and plate) with enough thread engaged, not touching bottom.

    `thread_depth_mm` is the depth of the threaded hole in the pull; unknown is told as a lack.
    """
    bad = first(
        amount("front thickness", front_mm, above=0, most=200, unit="mm"),
        amount("plate thickness", plate_mm, least=0, most=50, unit="mm"),
        None
        if thread_depth_mm is None
        else amount(
            "depth of the thread", thread_depth_mm, above=0, most=DEEPEST_THREAD_MM, unit="mm"
        ),
    )
    if bad:
        return bad
    engaged = thread.diameter.value * engaged_diameters.value
    through = front_mm + plate_mm
    least = through + engaged
    most = None if thread_depth_mm is None else through + thread_depth_mm - BOTTOM_CLEARANCE_MM
    if most is not None and most < least:
        return because(
            "depth of the thread",
            lambda show: (
                f"{units.show_limit(thread_depth_mm or 0, 'mm', show)} holds too little of "
                f"{thread.name}"
            ),
        )
    serving = [mm for mm in thread.lengths if mm >= least and (most is None or mm <= most)]
    lacks = ("how deep the pull is threaded",) if thread_depth_mm is None else ()
    sources = tuple(filter(None, (thread.diameter.cited, engaged_diameters.cited, thread.sold)))
    return Screw(thread.name, least, most, min(serving, default=None), lacks, sources)


def warnings(wanted: Screw, thread: str, length_mm: float) -> tuple[str, ...]:
    """What is wrong with a screw at hand; nothing when it serves."""
    said: Sequence[tuple[bool, str]] = (
        (
            thread != wanted.thread,
            f"Wrong thread: {thread} into {wanted.thread} strips or jams.",
        ),
        (length_mm < wanted.least_mm, "Too short: too little thread holds."),
        (
            wanted.most_mm is not None and length_mm > wanted.most_mm,
            "Too long: it touches bottom before the pull is tight.",
        ),
    )
    return tuple(text for wrong, text in said if wrong)
