from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from math import inf

from partsbench.core.finish.own_readiness import OwnWait
from partsbench.core.finish.products import Ready, TinCard, TinWait
from partsbench.core.finish.waits import MOST_STRETCH, Air, WaitFigures, waits_into
from partsbench.core.sources import Status
from tests.support.faces import PATHS, PRODUCTS, SHOP, damp, hours, path, step

PAINT = path("paint")
STAIN = path("stain", "seam", "conditioner_oil")


def into(on, key, *before, shop=SHOP):
    return waits_into(step(on, key), [step(on, k) for k in before], shop)


def test_the_step_before_gives_its_wait():
    (wait,) = into(PAINT, "sand_220", "colour_1")
    assert (wait.earliest, wait.latest) == (hours("4 h"), None)
    assert wait.why_not_yet() == "Colour coat 1, thin first needs 4 h"


def test_a_named_step_counts_as_well_as_the_one_before():
    waits = into(STAIN, "clear_1", "wipe", "mask", "unmask", "touch_up")
    assert {w.before.key: w.earliest for w in waits} == {
        "wipe": hours("72 h"),
        "touch_up": hours("72 h"),
    }


def test_a_named_wait_replaces_the_general_one_of_the_same_step():
    (wait,) = into(STAIN, "mask", "wipe")
    assert wait.earliest_source is not None
    assert wait.earliest_source.status is Status.COMMON_PRACTICE


def test_masking_hides_no_wait_of_the_step_under_it():
    on = path("paint", "seam")
    waits = into(on, "colour_1", "sand_150", "mask")
    assert [(w.before.key, w.latest) for w in waits] == [("sand_150", hours("1 d"))]


def test_the_step_that_mends_a_missed_window_is_not_itself_late():
    assert [w.latest for w in into(PAINT, "topcoat_1", "colour_3")] == [hours("24 h")]
    assert [w.latest for w in into(PAINT, "scuff_400", "colour_3")] == [None]
    assert into(PAINT, "topcoat_1", "colour_3", "scuff_400") == []


def test_the_tin_wins_for_the_end_that_it_gives():
    tin = TinCard("blue", "paint_water", {"recoat": TinWait(hours("16 h"))})
    shop = WaitFigures(PRODUCTS, {"paint_water": tin})
    (wait,) = into(PAINT, "topcoat_1", "colour_3", shop=shop)
    assert (wait.earliest, wait.latest) == (hours("16 h"), hours("24 h"))
    assert wait.earliest_source.text == "your tin card for blue: 16 h"
    assert wait.latest_source.status is Status.FROM_MEMORY


def test_a_tin_may_wait_less_than_we_would_and_close_sooner():
    tin = TinCard("blue", "paint_water", {"recoat": TinWait(hours("1 h"), hours("6 h"))})
    (wait,) = into(PAINT, "topcoat_1", "colour_3", shop=WaitFigures(PRODUCTS, {"paint_water": tin}))
    assert (wait.earliest, wait.latest) == (hours("1 h"), hours("6 h"))


def test_air_lengthens_water_borne_waits_only_and_never_the_latest_end():
    (paint,) = into(PAINT, "topcoat_1", "colour_3", shop=damp(2))
    (stain,) = into(STAIN, "mask", "wipe", shop=damp(2))
    assert (paint.earliest, paint.latest) == (hours("24 h"), hours("24 h"))
    assert "2.0 times" in paint.why_not_yet()
    assert (stain.earliest, stain.stretched) == (hours("24 h"), 1)


def test_air_never_shortens_and_never_runs_away():
    assert Air(0.3).stretch == 1
    assert Air(float("inf")).stretch == MOST_STRETCH
    (wait,) = into(PAINT, "sand_220", "colour_1", shop=damp(0.5))
    assert wait.earliest == timedelta(hours=4)


