"""How much tape and paper a masking takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partsbench.core.sums import units
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import Refusal, amount, first


@dataclass(frozen=True, slots=True)
class Seam:
    """An edge where two finish paths meet, and whether paper hangs beside its tape."""

    name: str
    mm: float
    papered: bool = False


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening to paper over, mm."""

    name: str
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Laps:
    """Allowances in mm: tape beyond each end of a strip, paper beside a seam, into an opening."""

    lap: Figure
    skirt: Figure
    turn_in: Figure


@dataclass(frozen=True, slots=True)
class Masking(units.Worded):
    """Tape and paper for these seams and openings."""

    seams: int
    openings: int
    tape_mm: float
    paper_m2: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...]

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`9 seams, 7.4 m of tape, 11 openings to paper (1.2 m²).`"""
        tape = units.show_run(self.tape_mm, measures)
        paper = units.show_area(self.paper_m2, measures)
        seams = f"{self.seams} seam{'' if self.seams == 1 else 's'}"
        openings = f"{self.openings} opening{'' if self.openings == 1 else 's'}"
        return f"{seams}, {tape} of tape, {openings} to paper, {paper} of paper in all."


def masking(seams: Sequence[Seam], openings: Sequence[Hole], laps: Laps) -> Masking | Refusal:
    """Tape for every seam and round every opening, paper over openings and beside seams."""
    bad = first(
        *(
            amount(f"length of {seam.name}", seam.mm, above=0, most=20_000, unit="mm")
            for seam in seams
        ),
        *(
            amount(f"width of {hole.name}", hole.width, above=0, most=5_000, unit="mm")
            for hole in openings
        ),
        *(
            amount(f"height of {hole.name}", hole.height, above=0, most=5_000, unit="mm")
            for hole in openings
        ),
        None if seams or openings else Refusal("masking", "there is no seam and no opening"),
    )
    if bad:
        return bad
    lap, skirt, turn = laps.lap.value, laps.skirt.value, laps.turn_in.value
    along = sum(seam.mm + 2 * lap for seam in seams)
    around = sum(2 * (hole.width + hole.height) + 8 * lap for hole in openings)
    beside = sum((seam.mm + 2 * lap) * skirt for seam in seams if seam.papered)
    over = sum((hole.width + 2 * turn) * (hole.height + 2 * turn) for hole in openings)
    sources = tuple(dict.fromkeys((laps.lap.cited, laps.skirt.cited, laps.turn_in.cited)))
    lacks = ("how many days the tape may stay: read it off the roll",)
    return Masking(len(seams), len(openings), along + around, (beside + over) / 1e6, lacks, sources)
