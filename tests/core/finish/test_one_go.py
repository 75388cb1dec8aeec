from __future__ import annotations

import pytest

from partsbench.core.finish.one_go import in_one_go
from partsbench.core.finish.products import TinCard, TinWait
from partsbench.core.finish.steps import Operation, Per
from partsbench.core.finish.waits import WaitFigures
from tests.support.faces import PRODUCTS, SHOP, hours, path, step

STAIN = path("stain", "conditioner_oil")


def test_conditioned_fronts_are_counted_by_hand() -> None:
    """Conditioner 2 min a front, soaked at least 5 and at most 15, wiped 1, stained 6 within 30.

    Of k fronts the last is stained from max(2k, 7) + k + 6 (k - 1) on, and was wiped 1 min after
    max(2k, 7) + k - 1. For k = 6: 12 + 6 + 30 = 48 against 18 + 30, just kept; for k = 7:
    14 + 7 + 36 = 57 against 21 + 30. But the stain itself is wiped within 15 min of its end, which
    two fronts keep (6 + 5) and four do not (18 > 15): three stay.
    """
    assert in_one_go(STAIN, step(STAIN, "stain"), SHOP, {}) == 3
    assert in_one_go(STAIN, step(STAIN, "condition"), SHOP, {}) == 3


@pytest.mark.parametrize(("minutes", "fronts"), [(3.0, 6), (12.0, 2), (16.0, 1)])
def test_the_shops_own_pace_counts(minutes: float, fronts: int) -> None:
    """The first front waits for its wiping until the last is stained: (k - 1) x pace <= 15."""
    own = {(Operation.STAIN, Per.FACE): [minutes] * 5}
    assert in_one_go(STAIN, step(STAIN, "stain"), SHOP, own) == fronts


def test_a_tin_that_closes_sooner_leaves_fewer() -> None:
    tin = TinCard("walnut", "conditioner_oil", {"stain": TinWait(None, hours("10 min"))})
    strict = WaitFigures(PRODUCTS, {"conditioner_oil": tin})
    assert in_one_go(STAIN, step(STAIN, "condition"), strict, {}) == 2


def test_no_window_no_advice() -> None:
    assert in_one_go(STAIN, step(STAIN, "wash"), SHOP, {}) is None
    assert in_one_go(STAIN, step(STAIN, "clear_1"), SHOP, {}) is None


@pytest.mark.parametrize(("minutes", "fronts"), [("58 min", 39), ("59 min", None)])
def test_more_than_forty_at_once_is_no_matter_of_the_window(minutes: str, fronts: int) -> None:
    """Stain at 1.5 min a front: the first waits (k - 1) x 1.5 min, 57 for 39 and 58.5 for 40."""
    own = {(Operation.STAIN, Per.FACE): [1.5] * 5}
    tin = TinCard("slow", "stain_oil", {"wipe stain": TinWait(None, hours(minutes))})
    patient = WaitFigures(PRODUCTS, {"stain_oil": tin})
    assert in_one_go(STAIN, step(STAIN, "stain"), patient, own) == fronts
