"""How much of one product to mix, how to split it into loads, and the same mix again.

1 m² at 1 µm of wet film is 1 ml on the work; what is mixed is that over the transfer share. What is
wiped off again leaves no film: it goes by the area that a litre is said to go over.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, floor

from partsbench.core.outcomes import Refused
from partsbench.core.piece.spot import Spot
from partsbench.core.said_often import area_of
from partsbench.core.sums import units
from partsbench.core.sums.film import LEAST_FILM_UM, LEAST_SHARE
from partsbench.core.sums.refusal import amount, because, first, wrong

VOLUME_SOURCE = "by definition: 1 m² of 1 µm is 1 ml; divided by the transfer share"
RATIO_LIMIT = 0.01
"""How far a part may be from the recipe: one percent of that part, however little it is."""
FINER_ML = (0.5, 0.1)
"""What a syringe or a scale measures where the steps of the cup are too coarse."""
LEAST_PART = 1e-4
LEAST_STEP_ML = 0.1
LEAST_CUP_ML = 1.0
LEAST_SPREAD = 0.1
"""m² that a litre goes over: less is a slip of the keys (our own limit)."""


@dataclass(frozen=True, slots=True)
class Rate:
    """What a coat takes, ml a m²: the least and the most, alike where one figure is known."""

    least: float
    most: float


@dataclass(frozen=True, slots=True)
class Surface:
    """One face to coat: its name, area, and the visual row it belongs to."""

    name: Spot
    m2: float
    row: str = ""


@dataclass(frozen=True, slots=True)
class Filling:
    """One filling of the cup: the faces in order, the volume, whether its end breaks a row."""

    faces: tuple[Spot, ...]
    ml: float
    breaks_row: bool


@dataclass(frozen=True, slots=True)
class Mix:
    """What one coat on these faces takes, and its loads, which are filled for the most."""

    least_ml: float
    coat_ml: float
    coats: int
    m2: float
    cup_ml: float
    loads: tuple[Filling, ...]

    @property
    def least_total_ml(self) -> float:
        """All coats together, where the product goes furthest."""
        return self.least_ml * self.coats

    @property
    def total_ml(self) -> float:
        """All coats together, where it goes the least far: what to have at hand."""
        return self.coat_ml * self.coats


@dataclass(frozen=True, slots=True)
class Recipe(units.Worded):
    """Amounts in whole steps of ml; how far the worst part is from its own (0.01 is 1 %)."""

    amounts: tuple[tuple[str, float], ...]
    worst_error: float
    step_ml: float
    lacks: tuple[str, ...] = ()
    sources: tuple[str, ...] = ("arithmetic on the recipe as written",)

    @property
    def total_ml(self) -> float:
        """The whole mix."""
        return sum(ml for _, ml in self.amounts)

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`For 60 ml: 52 clear, 6 colour, 2 water.`"""
        whole = units.show_limit(self.total_ml, "ml", measures)
        parts = ", ".join(
            f"{units.show_limit(ml, 'ml', measures).partition(' ')[0]} {name}"
            for name, ml in self.amounts
        )
        return f"For {whole}: {parts}."


def film_rate(wet_um: float, transfer: float) -> Rate | Refused:
    """What is mixed for a wet film in µm, at a transfer share in %."""
    bad = first(
        amount("wet film", wet_um, least=LEAST_FILM_UM, most=10_000, unit="µm"),
        amount("transfer", transfer, least=LEAST_SHARE, most=100, unit="%"),
    )
    return bad or Rate(wet_um / (transfer / 100), wet_um / (transfer / 100))


def wiped_rate(low: float, high: float) -> Rate | Refused:
    """What is put on and wiped off, by the m² that a litre goes over: from `low` to `high`."""
    what, unit = "spreading rate", "m²/l"
    bad = amount(what, low, least=LEAST_SPREAD, unit=unit)
    bad = bad or amount(what, high, least=low, most=1000, unit=unit)
    return bad or Rate(1000 / high, 1000 / low)


def how_much(faces: Sequence[Surface], rate: Rate, cup_ml: float, coats: int = 1) -> Mix | Refused:
    """The volume for these faces in their order, split into loads at natural breaks.

    As few loads as can be end inside a row, then the fewest loads, then as even as can be: a refill
    costs a minute, a colour step inside a row is seen for years. A face that
    takes more than one cup is shared out over several (`top (1 of 2)`).
    """
    bad = first(
        None if faces else wrong("faces", "there are none to coat"),
        *(amount(area_of(str(face.name)), face.m2, above=0, most=100, unit="m²") for face in faces),
        amount("cup", cup_ml, least=LEAST_CUP_ML, most=20_000, unit="ml"),
        amount("coats", coats, least=1, most=20),
    )
    if bad:
        return bad
    m2 = sum(face.m2 for face in faces)
    shared = [share for face in faces for share in _shared_out(face, cup_ml / rate.most)]
    if len(shared) > 2000:
        return wrong("cup", "is far too small for these faces")
    loads = _loads(shared, rate.most, cup_ml)
    return Mix(m2 * rate.least, m2 * rate.most, coats, m2, cup_ml, loads)


