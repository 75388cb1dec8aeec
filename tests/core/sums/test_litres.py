"""Litres by product: coats that only some faces get, ranges, and what nobody knows."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.piece.spot import Spot
from partsbench.core.sums.litres import (
    CoatKind,
    Layer,
    Litres,
    ProductMix,
    layers,
    product_mix,
    show_range,
)
from partsbench.core.sums.mix import Rate, Surface
from partsbench.core.sums.units import Measures
from tests.core.sums.answers import answered, refused

D1, D2 = Surface(Spot("D1", "front"), 0.5, "top"), Surface(Spot("D2", "front"), 1.5, "low")
PAINT, STAIN = CoatKind("paint_water"), CoatKind("stain_oil")


def of(kind: CoatKind, name: str, coats: tuple[int, int], rate: Rate | None) -> ProductMix:
    coated = list(zip((D1, D2), coats, strict=True))
    return answered(ProductMix, product_mix(kind, name, coated, rate, 300))


def test_a_further_coat_goes_only_over_the_faces_that_get_it() -> None:
    assert layers([(D1, 3), (D2, 2)]) == (Layer(1, 2, (D1, D2)), Layer(3, 3, (D1,)))
    assert layers([(D1, 0), (D2, 1)]) == (Layer(1, 1, (D2,)),)
    assert layers([(D1, 0)]) == ()


@given(st.lists(st.integers(0, 4), min_size=1, max_size=6))
def test_layers_give_each_face_its_coats(counts: list[int]) -> None:
    faces = [Surface(Spot(f"D{i}"), 0.1) for i in range(len(counts))]
    found = layers(list(zip(faces, counts, strict=True)))
    for face, coats in zip(faces, counts, strict=True):
        got = sum(one.last - one.first + 1 for one in found if face in one.faces)
        assert got == coats


def test_one_product_adds_up_over_its_own_coats() -> None:
    """150 ml a m²: two coats on 2 m² are 600 ml, a third on 0.5 m² 75."""
    paint = of(PAINT, "paint", (3, 2), Rate(150, 150))
    assert (paint.coats, paint.ml, paint.least_ml) == (3, 675, 675)
    assert [(mix.coats, mix.coat_ml) for mix in paint.mixes] == [(2, 300), (1, 75)]


def test_each_product_is_said_by_itself_in_either_units() -> None:
    """Paint 2 × 2 m² × 150 ml; stain 2 m² at 50 to 80 ml."""
    litres = Litres(
        2.0, (of(STAIN, "stain", (1, 1), Rate(50, 80)), of(PAINT, "paint", (2, 2), Rate(150, 150)))
    )
    assert litres.sentence == (
        "For 2.0 m² have 160 ml of stain (1 coat of 100 ml to 160 ml), "
        "600 ml of paint (2 coats of 300 ml)."
    )
    assert litres.say(Measures.US) == (
        "For 22 ft² have 5.5 fl oz of stain (1 coat of 3.5 fl oz to 5.5 fl oz), "
        "20.5 fl oz of paint (2 coats of 10.0 fl oz)."
    )
    single = Litres(2.0, (of(PAINT, "paint", (1, 1), Rate(150, 150)),))
    assert single.sentence == "For 2.0 m² have 300 ml of paint (1 coat)."
    uneven = Litres(2.0, (of(PAINT, "paint", (1, 2), Rate(150, 150)),))
    assert uneven.sentence == "For 2.0 m² have 530 ml of paint (1 to 2 coats)."
    wiped = Litres(2.0, (of(STAIN, "stain", (1, 2), Rate(50, 80)),))
    assert wiped.sentence == (
        "For 2.0 m² have 280 ml of stain (1 to 2 coats, 175 ml to 280 ml in all)."
    )


def test_what_nobody_knows_is_told_and_never_nothing() -> None:
    unknown = of(CoatKind("shellac"), "shellac", (2, 2), None)
    assert (unknown.ml, unknown.least_ml, unknown.coats) == (None, None, 2)
    litres = Litres(2.0, (of(PAINT, "paint", (1, 1), Rate(100, 100)), unknown))
    assert litres.sentence == (
        "For 2.0 m² have 200 ml of paint (1 coat). "
        "How much is needed of shellac (2 coats) is not known."
    )
    assert Litres(2.0, (unknown,)).sentence == (
        "How much is needed of shellac (2 coats) is not known."
    )


def test_a_product_on_no_face_and_a_coat_too_many_are_refused() -> None:
    assert "no face" in refused(product_mix(PAINT, "paint", [(D1, 0)], None, 300))
    assert "coats" in refused(product_mix(PAINT, "paint", [(D1, 21)], Rate(1, 1), 300))


@pytest.mark.parametrize(
    ("ends", "said"), [((99.6, 100.4), "100 ml"), ((90, 100), "90 ml to 100 ml")]
)
def test_a_range_is_said_where_its_ends_differ(ends: tuple[float, float], said: str) -> None:
    assert show_range(*ends, Measures.METRIC) == said
