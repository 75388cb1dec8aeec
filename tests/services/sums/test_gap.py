"""Will it still fit: the book's sizes and paths, worked by hand against what is answered."""

from __future__ import annotations

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.fit import Fit
from partsbench.core.sums.fit_advice import Edge, Remedy
from partsbench.core.sums.paths import path_film
from partsbench.core.sums.wood import moisture
from partsbench.services.books.pieces import give_path
from partsbench.services.shop import Shop
from partsbench.services.sums import shipped
from partsbench.services.sums.gap import Forecast, OwnFilm, forecast, tell_forecast
from partsbench.services.sums.habits import set_habit
from partsbench.services.sums.measure import set_wood
from tests.support.shops import lay_out
from tests.support.sizes import of_drawer, taken

SIX_COATS = OwnFilm(6, 100, 33)
"""0.198 mm on a face."""


@pytest.fixture
def piece(shop: Shop) -> Piece:
    """Two painted drawers in painted rails, D1 measured: 2 mm of play in width, 4 in height."""
    made = lay_out(shop, "Heron", "2", paths=[("paint", ["drawers", "C1 rails"])])
    assert isinstance(made, Piece)
    of_drawer(shop, made, "D1", "398", "176", ("400", "180"))
    return made


def one(shop: Shop, piece: Piece, own: OwnFilm | None = SIX_COATS) -> Fit:
    found = forecast(shop, piece.tag, ["D1"], own)
    assert isinstance(found, Forecast)
    fit = found.of["D1"]
    assert isinstance(fit, Fit), fit
    return fit


def test_film_is_taken_off_both_facing_faces(shop: Shop, piece: Piece) -> None:
    fit = one(shop, piece)
    assert fit.now.side == pytest.approx(1.0)
    assert fit.film_side_mm == pytest.approx(2 * 0.198)
    assert fit.damp.side == pytest.approx(1.0 - 0.396)


def test_a_bare_edge_takes_no_film(shop: Shop, piece: Piece) -> None:
    give_path(shop, piece.tag, "raw", ["D1 left edge", "D1 right edge"])
    assert one(shop, piece).film_side_mm == pytest.approx(0.198)


def test_the_paths_own_coats_are_counted_when_nobody_measured_the_film(
    shop: Shop, piece: Piece
) -> None:
    """Three colour coats at 102 µm and 42 %, two clear ones at 102 µm and 30 %."""
    film = (3 * 102 * 0.42 + 2 * 102 * 0.30) / 1000
    assert one(shop, piece, None).film_side_mm == pytest.approx(2 * film)


def test_height_swells_with_the_wood_and_the_rooms_own_months(shop: Shop, piece: Piece) -> None:
    """176 mm of flat-sawn cherry, coefficient 0.00248, inside 6 to 14 %."""
    set_wood(shop, piece.tag, [], "cherry, black", "flat")
    for name, air in (("air now", "20C 45%"), ("damp month", "22C 65%"), ("dry month", "20C 35%")):
        set_habit(shop, name, air)
    now, damp = moisture(20, 45), moisture(22, 65)
    assert hasattr(now, "percent") and hasattr(damp, "percent")
    fit = one(shop, piece)
    assert fit.swell_mm == pytest.approx(176 * 0.00248 * (damp.percent - now.percent))
    assert fit.damp.top == pytest.approx(4 - 4 * 0.198 - fit.swell_mm)  # four painted faces
    assert "handbook" in fit.caution


def test_a_part_of_another_wood_moves_by_its_own(shop: Shop, piece: Piece) -> None:
    set_wood(shop, piece.tag, [], "cherry, black", "flat")
    cherry = one(shop, piece).swell_mm
    set_wood(shop, piece.tag, ["D1"], "beech, american", "flat")
    beech = one(shop, piece).swell_mm
    assert cherry is not None and beech is not None and beech > cherry


def test_tight_ones_are_named_and_told_what_to_do(shop: Shop, piece: Piece) -> None:
    of_drawer(shop, piece, "D2", "399.4", "178", ("400", "180"))
    found = forecast(shop, piece.tag, own=SIX_COATS)
    assert isinstance(found, Forecast)
    assert found.tight == ("D1", "D2")
    told = tell_forecast(found)
    assert told.sentence == "Of 2 drawers measured, 2 will be tight: D1, D2."
    assert [row[-1] for row in told.rows] == [
        "wax both sides",
        "leave both sides bare, plane 0.7 mm off each side before painting",
    ]
    bad = found.fits["D2"].advice
    assert {a.remedy for a in bad} == {Remedy.BARE, Remedy.PLANE}


