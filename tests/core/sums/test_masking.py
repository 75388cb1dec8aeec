from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench import trade
from partsbench.core.piece.spot import Spot
from partsbench.core.sums import tables
from partsbench.core.sums.masking import Cover, Hole, Laps, Masking, Take, masking
from partsbench.core.sums.units import Measures
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE


@pytest.fixture(scope="module")
def laps() -> Laps:
    return answered(Laps, tables.laps(trade.load("masking")))


def test_tape_paper_and_openings_by_hand(laps: Laps) -> None:
    """Lap 25, turn-in 50: tape 1050 + 450 + 250, and 2 × 700 + 8 × 25 round the opening; paper is
    the side itself, 1.0 × 0.45 m, and 0.6 × 0.3 m over the opening; an edge takes tape alone."""
    faces = [Cover(Spot("side"), (1000, 400), 450_000), Cover(Spot("edge"), (200,))]
    answer = answered(Masking, masking(faces, [Hole(Spot("H1"), 500, 200)], laps))
    assert answer.faces == (Take(Spot("side"), 1500, 0.45), Take(Spot("edge"), 250, 0))
    assert answer.openings == (Take(Spot("H1"), 1600, pytest.approx(0.18)),)
    assert answer.tape_mm == pytest.approx(1500 + 250 + 1600)
    assert answer.paper_m2 == pytest.approx(0.45 + 0.18)
    assert answer.sentence == (
        "Tape 3.4 m: 3 seams, round 1 opening. Paper 0.6 m²: 1 face in whole, 1 opening."
    )
    assert answer.say(Measures.US).startswith("Tape 11 ft")


@given(st.lists(st.floats(1, 3000), min_size=1, max_size=9), st.floats(1, 3000))
def test_one_seam_more_takes_more_tape(laps: Laps, lengths: list[float], more: float) -> None:
    here = answered(Masking, masking([Cover(Spot("side"), tuple(lengths))], [], laps))
    there = answered(Masking, masking([Cover(Spot("side"), (*lengths, more))], [], laps))
    assert there.tape_mm > here.tape_mm
    assert here.tape_mm >= sum(lengths)


@pytest.mark.parametrize("value", NONSENSE)
def test_lengths_that_cannot_be(laps: Laps, value: Any) -> None:
    assert "length of a seam of leg" in refused(masking([Cover(Spot("leg"), (value,))], [], laps))
    assert "width of D1" in refused(masking([], [Hole(Spot("D1"), value, 200)], laps))
    assert "height of D1" in refused(masking([], [Hole(Spot("D1"), 200, value)], laps))
    if value != 0:  # no paper at all
        assert "area of side" in refused(masking([Cover(Spot("side"), (), value)], [], laps))


def test_nothing_to_mask(laps: Laps) -> None:
    assert "no seam and no opening" in refused(masking([], [], laps))


def test_a_metre_of_tape_in_feet() -> None:
    """1 m is 3.28 ft (NIST Special Publication 811)."""
    metre = Masking(1, (Take(Spot("side"), 1000, 0),), (), (), ())
    assert metre.say(Measures.US).startswith("Tape 3.3 ft: 1 seam, round 0 openings.")
    assert metre.sentence.startswith("Tape 1.0 m: 1 seam")


def test_only_what_takes_paper_is_covered_in_whole(laps: Laps) -> None:
    edges = [Cover(Spot("C1", name), (200,)) for name in ("left edge", "right edge")]
    answer = answered(Masking, masking([*edges, Cover(Spot("C1", "top"), (), 90_000)], [], laps))
    assert [take.name.face for take in answer.whole] == ["top"]
    assert "1 face in whole" in answer.sentence
