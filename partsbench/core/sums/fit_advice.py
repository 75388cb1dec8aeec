"""What to do about too little play of a drawer, before the paint goes on: least work first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from math import ceil, fsum

from partsbench.core.sums import units

UNFELT_MM = 0.01
"""A tenth of what play can be measured to."""


class Edge(StrEnum):
    """An edge of a drawer front and the edge of its opening that faces it."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"


SIDES = (Edge.LEFT, Edge.RIGHT)
ENDS = (Edge.TOP, Edge.BOTTOM)


class Remedy(StrEnum):
    """What can be done about too little play."""

    WAX = "wax"
    BARE = "leave bare"
    PLANE = "plane"


@dataclass(frozen=True, slots=True)
class Advice:
    """One remedy for one gap: `side` (each side) or `top`; `mm` is what to plane off.

    `edges` of the drawer stay bare; the opening keeps its own film.
    """

    remedy: Remedy
    where: str
    mm: float = 0.0
    edges: tuple[Edge, ...] = ()

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`leave both sides bare`, `plane 0.5 mm off the top edge before painting`"""
        both = "both sides" if self.where == "side" else "the top and bottom edges"
        if self.remedy is Remedy.WAX:
            return f"wax {both}"
        if self.remedy is Remedy.BARE:
            bare = both if len(self.edges) > 1 else f"the {self.edges[0]} edge"
            return f"leave {bare} bare"
        where = "each side" if self.where == "side" else "the top edge"
        return f"plane {units.show_gap(self.mm, measures)} off {where} before painting"


def advise(
    where: str, gap: float | None, wanted: float, films: Mapping[Edge, float]
) -> Iterator[Advice]:
    """Wax, leave the drawer's own edges bare, plane what is still short.

    `gap` is the least play, mm; `films` what lies on the drawer's edges that take from this gap.
    """
    if gap is None or gap >= wanted - UNFELT_MM:
        return
    if gap >= wanted / 2:
        yield Advice(Remedy.WAX, where)
        return
    painted = tuple(edge for edge, mm in films.items() if mm > 0)
    gained = fsum(films.values()) / (len(SIDES) if where == "side" else 1)
    if painted:
        yield Advice(Remedy.BARE, where, edges=painted)
    short = wanted - gap - gained
    if short > UNFELT_MM:
        yield Advice(Remedy.PLANE, where, ceil(round(short * 10, 6)) / 10)
