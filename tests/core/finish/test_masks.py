from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from partsbench.core.finish.masks import (
    Mask,
    MaskState,
    coats_to_come,
    in_doubt,
    line_ways,
    mask_state,
    overdue,
    seam_order,
    still_masked_for,
    to_cover,
    wants_cover,
    ways_to_protect,
)
from partsbench.core.finish.steps import NO_STEP_PATHS, Operation
from partsbench.core.piece.spot import Spot
from tests.support.faces import PATHS, SHOP, at, face, hours, path, step, through

PAINT = path("paint", "seam")
STAIN = path("stain", "seam")
MASK = Mask("M1", "top", ("rails",), at("0 h"), rating=hours("3 d"))


def test_a_mask_is_on_between_its_two_records():
    off = Mask("M1", "top", ("rails",), at("1 h"), at("5 h"))
    assert [off.is_on(at(t)) for t in ("0 h", "1 h", "4 h", "5 h")] == [False, True, True, False]
    assert off.off_by is None
    assert MASK.is_on(at("90 d"))


def test_the_state_of_a_seam_is_masked_not_needed_or_not_known():
    nobody = frozenset()
    assert mask_state("rails", "top", [MASK], at("1 h"), nobody) is MaskState.MASKED
    assert mask_state("left side", "top", [MASK], at("1 h"), nobody) is MaskState.UNKNOWN
    assert mask_state("rails", "top", [], at("1 h"), frozenset({"top"})) is MaskState.NOT_NEEDED
    assert mask_state("rails", "top", [], at("1 h"), nobody) is MaskState.UNKNOWN


def test_a_mask_stays_while_a_coat_it_is_for_is_to_come():
    half = through(PAINT, "colour_3")
    assert still_masked_for(MASK, {"rails": half}) == ("rails: Tinted topcoat 1, thin is to come",)
    assert still_masked_for(MASK, {"rails": through(PAINT, "topcoat_2")}) == ()
    assert still_masked_for(MASK, {}) == ()


def test_coats_to_come_leave_out_what_is_optional():
    assert [s.key for s in coats_to_come(through(PAINT, "colour_3"))] == ["topcoat_1", "topcoat_2"]
    third = path("paint", "third_topcoat")
    assert coats_to_come(through(third, "topcoat_2"))[0].key == "topcoat_3"
    assert len(coats_to_come(face(PAINT))) == 5


def test_tape_beyond_its_rating_is_overdue_longest_first():
    older = Mask("M2", "top", ("rails",), at("0 h"), rating=hours("1 d"))
    unrated = Mask("M3", "top", ("rails",), at("0 h"))
    assert overdue([MASK, older, unrated], at("2 d")) == (older,)
    assert overdue([MASK, older, unrated], at("4 d")) == (older, MASK)
    taken = Mask("M4", "top", ("rails",), at("0 h"), at("5 h"), hours("1 d"))
    assert overdue([taken], at("9 d")) == ()


def test_the_order_across_a_seam():
    orders = seam_order("top", STAIN, "rails", PAINT)
    assert [(o.before, o.after) for o in orders] == [
        (("top", "mask"), ("rails", "colour_1")),
        (("rails", "topcoat_2"), ("top", "unmask")),
    ]
    keys = [s.key for s in STAIN.steps]
    order = [keys.index(k) for k in ("wipe", "mask", "unmask", "touch_up", "clear_1")]
    assert order == sorted(order)
    assert seam_order("top", path("stain"), "rails", PAINT) == []


def test_both_ways_to_protect_a_stain_are_told_in_hours_and_risk():
    (bare,) = ways_to_protect(STAIN, SHOP)
    assert bare.wait == hours("24 h")
    plain, sealed = ways_to_protect(path("stain", "seam", "seal_coat"), SHOP)
    assert plain == bare
    assert sealed.wait == hours("48 h")
    assert "lift" in plain.sentence
    assert "tape after 2 d" in sealed.sentence
    assert ways_to_protect(path("paint"), SHOP) == ()
    clear = path("clear", "seam")
    assert any(s.operation is Operation.MASK for s in clear.steps)
    assert ways_to_protect(clear, SHOP) == (), "a clear face has no stain to lift"


