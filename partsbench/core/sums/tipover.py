"""Whether a piece being sold is of the kind that ASTM F2057-23 covers, and the advice to fix it.

No claim of compliance is made or can be: the standard's tests are done on the piece.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partsbench.core.key_words import choice_word
from partsbench.core.outcomes import Refused
from partsbench.core.sums import units
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.wording import and_list

ADVICE = (
    "Fix it to the wall, hand over the fixing with the piece, and say so in writing; "
    "local rules may ask for more."
)


@dataclass(frozen=True, slots=True)
class Scope:
    """The three thresholds, all of which must be reached, and how volume is counted."""

    height_mm: Figure
    mass_kg: Figure
    volume_dm3: Figure
    shelf_share: Figure
    drawer_inset_mm: Figure


@dataclass(frozen=True, slots=True)
class Space:
    """The inside of a drawer, or of a space behind a door or on a shelf, mm."""

    width: float
    height: float
    depth: float
    drawer: bool = True


@dataclass(frozen=True, slots=True)
class Tipover:
    """The scope tests; None where the measure is not known."""

    tall: bool | None
    heavy: bool | None
    roomy: bool | None
    lacks: tuple[str, ...]
    sources: tuple[str, ...]
    height_mm: float | None = None
    mass_kg: float | None = None
    volume_dm3: float | None = None
    at_least: bool = False
    """Whether the height is only known to be at least that."""
    advice: str = ADVICE

    @property
    def covered(self) -> bool | None:
        """Whether all three are reached; None while that cannot be said."""
        tests = (self.tall, self.heavy, self.roomy)
        if False in tests:
            return False
        return None if None in tests else True

    @property
    def sentence(self) -> str:
        """The scope in one sentence, then the advice, which holds in any case."""
        if self.covered is None:
            said = "Not enough is known to say whether the tip-over standard covers this piece."
        elif self.covered:
            said = "A new piece of this height, mass and volume falls under ASTM F2057-23."
        else:
            low = [
                choice_word(name)
                for name, reached in (
                    ("overall height", self.tall),
                    ("mass", self.heavy),
                    ("volume", self.roomy),
                )
                if reached is False
            ]
            said = f"Below the scope of ASTM F2057-23 in {and_list(low)}; it can still tip."
        return f"{said} {self.advice}"


def enclosed_dm3(scope: Scope, spaces: Sequence[Space]) -> float | Refused:
    """Volume of drawers in full and of shelf and door space in the counted share, dm³.

    A drawer's `height` runs from its bottom to the lowest thing above it; the standard begins a
    little below the bottom.
    """
    bad = first(
        None if spaces else wrong("spaces", "there are none"),
        *(
            amount(name, size, above=0, most=5_000, unit="mm")
            for space in spaces
            for name, size in (
                ("width", space.width),
                ("height", space.height),
                ("depth", space.depth),
            )
        ),
    )
    return bad or sum(_counted(scope, space) for space in spaces) / 1e6


def tipover(
    scope: Scope, height_mm: float | None, mass_kg: float | None, volume_dm3: float | None
) -> Tipover | Refused:
    """The three scope tests for a free-standing clothing storage unit.

    `height_mm` is that of the piece as it stands, from the floor, on its legs and with its top.
    """
    checks = {
        "overall height": (height_mm, scope.height_mm, "mm"),
        "mass": (mass_kg, scope.mass_kg, "kg"),
        "enclosed volume": (volume_dm3, scope.volume_dm3, "dm³"),
    }
    bad = first(
        *(
            amount(name, value, above=0, most=100_000, unit=unit)
            for name, (value, _, unit) in checks.items()
            if value is not None
        )
    )
    if bad:
        return bad
    tall, heavy, roomy = (
        None if value is None else value >= limit.value for value, limit, _ in checks.values()
    )
    lacks = tuple(choice_word(name) for name, (value, _, _) in checks.items() if value is None)
    cited = (scope.height_mm.cited, scope.shelf_share.cited)
    return Tipover(tall, heavy, roomy, lacks, cited, height_mm, mass_kg, volume_dm3)


def say_limits(scope: Scope, measures: units.Measures = units.Measures.METRIC) -> str:
    """The three thresholds in words, for the page that asks for the measures."""
    height = units.show_length(scope.height_mm.value, measures)
    mass = units.show_mass(scope.mass_kg.value, measures)
    room = units.show_room(scope.volume_dm3.value, measures)
    return f"{height} high overall, {mass}, {room} enclosed: all three"


def _counted(scope: Scope, space: Space) -> float:
    if not space.drawer:
        return space.width * space.height * space.depth * scope.shelf_share.value
    return space.width * (space.height + scope.drawer_inset_mm.value) * space.depth
