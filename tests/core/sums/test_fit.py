from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sources import Status
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.fit import (
    ALL_EDGES,
    Advice,
    Edge,
    Ends,
    Fit,
    Gaps,
    Measured,
    Paint,
    Play,
    Remedy,
    Season,
    fit,
)
from partsbench.core.sums.units import Measures
from partsbench.core.sums.wood import Cut, Wood
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE

WANTED = Play(
    Figure(0.5, "our rule", Status.COMMON_PRACTICE), Figure(0.5, "our rule", Status.COMMON_PRACTICE)
)
LOOSE = Measured(Ends(602, 602), Ends(600, 600), Ends(184, 184), Ends(180, 180))
SIX_COATS = Paint(0.198)
RAW = Paint(0)


@pytest.fixture
def walnut(woods: dict[str, Wood]) -> Season:
    return Season(woods["walnut-black"], Cut.FLAT, 8, 6, 12)


def test_film_and_season_in_one_answer(walnut: Season) -> None:
    """By hand: 2 × 0.198 a side; 180 × 0.00274 × 4 = 1.97 higher; top 4 - 0.792 × ... - 1.97."""
    answer = answered(Fit, fit(LOOSE, SIX_COATS, WANTED, walnut))
    assert answer.now.side == pytest.approx(1.0)
    assert answer.damp.side == answer.dry.side == pytest.approx(1 - 0.396)
    assert answer.swell_mm == pytest.approx(1.9728)
    assert answer.damp.top == pytest.approx(4 - 4 * 0.198 - 1.9728)
    assert answer.dry.top == pytest.approx(4 - 4 * 0.198 + 180 * 0.00274 * 2)
    assert answer.fits
    assert answer.lacks == ()
    assert answer.say() == (
        "The film takes 0.4 mm off each side; 0.6 mm is left. "
        "In a damp month the drawer may be 2.0 mm higher: 1.2 mm is left at the top."
    )
    assert "0.015 in off each side" in answer.say(Measures.US)
    assert "overestimates" in answer.caution


def test_the_worse_end_counts() -> None:
    tapered = replace(LOOSE, opening_width=Ends(602, 601))
    assert answered(Fit, fit(tapered, RAW, WANTED)).now.side == pytest.approx(0.5)


def test_a_case_does_not_move_in_width(walnut: Season) -> None:
    answer = answered(Fit, fit(LOOSE, RAW, WANTED, walnut))
    assert answer.dry.side == answer.now.side == answer.damp.side


def test_only_painted_faces_take_play() -> None:
    bare = Paint(0.2, drawer=frozenset({Edge.LEFT}), opening=frozenset())
    answer = answered(Fit, fit(LOOSE, bare, WANTED))
    assert answer.damp.side == pytest.approx(1 - 0.1)
    assert answer.damp.top == pytest.approx(4)


@pytest.mark.parametrize(
    ("width", "advice"),
    [
        (601.8, ()),  # 0.9 - 0.4 = 0.5 is what is wanted
        (601.5, (Advice(Remedy.WAX, "side"),)),  # 0.35
        (601.2, (Advice(Remedy.BARE, "side"),)),  # 0.2; bare it is 0.6
        (600.4, (Advice(Remedy.BARE, "side"), Advice(Remedy.PLANE, "side", 0.3))),  # bare: 0.2
    ],
)
def test_the_least_work_that_serves(width: float, advice: tuple[Advice, ...]) -> None:
    measured = replace(LOOSE, opening_width=Ends(width, width))
    assert answered(Fit, fit(measured, Paint(0.2), WANTED)).advice == advice


def test_advice_in_words() -> None:
    tight = replace(LOOSE, opening_width=Ends(600.4, 600.4))
    said = answered(Fit, fit(tight, Paint(0.2), WANTED)).sentence
    assert "0.2 mm too little is left" in said
    assert "Leave both sides bare. Plane 0.3 mm off each side before painting." in said


def test_what_is_not_known_is_named() -> None:
    narrow = Measured(opening_width=Ends(602, 602), drawer_width=Ends(600, 600))
    answer = answered(Fit, fit(narrow, SIX_COATS, WANTED))
    assert answer.damp.top is None
    assert answer.swell_mm is None
    assert "the drawer's height at both ends" in answer.lacks
    assert "the wood and the room's dry and damp months" in answer.lacks


