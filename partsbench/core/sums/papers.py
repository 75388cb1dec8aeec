"""Abrasive papers of the two systems, held against one another by their grains."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.sums import shown, units
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import wrong
from partsbench.core.wording import sentences

P, CAMI = "P", "CAMI"


@dataclass(frozen=True, slots=True)
class Grit:
    """An abrasive paper: its system (P or CAMI), number, and average grain in µm."""

    system: str
    number: int
    micron: Figure

    @property
    def name(self) -> str:
        """`P220`, or `220 (CAMI)`: a bare number is of the US system."""
        return f"P{self.number}" if self.system == P else f"{self.number} ({CAMI})"

    def grain(self, measures: units.Measures) -> str:
        return shown.show_film(self.micron.value / 1000, measures, 3)


Papers = Mapping[tuple[str, int], Grit]


@dataclass(frozen=True, slots=True)
class Likeness(units.Worded):
    """A paper, the one of the other system whose grain is nearest, and its namesake there."""

    paper: Grit
    nearest: Grit
    namesake: Grit | None
    lacks: tuple[str, ...] = ()

    @property
    def sources(self) -> tuple[str, ...]:
        known = (self.paper, self.nearest, self.namesake)
        return tuple(dict.fromkeys(each.micron.cited for each in known if each))

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`P400 has grains of 0.035 mm; 320 (CAMI) comes nearest with 0.035 mm. 400 (CAMI) …`"""
        said = (
            f"{self.paper.name} has grains of {self.paper.grain(measures)} on average; "
            f"{self.nearest.name} comes nearest with {self.nearest.grain(measures)}."
        )
        if self.namesake is None or self.namesake == self.nearest:
            return said
        finer = self.namesake.micron.value < self.paper.micron.value
        name, grain = self.namesake.name, self.namesake.grain(measures)
        is_finer, is_coarser = f"{name} is finer: {grain}.", f"{name} is coarser: {grain}."
        return sentences(said, is_finer if finer else is_coarser)


def likeness(papers: Papers, asked: str) -> Likeness | Refused:
    """What a paper of one system is in the other: `P320`, or `320` for the US system."""
    text = "".join(asked.upper().split())
    system, number = (P, text[1:]) if text.startswith(P) else (CAMI, text.removeprefix(CAMI))
    paper = papers.get((system, int(number))) if number.isascii() and number.isdigit() else None
    if paper is None:
        known = ", ".join(each.name for each in papers.values())
        return wrong("paper", f"“{asked}” is none of {known}")
    others = [each for each in papers.values() if each.system != system]
    nearest = min(others, key=lambda each: abs(each.micron.value - paper.micron.value))
    return Likeness(paper, nearest, papers.get((nearest.system, paper.number)))
