"""Papers of the two systems, held against one another."""

from __future__ import annotations

import pytest

from partsbench.core.sources import Status
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.papers import CAMI, Grit, Likeness, P, likeness
from partsbench.core.sums.units import Measures
from tests.core.sums.answers import answered, refused


def paper(system: str, number: int, micron: float) -> Grit:
    return Grit(system, number, Figure(micron, f"{system} chart", Status.MAKERS_SHEET))


MADE = (paper(P, 180, 80), paper(P, 400, 35), paper(CAMI, 180, 84), paper(CAMI, 320, 36),
        paper(CAMI, 400, 22))  # fmt: skip
PAPERS = {(each.system, each.number): each for each in MADE}


@pytest.mark.parametrize(
    ("asked", "nearest", "namesake"),
    [
        ("P400", "320 (CAMI)", "400 (CAMI)"),
        ("p 400", "320 (CAMI)", "400 (CAMI)"),
        ("400", "P400", "P400"),
        ("CAMI 320", "P400", None),
        ("P180", "180 (CAMI)", "180 (CAMI)"),
    ],
)
def test_the_nearest_grain_and_the_same_number(asked: str, nearest: str, namesake: str) -> None:
    found = answered(Likeness, likeness(PAPERS, asked))
    assert found.nearest.name == nearest
    assert (found.namesake.name if found.namesake else None) == namesake


def test_a_namesake_that_is_not_the_nearest_is_warned_of() -> None:
    found = answered(Likeness, likeness(PAPERS, "P400"))
    assert found.sentence == (
        "P400 has grains of 0.035 mm on average; 320 (CAMI) comes nearest with 0.036 mm. "
        "400 (CAMI) is finer: 0.022 mm."
    )
    coarser = Likeness(MADE[4], MADE[0], MADE[1])
    assert coarser.sentence.endswith("P400 is coarser: 0.035 mm.")
    assert "mil" in found.say(Measures.US) and "mm" not in found.say(Measures.US)
    assert found.sources == ("P chart (maker's sheet)", "CAMI chart (maker's sheet)")


@pytest.mark.parametrize("asked", ["", "P", "P401", "fine", "-400", "400.0", "٤٠٠", "P400P"])
def test_what_is_no_paper_is_refused_with_those_there_are(asked: str) -> None:
    assert "is none of P180, P400, 180 (CAMI)" in refused(likeness(PAPERS, asked))


def test_grains_are_told_in_thousandths_of_a_millimetre() -> None:
    assert paper(P, 16, 1000).grain(Measures.METRIC) == "1.000 mm"
    assert paper(P, 400, 35.4).grain(Measures.METRIC) == "0.035 mm"
