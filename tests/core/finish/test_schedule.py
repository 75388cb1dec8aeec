from __future__ import annotations

from datetime import UTC, time, timedelta

from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.clocks import window
from partsbench.core.finish.hours import DaySpan, Hours
from partsbench.core.finish.masks import seam_order
from partsbench.core.finish.products import TinCard, TinWait
from partsbench.core.finish.schedule import Network, Schedule, cost_of_missing, remaining, schedule
from partsbench.core.finish.steps import Operation, Per
from partsbench.core.finish.stn import Impossible
from partsbench.core.finish.waits import WaitFigures
from tests.support.faces import PRODUCTS, SHOP, at, damp, face, hours, path, step, through

PAINT = path("paint")
STAIN = path("stain", "conditioner_oil")


def planned(found, key):
    assert isinstance(found, Schedule), found
    return next(p for p in found.planned if p.step.key == key)


def test_a_finished_face_has_nothing_left_to_plan():
    found = schedule({"D1": through(PAINT, "topcoat_2")}, at("0 h"), SHOP)
    assert found == Schedule((), in_hours=True)
    assert found.ends is None


def test_steps_follow_with_their_waits_and_working_times():
    found = schedule({"D1": through(PAINT, "colour_3", "0 h")}, at("1 h"), SHOP)
    first = planned(found, "topcoat_1")
    assert (first.starts, first.start_by) == (at("12 h"), at("24 h"))
    assert first.ends == at("12 h") + timedelta(minutes=2 + 25), "with the gun set up and cleaned"
    assert planned(found, "sand_between_1").starts == first.ends + hours("4 h")
    assert [p.step.key for p in found.of("D1")] == ["topcoat_1", "sand_between_1", "topcoat_2"]


def test_the_shops_own_pace_is_used():
    own = {(Operation.TOPCOAT, Per.FACE): [20.0] * 5}
    found = schedule({"D1": through(PAINT, "colour_3")}, at("1 h"), SHOP, own=own)
    first = planned(found, "topcoat_1")
    assert first.ends - first.starts == timedelta(minutes=20 + 25)


def test_a_conditioner_is_not_planned_so_early_that_its_window_closes():
    found = schedule({"top": through(STAIN, "sand_220")}, at("1 h"), SHOP)
    conditioned, wiped = planned(found, "condition"), planned(found, "wipe_condition")
    assert hours("5 min") <= wiped.starts - conditioned.ends <= hours("15 min")
    assert planned(found, "stain").starts - wiped.ends <= hours("30 min")


def test_a_window_that_has_closed_is_impossible_and_says_why():
    found = schedule({"D1": through(PAINT, "colour_3", "0 h")}, at("30 h"), SHOP)
    assert isinstance(found, Impossible)
    assert "must follow Colour coat 3, fuller within 24 h" in found.sentence
    assert "D1: Tinted topcoat 1, thin can not start in the past" in found.sentence


def test_a_damp_room_that_leaves_no_time_is_impossible_and_says_so():
    found = schedule({"D1": through(PAINT, "colour_3", "0 h")}, at("1 h"), damp(3))
    assert isinstance(found, Impossible)
    assert "36 h (3.0 times, for the room's air)" in found.sentence
    assert "D1: Tinted topcoat 1, thin must follow" in found.sentence


def test_two_tins_that_leave_no_time_are_named_by_their_figures():
    tin = TinCard("blue", "paint_water", {"recoat": TinWait(hours("20 h"), hours("20 h"))})
    shop = WaitFigures(PRODUCTS, {"paint_water": tin})
    assert isinstance(schedule({"D1": through(PAINT, "colour_3")}, at("1 h"), shop), Schedule)


