from __future__ import annotations

from partsbench.core.finish.hands import Hands, fits, hands_for
from partsbench.core.finish.steps import Operation


def test_clean_hands_can_begin_anything():
    assert all(fits(operation, Hands.CLEAN) for operation in Operation)


def test_dusty_hands_sand_and_do_not_coat():
    assert fits(Operation.SAND, Hands.DUSTY)
    for operation in (Operation.COLOUR, Operation.MASK, Operation.STAIN):
        assert not fits(operation, Hands.DUSTY)


def test_what_is_wet_or_bites_asks_for_gloves():
    for operation in (Operation.WASH, Operation.STRIP, Operation.STAIN, Operation.CONDITION):
        assert hands_for(operation) is Hands.GLOVES
