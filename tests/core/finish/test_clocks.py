from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from math import inf
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.clocks import (
    air,
    overstayed,
    readiness,
    said_source,
    window,
)
from partsbench.core.finish.own_readiness import OwnWait
from partsbench.core.finish.products import Ready, TinCard, TinWait
from partsbench.core.finish.progress import Mark, MarkKind, Progress, progress
from partsbench.core.finish.steps import After
from partsbench.core.finish.waits import WaitFigures
from partsbench.core.outcomes import Refused
from partsbench.core.sources import Source, Status
from partsbench.core.sums.climate import Limits
from partsbench.core.sums.figure import Figure
from partsbench.trade import load
from tests.support.faces import (
    PATHS,
    PRODUCTS,
    SHOP,
    at,
    damp,
    face,
    hours,
    path,
    step,
    through,
)

PAINT = path("paint")
STAIN = path("stain", "conditioner_oil")


def limits() -> Limits:
    doc = load("climate")
    figures = {**doc["limits"], **{f"label_{k}": v for k, v in doc["label"].items()}}
    made = {
        key: Figure(raw["value"], doc["sources"][raw["source"]], Status(raw["status"]))
        for key, raw in figures.items()
    }
    return Limits(**made)


def test_a_window_has_two_ends_counted_from_the_work():
    now = through(PAINT, "colour_3", "0 h")
    found = window(now, step(PAINT, "topcoat_1"), SHOP)
    assert (found.opens.at, found.closes.at) == (at("12 h"), at("24 h"))
    assert found.is_early(at("11 h"))
    assert not found.is_early(at("12 h"))
    assert not found.is_late(at("24 h"))
    assert found.is_late(at("25 h"))
    assert found.missed.step == "scuff_400"


def test_a_first_step_is_open_for_ever():
    found = window(face(PAINT), step(PAINT, "wash"), SHOP)
    assert (found.opens, found.closes, found.missed) == (None, None, None)
    assert found.warn_at(hours("5 min")) is None
    assert not found.impossible


def test_of_two_waits_the_later_one_opens():
    on = path("stain", "seam")
    now = through(on, "touch_up", "0 h")
    found = window(now, step(on, "clear_1"), SHOP)
    assert found.opens.wait.before.key == "touch_up"
    assert found.opens.at == at("72 h")


def test_the_warning_leaves_time_for_the_work():
    now = through(STAIN, "wipe_condition", "0 h")
    found = window(now, step(STAIN, "stain"), SHOP)
    assert found.warn_at(hours("6 min")) == at("24 min")


def test_a_damp_room_can_leave_no_time_at_all():
    now = through(PAINT, "colour_3", "0 h")
    found = window(now, step(PAINT, "topcoat_1"), damp(2.5))
    assert found.opens.at == at("30 h")
    assert found.impossible
    one_moment = window(now, step(PAINT, "topcoat_1"), damp(2))
    assert one_moment.opens.at == one_moment.closes.at
    assert not one_moment.impossible


def test_of_two_windows_the_first_to_close_closes():
    """The coat before says 24 h, a primer below it only 6 h."""
    hurried = replace(step(PAINT, "topcoat_1"), after=(After("sand_400", latest=hours("6 h")),))
    keys = [s.key for s in PAINT.steps if not s.optional]
    before = keys[: keys.index("topcoat_1")]
    now = face(PAINT, *((key, "0 h") for key in before))
    found = window(now, hurried, SHOP)
    assert (found.closes.at, found.closes.wait.before.key) == (at("6 h"), "sand_400")


def test_a_step_that_stands_done_does_not_wait_for_itself():
    assert window(through(PAINT, "colour_3", "0 h"), step(PAINT, "colour_3"), SHOP).opens is None


def test_what_was_tried_here_is_ready_when_it_was_here():
    """Oil stain: by 31 h 8 of 10 films bore tape in this shop; the figure is 24 h."""
    own = {("stain_oil", Ready.TAPE): OwnWait(10, 8, 8, 26, 31, 20, inf)}
    wiped = through(path("stain"), "wipe", "0 h")
    found = {r.ready: r for r in readiness(wiped, replace(SHOP, own=own))}
    assert found[Ready.TAPE].at == at("31 h")
    assert "needs 31 h before tape" in found[Ready.TAPE].because
    assert found[Ready.RECOAT].at == at("72 h")


