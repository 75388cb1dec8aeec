"""Recipes at another volume, and tins that are never free of charge."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.mix import Recipe
from partsbench.core.sums.tins import Materials
from partsbench.services.shop import Shop
from partsbench.services.sums import mixing
from partsbench.services.sums.ground import SumGround, ground
from partsbench.services.sums.habits import NONE_SET
from partsbench.services.sums.mixing import materials, mix_again, read_level, read_recipe
from tests.support.shops import lay_out


@pytest.fixture
def piece(shop: Shop) -> Piece:
    made = lay_out(shop, "Heron", "2 1")
    assert isinstance(made, Piece)
    return made


def test_the_same_mix_again_keeps_its_ratio() -> None:
    found = mix_again(NONE_SET, {"clear": 26, "colour": 3, "water": 1}, "60 ml")
    assert isinstance(found, Recipe)
    assert dict(found.amounts) == {"clear": 52, "colour": 6, "water": 2}


@given(st.lists(st.integers(1, 60), min_size=1, max_size=4), st.floats(30, 3000, allow_nan=False))
def test_any_recipe_stays_within_a_percent_or_is_refused(parts: list[int], ml: float) -> None:
    ratio = {f"product {i}": float(part) for i, part in enumerate(parts)}
    found = mix_again(NONE_SET, ratio, f"{ml:.1f} ml")
    if isinstance(found, Refused):
        return
    whole = sum(ratio.values())
    for name, amount in found.amounts:
        share = ratio[name] / whole
        assert abs(amount / found.total_ml - share) <= 0.01 * share + 1e-9


@pytest.mark.parametrize("text", ["", "clear", "26", "x clear", "-3 clear", "0 clear"])
def test_recipes_that_say_nothing_are_refused(text: str) -> None:
    read = read_recipe(text)
    found = read if isinstance(read, Refused) else mix_again(NONE_SET, read, "60 ml")
    assert isinstance(found, Refused)


def cost(shop: Shop, piece: Piece) -> Materials:
    on = ground(shop, piece.tag)
    assert isinstance(on, SumGround)
    found = materials(shop, on.key)
    assert isinstance(found, Materials)
    return found


def test_part_used_tins_cost_their_share_by_volume_and_by_weight(shop: Shop, piece: Piece) -> None:
    """A third of 750 ml at 24 is 8; half of the kilogram in a 200 g tin at 30 is 15."""
    for done in (
        mixing.stock_tin(shop, "blue", "750 ml", price=24),
        mixing.use_tin(shop, piece.tag, "blue", "500 ml"),
        mixing.stock_tin(shop, "clear", "1.2 kg", price=30, empty="200 g"),
        mixing.use_tin(shop, piece.tag, "clear", "0.7 kg"),
    ):
        assert isinstance(done, Done), done
    assert dict(cost(shop, piece).by_tin) == pytest.approx({"blue": 8.0, "clear": 15.0})
    mixing.use_tin(shop, piece.tag, "blue", "250 ml")
    assert cost(shop, piece).cost == pytest.approx(31.0)
    assert "250 ml" in str(mixing.tell_tins(shop).rows)


def test_a_tin_without_a_price_is_missing_and_not_free(shop: Shop, piece: Piece) -> None:
    mixing.stock_tin(shop, "old", "1 l")
    mixing.use_tin(shop, piece.tag, "old", "400 ml")
    assert cost(shop, piece).lacks == ("the price of old",)


@pytest.mark.parametrize(
    ("left", "before", "told"),
    [
        ("900 ml", "", "more than before"),
        ("400 g", "", "kept by volume"),
        ("400", "", "has no unit"),
        ("400 ml", "9 l", "more than the tin holds"),
        ("lots", "", "cannot be read"),
    ],
)
def test_levels_that_cannot_be_are_refused(
    shop: Shop, piece: Piece, left: str, before: str, told: str
) -> None:
    mixing.stock_tin(shop, "blue", "750 ml", price=24)
    refused = mixing.use_tin(shop, piece.tag, "blue", left, before)
    assert isinstance(refused, Refused) and told in refused.sentence
    assert cost(shop, piece).by_tin == ()


@pytest.mark.parametrize(
    ("name", "holds", "more", "told"),
    [
        ("", "1 l", {}, "needs a name"),
        ("red", "lots", {}, "cannot be read"),
        ("red", "1 l", {"empty": "200 g"}, "both by volume or both by weight"),
        ("red", "200 g", {"empty": "300 g"}, "must be more"),
        ("red", "1 l", {"price": -2.0}, "must be more"),
    ],
)
def test_tins_that_cannot_be_are_refused(
    shop: Shop, name: str, holds: str, more: dict[str, object], told: str
) -> None:
    refused = mixing.stock_tin(shop, name, holds, **more)  # type: ignore[arg-type]
    assert isinstance(refused, Refused) and told in refused.sentence


def test_levels_are_read_by_their_unit() -> None:
    assert read_level("1/2 l") == (500.0, "ml")
    weighed = read_level("1.2 kg")
    assert not isinstance(weighed, Refused)
    assert weighed == (1200.0, "g")
