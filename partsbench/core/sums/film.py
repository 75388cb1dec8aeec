"""How far a gallon or a litre goes.

1 US gallon = 231 in³, so 1604.17 ft² at one mil; 1 litre = 1000 m² at one µm.
"""

from __future__ import annotations

from dataclasses import dataclass

from partsbench.core.key_words import word_of
from partsbench.core.outcomes import Refused
from partsbench.core.sources import Status, cite
from partsbench.core.sums import units
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import amount, first

FT2_MIL_PER_GALLON = 231 / 144 / 0.001
M2_MICRON_PER_LITRE = 1000.0
LEAST_FILM_UM = 0.1
"""Nothing that is put on by hand leaves less; a slip of the keys does (our own limit)."""
LEAST_SHARE = 0.1
"""Solids or transfer under a thousandth, in %, are a slip as well (our own limit)."""
COVERAGE_SOURCE = cite(
    "by definition: 231 in³ to the US gallon (1604.17 ft²·mil), 1000 m²·µm to the litre",
    Status.CALCULATED,
)
FILM_SOURCE = cite("dry film = wet film × volume solids, coatings practice", Status.FROM_MEMORY)


@dataclass(frozen=True, slots=True)
class Coating:
    """A class of coatings: volume solids in % from low to high, one coat in µm."""

    key: str
    name: str
    solids_low: Figure | None = None
    solids_high: Figure | None = None
    wet: Figure | None = None
    dry: Figure | None = None

    @property
    def solids(self) -> tuple[float, float]:
        """% by volume, the least and the most; of a class without any, what its films tell."""
        if self.solids_low and self.solids_high:
            return self.solids_low.value, self.solids_high.value
        if self.wet and self.dry:
            told = self.dry.value / self.wet.value * 100
            return told, told
        raise ValueError(f"{self.key}: neither solids nor a wet and a dry film")

    @property
    def sources(self) -> tuple[str, ...]:
        """Where its solids are from."""
        figures = (self.solids_low,) if self.solids_low else (self.wet, self.dry)
        return tuple(dict.fromkeys(f.cited for f in figures if f))

    @property
    def sentence(self) -> str:
        """`Solids of latex wall paint: 30 to 45 %, the least is reckoned with; …`"""
        low, high = self.solids
        said = f"{low:.0f} to {high:.0f} %, the least" if low < high else f"{low:.0f} %, which"
        return (
            f"Solids of {self.name}: {said} is reckoned with. A tin differs from its class: read "
            "its own sheet."
        )


@dataclass(frozen=True, slots=True)
class Transfer:
    """What share of the coating a tool lands on the work, %: reckoned with, and as others give."""

    key: str
    name: str
    share: Figure
    why: str
    low: Figure | None = None
    high: Figure | None = None

    @property
    def ends(self) -> tuple[float, float]:
        """The lowest and the highest share that anybody gives, %."""
        given = [figure.value for figure in (self.share, self.low, self.high) if figure]
        return min(given), max(given)

    @property
    def sources(self) -> tuple[str, ...]:
        """Where the share is from, then where the others are."""
        return tuple(dict.fromkeys(f.cited for f in (self.share, self.low) if f))

    @property
    def sentence(self) -> str:
        """`By HVLP 65 % is reckoned with: … Others give 50 to 60 % (trade press), which takes …`"""
        said = f"By {self.name} {self.share.value:g} % is reckoned with: {self.why}."
        if self.low is None or self.high is None:
            return said
        least, most = (self.share.value / figure.value for figure in (self.high, self.low))
        status = word_of(self.low.status)
        return (
            f"{said} Others give {self.low.value:g} to {self.high.value:g} % ({status}), "
            f"which takes {least:.1f} to {most:.1f} times as much."
        )


@dataclass(frozen=True, slots=True)
class Coverage(units.Worded):
    """How far a coating goes at a dry film."""

    m2_per_l: float
    solids: float
    dry_um: float
    transfer: float
    tool: Transfer | None = None
    """What it goes on with, where its share was asked of the table."""
    coating: Coating | None = None
    """Its class, where the solids were asked of the table."""
    film_source: str = ""
    """Where the film is from, if it was asked of the table as well."""
    lacks: tuple[str, ...] = ()

    @property
    def sources(self) -> tuple[str, ...]:
        known = (each.sources for each in (self.coating, self.tool) if each)
        every = (COVERAGE_SOURCE, self.film_source, *(source for each in known for source in each))
        return tuple(dict.fromkeys(filter(None, every)))

    @property
    def caution(self) -> str:
        """What the tables themselves warn of."""
        return " ".join(each.sentence for each in (self.coating, self.tool) if each)

    @property
    def ft2_per_gal(self) -> float:
        """The same in ft² per US gallon."""
        dry_mil = self.dry_um / units.MICRON_PER_MIL
        return FT2_MIL_PER_GALLON * self.solids / 100 * self.transfer / 100 / dry_mil

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`A litre covers about 4.1 m² once.`"""
        if measures is units.Measures.US:
            return f"A gallon covers about {units.significant(self.ft2_per_gal, 2)} ft² once."
        return f"A litre covers about {units.significant(self.m2_per_l, 2)} m² once."


def coverage(
    solids: float | Coating, dry_um: float, transfer: float | Transfer = 100
) -> Coverage | Refused:
    """Area per volume from volume solids % (of a class the least), dry film µm and transfer: a
    share in %, or a tool.

    It rises with solids and with transfer; one published formula has them upside down.
    """
    tool = transfer if isinstance(transfer, Transfer) else None
    share = transfer.share.value if isinstance(transfer, Transfer) else transfer
    coating = solids if isinstance(solids, Coating) else None
    solid = solids.solids[0] if isinstance(solids, Coating) else solids
    bad = first(
        amount("solids", solid, least=LEAST_SHARE, most=100, unit="%"),
        amount("film", dry_um, least=LEAST_FILM_UM, most=10_000, unit="µm"),
        amount("transfer", share, least=LEAST_SHARE, most=100, unit="%"),
    )
    if bad:
        return bad
    per_litre = M2_MICRON_PER_LITRE * solid / 100 * share / 100 / dry_um
    return Coverage(per_litre, solid, dry_um, share, tool, coating)