def test_brush_line_or_reverse_mask_is_asked_while_a_face_is_too_young_for_tape():
    young = line_ways(Spot("D1", "front"), at("24 h"), {Spot("C1", "rails"): at("2 h")}, at("1 h"))
    assert [w.at for w in young] == [at("24 h"), at("2 h"), at("1 h")]
    said = [w.sentence(at("1 h")) for w in young]
    assert said[0].startswith("Tape on D1 front: from ") and "lifts" in said[0]
    assert said[1].startswith("Reverse mask, tape on C1 rails: from ")
    assert said[2].startswith("Brush line along C1 rails: now")
    assert line_ways(Spot("D1", "front"), at("24 h"), {Spot("C1", "rails"): None}, at("24 h")) == ()
    assert line_ways(Spot("D1", "front"), at("24 h"), {}, at("1 h")) == ()
    others = {Spot("C1", "rails"): at("2 h"), Spot("D1", "top edge"): at("5 h")}
    both = line_ways(Spot("D1", "front"), at("24 h"), others, at("1 h"))
    assert (both[1].name, both[1].at) == ("Reverse mask, tape on C1 rails, D1 top edge", at("5 h"))
    unknown = line_ways(Spot("D1", "front"), None, {Spot("C1", "rails"): None}, at("99 d"))
    assert "read the tin" in unknown[0].sentence(at("99 d"))


@pytest.mark.parametrize(
    ("one", "other", "tape"),
    [
        ("paint", "stain", True),
        ("paint", "clear", True),
        ("paint", "raw", True),
        ("stain", "paint", True),
        ("clear", "paint", True),
        ("stain", "clear", False),
        ("stain", "raw", False),
        ("paint", "paint", False),
        ("raw", "paint", False),
        ("leave", "paint", False),
    ],
)
def test_paint_ends_at_a_line_and_what_is_wiped_only_minds_paint(one, other, tape):
    every = {**PATHS, **NO_STEP_PATHS}
    assert wants_cover(every[one], every[other]) is tape


@pytest.mark.parametrize(
    ("coated", "beside", "covered"),
    [
        ("paint", "stain", True),
        ("paint", "leave", True),
        ("paint", "chalk_wax", True),
        ("chalk_wax", "paint", True),
        ("stain", "paint", False),
        ("leave", "paint", False),
        ("stain", "clear", False),
        ("paint", "paint", False),
    ],
)
def test_what_lies_beside_paint_is_covered_and_of_two_paints_either(coated, beside, covered):
    every = {**PATHS, **NO_STEP_PATHS}
    assert to_cover(every[coated], every[beside]) is covered


def test_at_its_very_rating_tape_is_not_overdue():
    assert overdue([MASK], at("3 d")) == ()
    assert overdue([MASK], at("3 d") + timedelta(seconds=1)) == (MASK,)


def test_a_mask_is_for_the_first_coat_and_until_the_last():
    first, last = seam_order("top", STAIN, "rails", PAINT)
    assert first.why == "top is masked before rails gets Colour coat 1, thin"
    assert last.why == "top stays masked until rails has its Tinted topcoat 2, thin"


def test_the_slower_of_two_coats_of_stain_says_when_tape_may_go_on():
    twice = path("stain", "seam", "second_stain")
    mask = step(twice, "mask")
    slow = tuple(replace(a, earliest=hours("90 h")) if a.step == "wipe" else a for a in mask.after)
    steps = tuple(replace(mask, after=slow) if s.key == "mask" else s for s in twice.steps)
    (bare,) = ways_to_protect(replace(twice, steps=steps), SHOP)
    assert bare.wait == hours("90 h")


def test_tape_of_a_doubtful_time_is_told_of_and_not_judged():
    unsure = replace(MASK, doubt="noted for 2000")
    unrated = Mask("M3", "top", ("rails",), at("0 h"), doubt="noted for 2000")
    assert in_doubt([MASK, unsure, unrated]) == (unsure,)
    assert overdue([unsure, MASK], at("4 d")) == (MASK,)
