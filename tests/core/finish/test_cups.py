from __future__ import annotations

from datetime import timedelta

from partsbench.core.finish.cups import Cup, Poured
from tests.support.faces import START, at

MIX = (Poured("clear", "A1", 52), Poured("colour", "B7", 6), Poured("water", "", 2))


def cup(**changes) -> Cup:
    return Cup(**{"key": "U1", "name": "topcoat", "poured": MIX, "made": START, **changes})


def test_a_cup_knows_its_tint_lots_and_pot_life():
    mixed = cup(tint=5, pot_life=timedelta(hours=2))
    assert mixed.tinted
    assert not cup().tinted
    assert ("colour", "B7") in mixed.lots
    assert not mixed.is_over(at("2 h"))
    assert mixed.is_over(at("3 h"))
    assert not cup().is_over(at("30 d"))


def test_a_cup_of_which_nothing_is_said_is_plain_and_still_to_be_strained():
    plain = Cup("U1", "blue", MIX, START)
    assert (plain.tint, plain.thinned, plain.strained) == (0, 0, False)
    assert not plain.tinted and cup(tint=0.5).tinted


def test_a_mix_is_used_to_the_last_second_of_its_pot_life():
    mixed = cup(pot_life=timedelta(hours=2))
    assert not mixed.is_over(at("2 h"))
    assert mixed.is_over(at("2 h") + timedelta(seconds=1))
