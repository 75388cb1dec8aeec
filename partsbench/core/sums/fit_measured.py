"""What was measured of a drawer and of its opening, what of it cannot be, and what is missing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.sums import units
from partsbench.core.sums.refusal import amount, because, first

UNSHOWN_MM = 0.05
"""Less than this is no tenth of a mm."""
MOST_PLAY_MM = 25.0
"""More play than this and something else was measured than what meets (our own limit)."""
AT = {"width": ("at the top", "at the bottom"), "height": ("on the left", "on the right")}


@dataclass(frozen=True, slots=True)
class Ends:
    """One size measured at both ends, mm (width: top and bottom; height: left and right).

    An end that was not measured is None: the other stands for it, and it is asked for.
    """

    one: float | None
    other: float | None

    @property
    def known(self) -> tuple[float, ...]:
        return tuple(mm for mm in (self.one, self.other) if mm is not None)

    @property
    def both(self) -> tuple[float, float]:
        return self.known[0], self.known[-1]


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured of a drawer and its opening; a pair left out is None."""

    opening_width: Ends | None = None
    drawer_width: Ends | None = None
    opening_height: Ends | None = None
    drawer_height: Ends | None = None


def smallest(opening: Ends | None, drawer: Ends | None) -> float | None:
    """The play at the tighter end."""
    if opening is None or drawer is None:
        return None
    return min(hole - own for hole, own in zip(opening.both, drawer.both, strict=True))


def wrong_measures(measured: Measured) -> Refused | None:
    """A drawer that ran in its opening is no larger than it: else one of the measures is wrong."""
    return first(
        _wrong("width", measured.drawer_width, measured.opening_width),
        _wrong("height", measured.drawer_height, measured.opening_height),
    )


def _wrong(what: str, drawer: Ends | None, opening: Ends | None) -> Refused | None:
    if drawer is None or opening is None:
        return None
    over = [own - hole for own, hole in zip(drawer.both, opening.both, strict=True)]
    if max(over) < UNSHOWN_MM:
        return None
    end = over.index(max(over))
    alike = over[0] == over[1]

    def why(measures: units.Measures) -> str:
        own, hole = (units.show_length(e.both[end], measures, 1) for e in (drawer, opening))
        seen = units.is_gap(over[end], measures)
        more = units.show_gap(over[end], measures) if seen else "a little"
        hole = hole if alike else f"{hole} {AT[what][end]}"
        return (
            f"the drawer's {own} is {more} more than the opening's {hole}. Take both again "
            "(of a lipped front the box); if it is so, ease the drawer until it runs, then measure"
        )

    return because(what, why)


def _pairs(measured: Measured) -> tuple[tuple[str, str, Ends | None], ...]:
    return (
        ("opening", "width", measured.opening_width),
        ("drawer", "width", measured.drawer_width),
        ("opening", "height", measured.opening_height),
        ("drawer", "height", measured.drawer_height),
    )


def bad_sizes(measured: Measured) -> Refused | None:
    """A size that is none, by what it is of; a pair of ends with neither is missing."""
    return first(
        *(
            amount(f"{of} {what}", size, above=0, most=10_000, unit="mm")
            for of, what, ends in _pairs(measured)
            if ends is not None
            for size in ends.known or (None,)
        )
    )


def missing(measured: Measured) -> Iterator[str]:
    """What would answer better: ends that were not measured, and play that no drawer has."""
    for what, opening, drawer in (
        ("width", measured.opening_width, measured.drawer_width),
        ("height", measured.opening_height, measured.drawer_height),
    ):
        play = smallest(opening, drawer)
        if play is not None and play > MOST_PLAY_MM:
            yield f"the {what} of drawer and opening once more: so much play no drawer has"
    for of, what, ends in _pairs(measured):
        if ends is None:
            yield f"the {of}'s {what} at both ends"
        elif len(ends.known) == 1:
            yield f"the {of}'s {what} {AT[what][0 if ends.one is None else 1]}"
