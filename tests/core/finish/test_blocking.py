from __future__ import annotations

from datetime import timedelta

from partsbench.core.finish.blocking import blocking
from partsbench.core.finish.waits import WaitFigures
from partsbench.core.piece.spot import Spot
from tests.support.faces import SHOP, at, damp, face, path, through

PAINT, STAIN = path("paint"), path("stain", "conditioner_oil")
DONE = through(PAINT, "topcoat_2")
BARE = face(PAINT)

EDGE, RAILS = Spot("D1", "top edge"), Spot("C1", "rails")


def test_two_fresh_films_wait_for_the_later_one():
    later = through(PAINT, "topcoat_2", "2 d")
    found = blocking({EDGE: DONE}, {RAILS: later}, at("3 d"), SHOP)
    assert found is not None and found.until == at("9 d")
    assert found.reason.startswith("D1 top edge would stick to C1 rails: ")
    assert "7 d" in found.because and "from memory" in found.source
    assert "Leave it a finger open until" in found.sentence


def test_past_touch_everything_may_be_closed():
    pair = {EDGE: DONE}, {RAILS: DONE}
    assert blocking(*pair, at("7 d") - timedelta(seconds=1), SHOP) is not None
    assert blocking(*pair, at("7 d"), SHOP) is None


def test_a_bare_edge_sticks_to_nothing():
    assert blocking({EDGE: BARE}, {RAILS: DONE}, at("1 d"), SHOP) is None
    assert blocking({EDGE: DONE}, {RAILS: BARE}, at("1 d"), SHOP) is None
    assert blocking({EDGE: DONE}, {}, at("1 d"), SHOP) is None


def test_stain_in_the_wood_is_no_film_and_a_clear_coat_on_it_is():
    stained = through(STAIN, "stain")
    clear = next(s.key for s in STAIN.steps if s.operation.value == "clear" and not s.optional)
    varnished = through(STAIN, clear)
    assert blocking({EDGE: stained}, {RAILS: DONE}, at("1 d"), SHOP) is None
    assert blocking({EDGE: varnished}, {RAILS: DONE}, at("1 d"), SHOP) is not None


def test_of_many_edges_the_one_that_waits_longest_is_told():
    edges = {
        EDGE: DONE,
        Spot("D1", "left edge"): through(PAINT, "topcoat_2", "3 d"),
    }
    found = blocking(edges, {RAILS: DONE}, at("4 d"), SHOP)
    assert found is not None and (found.one, found.until) == (Spot("D1", "left edge"), at("10 d"))


def test_a_film_without_a_figure_gets_no_time():
    found = blocking({EDGE: DONE}, {RAILS: DONE}, at("90 d"), WaitFigures())
    assert found is not None and found.until is None
    assert "read its tin" in found.because and "no time can be told" in found.sentence


def test_damp_air_lengthens_it_and_a_try_outweighs_the_figure():
    pair = {EDGE: DONE}, {RAILS: DONE}
    damp_one = blocking(*pair, at("8 d"), damp(2))
    assert damp_one is not None and damp_one.until == at("14 d")
    tried = blocking(*pair, at("8 d"), SHOP, frozenset({RAILS}))
    assert tried is not None and tried.until is None and tried.source == "your own try"


def test_an_edge_that_was_sent_back_is_still_wet_until_it_is_sanded():
    marks = [("wash", "0 h"), ("rinse", "1 h"), ("sand_150", "14 h"), ("colour_1", "15 h"),
             ("back sand_150", "16 h")]  # fmt: skip
    lying = blocking({EDGE: face(PAINT, *marks)}, {RAILS: DONE}, at("17 h"), SHOP)
    assert lying is not None and lying.because.startswith("Colour coat 1")
    sanded = face(PAINT, *marks, ("sand_150", "40 h"))
    assert blocking({EDGE: sanded}, {RAILS: DONE}, at("41 h"), SHOP) is None
