from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.cups import SAME_RATIO, Cup, Poured, Recipe, again
from partsbench.core.sums.refusal import Refusal
from tests.support.faces import START, at

MIX = (Poured("clear", "A1", 52), Poured("colour", "B7", 6), Poured("water", "", 2))


def cup(**changes) -> Cup:
    return Cup(**{"key": "U1", "name": "topcoat", "poured": MIX, "made": START, **changes})


def test_the_same_mix_at_another_volume():
    # Worked example: 60 ml of touch-up are 52 clear, 6 colour, 2 water.
    recipe = again(cup(), 60)
    assert isinstance(recipe, Recipe)
    assert recipe.sentence == "For 60 ml: 52 clear, 6 colour, 2 water."
    assert recipe.off == 0


def test_a_finer_measure_is_used_only_where_it_must_be():
    recipe = again(cup(), 600)
    assert [m.ml for m in recipe.measures] == [520, 60, 20]
    small = again(cup(), 7)
    assert any(m.ml != round(m.ml) for m in small.measures)


@given(
    st.lists(st.floats(0.5, 100), min_size=1, max_size=5),
    st.floats(5, 2000),
)
def test_no_share_is_off_by_more_than_one_percent(parts, volume):
    mix = cup(poured=tuple(Poured(str(i), "", p) for i, p in enumerate(parts)))
    recipe = again(mix, volume)
    made = sum(m.ml for m in recipe.measures)
    shares = [p / sum(parts) for p in parts]
    off = [abs(m.ml / made - s) / s for m, s in zip(recipe.measures, shares, strict=True)]
    assert max(off) == pytest.approx(recipe.off, abs=1e-9)
    if min(shares) * volume > 1:
        assert recipe.off <= SAME_RATIO


def test_what_cannot_be_mixed_is_refused():
    assert isinstance(again(cup(), 0), Refusal)
    assert isinstance(again(cup(poured=()), 60), Refusal)


def test_a_cup_knows_its_tint_lots_and_pot_life():
    mixed = cup(tint=5, pot_life=timedelta(hours=2))
    assert mixed.tinted
    assert not cup().tinted
    assert ("colour", "B7") in mixed.lots
    assert not mixed.is_over(at("2 h"))
    assert mixed.is_over(at("3 h"))
    assert not cup().is_over(at("30 d"))