def test_a_seam_orders_two_faces():
    top, rails = path("stain", "seam"), path("paint", "seam")
    faces = {"top": through(top, "wipe", "0 h"), "rails": through(rails, "sand_150", "0 h")}
    orders = seam_order("top", top, "rails", rails)
    alone = schedule(faces, at("0 h"), SHOP)
    found = schedule(faces, at("0 h"), SHOP, orders)
    assert isinstance(alone, Schedule)
    # The rails' scuff goes stale after a day, and the stain bears tape after a day and the masking
    # takes ten minutes: these two together can not be, which is worth knowing before the evening.
    assert isinstance(found, Impossible)
    assert "top is masked before rails gets Colour coat 1, thin" in found.sentence
    fresh = {**faces, "rails": through(rails, "rinse", "0 h")}
    found = schedule(fresh, at("0 h"), SHOP, orders)
    assert planned(found, "colour_1").starts >= planned(found, "mask").ends
    unmask = next(p for p in found.of("top") if p.step.key == "unmask")
    last = next(p for p in found.of("rails") if p.step.key == "topcoat_2")
    assert unmask.starts >= last.ends


def test_missing_the_conditioner_costs_another_one_and_not_the_bare_wood():
    now = through(STAIN, "wipe_condition", "0 h")
    found = cost_of_missing(now, window(now, step(STAIN, "stain"), SHOP), SHOP)
    assert found.step == "condition"
    assert "condition again" in found.say
    # A conditioner of 2 min, its soak of 5 and its wipe of 1.
    assert found.added == timedelta(minutes=8)
    assert found.ends > at("72 h")


def test_missing_a_recoat_window_costs_a_scuff():
    now = through(PAINT, "colour_3", "0 h")
    found = cost_of_missing(now, window(now, step(PAINT, "topcoat_1"), SHOP), SHOP)
    assert (found.step, found.added) == ("scuff_400", timedelta(minutes=3))


def test_what_never_closes_costs_nothing():
    now = through(PAINT, "colour_1")
    assert cost_of_missing(now, window(now, step(PAINT, "sand_220"), SHOP), SHOP) is None


def test_where_no_way_back_is_known_no_cost_is_told():
    """A tin says how late, and nobody what then; or what follows cannot be planned at all."""
    now = through(PAINT, "colour_1", "0 h")
    tin = TinCard("blue", "paint_water", {"sand": TinWait(latest=hours("6 h"))})
    shop = WaitFigures(PRODUCTS, {"paint_water": tin})
    closing = window(now, step(PAINT, "sand_220"), shop)
    assert closing.closes is not None
    assert cost_of_missing(now, closing, shop) is None
    never = TinCard("satin", "clear_water", {"sand": TinWait(hours("20 h"), hours("10 h"))})
    shop = WaitFigures(PRODUCTS, {"clear_water": never})
    now = through(PAINT, "colour_3", "0 h")
    assert cost_of_missing(now, window(now, step(PAINT, "topcoat_1"), shop), shop) is None


@given(
    st.sampled_from([s.key for s in PAINT.steps if not s.optional]),
    st.floats(1, 1.9),
    st.floats(1, 1.9),
)
def test_plans_never_get_earlier_when_the_air_gets_worse(last, one, other):
    better, worse = sorted((one, other))
    faces = {"D1": through(PAINT, last, "0 h")}
    good, bad = (schedule(faces, at("0 h"), damp(f)) for f in (better, worse))
    assert isinstance(good, Schedule)
    assert isinstance(bad, Schedule)
    for a, b in zip(good.planned, bad.planned, strict=True):
        assert a.step == b.step
        assert a.starts <= b.starts


@given(st.sampled_from([s.key for s in STAIN.steps if not s.optional]))
def test_a_plan_keeps_every_window_of_its_own_steps(last):
    now = through(STAIN, last, "0 h")
    found = schedule({"top": now}, at("0 h"), SHOP)
    assert isinstance(found, Schedule)
    assert [p.step for p in found.planned] == list(remaining(now))
    for p in found.planned:
        assert p.start_by is None or p.starts <= p.start_by


def test_face_names_do_not_mix():
    faces = {"D1": face(PAINT), "D2": through(PAINT, "rinse")}
    found = schedule(faces, at("0 h"), SHOP)
    assert len(found.of("D1")) == len(found.of("D2")) + 2