def test_what_was_tried_and_not_ready_here_waits_as_long_as_it_took():
    """Oil stain: by 31 h 8 of 10 films bore tape here; the rule of the trade says 24 h."""
    own = {("stain_oil", Ready.TAPE): OwnWait(10, 8, 8, 26, 31, 20, inf)}
    (wait,) = into(STAIN, "mask", "wipe", shop=replace(SHOP, own=own))
    assert (wait.earliest, wait.earliest_source.status) == (hours("31 h"), Status.OWN)
    quick = {("stain_oil", Ready.TAPE): OwnWait(10, 8, 8, 10, 12, 9, inf)}
    (wait,) = into(STAIN, "mask", "wipe", shop=replace(SHOP, own=quick))
    assert (wait.earliest, wait.earliest_source.status) == (hours("24 h"), Status.COMMON_PRACTICE)


def test_a_try_of_one_film_says_nothing_of_another():
    own = {("stain_oil", Ready.TAPE): OwnWait(10, 8, 8, 26, 31, 20, inf)}
    tried = replace(SHOP, own=own)
    assert into(PAINT, "sand_220", "colour_1", shop=tried) == into(PAINT, "sand_220", "colour_1")
    assert into(STAIN, "stain", "condition", shop=tried) == into(STAIN, "stain", "condition")


def test_the_shops_own_wait_is_not_stretched_again_by_its_air():
    """It was tried in this air: 12 h here, and 8 h by the figure in a room twice as damp."""
    own = {("paint_water", Ready.SAND): OwnWait(10, 8, 8, 10, 12, 9, inf)}
    (wait,) = into(PAINT, "sand_220", "colour_1", shop=replace(damp(2), own=own))
    assert (wait.earliest, wait.stretched) == (hours("12 h"), 1)
    assert wait.why_not_yet() == "Colour coat 1, thin first needs 12 h"


def test_a_tins_last_hour_does_not_bind_what_mends_a_missed_one():
    tin = TinCard("blue", "paint_water", {"sand": TinWait(latest=hours("6 h"))})
    shop = WaitFigures(PRODUCTS, {"paint_water": tin})
    assert [w.latest for w in into(PAINT, "sand_220", "colour_1", shop=shop)] == [hours("6 h")]
    assert [w.latest for w in into(PAINT, "scuff_400", "colour_3", shop=shop)] == [None]


def test_a_wait_for_a_case_counts_only_for_faces_that_are_known_to_be_one():
    plain, bleeds = path("paint"), path("paint", "bleeds")
    (wait,) = into(bleeds, "colour_1", "prime")
    assert wait.earliest == hours("48 h")
    assert wait.earliest_source.status is Status.READ_IN_A_COPY
    assert "24 to 48 h" in wait.earliest_source.said
    # Nobody said that it bleeds, and it was primed all the same.
    not_said = PATHS["paint"].suited(frozenset({"seam"}), frozenset())
    for on in (PATHS["paint"], not_said):
        (wait,) = into(on, "colour_1", "prime")
        assert wait.earliest == hours("4 h")
    assert plain.step("prime") is None
    tin = {"primer": TinCard("the primer", "primer", {"recoat": TinWait(hours("1 h"))})}
    (wait,) = into(bleeds, "colour_1", "prime", shop=WaitFigures(PRODUCTS, tin))
    assert wait.earliest == hours("1 h")


def test_the_tin_ends_the_window_of_a_step_that_mends_itself():
    """Only an optional step that is there to mend is never late; a late wipe is late."""
    tin = {
        "stain_oil": TinCard("walnut", "stain_oil", {"wipe stain": TinWait(None, hours("3 min"))})
    }
    (wait,) = into(STAIN, "wipe", "stain", shop=WaitFigures(PRODUCTS, tin))
    assert (wait.latest, wait.missed.step) == (hours("3 min"), "wipe")
    (scuff,) = into(PAINT, "scuff_400", "colour_3")
    assert scuff.latest is None
