"""How much tape and paper a masking takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.piece.spot import Spot
from partsbench.core.said_often import area_of, height_of, width_of
from partsbench.core.sums import units
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.wording import plural


@dataclass(frozen=True, slots=True)
class Cover:
    """A face to keep clean, mm: the seams along which it is taped, and the paper over all of it.

    mm2 is 0 where tape alone covers it: an edge, or a face beside which a brush goes.
    """

    name: Spot
    seams: tuple[float, ...]
    mm2: float = 0.0


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening to paper over, mm."""

    name: Spot
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Laps:
    """Allowances in mm: tape beyond each end of a strip, paper into an opening."""

    lap: Figure
    turn_in: Figure


@dataclass(frozen=True, slots=True)
class Take:
    """What one face or opening takes of tape and of paper."""

    name: Spot
    tape_mm: float
    paper_m2: float


@dataclass(frozen=True, slots=True)
class Masking(units.Worded):
    """Tape and paper for these faces and openings, and what each of them takes."""

    seams: int
    faces: tuple[Take, ...]
    openings: tuple[Take, ...]
    lacks: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def tape_mm(self) -> float:
        return sum(take.tape_mm for take in (*self.faces, *self.openings))

    @property
    def paper_m2(self) -> float:
        return sum(take.paper_m2 for take in (*self.faces, *self.openings))

    @property
    def whole(self) -> tuple[Take, ...]:
        """The faces that are covered in whole."""
        return tuple(take for take in self.faces if take.paper_m2)

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`Tape 7.4 m: 9 seams, round 11 openings. Paper 2.3 m²: 3 faces in whole, 11 openings.`"""
        tape = units.show_run(self.tape_mm, measures)
        paper = units.show_area(self.paper_m2, measures)
        n, holes, whole = self.seams, len(self.openings), len(self.whole)
        seams = plural(n, "1 seam", f"{n} seams")
        openings = plural(holes, "1 opening", f"{holes} openings")
        faces = plural(whole, "1 face in whole", f"{whole} faces in whole")
        return f"Tape {tape}: {seams}, round {openings}. Paper {paper}: {faces}, {openings}."


def masking(faces: Sequence[Cover], openings: Sequence[Hole], laps: Laps) -> Masking | Refused:
    """Tape along every seam and round every opening, paper over openings and whole faces."""
    bad = first(
        *(
            amount(f"length of a seam of {face.name}", mm, above=0, most=20_000, unit="mm")
            for face in faces
            for mm in face.seams
        ),
        *(
            amount(area_of(str(face.name)), face.mm2, least=0, most=25_000_000, unit="mm²")
            for face in faces
        ),
        *(
            amount(width_of(str(hole.name)), hole.width, above=0, most=5_000, unit="mm")
            for hole in openings
        ),
        *(
            amount(height_of(str(hole.name)), hole.height, above=0, most=5_000, unit="mm")
            for hole in openings
        ),
        None if faces or openings else wrong("masking", "there is no seam and no opening"),
    )
    if bad:
        return bad
    lap, turn = laps.lap.value, laps.turn_in.value
    each = tuple(
        Take(face.name, sum(mm + 2 * lap for mm in face.seams), face.mm2 / 1e6) for face in faces
    )
    over = tuple(
        Take(
            hole.name,
            2 * (hole.width + hole.height) + 8 * lap,
            (hole.width + 2 * turn) * (hole.height + 2 * turn) / 1e6,
        )
        for hole in openings
    )
    sources = tuple(dict.fromkeys((laps.lap.cited, laps.turn_in.cited)))
    lacks = ("how many days the tape may stay: read it off the roll",)
    return Masking(sum(len(face.seams) for face in faces), each, over, lacks, sources)
