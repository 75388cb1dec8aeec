from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.seams import seams
from partsbench.core.finish.sheets import (
    area_m2,
    is_upright,
    seams_of,
    sheets_of,
    size_of,
)
from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import Front, front_from_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.parts import PAINT, STAIN, Face, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot


def chest(**paths: frozenset[str]) -> Piece:
    """900 wide, 3 rows of 200; the carcase painted but for the faces named `stain`."""
    front = front_from_rows((2, 2, 3))
    assert isinstance(front, Front)
    piece = furnish("K7Q4", "Heron", front, top=True)
    assert isinstance(piece, Piece)
    for part in piece.parts:
        every = frozenset(f.name for f in part.faces)
        stained = paths.get(part.family.name.lower(), frozenset())
        piece = piece.with_part(part.with_path(PAINT, every).with_path(STAIN, stained))
    return piece


def carcase(piece: Piece):
    return next(p for p in piece.parts if p.family is Family.CARCASE)


def test_a_stained_top_meets_the_four_painted_sides_of_its_box():
    piece = chest(carcase=frozenset({"top"}))
    found = {frozenset((s.a, s.b)): s.length for s in seams_of(piece, carcase(piece), depth=450)}
    assert found == {
        frozenset((Spot("C1", "rails"), Spot("C1", "top"))): 900,
        frozenset((Spot("C1", "back"), Spot("C1", "top"))): 900,
        frozenset((Spot("C1", "left side"), Spot("C1", "top"))): 450,
        frozenset((Spot("C1", "right side"), Spot("C1", "top"))): 450,
    }


def test_a_stained_drawer_front_meets_its_four_painted_edges():
    piece = chest(drawer=frozenset({"front"}))
    drawer = next(p for p in piece.parts if p.short == "D1")
    found = {s.a if s.b == Spot("D1", "front") else s.b: s.length for s in seams_of(piece, drawer)}
    assert found == {Spot("D1", "left edge"): 200, Spot("D1", "right edge"): 200,
                     Spot("D1", "top edge"): 450, Spot("D1", "bottom edge"): 450}  # fmt: skip


def test_a_part_of_one_path_has_no_seam():
    piece = chest()
    assert [seams_of(piece, p) for p in piece.parts] == [[] for _ in piece.parts]


@given(st.floats(100, 900))
def test_the_edges_of_a_box_lie_once_on_its_sheets(depth):
    """Twelve edges, each between two of the six faces, whatever the depth."""
    piece = chest()
    part = carcase(piece)
    names = ("rails", "left side", "right side", "top", "base", "back")
    striped = part
    for place, name in enumerate(names):
        striped = striped.with_path(f"path {place}", frozenset({name}))
    striped = striped.with_path("raw", frozenset({"inside"}))
    size = size_of(piece, striped, depth, 20)
    assert size is not None
    found = seams_of(piece.with_part(striped), striped, depth)
    assert len({frozenset((s.a, s.b)) for s in found}) == len(found) == 12
    total = 4 * (piece.front.width + piece.front.height + depth)
    assert sum(s.length for s in found) == pytest.approx(total)


def test_areas_are_those_of_the_front_and_nothing_for_what_it_does_not_tell():
    piece = chest()
    drawer = next(p for p in piece.parts if p.short == "D1")
    assert area_m2(piece, drawer, "front") == pytest.approx(0.45 * 0.2)
    assert area_m2(piece, drawer, "top edge", thickness=20) == pytest.approx(0.45 * 0.02)
    assert area_m2(piece, carcase(piece), "left side", depth=400) == pytest.approx(0.6 * 0.4)
    assert area_m2(piece, drawer, "inside") == 0.0


def test_tops_lie_and_fronts_stand():
    assert not is_upright("top")
    assert is_upright("front")
    assert carcase(chest()).spot("left side") == Spot("C1", "left side")
    assert sheets_of(carcase(chest()), size_of(chest(), carcase(chest()), 450, 20))


def test_a_shelf_lies_flat_its_edge_along_its_width_and_a_pull_has_no_size_of_its_own():
    front = front_from_rows((1, 1))
    assert isinstance(front, Front)
    piece = furnish("K7Q4", "Heron", front, pulls=1)
    assert isinstance(piece, Piece)
    drawer = next(p for p in piece.parts if p.family is Family.DRAWER)
    pull = next(p for p in piece.parts if p.family is Family.PULL)
    assert size_of(piece, drawer, 450, 20) is not None
    assert size_of(piece, pull, 450, 20) is None
    shelf = Part(
        Family.SHELF, 1, drawer.home, faces=(Face("top", PAINT), Face("front edge", STAIN))
    )
    size = size_of(piece, shelf, 450, 20)
    assert size is not None and size.height == 450
    (flat,) = sheets_of(shelf, size)
    top, edge = flat
    assert (top.x, top.y, top.right, top.bottom) == (0, 0, size.width, 450)
    assert (edge.x, edge.y, edge.right) == (0, 450, size.width)
    (seam,) = seams(flat)
    assert seam.length == size.width


def test_what_was_not_measured_is_450_mm_deep_and_20_thick():
    piece = chest(carcase=frozenset({"top"}))
    drawer = next(p for p in piece.parts if p.short == "D1")
    assert area_m2(piece, drawer, "top edge") == pytest.approx(0.45 * 0.02)
    assert area_m2(piece, drawer, "left edge") == pytest.approx(0.2 * 0.02)
    assert area_m2(piece, carcase(piece), "left side") == pytest.approx(0.6 * 0.45)
    assert {s.length for s in seams_of(piece, carcase(piece))} == {900, 450}


def test_a_top_is_as_wide_as_the_front_and_as_deep_as_the_piece():
    piece = chest()
    top = next(p for p in piece.parts if p.family is Family.TOP)
    assert area_m2(piece, top, "top", depth=400) == pytest.approx(0.9 * 0.4)
    assert area_m2(piece, top, "left edge", depth=400) == pytest.approx(0.4 * 0.02)
    assert area_m2(piece, top, "front edge", depth=400) == pytest.approx(0.9 * 0.02)