def test_what_was_learnt_for_one_face_changes_nothing_for_the_next() -> None:
    """The arcs of the steps to come are kept; the times are each face's own."""
    kept: Network = {}
    washed = [face(PAINT, ("wash", when)) for when in ("0 h", "5 h", "3 h")]
    made = [face(PAINT), face(STAIN), face(STAIN, ("wash", "0 h"), ("rinse", "1 h")), *washed]
    for each in made:
        for when in ("6 h", "40 h"):
            plain = schedule({"": each}, at(when), SHOP)
            assert schedule({"": each}, at(when), SHOP, network=kept) == plain
    assert len(kept) == 4


def test_a_wipe_that_is_late_is_planned_all_the_same():
    """What is late and done anyway does not make the plan impossible; what is not late is bound."""
    stained = through(path("stain"), "stain", "0 h")
    late = schedule({"top": stained}, at("40 min"), SHOP)
    assert planned(late, "wipe").starts == at("40 min")
    in_time = schedule({"top": stained}, at("6 min"), SHOP)
    assert planned(in_time, "wipe").start_by == at("15 min")
    masked = through(path("paint", "seam"), "topcoat_2", "0 h")
    assert planned(schedule({"D1": masked}, at("30 h"), SHOP), "unmask").starts == at("30 h")


def in_hours(first: int, last: int) -> Schedule:
    """The topcoats of a face whose colour went on at 8:00, planned an hour later."""
    shop_hours = Hours(DaySpan(time(first), time(last)), None, UTC)
    faces = {"D1": through(PAINT, "colour_3", "0 h")}
    found = schedule(faces, at("1 h"), SHOP, hours=shop_hours)
    assert isinstance(found, Schedule)
    return found


def test_work_is_planned_within_the_hours_and_later_where_it_would_end_after_them():
    """The topcoat may go on from 20:00, within a day of the colour; it takes 27 minutes."""
    evening, morning = in_hours(8, 21), in_hours(8, 20)
    assert evening.in_hours and morning.in_hours
    assert planned(evening, "topcoat_1").starts == at("12 h")
    assert planned(evening, "sand_between_1").starts == at("24 h"), "4 h on it is night"
    first = planned(morning, "topcoat_1")
    assert first.starts == first.start_by == at("24 h")
    assert first.ends == at("24 h") + timedelta(minutes=27)


def test_hours_that_cannot_be_kept_give_the_plan_without_them_and_say_so():
    """From 9:00 on the topcoat would come 25 h after its colour."""
    found = in_hours(9, 20)
    assert not found.in_hours
    assert planned(found, "topcoat_1").starts == at("12 h")


def test_what_nobody_asks_a_limit_for_has_none():
    now = through(PAINT, "colour_3", "0 h")
    found = schedule({"D1": now}, at("1 h"), SHOP, bounded=False)
    assert planned(found, "topcoat_1").start_by is None
    assert planned(found, "topcoat_1").starts == at("12 h")


def test_an_optional_step_is_planned_when_it_is_asked_for():
    now = through(PAINT, "colour_3", "0 h")
    usual = [s.key for s in remaining(now)]
    asked = [s.key for s in remaining(now, frozenset({"scuff_400"}))]
    assert "scuff_400" not in usual
    assert asked == ["scuff_400", *usual]
    found = schedule({"D1": now}, at("1 h"), SHOP, also=frozenset({"scuff_400"}))
    assert planned(found, "scuff_400").ends <= planned(found, "topcoat_1").starts


def test_the_plan_is_told_soonest_first_and_by_face():
    faces = {"D1": through(PAINT, "topcoat_1", "0 h"), "D2": through(PAINT, "colour_3", "0 h")}
    found = schedule(faces, at("1 h"), SHOP)
    assert isinstance(found, Schedule)
    starts = [p.starts for p in found.planned]
    assert starts == sorted(starts)
    assert {p.face for p in found.of("D1")} == {"D1"}
    assert found.ends == max(p.ends for p in found.planned)
