from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.seams import FaceRect, of_face, seams
from partsbench.core.piece.spot import Spot

TOP = FaceRect("top", "stain", 0, -400, 900, 400)
RAILS = FaceRect("rails", "paint", 0, 0, 900, 700)
LEFT = FaceRect("left side", "paint", -400, 0, 400, 700)


def test_top_and_front_of_a_chest_meet_along_its_width():
    (seam,) = seams([TOP, RAILS, LEFT])
    assert {seam.a, seam.b} == {"top", "rails"}
    assert seam.length == 900


def test_faces_of_one_path_have_no_seam():
    assert seams([RAILS, LEFT]) == []


def test_two_faces_without_a_finish_have_no_seam_but_a_raw_inside_beside_paint_has():
    raw, left = FaceRect("inside", "raw", 0, 0, 9, 9), FaceRect("back", "leave", 9, 0, 9, 9)
    assert seams([raw, left], touch=1) == []
    assert len(seams([raw, FaceRect("rail", "paint", 9, 0, 9, 9)], touch=1)) == 1


def test_a_front_inside_the_carcase_front_is_met_all_round():
    drawer = FaceRect(Spot("D1", "front"), "stain", 100, 100, 400, 150)
    found = seams([RAILS, drawer])
    assert len(found) == 4
    assert sum(seam.length for seam in found) == 2 * (400 + 150)


def test_what_lies_on_the_outline_is_no_seam():
    band = FaceRect("top rail", "stain", 0, 0, 900, 60)
    (seam,) = seams([RAILS, band])
    assert (seam.length, seam.y0) == (900, 60)


def test_the_gap_round_a_drawer_still_meets():
    one = FaceRect(Spot("D1", "front"), "stain", 0, 0, 440, 150)
    other = FaceRect(Spot("D2", "front"), "paint", 442, 20, 440, 150)
    (seam,) = seams([one, other])
    assert seam.length == 130
    far = FaceRect(Spot("D2", "front"), "paint", 460, 0, 440, 150)
    assert seams([one, far]) == []


def test_corners_that_only_touch_are_no_seam():
    assert seams([FaceRect("a", "stain", 0, 0, 9, 9), FaceRect("b", "paint", 9, 9, 9, 9)], 1) == []


def test_the_faces_over_a_seam_are_named_once():
    drawer = FaceRect(Spot("D1", "front"), "stain", 100, 100, 400, 150)
    found = seams([RAILS, drawer, TOP])
    assert of_face(found, Spot("D1", "front")) == ("rails",)
    assert set(of_face(found, "rails")) == {Spot("D1", "front"), "top"}
    assert of_face(found, "left side") == ()


GRID = st.lists(st.sampled_from(["stain", "paint", "clear"]), min_size=12, max_size=12)


@given(GRID, st.integers(20, 400), st.integers(20, 400))
def test_on_a_grid_the_seams_are_the_borders_between_unlike_cells(paths, width, height):
    """Against a plain count: each border between neighbours of different paths, once."""
    rects = [
        FaceRect(str(i), p, (i % 4) * width, (i // 4) * height, width, height)
        for i, p in enumerate(paths)
    ]
    upright = sum(paths[i] != paths[i + 1] for i in range(12) if i % 4 < 3)
    level = sum(paths[i] != paths[i + 4] for i in range(8))
    found = seams(rects)
    assert len(found) == upright + level
    assert sum(seam.length for seam in found) == pytest.approx(upright * height + level * width)


def lines(*faces: FaceRect, touch: float = 4.0) -> set[tuple[float, float, float, float]]:
    """Where the seams lie, in mm."""
    return {(s.x0, s.y0, s.x1, s.y1) for s in seams(faces, touch)}


@pytest.mark.parametrize("swap", [False, True])
def test_a_face_in_another_is_met_along_its_own_edges(swap):
    drawer = FaceRect("drawer", "stain", 100, 50, 400, 150)
    faces = (drawer, RAILS) if swap else (RAILS, drawer)
    assert lines(*faces) == {
        (100, 50, 100, 200),
        (500, 50, 500, 200),
        (100, 50, 500, 50),
        (100, 200, 500, 200),
    }


@pytest.mark.parametrize(
    ("inner", "open_edges"),
    [
        ((4, 4, 892, 692), set()),
        ((5, 4, 891, 692), {(5, 4, 5, 696)}),
        ((4, 4, 891, 692), {(895, 4, 895, 696)}),
        ((4, 5, 892, 691), {(4, 5, 896, 5)}),
        ((4, 4, 892, 691), {(4, 695, 896, 695)}),
    ],
)
def test_an_edge_within_touch_of_the_outline_lies_on_it(inner, open_edges):
    """The front is 900 by 700; 4 mm from its outline is on it, 5 mm is not."""
    assert lines(RAILS, FaceRect("panel", "stain", *inner)) == open_edges


@pytest.mark.parametrize(
    ("over", "inside"), [(4, True), (5, False)], ids=["as far as it touches", "further"]
)
@pytest.mark.parametrize("side", ["left", "right", "top", "bottom"])
def test_a_face_that_juts_out_no_further_than_it_touches_is_inside(over, inside, side):
    """A panel of half the front that reaches over one edge of it; inside it has three seams left,
    and otherwise it only lies over the front, which meets nothing."""
    half = {
        "left": (-over, 200, 450 + over, 300),
        "right": (450, 200, 450 + over, 300),
        "top": (200, -over, 300, 350 + over),
        "bottom": (200, 350, 300, 350 + over),
    }[side]
    assert len(lines(RAILS, FaceRect("panel", "stain", *half))) == (3 if inside else 0)


@pytest.mark.parametrize(("gap", "meets"), [(-4, True), (-5, False), (4, True), (5, False)])
def test_faces_side_by_side_meet_across_a_gap_or_a_lap_no_wider_than_touch(gap, meets):
    one = FaceRect("one", "stain", 0, 0, 300, 200)
    beside = FaceRect("two", "paint", 300 + gap, 50, 300, 200)
    assert lines(one, beside) == ({(300, 50, 300, 200)} if meets else set())
    below = FaceRect("two", "paint", 100, 200 + gap, 300, 200)
    assert lines(one, below) == ({(100, 200, 300, 200)} if meets else set())
    assert len(lines(beside, one)) == len(lines(below, one)) == meets


@pytest.mark.parametrize(("shared", "meets"), [(4, False), (5, True)])
def test_a_shared_stretch_no_longer_than_touch_is_a_corner(shared, meets):
    one = FaceRect("one", "stain", 0, 0, 300, 200)
    assert len(lines(one, FaceRect("two", "paint", 300, 200 - shared, 300, 200))) == meets
    assert len(lines(one, FaceRect("two", "paint", 300 - shared, 200, 300, 200))) == meets
