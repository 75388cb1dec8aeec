"""Stints from finish paths: batches by window, cup and arms; waits with both ends."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from partsbench.core.finish.progress import Mark, progress
from partsbench.core.finish.steps import Operation, Per
from partsbench.core.finish.waits import Air, WaitFigures
from partsbench.core.piece.spot import Spot
from partsbench.core.plan.making import Bundle, Made, Ways, make
from partsbench.core.plan.workshop import Stint
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
    pace = Ways(WAITS, {(Operation.WASH, Per.PART): [10.0] * 5})
    assert make([bundle()], pace, NOW).stints[0].minutes == 30


def test_a_part_that_is_away_begins_when_it_is_back() -> None:
    away = bundle()
    back = Bundle(away.piece, away.codename, away.faces, away.at, NOW + timedelta(days=1),
                  why="it is back then")  # fmt: skip
    first = make([back], WAYS, NOW).stints[0]
    assert (first.soonest, first.why_soonest) == (24 * 60, "it is back then")


def two_paths(front: str, sides: str, parts: int = 3, more: int = 0) -> list[Bundle]:
    """Drawers with their fronts on one path and their sides on another; `more` have sides only."""
    one = bundle(front, parts)
    at = progress(PATHS[sides].suited(frozenset(), frozenset()), ())
    faces = tuple((f"D{n + 1}", "left side", 0.05) for n in range(parts + more))
    return [one, Bundle("P", "Heron", faces, at)]


def of(made: Made, step: str) -> list[Stint]:
    return [s for s in made.stints if s.key.endswith(f"|{step}")]


def test_a_drawer_on_two_paths_is_washed_once() -> None:
    made = make(two_paths("clear", "paint"), WAYS, NOW)
    (wash,), (rinse,) = of(made, "wash"), of(made, "rinse")
    assert (wash.minutes, wash.name) == (24, "Heron D1, D2, D3: Wash")
    assert rinse.minutes == of(make([bundle("clear")], WAYS, NOW), "rinse")[0].minutes
    for face in ("front", "left side"):
        assert made.of["P", Spot("D2", face), "wash"] == wash.key
    # Both sandings wait for the one rinsing; each path then goes its own way.
    sanding = of(made, "sand_150")
    assert len(sanding) == 2
    assert {x.after for x in made.lags if x.before == rinse.key} == {s.key for s in sanding}
    for sand in sanding:
        waits = [x.least for x in made.lags if (x.before, x.after) == (rinse.key, sand.key)]
        assert max(waits) == 12 * 60


def test_parts_that_others_do_not_take_along_are_washed_too() -> None:
    made = make(two_paths("clear", "paint", more=2), WAYS, NOW)
    first, rest = of(made, "wash")
    assert (first.minutes, rest.minutes) == (24, 16)
    assert rest.name == "Heron D4, D5: Wash"
    rinsed = of(made, "rinse")
    pairs = {(x.before, x.after) for x in made.lags}
    assert (first.key, rinsed[0].key) in pairs and (rest.key, rinsed[1].key) in pairs
    assert (first.key, rinsed[1].key) not in pairs, "other parts"
    sides = next(s for s in of(made, "sand_150") if "D4" in s.name or "…" in s.name)
    assert {a for a, b in pairs if b == sides.key} == {s.key for s in rinsed}


def test_faces_that_stand_apart_are_washed_apart() -> None:
    """The fronts are washed already: the sides have a go of their own."""
    fronts, sides = two_paths("clear", "paint")
    washed = replace(fronts, at=progress(fronts.at.path, [Mark("wash", NOW), Mark("rinse", NOW)]))
    made = make([washed, sides], WAYS, NOW)
    (wash,) = of(made, "wash")
    assert made.of["P", Spot("D1", "left side"), "wash"] == wash.key
    assert ("P", Spot("D1", "front"), "wash") not in made.of


def test_another_piece_is_washed_by_itself() -> None:
    one, two = two_paths("clear", "paint")
    made = make([one, replace(two, piece="Q")], WAYS, NOW)
    assert len(of(made, "wash")) == 2


def test_masks_in_the_middle_of_two_paths_are_not_one_go() -> None:
    """Both are worked by the part, but each waits for its own path."""
    one, two = two_paths("paint", "clear")
    seam = frozenset({"seam"})
    ways = [replace(b, at=progress(b.at.path.suited(seam, frozenset()), ())) for b in (one, two)]
    made = make(ways, WAYS, NOW)
    assert len(of(made, "mask")) == 2
