"""What the coats of a finish path leave on a face: how many, how thick, and what nobody knows."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

from partsbench.core.finish.products import COATS
from partsbench.core.finish.steps import FinishPath, Operation, Step
from partsbench.core.outcomes import Refused
from partsbench.core.sums import units
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.film import FILM_SOURCE
from partsbench.core.sums.refusal import amount, first


@dataclass(frozen=True, slots=True)
class OneCoat:
    """A coat of one product: wet film in µm and volume solids in %."""

    wet: Figure
    solids: Figure

    @property
    def dry_um(self) -> float:
        """What stays of it, µm."""
        return self.wet.value * self.solids.value / 100


@dataclass(frozen=True, slots=True)
class Coats:
    """What is known of coats: by product, and the products that leave no film."""

    by_product: Mapping[str, OneCoat]
    without_film: frozenset[str] = frozenset()
    wiped: Mapping[str, tuple[Figure, Figure]] = field(default_factory=dict)
    """m² that a litre goes over, from low to high, of what is wiped off again."""


@dataclass(frozen=True, slots=True)
class PathFilm(units.Worded):
    """The film of a whole path on one face; `lacks` names the coats that nothing is known of."""

    dry_um: float
    coats: int
    lacks: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def mm(self) -> float:
        """The film in mm."""
        return self.dry_um / 1000

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`6 coats leave about 0.21 mm on a face.`"""
        if not self.coats:
            return "What the coats leave is not known." if self.lacks else "No coat leaves a film."
        said = "1 coat leaves" if self.coats == 1 else f"{self.coats} coats leave"
        return f"{said} about {units.show_film(self.mm, measures, 2)} on a face."


def coat_steps(path: FinishPath) -> tuple[Step, ...]:
    """The coats that a face on this path is due to get all over: no touch-up along a seam."""
    whole = COATS - {Operation.TOUCH_UP}
    return tuple(s for s in path.steps if s.operation in whole and s.product and not s.optional)


def film_steps(path: FinishPath, without_film: Collection[str] = ()) -> tuple[Step, ...]:
    """Those of the coats that leave a film."""
    return tuple(step for step in coat_steps(path) if step.product not in without_film)


def path_film(path: FinishPath, coats: Coats) -> PathFilm:
    """Each coat of the path by its product's figures."""
    steps = film_steps(path, coats.without_film)
    known = [coats.by_product[s.product] for s in steps if s.product in coats.by_product]
    unknown = {s.product for s in steps if s.product not in coats.by_product}
    lacks = tuple(
        f"the film of {product.replace('_', ' ')}: wet film and solids, from its tin"
        for product in sorted(unknown)
    )
    dry = sum(coat.dry_um for coat in known)
    return PathFilm(dry, len(known), lacks, tuple(dict.fromkeys(_sources(known))))


def stated_film(coats: int, wet_um: float, solids: float) -> PathFilm | Refused:
    """The film of so many coats by figures of one's own: wet film in µm, solids in %."""
    bad = first(
        amount("coats", coats, least=0, most=50),
        amount("wet film", wet_um, least=0, most=2_000, unit="µm"),
        amount("solids", solids, above=0, most=100, unit="%"),
    )
    sources = (FILM_SOURCE, "your own wet film and solids")
    return bad or PathFilm(coats * wet_um * solids / 100, coats, (), sources)


def _sources(known: list[OneCoat]) -> Iterator[str]:
    if known:
        yield FILM_SOURCE
    for coat in known:
        yield coat.wet.cited
        yield coat.solids.cited