def test_one_drawer_by_hand_its_edges_left_bare_as_advised(shop: Shop, piece: Piece) -> None:
    """398.8 mm in 400: 0.6 mm a side. Drawer and rails take 0.198 each, so 0.204 is left, too
    little. Bare, the drawer's own film is gained and that on the rails stays: 0.402, of 0.8 wanted.
    So 0.4 mm is planed off each side besides, and 0.802 is left."""
    of_drawer(shop, piece, "D2", "398.8", "176", ("400", "180"))
    found = forecast(shop, piece.tag, ["D2"], SIX_COATS)
    assert isinstance(found, Forecast)
    fit = found.fits["D2"]
    assert fit.now.side == pytest.approx(0.6)
    assert fit.film_side_mm == pytest.approx(0.396)
    assert fit.damp.side == pytest.approx(0.204)
    bare, plane = fit.advice
    assert (bare.remedy, bare.edges) == (Remedy.BARE, (Edge.LEFT, Edge.RIGHT))
    assert (plane.remedy, plane.mm) == (Remedy.PLANE, pytest.approx(0.4))
    assert "Leave both sides bare. Plane 0.4 mm off each side before painting." in found.sentence
    # The shop does so: the edges get no path, the drawer is planed and measured again.
    give_path(shop, piece.tag, "raw", ["D2 left edge", "D2 right edge"])
    taken(shop, piece, ("D2", "width", "398.0"))
    then = forecast(shop, piece.tag, ["D2"], SIX_COATS)
    assert isinstance(then, Forecast)
    assert then.fits["D2"].damp.side == pytest.approx(0.802)
    assert then.fits["D2"].fits


def test_a_thin_film_on_the_drawer_gains_little_beside_a_thick_one_on_the_rails(
    shop: Shop, piece: Piece
) -> None:
    """Clear on the drawer, paint on the rails: bare edges gain the clear film, no more.

    By hand, water-borne clear: two coats in any case at 102 µm and 30 %."""
    give_path(shop, piece.tag, "clear", ["D1"])
    clear = path_film(shop.path("clear"), shipped.coats()).mm
    paint = path_film(shop.path("paint"), shipped.coats()).mm
    assert 0 < clear < paint / 1.5
    fit = one(shop, piece, None)
    assert fit.film_side_mm == pytest.approx(clear + paint)
    of_drawer(shop, piece, "D1", "399.6", "176", ("400", "180"))
    fit = one(shop, piece, None)
    planed = next(a.mm for a in fit.advice if a.remedy is Remedy.PLANE and a.where == "side")
    assert planed == pytest.approx(0.8 - 0.2 + paint, abs=0.1)


def test_a_drawer_taller_than_its_opening_is_a_wrong_measure(shop: Shop, piece: Piece) -> None:
    """It ran in its opening, so 195 mm in 188 is a slip of the rule, not 7 mm to plane."""
    of_drawer(shop, piece, "D2", "398", "195", ("400", "188"))
    found = forecast(shop, piece.tag, own=SIX_COATS)
    assert isinstance(found, Forecast)
    told = tell_forecast(found)
    assert told.sentence.startswith("Of 1 drawer measured, 1 will be tight: D1. D2 height: the ")
    assert "the drawer's 195.0 mm is 7.0 mm more than the opening's 188.0 mm." in told.sentence
    assert "Take both again" in told.rows[1][-1] and "plane" not in told.rows[1][-1]
    drawers = told.data["drawers"]
    assert isinstance(drawers, dict)
    assert drawers["D2"].keys() == {"refused"} and "7.0 mm more" in drawers["D2"]["refused"]
    taken(shop, piece, ("D2", "height", "185"))
    assert one_of(shop, piece, "D2").now.top == pytest.approx(3)


def test_an_end_not_measured_is_asked_for(shop: Shop, piece: Piece) -> None:
    taken(shop, piece, ("D2", "top width", "398"), ("H2", "top width", "400"),
          ("H2", "bottom width", "399.2"))  # fmt: skip
    fit = one_of(shop, piece, "D2")
    assert fit.now.side == pytest.approx(0.6)
    assert "the drawer's width at the bottom" in fit.lacks


def test_nothing_is_promised_of_what_was_not_measured(shop: Shop, piece: Piece) -> None:
    """Only widths were taken: that they fit says nothing of the heights."""
    of_drawer(shop, piece, "D1", "396", "170", ("402", "180"))
    taken(shop, piece, ("D2", "width", "396"), ("H2", "width", "402"))
    told = tell_forecast(forecast_of(shop, piece))
    assert told.sentence == (
        "2 drawers measured: each still fits after its coats. Nothing is known of the height of D2."
    )
    assert [row[-1] for row in told.rows] == ["fits", "fits in its width"]


def test_a_chest_of_board_and_one_drawer_of_solid_wood(shop: Shop, piece: Piece) -> None:
    """By hand, 7 % now and 14 % in the damp month: a drawer of MDF moves as its opening does; one
    of walnut swells by its own figure less what the opening grows, 180 × 0.00045 × 7."""
    set_wood(shop, piece.tag, [], "MDF", "")
    assert one(shop, piece).swell_mm == pytest.approx(-4 * 0.00045 * 7)
    set_wood(shop, piece.tag, ["D1"], "black walnut", "flat")
    swell = one(shop, piece).swell_mm
    assert swell == pytest.approx(176 * 0.00274 * 7 - 180 * 0.00045 * 7)