def test_a_damp_room_holds_back_water_and_not_oil():
    paint = {r.ready: r.at for r in readiness(through(PAINT, "colour_1"), damp(2))}
    stain = {r.ready: r.at for r in readiness(through(path("stain"), "wipe"), damp(2))}
    assert (paint[Ready.SAND], paint[Ready.TOUCH]) == (at("8 h"), at("14 d"))
    assert stain[Ready.TAPE] == at("24 h")


def test_a_newest_film_without_figures_is_not_answered_by_the_one_below():
    """Only the next coat may rely on what is known: its wait stands on the path."""
    mute = {**PRODUCTS, "clear_water": replace(PRODUCTS["clear_water"], times={})}
    found = {r.ready: r for r in readiness(through(PAINT, "topcoat_1", "0 h"), WaitFigures(mute))}
    assert found[Ready.TOUCH].at is None
    assert found[Ready.TOUCH].because == "no figure for Tinted topcoat 1, thin: read its tin"
    assert found[Ready.RECOAT].at is not None


def test_six_answers_after_a_coat():
    found = {r.ready: r for r in readiness(through(PAINT, "colour_1"), SHOP)}
    assert list(found) == list(Ready)
    assert found[Ready.SAND].at == at("4 h")
    assert found[Ready.HANDLE].at == at("24 h")
    assert found[Ready.TOUCH].at == at("7 d")
    assert found[Ready.SERVICE].at == at("30 d")
    assert "Colour coat 1, thin needs 7 d" in found[Ready.TOUCH].because
    assert found[Ready.SERVICE].source.status is Status.TRADE_PRESS


def test_a_tin_card_sets_an_answer_and_is_named():
    tin = TinCard("blue", "paint_water", {"touch": TinWait(hours("48 h"))})
    shop = WaitFigures(PRODUCTS, {"paint_water": tin})
    found = {r.ready: r for r in readiness(through(PAINT, "colour_1"), shop)}
    assert found[Ready.TOUCH].at == at("48 h")
    assert said_source(found[Ready.TOUCH].source) == "your tin card for blue: 2 d"
    assert found[Ready.SAND].at == at("4 h")


def test_what_only_the_tin_knows_is_said_so():
    on = path("paint", "bleeds")
    found = {r.ready: r for r in readiness(through(on, "prime"), SHOP)}
    assert found[Ready.SERVICE].at is None
    assert "read its tin" in found[Ready.SERVICE].because


def test_a_rinsed_face_is_ready_to_sand_when_dry_and_has_nothing_else_to_dry():
    found = {r.ready: r for r in readiness(through(PAINT, "rinse"), SHOP)}
    assert found[Ready.SAND].at == at("12 h")
    assert found[Ready.SERVICE].at is None
    assert "nothing" in found[Ready.SERVICE].because


def test_the_older_film_may_be_the_slower_one():
    now = face(STAIN, *((s, "0 h") for s in ("wash", "rinse", "sand_150", "sand_220")),
               ("condition", "0 h"), ("wipe_condition", "5 min"), ("stain", "5 min"),
               ("wipe", "10 min"))  # fmt: skip
    found = {r.ready: r for r in readiness(now, SHOP)}
    assert found[Ready.RECOAT].at == at("10 min") + hours("72 h")
    assert found[Ready.TAPE].at == at("10 min") + hours("24 h")


def test_work_that_was_sent_back_dries_until_it_is_worked_on_again():
    marks = [("wash", "0 h"), ("rinse", "1 h"), ("sand_150", "14 h"), ("colour_1", "15 h"),
             ("back sand_150", "16 h")]  # fmt: skip
    lying = {r.ready: r for r in readiness(face(PAINT, *marks), SHOP)}
    assert lying[Ready.TOUCH].at == at("183 h")
    gone = {r.ready: r for r in readiness(face(PAINT, *marks, ("sand_150", "40 h")), SHOP)}
    assert gone[Ready.TOUCH].at is None
    assert gone[Ready.TOUCH].because == "nothing on this face has to dry"


