"""Product classes: what film they leave and when it is ready for what; and the user's tin cards."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import timedelta
from enum import StrEnum
from typing import Any

from partsbench.core.finish.durations import parse_duration, say_duration
from partsbench.core.finish.steps import Operation
from partsbench.core.sources import Source, Status


class Ready(StrEnum):
    """The six things that "dry" can mean."""

    SAND = "sand"
    RECOAT = "recoat"
    TAPE = "tape"
    HANDLE = "handle"
    TOUCH = "touch"
    SERVICE = "service"


FILM = frozenset(
    {
        Operation.CONDITION,
        Operation.DYE,
        Operation.STAIN,
        Operation.WIPE,
        Operation.WIPE_CONDITIONER,
        Operation.SEAL,
        Operation.PRIME,
        Operation.COLOUR,
        Operation.TOPCOAT,
        Operation.TOUCH_UP,
        Operation.CLEAR,
        Operation.WAX,
    }
)
"""Operations that leave something on the face that has to dry."""

COATS = FILM - {Operation.WIPE, Operation.WIPE_CONDITIONER}
"""Operations that put something on."""


def readiness_for(operation: Operation) -> Ready | None:
    """Which readiness this operation asks of what is under it; None when it asks another thing."""
    if operation is Operation.SAND:
        return Ready.SAND
    if operation is Operation.MASK:
        return Ready.TAPE
    return Ready.RECOAT if operation in COATS else None


@dataclass(frozen=True, slots=True)
class Timed:
    """A length of time and where it came from.

    latest: the end after which something else must come first; missed: what.
    """

    time: timedelta
    source: Source
    latest: timedelta | None = None
    missed: str = ""


@dataclass(frozen=True, slots=True)
class Product:
    """A class of product. A readiness that is not in `times`, only the tin can say."""

    key: str
    name: str
    film: str
    water_borne: bool
    times: Mapping[Ready, Timed] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class TinWait:
    """What a tin says of one readiness or operation: no sooner than, no later than."""

    earliest: timedelta | None = None
    latest: timedelta | None = None

    @property
    def words(self) -> str:
        """`4 h to 3 d`, `from 4 h` or `up to 10 min`: what the tin says of it."""
        if self.latest is None:
            return f"from {say_duration(self.earliest)}" if self.earliest is not None else ""
        latest = say_duration(self.latest)
        return (
            f"up to {latest}"
            if self.earliest is None
            else f"{say_duration(self.earliest)} to {latest}"
        )


@dataclass(frozen=True, slots=True)
class TinCard:
    """The user's own figures for a product; they win over ours.

    product: the class it stands for. waits: by `Ready` or `Operation` value. Temperatures in °C,
    humidity in %, over_dew_c in °C over the dew point, thin_most in % of the paint's volume.
    over: product classes it may be put on; under: those that may be put on it; empty: not said.
    """

    name: str
    product: str
    waits: Mapping[str, TinWait] = field(default_factory=dict)
    least_c: float | None = None
    most_c: float | None = None
    most_humidity: float | None = None
    over_dew_c: float | None = None
    thin_most: float | None = None
    pot_life: timedelta | None = None
    over: frozenset[str] = frozenset()
    under: frozenset[str] = frozenset()

    def wait_for(self, operation: Operation) -> TinWait | None:
        """What the tin says must pass before `operation` comes on it."""
        named = self.waits.get(operation.value)
        ready = readiness_for(operation)
        return named or (self.waits.get(ready.value) if ready else None)

    def source(self, figure: str, time: timedelta) -> Source:
        """`your tin card for the blue paint: 4 h`."""
        words = f"your tin card for {self.name}: {say_duration(time)}"
        return Source(words, Status.TIN, figure)


def tin_faults(card: TinCard, products: Mapping[str, Product]) -> list[str]:
    """What is wrong with a tin card as typed in, in sentences; [] when nothing is."""
    found = []
    if not card.name.strip():
        found.append("Give the tin a name that you will know it by.")
    if card.product not in products:
        found.append(f"'{card.product}' is no product class; known: {', '.join(sorted(products))}.")
    for what, wait in card.waits.items():
        if what not in {*Ready, *Operation}:
            found.append(f"'{what}' is no readiness and no operation.")
        if wait.earliest is not None and wait.latest is not None and wait.latest < wait.earliest:
            found.append(f"For {what} the latest time is before the earliest.")
    if card.least_c is not None and card.most_c is not None and card.most_c < card.least_c:
        found.append("The highest temperature is below the lowest.")
    if card.most_humidity is not None and not 1 <= card.most_humidity <= 100:
        found.append("Humidity is a figure from 1 to 100 %.")
    found += [
        f"'{name}' in the over or under list is no product class."
        for name in sorted((card.over | card.under) - set(products))
    ]
    return found


def parse_products(doc: Mapping[str, Any]) -> dict[str, Product]:
    """The shipped product classes. ValueError on a bad table: what we ship must be whole."""
    return {key: _product(key, table) for key, table in doc.items()}


def _product(key: str, table: Mapping[str, Any]) -> Product:
    times = {r: _timed(key, r, table[r.value]) for r in Ready if r.value in table}
    return Product(key, table["name"], table["film"], table["water_borne"], times)


def _timed(key: str, ready: Ready, raw: Mapping[str, str]) -> Timed:
    time, latest = parse_duration(raw["value"]), None
    if "latest" in raw:
        latest = parse_duration(raw["latest"])
        if time is None or latest is None or latest < time or not raw["missed"]:
            raise ValueError(f"{key}, {ready}: {raw['latest']!r} ends no window")
    if time is None:
        raise ValueError(f"{key}, {ready}: {raw['value']!r} is no length of time")
    source = Source(raw["source"], Status(raw["status"]), ready.value, raw.get("said", ""))
    return Timed(time, source, latest, raw.get("missed", ""))