def test_a_wood_of_ones_own_and_a_veneer(shop: Shop, piece: Piece) -> None:
    set_wood(shop, piece.tag, ["D1"], "pear 0.0025", "")
    assert one(shop, piece).swell_mm == pytest.approx(176 * 0.0025 * 7)
    told = tell_forecast(forecast_of(shop, piece))
    assert any(source.endswith("(your own figure)") for source in told.sources)
    set_wood(shop, piece.tag, ["D1"], "pear veneer on plywood", "")
    fit = one(shop, piece)
    assert fit.swell_mm == pytest.approx(176 * 0.00021 * 7)
    assert fit.swell_side_mm == pytest.approx(398 * 0.00021 * 7 / 2)


def test_a_wood_that_a_book_from_elsewhere_has_is_told(shop: Shop, piece: Piece) -> None:
    """An export edited by hand may hold any words: the drawer is not left out without a word."""
    set_wood(shop, piece.tag, ["D1"], "cherry, black", "flat")
    shop.book.db.execute("UPDATE wood SET wood = 'plastic'")
    told = tell_forecast(forecast_of(shop, piece))
    assert told.sentence.startswith("D1 wood: 'plastic' is not in the table")


def one_of(shop: Shop, piece: Piece, drawer: str) -> Fit:
    found = forecast(shop, piece.tag, [drawer], SIX_COATS)
    assert isinstance(found, Forecast)
    return found.fits[drawer]


def test_what_is_missing_is_named(shop: Shop, piece: Piece) -> None:
    told = tell_forecast(forecast_of(shop, piece))
    assert "the wood and the room's dry and damp months" in told.lacks
    set_wood(shop, piece.tag, [], "cherry, black", "")
    told = tell_forecast(forecast_of(shop, piece))
    assert "the damp month: temperature and humidity" in told.lacks
    assert any(source.startswith("14 %") for source in told.sources)


def forecast_of(shop: Shop, piece: Piece) -> Forecast:
    found = forecast(shop, piece.tag)
    assert isinstance(found, Forecast)
    return found


def test_a_film_nobody_knows_is_told_also_beside_one_that_is_known(
    shop: Shop, piece: Piece
) -> None:
    """Rails with known paint, the drawer's edges with shellac: the thicker one hid the other."""
    give_path(shop, piece.tag, "shellac_paint", ["D1"])
    for named in ([], ["D1"]):
        found = forecast(shop, piece.tag, named)
        assert isinstance(found, Forecast)
        told = tell_forecast(found)
        assert any(lack.startswith("the film of shellac") for lack in told.lacks)
        assert told.sentence.endswith("Coats whose film is not known are left out of this.")


def test_the_damp_month_is_only_told_where_the_wood_is_known(shop: Shop, piece: Piece) -> None:
    for drawer in ("D1", "D2"):
        of_drawer(shop, piece, drawer, "396", "170", ("402", "180"))
    said = "2 drawers measured: each still fits after its coats"
    assert forecast_of(shop, piece).sentence == f"{said}."
    set_wood(shop, piece.tag, [], "cherry, black", "")
    assert forecast_of(shop, piece).sentence == f"{said}, in the damp month too."


def test_a_drawer_without_its_opening_is_asked_for(shop: Shop, piece: Piece) -> None:
    taken(shop, piece, ("D2", "width", "398"))
    told = tell_forecast(forecast_of(shop, piece))
    assert "the same size of D2 and of its opening" in told.lacks
    assert told.rows[1][0] == "D2" and "neither width nor height" in told.rows[1][-1]


def test_nothing_measured_is_said(shop: Shop) -> None:
    bare = lay_out(shop, "Quill", "2")
    assert isinstance(bare, Piece)
    told = tell_forecast(forecast_of(shop, bare))
    assert told.sentence == "No drawer has its sizes taken, so no gap can be foretold."
    assert told.lacks == ("width and height of a drawer and of its opening",)


@pytest.mark.parametrize(
    ("only", "own", "told"),
    [
        (["D9"], None, "no drawer “D9”"),
        ([], OwnFilm(-1, 100, 30), "coats"),
        ([], OwnFilm(3, float("nan"), 30), "finite"),
        ([], OwnFilm(3, 100, 0), "solids"),
    ],
)
def test_refusals(
    shop: Shop, piece: Piece, only: list[str], own: OwnFilm | None, told: str
) -> None:
    refused = forecast(shop, piece.tag, only, own)
    assert isinstance(refused, Refused) and told in refused.sentence


def test_an_unknown_piece_is_refused(shop: Shop) -> None:
    assert isinstance(forecast(shop, "ZZZZ"), Refused)