def test_the_change_of_the_hour_moves_no_wait():
    """In the night to 30 March 2031 Berlin goes forward: 12 h of drying end at 10, not at 9."""
    zone = ZoneInfo("Europe/Berlin")
    evening = datetime(2031, 3, 29, 21, 0, tzinfo=zone).astimezone(UTC)
    marks = [Mark(s.key, evening) for s in PAINT.steps if not s.optional]
    now = progress(PAINT, marks[: [m.step for m in marks].index("colour_3") + 1])
    opens = window(now, step(PAINT, "topcoat_1"), SHOP).opens.at
    assert opens - evening == hours("12 h")
    assert opens.astimezone(zone).hour == 10


def test_a_source_is_said_with_its_range_and_status():
    source = Source("a page", Status.PUBLISHED, "earliest", "2 to 4 h")
    assert said_source(source) == "2 to 4 h: a page (published)"
    assert said_source(None) == ""


def test_room_air_comes_from_the_sums_and_a_bad_reading_is_refused():
    warm, cold = air(limits(), 25, 50), air(limits(), 14, 75)
    assert warm.stretch == pytest.approx(1)
    # Worked example: 14 °C and 75 % against a label written for 25 °C and 50 %: ratio 3.96.
    assert cold.stretch == pytest.approx(3.96, abs=0.02)
    assert isinstance(air(limits(), 20, 140), Refused)


WATER_STEPS = [
    (p.key, s.key)
    for p in PATHS.values()
    for s in p.steps
    if s.product and PRODUCTS[s.product].water_borne
]


@given(
    st.sampled_from(WATER_STEPS),
    st.floats(0.2, 30),
    st.floats(0.2, 30),
)
def test_clocks_never_move_earlier_when_the_air_gets_worse(where, one, other):
    better, worse = sorted((one, other))
    on = PATHS[where[0]]
    now = through(on, where[1])
    early = {r.ready: r.at for r in readiness(now, damp(better))}
    late = {r.ready: r.at for r in readiness(now, damp(worse))}
    plain = {r.ready: r.at for r in readiness(now, SHOP)}
    for ready in Ready:
        if plain[ready] is not None:
            assert plain[ready] <= early[ready] <= late[ready]
    for coming in now.choices:
        a, b = window(now, coming, damp(better)), window(now, coming, damp(worse))
        if a.opens:
            assert a.opens.at <= b.opens.at
        if a.closes:
            assert a.closes.at == b.closes.at


@given(st.floats(5, 30), st.floats(30, 95), st.floats(0, 10), st.floats(0, 30))
def test_colder_or_damper_air_is_never_quicker(temperature, humidity, colder, damper):
    worse_humidity = min(99.0, humidity + damper)
    good = air(limits(), temperature, humidity)
    bad = air(limits(), temperature - colder, worse_humidity)
    assert good.stretch <= bad.stretch + 1e-9


def sent_back(key: str, *again: str) -> Progress:
    """Colour coat 3 went on at 0 h and ran: 10 minutes later its face was sent back to `key`."""
    ran = through(PAINT, "colour_3", "0 h").history
    back = Mark(key, at("10 min"), MarkKind.SENT_BACK)
    return progress(PAINT, [*ran, back, *(Mark(k, at("20 min")) for k in again)])


def test_a_coat_that_was_sent_back_is_still_wet():
    found = window(sent_back("sand_150"), step(PAINT, "sand_150"), SHOP)
    assert found.opens is not None and found.opens.at == at("12 h")
    assert found.opens.wait.why_not_yet() == "Colour coat 3, fuller first needs 12 h"
    assert found.closes is None or found.closes.at > at("12 h")
    ready = {r.ready: r.at for r in readiness(sent_back("sand_150"), SHOP)}
    assert ready[Ready.HANDLE] == at("24 h")


def test_the_same_coat_again_waits_for_the_one_that_lies_there():
    again = window(sent_back("colour_3"), step(PAINT, "colour_3"), SHOP)
    assert again.opens is not None and again.opens.at == at("12 h")


