"""The trade's tables that the sums use, each read once. What we ship must be whole: ValueError."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from typing import Any, TypeVar

from partsbench import trade
from partsbench.core.outcomes import Refused
from partsbench.core.sums import tables
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.film import Coating, Transfer
from partsbench.core.sums.fit import Play
from partsbench.core.sums.masking import Laps
from partsbench.core.sums.papers import Grit
from partsbench.core.sums.paths import Coats, OneCoat
from partsbench.core.sums.screws import Thread
from partsbench.core.sums.spacings import OldHoles, Spacing
from partsbench.core.sums.tipover import Scope
from partsbench.core.sums.wood import Wood

T = TypeVar("T")


def _whole(found: T | Refused) -> T:
    if isinstance(found, Refused):
        raise ValueError(found.sentence)
    return found


@functools.cache
def _table(name: str) -> Mapping[str, Any]:
    return trade.load(name)


@functools.cache
def woods() -> dict[str, Wood]:
    return _whole(tables.woods(_table("woods")))


@functools.cache
def start_moisture() -> Figure:
    """Moisture of wood in a shop at rest, %."""
    return _whole(tables.figure(_table("woods"), "start", "moisture"))


@functools.cache
def season_span() -> tuple[Figure, Figure]:
    """Moisture indoors to plan for, %: dry and damp."""
    fit = _table("fit")
    return _whole(tables.figure(fit, "span", "dry")), _whole(tables.figure(fit, "span", "damp"))


@functools.cache
def play() -> Play:
    return _whole(tables.play(_table("fit")))


@functools.cache
def coats() -> Coats:
    films = _table("films")
    products = {key: table for key, table in films.items() if key not in ("sources", "none")}
    wiped = [key for key, table in products.items() if "spread" in table]
    return Coats(
        {
            key: OneCoat(
                _whole(tables.figure(films, key, "wet")),
                _whole(tables.figure(films, key, "solids")),
            )
            for key in products
            if key not in wiped
        },
        frozenset(films["none"]["products"]),
        {key: _whole(tables.span(films, key, "spread")) for key in wiped},
    )


@functools.cache
def transfers() -> dict[str, Transfer]:
    return _whole(tables.transfers(_table("transfer")))


@functools.cache
def coatings() -> dict[str, Coating]:
    return _whole(tables.coatings(_table("coatings")))


@functools.cache
def papers() -> dict[tuple[str, int], Grit]:
    """Abrasive papers by system and number."""
    return _whole(tables.grits(_table("grits")))


@functools.cache
def regions() -> dict[str, tuple[str, Figure]]:
    """Average moisture of wood indoors, %: name and figure by region."""
    return _whole(tables.regions(_table("woods")))


@functools.cache
def spacings() -> tuple[Spacing, ...]:
    return _whole(tables.spacings(_table("pulls")))


@functools.cache
def threads() -> dict[str, Thread]:
    return _whole(tables.threads(_table("pulls")))


@functools.cache
def engaged_diameters() -> Figure:
    """How many diameters of thread should hold."""
    return _whole(tables.figure(_table("pulls"), "rules", "engaged_diameters"))


@functools.cache
def old_holes() -> OldHoles:
    """How wide holes are drilled for a pull's screws, and how far old drawers drift apart."""
    names = ("drilled", "drift_usual", "drift_most")
    return OldHoles(*(_whole(tables.figure(_table("pulls"), "rules", name)) for name in names))


@functools.cache
def laps() -> Laps:
    return _whole(tables.laps(_table("masking")))


@functools.cache
def scope() -> Scope:
    return _whole(tables.tipover_scope(_table("tipover")))
