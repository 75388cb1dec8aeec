from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench import trade
from partsbench.core.sums import tables
from partsbench.core.sums.masking import Hole, Laps, Masking, Seam, masking
from partsbench.core.sums.units import Measures
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE


@pytest.fixture(scope="module")
def laps() -> Laps:
    return answered(Laps, tables.laps(trade.load("masking")))


def test_tape_paper_and_openings_by_hand(laps: Laps) -> None:
    """Laps 25, skirt 300, turn-in 50: tape 1050 + 450 + (2 × 700 + 8 × 25); paper 1.05 × 0.3."""
    seams = [Seam("top to side", 1000, papered=True), Seam("leg", 400)]
    answer = answered(Masking, masking(seams, [Hole("D1", 500, 200)], laps))
    assert answer.tape_mm == pytest.approx(1050 + 450 + 1600)
    assert answer.paper_m2 == pytest.approx(1.05 * 0.3 + 0.6 * 0.3)
    assert answer.sentence == (
        "2 seams, 3.1 m of tape, 1 opening to paper, 0.5 m² of paper in all."
    )
    assert "10 ft of tape" in answer.say(Measures.US)


@given(st.lists(st.floats(1, 3000), min_size=1, max_size=9), st.floats(1, 3000))
def test_one_seam_more_takes_more_tape(laps: Laps, lengths: list[float], more: float) -> None:
    seams = [Seam(f"s{i}", mm) for i, mm in enumerate(lengths)]
    here = answered(Masking, masking(seams, [], laps))
    there = answered(Masking, masking([*seams, Seam("another", more)], [], laps))
    assert there.tape_mm > here.tape_mm
    assert here.tape_mm >= sum(lengths)


@pytest.mark.parametrize("value", NONSENSE)
def test_lengths_that_cannot_be(laps: Laps, value: Any) -> None:
    assert "length of leg" in refused(masking([Seam("leg", value)], [], laps))
    assert "width of D1" in refused(masking([], [Hole("D1", value, 200)], laps))
    assert "height of D1" in refused(masking([], [Hole("D1", 200, value)], laps))


def test_nothing_to_mask(laps: Laps) -> None:
    assert "no seam and no opening" in refused(masking([], [], laps))


def test_a_metre_of_tape_in_feet() -> None:
    """1 m is 3.28 ft (NIST Special Publication 811)."""
    metre = Masking(1, 0, 1000, 0, (), ())
    assert metre.say(Measures.US).startswith("1 seam, 3.3 ft of tape, 0 openings to paper")
    assert metre.sentence.startswith("1 seam, 1.0 m of tape")
