"""Films without a window: what counts, what is asked about, and never another label."""

from __future__ import annotations

import pytest

from partsbench.core.piece.codes import Code, Family
from tests.bench.film import watch
from tests.support.film import Film, Label, ruined_label
from tests.support.wall import verb_named

CODES = [str(Code("ZZZ9", Family.DRAWER, n)) for n in range(1, 9)]
D1, D2, D3, *_ = CODES


def test_drawers_carried_past_slowly_are_read_each_once() -> None:
    film = Film()
    for code in CODES[:3]:
        film.carried_past(code, 4.0)
    told = watch(film, CODES)
    assert [code for _, code in told.counted] == CODES[:3]
    assert told.asked == []


@pytest.mark.parametrize(("turn", "y"), [(15, 270), (45, 270), (90, 400), (200, 270)])
def test_a_label_at_an_angle_counts_within_a_third_of_a_second(turn: int, y: int) -> None:
    """On end, only one of its symbols is in the picture."""
    told = watch(Film().empty(1.0).still(1.5, Label(D2, turn=turn, y=y)), CODES)
    ((at, code),) = told.counted
    assert code == D2
    assert 1.0 <= at < 1.34


def test_of_two_labels_each_counts_once() -> None:
    told = watch(Film().still(3, Label(D1, y=140), Label(D2, y=400)), CODES)
    assert sorted(code for _, code in told.counted) == [D1, D2]


def test_a_sheet_of_labels_is_no_scan_and_neither_are_two_codes_of_the_wall() -> None:
    places = [(60, 140), (900, 140), (60, 400), (900, 400)]
    sheet = [Label(code, x, y) for code, (x, y) in zip(CODES, places, strict=False)]
    assert watch(Film().still(2, *sheet), CODES).counted == []
    wall = [Label(verb_named(name).code, y=y) for name, y in (("UNDO", 140), ("OUT", 400))]
    assert watch(Film().still(2, *wall), CODES).counted == []


@pytest.mark.parametrize("seed", range(724, 732))
def test_a_ruined_label_is_never_another_one_that_counts(seed: int) -> None:
    """It counts, is asked about, or is not read; what counts without a question is right."""
    told = watch(Film(fps=5).empty(0.4).still(3, ruined_label(D3, seed)), CODES)
    assert {code for _, code in told.counted} <= {D3}
    assert len(told.counted) + len(told.asked) <= 1


def test_ruined_labels_that_are_held_still_are_mostly_answered() -> None:
    answers = [
        watch(Film(fps=5).still(2, ruined_label(D3, seed, 2)), CODES) for seed in range(700, 706)
    ]
    answered = [{code for _, code in told.counted + told.asked} for told in answers]
    assert answered.count({D3}) >= 4


def test_none_for_a_minute_is_nothing_and_soon_costs_nothing() -> None:
    told = watch(Film(fps=2).empty(60), CODES)
    assert told.counted == told.asked == []
    assert len(told.hard) <= 3
