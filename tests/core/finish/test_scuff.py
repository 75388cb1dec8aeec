"""A scuff beside a side that is still to be taped."""

from __future__ import annotations

from datetime import timedelta

from partsbench.core.finish.scuff import CoatBy, coat_by, goes_stale, tape_from
from partsbench.core.piece.spot import Spot
from tests.support.faces import SHOP, at, hours, path, step, through

PAINT = path("paint", "seam")
STAIN = path("stain", "seam")
SCUFF = step(PAINT, "sand_150")


def test_the_first_coat_after_a_mask_must_follow_the_scuff_within_a_day():
    """Mask 10 min, coat 2 min and 25 for the gun."""
    by = coat_by(PAINT, SCUFF, SHOP, {})
    assert by == CoatBy(step(PAINT, "colour_1"), hours("1 d"), timedelta(minutes=37))
    plain = path("paint")
    assert coat_by(plain, step(plain, "sand_150"), SHOP, {}) is None, "no mask between"
    assert coat_by(PAINT, step(PAINT, "sand_220"), SHOP, {}) is None
    assert coat_by(PAINT, step(PAINT, "wash"), SHOP, {}) is None, "no window between the two"
    assert coat_by(PAINT, PAINT.steps[-1], SHOP, {}) is None
    assert coat_by(STAIN, step(STAIN, "clear_1"), SHOP, {}) is None


def test_tape_waits_for_what_is_on_the_other_side():
    wiped = through(STAIN, "wipe")
    assert tape_from(wiped, SHOP, at("10 h")) == at("24 h")
    assert tape_from(wiped, SHOP, at("24 h")) is None
    assert tape_from(wiped, SHOP, at("24 h") - timedelta(seconds=1)) == at("24 h")
    washed = through(STAIN, "wash")
    assert tape_from(washed, SHOP, at("10 h")) == at("34 h"), "the wipe is still to come"
    assert tape_from(through(STAIN, "mask"), SHOP, at("10 h")) is None
    assert tape_from(through(path("stain"), "wipe"), SHOP, at("10 h")) is None, "no seam, no mask"


def test_a_scuff_goes_stale_while_the_other_side_dries_for_its_tape():
    by = CoatBy(step(PAINT, "colour_1"), hours("1 d"), hours("1 h"))
    now = at("1 h")
    assert goes_stale(by, Spot("C1", "top"), at("24 h"), now) == (
        "C1 top bears tape in 23 h at the soonest, and Colour coat 1, thin must follow this within "
        "24 h: finish C1 top first, then scuff"
    )
    assert goes_stale(by, Spot("C1", "top"), at("24 h") - timedelta(seconds=1), now) == ""
