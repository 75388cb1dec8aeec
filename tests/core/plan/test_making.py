"""Stints from finish paths: batches by window, cup and arms; waits with both ends."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest

from partsbench.core.finish.one_go import in_one_go
from partsbench.core.finish.progress import Mark, progress
from partsbench.core.finish.steps import Operation, Per
from partsbench.core.finish.waits import Air, WaitFigures
from partsbench.core.piece.spot import Spot
from partsbench.core.plan.making import SLOWER, Bundle, Made, Ways, make
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


def rows(made: Made) -> list[tuple[object, ...]]:
    """Step, minutes, use, ml and m² in tenths, and minutes on the rack, of each stint in order."""
    return [
        (s.key.split("|")[2], s.minutes, s.use, round(s.ml * 10), round(s.m2 * 10), s.lies)
        for s in made.stints
    ]


def waits(made: Made) -> list[tuple[str, str, int, int | None]]:
    """What waits for what, beside the order of the path."""
    return [
        (x.before.split("|")[2], x.after.split("|")[2], x.least, x.most)
        for x in made.lags
        if x.least or x.most is not None
    ]


def test_the_whole_of_a_painted_front_in_three() -> None:
    """From the tables: a coat of the gun without its set-up, what lies on the rack and how long,
    and each window less the work that is longest of the steps at its two ends."""
    made = make([bundle(cases=frozenset({"seam"}))], replace(WAYS, rack_m2=2.0), NOW)
    assert rows(made) == [
        ("wash", 24, "", 0, 0, 0),
        ("rinse", 5, "", 0, 0, 0),
        ("sand_150", 12, "dust", 0, 0, 0),
        ("mask", 30, "", 0, 0, 0),
        ("colour_1", 6, "spray", 600, 6, 240),
        ("sand_220", 9, "dust", 0, 0, 0),
        ("colour_2", 6, "spray", 600, 6, 240),
        ("sand_400", 9, "dust", 0, 0, 0),
        ("colour_3", 6, "spray", 600, 6, 720),
        ("topcoat_1", 6, "spray", 600, 6, 240),
        ("sand_between_1", 9, "dust", 0, 0, 0),
        ("topcoat_2", 6, "spray", 600, 6, 240),
        ("unmask", 30, "", 0, 0, 0),
    ]
    day = 24 * 60
    assert waits(made) == [
        ("rinse", "sand_150", 720, None),
        ("sand_150", "mask", 0, day - 30),
        ("sand_150", "colour_1", 0, day - 12),
        ("colour_1", "sand_220", 240, None),
        ("colour_2", "sand_400", 240, None),
        ("colour_3", "topcoat_1", 720, day - 6),
        ("topcoat_1", "sand_between_1", 240, None),
        ("topcoat_2", "unmask", 60, day - 30),
    ]
    # Each also comes after the one before it, and says so.
    order = {(x.before, x.after): x.why for x in made.lags if not x.least and x.most is None}
    pairs = list(pairwise(s.key for s in made.stints))
    assert list(order) == pairs
    assert order[pairs[3]] == "Colour coat 1, thin comes after it"
    assert len(made.lags) == len(waits(made)) + len(order)
    first = made.stints[0]
    assert made.steps[first.key].key == "wash"
    assert [(s.hands, s.room, s.kind) for s in made.stints] == [
        (1, "shop" if s.use else "", "D") for s in made.stints
    ]


def test_a_window_is_never_shorter_than_its_wait() -> None:
    """Two fronts take the whole of the quarter of an hour in which stain is to be wiped."""
    made = make([bundle("stain", 2)], WAYS, NOW)
    assert lag(made, "stain", "wipe") == (5, 5)


def test_a_shop_that_told_nothing_has_one_room_and_a_gun_without_bounds() -> None:
    ways = Ways(WAITS, {})
    assert (ways.turning, ways.rack_m2, set(ways.rooms.values())) == (0, None, {"shop"})
    (coat,) = of(make([bundle(fronts=9, m2=9.0)], ways, NOW), "colour_1")
    assert coat.ml == 0


def test_nothing_lies_on_a_rack_that_nobody_told_of() -> None:
    assert {s.m2 for s in make([bundle()], WAYS, NOW).stints} == {0.0}


@pytest.mark.parametrize(("fronts", "batches"), [(18, 1), (19, 2), (36, 2), (37, 3)])
def test_nobody_goes_on_for_more_than_three_hours(fronts: int, batches: int) -> None:
    ways = replace(WAYS, own={(Operation.WASH, Per.PART): [10.0] * 5}, cup_ml=9e9)
    washes = of(make([bundle(fronts=fronts, m2=0.01)], ways, NOW), "wash")
    assert len(washes) == batches
    assert sum(s.minutes for s in washes) == 10 * fronts
    assert max(s.minutes for s in washes) - min(s.minutes for s in washes) <= 10


@pytest.mark.parametrize(("rack", "batches"), [(1.2, 1), (1.19, 2), (0.6, 2), (0.39, 4)])
def test_a_batch_finds_its_place_on_the_rack(rack: float, batches: int) -> None:
    made = make([bundle(fronts=6)], replace(WAYS, rack_m2=rack), NOW)
    assert len(of(made, "colour_1")) == batches


@pytest.mark.parametrize(("cup", "batches"), [(120.0, 1), (119.0, 2), (1.0, 6)])
def test_a_batch_fits_into_a_cup_as_far_as_it_can_be_parted(cup: float, batches: int) -> None:
    made = make([bundle(fronts=6)], replace(WAYS, cup_ml=cup), NOW)
    assert len(of(made, "colour_1")) == batches


def test_edges_of_a_front_are_not_worked_by_themselves() -> None:
    """So many fronts as are stained in one go, with their edges too: the batches stay the same."""
    one = bundle("stain", 12, cases=frozenset({"conditioner_oil"}))
    edges = tuple((part, "left edge", 0.01) for part, _, _ in one.faces)
    backs = tuple((part, "back", 0.01) for part, _, _ in one.faces)
    count = len(of(make([one], WAYS, NOW), "condition"))
    with_edges = make([replace(one, faces=(*one.faces, *edges))], WAYS, NOW)
    with_backs = make([replace(one, faces=(*one.faces, *backs))], WAYS, NOW)
    assert len(of(with_edges, "condition")) == count
    assert len(of(with_backs, "condition")) > count


def test_hands_that_are_half_as_slow_again_still_keep_the_window() -> None:
    one = bundle("stain", 12, cases=frozenset({"conditioner_oil"}))
    step = next(s for s in one.at.path.steps if s.key == "condition")
    at_once = in_one_go(one.at.path, step, WAITS, {})
    assert at_once is not None
    made = make([one], WAYS, NOW)
    fronts = Counter(key for (_, _, did), key in made.of.items() if did == "condition")
    assert sum(fronts.values()) == 12
    assert max(fronts.values()) <= max(1, at_once / SLOWER)


def test_what_nobody_is_quick_enough_for_is_done_one_by_one() -> None:
    one = bundle("stain", 4, cases=frozenset({"conditioner_oil"}))
    slow = replace(WAYS, own={(Operation.CONDITION, Per.FACE): [14.0] * 5})
    assert len(of(make([one], slow, NOW), "condition")) == 4


def test_a_turned_part_is_turned_by_two_before_each_coat() -> None:
    turned = replace(bundle(done=("wash", "rinse", "sand_150", "colour_1"), ago=3), turned=True)
    made = make([turned], replace(WAYS, turning=15), NOW)
    turns = [s for s in made.stints if s.work == "turn"]
    assert [s.key.split("|")[2] for s in turns] == [
        "colour_2",
        "colour_3",
        "topcoat_1",
        "topcoat_2",
    ]
    assert {(s.minutes, s.hands, s.does) for s in turns} == {(15, 2, "turn over, two of you")}
    assert turns[0].name == "Heron D1, D2, D3: turn over, two of you"
    found = {(x.before, x.after): x for x in made.lags}
    for turn in turns:
        coat = turn.key.removesuffix("|turn")
        assert found[turn.key, coat].why == "it is turned over first"
        waits = {b: x.least for (b, after), x in found.items() if after == coat and b != turn.key}
        assert {b: x.least for (b, after), x in found.items() if after == turn.key} == waits


def test_nobody_turns_what_is_wet() -> None:
    steps = ["wash", "rinse", "sand_150", "colour_1", "sand_220", "colour_2", "sand_400"]
    one = replace(bundle(done=tuple(steps)), turned=True)
    before = make([one], replace(WAYS, turning=15), NOW)
    turn = "P|D1 front|topcoat_1|turn"
    assert lag(before, "colour_3", "topcoat_1|turn") == (12 * 60, None)
    one = replace(bundle(done=(*steps, "colour_3")), turned=True)
    after = {s.key: s for s in make([one], replace(WAYS, turning=15), NOW).stints}
    assert after[turn].soonest == 12 * 60
    assert "needs 12 h" in after[turn].why_soonest


def test_without_turning_or_a_minute_for_it_nothing_is_turned() -> None:
    turned = replace(bundle(done=("wash", "rinse", "sand_150", "colour_1"), ago=3), turned=True)
    plain = make([replace(turned, turned=False)], replace(WAYS, turning=15), NOW)
    nobody = make([turned], WAYS, NOW)
    assert not [s for s in (*plain.stints, *nobody.stints) if s.work == "turn"]


def test_more_than_three_parts_are_named_by_the_first_three() -> None:
    assert make([bundle(fronts=3)], WAYS, NOW).stints[0].where == "Heron D1, D2, D3"
    assert make([bundle(fronts=4)], WAYS, NOW).stints[0].where == "Heron D1, D2, D3…"


def test_parts_of_several_kinds_have_no_kind_in_common() -> None:
    one = bundle(fronts=1)
    mixed = replace(one, faces=(*one.faces, ("L1", "front", 0.1)))
    assert make([one], WAYS, NOW).stints[0].kind == "D"
    assert make([mixed], WAYS, NOW).stints[0].kind == ""


def test_a_window_that_is_over_is_mended_ahead_where_its_path_says_so() -> None:
    done = ("wash", "rinse", "sand_150", "colour_1", "sand_220", "colour_2", "sand_400", "colour_3")
    late = make([bundle(done=done, ago=25.0)], WAYS, NOW)
    assert late.stints[0].key.endswith("|scuff_400")
    assert late.said == (
        "Heron D1, D2, D3: The recoat window has closed: scuff at 400, wipe, then the topcoat.",
    )
    # In time it is not scuffed, and has to be done in what is left of the day.
    in_time = make([bundle(done=done, ago=20.0)], WAYS, NOW)
    assert in_time.said == ()
    coat = in_time.stints[0]
    assert coat.key.endswith("|topcoat_1")
    assert (coat.soonest, coat.by) == (0, 4 * 60 - coat.minutes)
    just = make([bundle(done=done, ago=24.0)], WAYS, NOW).stints[0]
    assert just.by == 0, "all of it at once"


def test_what_is_late_anyway_has_no_latest_end_and_sends_nothing_back() -> None:
    """An hour after the stain it is wiped all the same, with care."""
    done = ("wash", "rinse", "sand_150", "sand_220", "stain")
    wipe = make([bundle("stain", done=done, ago=1.0)], WAYS, NOW).stints[0]
    assert wipe.key.endswith("|wipe")
    assert (wipe.by, wipe.soonest) == (None, 0)
    in_time = make([bundle("stain", done=done, ago=0.1)], WAYS, NOW).stints[0]
    # Six minutes ago: nine are left, and five of them are the work.
    assert (in_time.by, in_time.soonest) == (4, 0)


def test_nothing_is_left_of_what_is_finished() -> None:
    path = PATHS["clear"].suited(frozenset(), frozenset())
    keys = tuple(s.key for s in path.steps if not s.optional)
    made = make([bundle("clear", done=keys, ago=1.0)], WAYS, NOW)
    assert (made.stints, made.lags, made.said) == ((), (), ())


def test_of_two_soonest_times_the_later_counts_with_its_reason() -> None:
    """Rinsed two hours ago, and dry in ten; it is back from elsewhere sooner or later than that."""
    rinsed = bundle(done=("wash", "rinse"), ago=2.0)
    for hours, why in ((9, "Rinse with clear water first needs 12 h"), (11, "it is back then")):
        back = replace(rinsed, back=NOW + timedelta(hours=hours), why="it is back then")
        first, second = make([back], WAYS, NOW).stints[:2]
        assert (first.soonest, first.why_soonest) == (max(10, hours) * 60, why)
        assert second.soonest == 0, "only the first of them waits for that"


def test_a_moment_within_a_minute_is_rounded_up_and_one_gone_by_is_now() -> None:
    for seconds, soonest in ((1, 1), (60, 1), (61, 2), (-90, 0)):
        back = replace(bundle(), back=NOW + timedelta(seconds=seconds))
        assert make([back], WAYS, NOW).stints[0].soonest == soonest