def test_what_was_washed_off_wet_waits_for_nothing_of_it():
    assert window(sent_back("wash"), step(PAINT, "wash"), SHOP).opens is None
    washed = sent_back("wash", "wash")
    opens = window(washed, step(PAINT, "rinse"), SHOP).opens
    assert opens is None or opens.wait.before.key == "wash"


def test_a_conditioner_that_was_wiped_and_sent_back_dries_before_the_next():
    on = path("stain", "conditioner_water")
    before = [(k, "0 h") for k in ("wash", "rinse", "sand_150", "sand_220")]
    now = face(on, *before, ("condition_water", "1 h"), ("wipe_condition_water", "1 h 4 min"),
               ("back condition_water", "1 h 10 min"))  # fmt: skip
    found = window(now, step(on, "condition_water"), SHOP)
    assert found.opens.at == at("1 h 34 min")


def in_doubt(now: Progress, *steps: str) -> Progress:
    """The same face, where a wrong clock told when these steps were done."""
    return progress(now.path, [
        replace(m, doubt="the clock stood in 2024", contradicted=True) if m.step in steps else m
        for m in now.history
    ])  # fmt: skip


def test_a_window_names_the_steps_whose_time_is_in_doubt_and_no_others():
    on = path("paint", "seam")
    sure = window(through(on, "colour_3", "0 h"), step(on, "topcoat_1"), SHOP)
    assert sure.doubts == {}
    assert sure.opens is not None and sure.opens.doubt == ""
    doubtful = in_doubt(through(on, "colour_3", "0 h"), "colour_3")
    found = window(doubtful, step(on, "topcoat_1"), SHOP)
    assert found.doubts == {"Colour coat 3, fuller": "the clock stood in 2024"}
    assert found.opens is not None and found.opens.doubt == "the clock stood in 2024"


def test_no_time_is_told_from_a_coat_whose_own_time_is_in_doubt():
    doubtful = in_doubt(through(PAINT, "colour_3", "0 h"), "colour_3")
    for ready in readiness(doubtful, SHOP):
        assert (ready.at, ready.in_doubt) == (None, True)
        assert ready.because == "Colour coat 3, fuller: the clock stood in 2024"
    rinsed = in_doubt(through(PAINT, "rinse", "0 h"), "rinse")
    by = {r.ready: r for r in readiness(rinsed, SHOP)}
    assert by[Ready.SAND].in_doubt and by[Ready.SAND].at is None
    assert not by[Ready.HANDLE].in_doubt, "a rinse leaves no film"


@pytest.mark.parametrize(("topcoat", "by"), [("24 h", None), ("24 h 1 min", "1 min")])
def test_what_was_done_after_its_window_closed_says_by_how_long(topcoat, by):
    """A topcoat follows its colour within 24 h."""
    before = through(PAINT, "colour_3", "0 h").history
    late = progress(PAINT, [*before, Mark("topcoat_1", at(topcoat))])
    assert overstayed(late, SHOP) == (by and hours(by))


def test_what_has_no_window_is_never_late():
    assert overstayed(face(PAINT), SHOP) is None
    assert overstayed(face(PAINT, ("wash", "0 h")), SHOP) is None


def test_the_warning_never_comes_before_the_window_began():
    """A stain may follow its conditioner for 30 min; work of 40 min would have to begin before."""
    found = window(through(STAIN, "wipe_condition", "0 h"), step(STAIN, "stain"), SHOP)
    assert found.warn_at(hours("29 min")) == at("1 min")
    assert found.warn_at(hours("40 min")) == at("0 h")


def test_a_tin_that_names_an_end_tells_it_with_its_answer():
    tin = TinCard("blue", "paint_water", {"sand": TinWait(hours("3 h"), hours("2 d"))})
    shop = WaitFigures(PRODUCTS, {"paint_water": tin})
    found = {r.ready: r for r in readiness(through(PAINT, "colour_1", "0 h"), shop)}
    assert (found[Ready.SAND].at, found[Ready.SAND].until) == (at("3 h"), at("2 d"))
    assert found[Ready.HANDLE].until is None
