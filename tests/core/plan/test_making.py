"""Stints from finish paths: batches by window, cup and arms; waits with both ends."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from partsbench.core.finish.progress import Mark, progress
from partsbench.core.finish.steps import Operation, Per
from partsbench.core.finish.waits import Air, WaitFigures
from partsbench.core.plan.making import Bundle, Made, Ways, make
from partsbench.services.known import climate
from tests.support.faces import PATHS

NOW = datetime(2031, 3, 3, 9, 0, tzinfo=UTC)
WAITS = WaitFigures(climate.products())
WAYS = Ways(WAITS, {}, ml_per_m2=lambda _: 100.0, cup_ml=600.0)


def bundle(path: str = "paint", fronts: int = 3, done: tuple[str, ...] = (), ago: float = 0.0,
           m2: float = 0.2, cases: frozenset[str] = frozenset()) -> Bundle:  # fmt: skip
    marks = [Mark(step, NOW - timedelta(hours=ago)) for step in done]
    at = progress(PATHS[path].suited(cases, frozenset()), marks)
    return Bundle("P", "Heron", tuple((f"D{n + 1}", "front", m2) for n in range(fronts)), at)


def lag(made: Made, before: str, after: str) -> tuple[int, int | None]:
    found = [
        x for x in made.lags if x.before.endswith(f"|{before}") and x.after.endswith(f"|{after}")
    ]
    most = [x.most for x in found if x.most is not None]
    return max(x.least for x in found), min(most, default=None)


def test_a_batch_washes_part_by_part_and_waits_for_the_last() -> None:
    made = make([bundle()], WAYS, NOW)
    wash = made.stints[0]
    assert (wash.name, wash.minutes) == ("Heron D1, D2, D3: Wash", 24)
    assert lag(made, "rinse", "sand_150") == (12 * 60, None)


def test_the_window_of_a_batch_is_shorter_by_the_work_in_it() -> None:
    made = make([bundle()], WAYS, NOW)
    # Scuffing three fronts takes 12 minutes; a day after the first of them the last coat is on.
    assert lag(made, "sand_150", "colour_1") == (0, 24 * 60 - 12)


def test_the_guns_set_up_is_its_own_and_not_in_the_minutes() -> None:
    made = make([bundle()], WAYS, NOW)
    coat = next(s for s in made.stints if s.key.endswith("|colour_1"))
    assert (coat.minutes, coat.use, coat.loud) == (6, "spray", True)
    assert coat.ml == pytest.approx(60.0)
    assert coat.mix.endswith("of P")


def test_clear_coats_of_all_pieces_share_a_mix_and_colours_do_not() -> None:
    made = make([bundle("clear")], WAYS, NOW)
    clear = {s.mix for s in made.stints if s.mix}
    assert clear == {"clear_water"}


def test_more_than_a_cup_is_more_than_a_batch() -> None:
    many = make([bundle(fronts=6, m2=2.0)], WAYS, NOW)
    coats = [s for s in many.stints if s.key.endswith("|colour_1")]
    assert len(coats) == 2
    assert all(s.ml <= 600.0 for s in coats)


def test_more_than_a_windows_fronts_are_more_than_a_batch() -> None:
    oil = frozenset({"conditioner_oil"})
    few = make([bundle("stain", 1, cases=oil)], WAYS, NOW)
    many = make([bundle("stain", 12, cases=oil)], WAYS, NOW)
    one = [s for s in few.stints if s.key.endswith("|condition")]
    parted = [s for s in many.stints if s.key.endswith("|condition")]
    assert len(one) == 1
    assert len(parted) > 2


def test_what_is_done_bounds_what_is_next_from_its_own_time() -> None:
    made = make([bundle(done=("wash", "rinse"), ago=2.0)], WAYS, NOW)
    assert (made.stints[0].soonest, made.stints[0].why_soonest) == (
        10 * 60,
        "Rinse with clear water first needs 12 h",
    )
    coat = make([bundle(done=("wash", "rinse", "sand_150"), ago=20.0)], WAYS, NOW).stints[0]
    assert coat.by == 4 * 60 - coat.minutes
    assert "within" in coat.why_by


def test_a_window_that_is_over_sends_back_as_its_path_says() -> None:
    made = make([bundle(done=("wash", "rinse", "sand_150"), ago=25.0)], WAYS, NOW)
    assert made.stints[0].key.endswith("|sand_150")
    assert made.said == (
        "Heron D1, D2, D3: The scuff has gone stale: scuff again at 150 and wipe.",
    )


def test_damp_air_and_own_pace_count() -> None:
    damp = Ways(WaitFigures(climate.products(), air=Air(2.0)), {})
    assert lag(make([bundle()], damp, NOW), "colour_1", "sand_220")[0] == 8 * 60
    pace = Ways(WAITS, {(Operation.WASH, Per.PART): [10.0] * 3})
    assert make([bundle()], pace, NOW).stints[0].minutes == 30


def test_a_part_that_is_away_begins_when_it_is_back() -> None:
    away = bundle()
    back = Bundle(away.piece, away.codename, away.faces, away.at, NOW + timedelta(days=1),
                  why="it is back then")  # fmt: skip
    first = make([back], WAYS, NOW).stints[0]
    assert (first.soonest, first.why_soonest) == (24 * 60, "it is back then")