def recipe(ratio: Mapping[str, float], target_ml: float, step_ml: float) -> Recipe | Refused:
    """The recipe at another volume, each part within 1 % of itself.

    In steps the cup shows: the least volume from the target on, at most half as much again, in
    whole steps, and a step more for each product. Where none keeps the ratio, in finer steps.
    """
    bad = first(
        None if ratio else wrong("recipe", "names no product"),
        *(amount(f"part of {name}", part, above=0, most=1e9) for name, part in ratio.items()),
        amount("volume", target_ml, above=0, most=100_000, unit="ml"),
        amount("cup's step", step_ml, least=LEAST_STEP_ML, most=1000, unit="ml"),
    )
    if bad:
        return bad
    whole = sum(ratio.values())
    shares = {name: part / whole for name, part in ratio.items()}
    trace = next((name for name, share in shares.items() if share < LEAST_PART), None)
    if trace:
        return wrong(f"part of {trace}", "is less than one in 10,000: weigh it drop by drop")
    for step in (step_ml, *(finer for finer in FINER_ML if finer < step_ml)):
        found = _in_steps(shares, target_ml, step)
        if found:
            lacks = ("a cup that shows such steps: take a syringe or a scale",)
            return found if step == step_ml else replace(found, lacks=lacks)
    return because(
        "volume",
        lambda show: (
            f"{units.show_limit(target_ml, 'ml', show)} is too little to keep each part within 1 %"
        ),
    )


def _in_steps(shares: Mapping[str, float], target_ml: float, step_ml: float) -> Recipe | None:
    smallest = ceil(round(target_ml / step_ml, 9))
    for steps in range(smallest, ceil(smallest * 1.5) + len(shares) + 1):
        counts = _apportioned(shares, steps)
        worst = max(abs(counts[name] / steps - part) / part for name, part in shares.items())
        if worst <= RATIO_LIMIT:
            # Rounded, for 0.1 has no exact binary form.
            amounts = tuple((name, round(counts[name] * step_ml, 3)) for name in shares)
            return Recipe(amounts, worst, step_ml)
    return None


def _loads(faces: Sequence[Surface], per_m2: float, cup_ml: float) -> tuple[Filling, ...]:
    """Best split by dynamic programming; rank of a split: row breaks, loads, unevenness."""
    volumes = [face.m2 * per_m2 for face in faces]
    inner = [bool(a.row) and a.row == b.row for a, b in pairwise(faces)] + [False]
    best: list[tuple[int, int, float]] = [(0, 0, 0.0)]
    begun = [0]
    for end in range(1, len(faces) + 1):
        found: tuple[tuple[int, int, float], int] | None = None
        filled = 0.0
        for start in range(end - 1, -1, -1):
            filled += volumes[start]
            if filled > cup_ml * (1 + 1e-9):
                break
            breaks, before, uneven = best[start]
            if found and (breaks + inner[end - 1], before + 1) > found[0][:2]:
                continue
            rank = (breaks + inner[end - 1], before + 1, uneven + filled**2)
            if found is None or rank <= found[0]:
                found = rank, start
        assert found is not None, "a face alone fills no more than a cup"
        best.append(found[0])
        begun.append(found[1])
    loads: list[Filling] = []
    end = len(faces)
    while end:
        names = tuple(face.name for face in faces[begun[end] : end])
        loads.append(Filling(names, sum(volumes[begun[end] : end]), inner[end - 1]))
        end = begun[end]
    return tuple(reversed(loads))


def _shared_out(face: Surface, cup_m2: float) -> list[Surface]:
    cups = ceil(round(face.m2 / cup_m2, 9))
    if cups <= 1:
        return [face]
    names = (
        Spot(face.name.part, f"{face.name.face} ({i} of {cups})".strip())
        for i in range(1, min(cups, 2001) + 1)
    )
    return [Surface(name, face.m2 / cups, face.row) for name in names]


def _apportioned(shares: Mapping[str, float], steps: int) -> dict[str, int]:
    """Whole steps that add up, by largest remainders."""
    counts = {name: floor(share * steps) for name, share in shares.items()}
    by_rest = sorted(shares, key=lambda name: counts[name] - shares[name] * steps)
    for name in by_rest[: steps - sum(counts.values())]:
        counts[name] += 1
    return counts