@given(
    st.floats(600, 620), st.floats(0, 1), st.floats(0, 0.5), st.frozensets(st.sampled_from(Edge))
)
def test_more_film_or_more_painted_edges_never_leave_more_play(
    width: float, film: float, more: float, edges: frozenset[Edge]
) -> None:
    measured = replace(LOOSE, opening_width=Ends(width, width))
    here = answered(Fit, fit(measured, Paint(film, edges), WANTED))
    thicker = answered(Fit, fit(measured, Paint(film + more, edges), WANTED))
    all_round = answered(Fit, fit(measured, Paint(film, ALL_EDGES), WANTED))
    for other in (thicker, all_round):
        assert other.damp.side is not None
        assert here.damp.side is not None
        assert other.damp.side <= here.damp.side + 1e-9


def test_damper_now_than_in_the_damp_month_the_drawer_is_tightest_now(walnut: Season) -> None:
    """Measured at 14 %, the damp month 10 %: it shrinks, and what counts is the play now."""
    wet = replace(walnut, measured=14, dry=6, damp=10)
    found = answered(
        Fit, fit(replace(LOOSE, opening_height=Ends(181, 181)), Paint(0.2), WANTED, wet)
    )
    assert found.now.top == 1 and found.damp.top is not None and found.swell_mm is not None
    assert found.swell_mm < 0 and found.damp.top > 2
    assert found.least.top == pytest.approx(0.2)
    assert found.advice == (Advice(Remedy.BARE, "top"),)
    assert "It is damper now than in the damp month: 0.2 mm is left at the top." in found.sentence
    assert "-" not in found.sentence


@pytest.mark.parametrize("value", NONSENSE)
def test_sizes_that_cannot_be(value: Any) -> None:
    broken = replace(LOOSE, drawer_width=Ends(600, value))
    assert "drawer width" in refused(fit(broken, SIX_COATS, WANTED))
    assert "film" in refused(fit(LOOSE, Paint(value), WANTED))


@pytest.mark.parametrize("value", NONSENSE)
def test_heights_that_cannot_be_with_a_season(walnut: Season, value: Any) -> None:
    broken = replace(LOOSE, drawer_height=Ends(value, 180))
    assert "drawer height" in refused(fit(broken, SIX_COATS, WANTED, walnut))


def test_nothing_measured_and_seasons_the_wrong_way_round(walnut: Season) -> None:
    assert "neither width nor height" in refused(fit(Measured(), SIX_COATS, WANTED))
    wrong = replace(walnut, dry=12, damp=6)
    assert "damper than the damp one" in refused(fit(LOOSE, SIX_COATS, WANTED, wrong))


def test_moistures_that_cannot_be(walnut: Season) -> None:
    for season in (replace(walnut, dry=-1), replace(walnut, damp=40), replace(walnut, measured=31)):
        assert "moisture at the" in refused(fit(LOOSE, SIX_COATS, WANTED, season))


def test_only_a_height_was_measured(walnut: Season) -> None:
    tall = Measured(opening_height=Ends(184, 183), drawer_height=Ends(180, 181))
    answer = answered(Fit, fit(tall, Paint(0.1), WANTED, walnut))
    assert answer.now == Gaps(None, 2.0)
    assert answer.sentence.endswith(
        "0.4 mm too little is left at the top. Leave the top and bottom edges bare. "
        "Plane 0.5 mm off the top edge before painting."
    )
    waxed = answered(Fit, fit(replace(tall, opening_height=Ends(185.3, 185.3)), Paint(0), WANTED))
    assert waxed.fits
    tight = fit(replace(LOOSE, opening_width=Ends(600.6, 600.6)), Paint(0), WANTED)
    assert answered(Fit, tight).sentence.endswith("Tight: wax both sides.")


def test_sizes_that_never_went_together_are_asked_for_again() -> None:
    """A drawer 2 mm larger than its opening did not run in it: a slip, or another's drawer."""
    again = "all sizes once more: as noted it did not go in before"
    tight = Measured(Ends(599, 599), Ends(600, 600))
    assert again not in answered(Fit, fit(tight, RAW, WANTED)).lacks
    large = Measured(Ends(597, 597), Ends(600, 600))
    assert again in answered(Fit, fit(large, RAW, WANTED)).lacks
