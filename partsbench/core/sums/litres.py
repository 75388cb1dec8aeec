"""What each product of a finish path takes: one product is never added to another.

A product here is a class and whether it is tinted: a tinted topcoat and a clear coat are mixed and
bought apart, though both are the same clear.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from partsbench.core.outcomes import Refused
from partsbench.core.said_often import span
from partsbench.core.sums import units
from partsbench.core.sums.mix import VOLUME_SOURCE, Mix, Rate, Surface, how_much
from partsbench.core.sums.refusal import wrong
from partsbench.core.wording import and_list, plural, sentences

LEFT_IN_CUP = "what was left in the cup after an earlier coat: weigh the tin before and after"


@dataclass(frozen=True, slots=True)
class CoatKind:
    """What is put on: the key of a class of product, and whether it is tinted."""

    product: str
    tinted: bool = False


@dataclass(frozen=True, slots=True)
class Layer:
    """The coats of one product, `first` to `last`, that go over the same faces; `mix` is for one
    of them, None where nothing is known of the product."""

    first: int
    last: int
    faces: tuple[Surface, ...]
    mix: Mix | None = None


@dataclass(frozen=True, slots=True)
class ProductMix:
    """One product with its coats."""

    kind: CoatKind
    name: str
    layers: tuple[Layer, ...]

    @property
    def coats(self) -> int:
        """The most that any face gets."""
        return self.layers[-1].last

    @property
    def mixes(self) -> tuple[Mix, ...]:
        """Those of its layers; none where nothing is known of it."""
        return tuple(layer.mix for layer in self.layers if layer.mix)

    @property
    def ml(self) -> float | None:
        """All its coats where it goes the least far: what to have at hand."""
        return sum(mix.total_ml for mix in self.mixes) if self.mixes else None

    @property
    def least_ml(self) -> float | None:
        """All its coats where it goes furthest."""
        return sum(mix.least_total_ml for mix in self.mixes) if self.mixes else None


@dataclass(frozen=True, slots=True)
class Litres(units.Worded):
    """What faces of `m2` take, product by product in the order of the path."""

    m2: float
    products: tuple[ProductMix, ...]
    lacks: tuple[str, ...] = (LEFT_IN_CUP,)
    sources: tuple[str, ...] = (VOLUME_SOURCE,)

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`For 3.4 m² have 1.8 l of water-borne paint (3 coats of 570 ml), …`"""
        area = units.show_area(self.m2, measures)
        known = ", ".join(_have(p, p.ml, measures) for p in self.products if p.ml is not None)
        unknown = and_list(f"{p.name} ({_coats(p)})" for p in self.products if p.ml is None)
        return sentences(
            f"For {area} have {known}." if known else "",
            f"How much is needed of {unknown} is not known." if unknown else "",
        )


def layers(coated: Sequence[tuple[Surface, int]]) -> tuple[Layer, ...]:
    """Coats over the same faces together, from faces with the coats of one product they get: the
    first ones go over all, the further over those that get more."""
    ends = sorted({coats for _, coats in coated if coats > 0})
    return tuple(
        Layer(before + 1, last, tuple(face for face, coats in coated if coats >= last))
        for before, last in pairwise([0, *ends])
    )


def product_mix(
    kind: CoatKind,
    name: str,
    coated: Sequence[tuple[Surface, int]],
    rate: Rate | None,
    cup_ml: float,
) -> ProductMix | Refused:
    """One product on faces, in their order, with the coats that each gets; at least one gets one.

    Without a `rate` it is told with its coats and no volume.
    """
    found = []
    for layer in layers(coated):
        coats = layer.last - layer.first + 1
        mix = how_much(layer.faces, rate, cup_ml, coats) if rate else None
        if isinstance(mix, Refused):
            return mix
        found.append(Layer(layer.first, layer.last, layer.faces, mix))
    return ProductMix(kind, name, tuple(found)) if found else wrong(name, "no face gets it")


def show_range(least_ml: float, most_ml: float, measures: units.Measures) -> str:
    """`230 ml to 280 ml`, or one volume where both are worded alike."""
    least, most = units.show_volume(least_ml, measures), units.show_volume(most_ml, measures)
    return span(least, most)


def _have(product: ProductMix, ml: float, measures: units.Measures) -> str:
    have = f"{units.show_at_least(ml, measures)} of {product.name}"
    return f"{have} ({_coats_each(product, ml, measures)})"


def _coats_each(product: ProductMix, ml: float, measures: units.Measures) -> str:
    """`3 coats of 570 ml`: what one coat takes, where all are alike; else what all of them take."""
    mix, least, coats = product.mixes[0], product.least_ml or 0, _coats(product)
    if len(product.mixes) > 1:
        return f"{coats}, {show_range(least, ml, measures)} in all" if least < ml else coats
    if mix.coats == 1 and least == ml:
        return coats
    return f"{coats} of {show_range(mix.least_ml, mix.coat_ml, measures)}"


def _coats(product: ProductMix) -> str:
    """`3 coats`, or `1 to 2 coats` where not all faces get as many."""
    fewest, most = product.layers[0].last, product.coats
    if fewest == most:
        return plural(most, "1 coat", f"{most} coats")
    return f"{fewest} to {most} coats"
