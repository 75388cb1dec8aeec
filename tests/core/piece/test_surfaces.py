"""Areas, openings and seams of a piece, worked by hand and by property."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from partsbench.core.piece.codes import Family
from partsbench.core.piece.describe import with_paths
from partsbench.core.piece.front import Front, OpeningKind, front_from_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.shaping import set_kind
from partsbench.core.piece.spot import Spot
from partsbench.core.piece.surfaces import (
    RAIL_MM,
    THICKNESS_MM,
    areas,
    depth_of,
    face_area,
    front_size,
    named_sizes,
    opening_size,
    openings_to_paper,
    seams_of_part,
    size_names,
    with_usual_depths,
)
from tests.support.some_pieces import pieces


def chest(*paths: tuple[str, str], front: Front | None = None, top: bool = False) -> Piece:
    """Three drawers of 800 × 300 mm cells, with those (path, name) given."""
    made_front = front or front_from_rows((1, 1, 1), 800, (300, 300, 300))
    assert isinstance(made_front, Front)
    piece = furnish("K7Q4", "Heron", made_front, legs=4, top=top)
    assert isinstance(piece, Piece)
    for path, name in paths:
        made = with_paths(piece, path, [str(name)])
        assert isinstance(made, Piece), made
        piece = made
    return piece


def named(piece: Piece, short: str) -> Part:
    part = piece.part(short)
    assert part is not None
    return part


def area(piece: Piece, name: Spot, sizes: dict[tuple[str, int], dict[str, float]]) -> float:
    (found,) = [f.m2 for f in areas(piece, sizes).faces if f.spot == name]
    return found


def test_an_opening_is_its_cell_less_a_rail_until_it_is_measured() -> None:
    piece = chest()
    opening = piece.front.openings[0]
    assert opening_size(piece, opening, {}) == (800 - RAIL_MM, 300 - RAIL_MM)
    sizes = {("H", 1): {"top width": 777.0, "bottom width": 776.0, "left height": 278.0}}
    assert opening_size(piece, opening, sizes) == (776.0, 278.0)


def test_a_front_is_as_measured_else_as_its_opening() -> None:
    piece = chest()
    drawer = piece.numbered(Family.DRAWER, 1)
    leg = piece.numbered(Family.LEG, 1)
    assert drawer is not None and leg is not None
    assert front_size(piece, drawer, {}) == (780, 280)
    sizes = {("D", 1): {"top width": 775.0, "bottom width": 774.0}}
    assert front_size(piece, drawer, sizes) == (775.0, 280)
    assert front_size(piece, leg, {}) is None


def test_areas_by_hand() -> None:
    piece = chest(
        ("paint", "D1"), ("paint", "C1"), ("paint", "T1"), ("clear", Spot("D1", "sides")), top=True
    )
    sizes = {("C", 1): {"depth": 450.0}, ("D", 1): {"depth": 400.0}}
    assert area(piece, Spot("D1", "front"), {}) == pytest.approx(0.78 * 0.28)
    assert area(piece, Spot("D1", "top edge"), {}) == pytest.approx(0.78 * THICKNESS_MM / 1000)
    assert area(piece, Spot("D1", "sides"), sizes) == pytest.approx(2 * 0.28 * 0.40)
    assert area(piece, Spot("C1", "rails"), {}) == pytest.approx(0.8 * 0.9 - 3 * 0.78 * 0.28)
    assert area(piece, Spot("C1", "left side"), sizes) == pytest.approx(0.9 * 0.45)
    assert area(piece, Spot("T1", "top"), sizes) == pytest.approx(0.8 * 0.45)


def test_what_is_missing_is_named_for_its_path_only() -> None:
    piece = chest(("paint", Spot("C1", "left side")), ("stain", "legs"))
    found = areas(piece, {})
    assert found.lacks("paint") == ("depth of C1",)
    assert found.lacks("stain")[0] == "height and girth of L1"
    sizes = {("L", n): {"height": 150.0, "girth": 200.0} for n in range(1, 5)}
    known = areas(piece, sizes)
    assert known.lacks("stain") == ()
    assert sum(f.m2 for f in known.faces if f.path == "stain") == pytest.approx(4 * 0.15 * 0.2)


def test_a_face_bears_the_row_it_is_seen_in() -> None:
    rows = {f.spot: f.row for f in areas(chest(("paint", "drawers")), {}).faces}
    assert [rows[Spot(f"D{n}", "front")] for n in (1, 2, 3)] == ["row 1", "row 2", "row 3"]


def test_openings_are_papered_when_rails_are_coated_and_the_inside_is_not() -> None:
    assert openings_to_paper(chest()) == ()
    rails = chest(("paint", Spot("C1", "rails")))
    assert [o.number for o in openings_to_paper(rails)] == [1, 2, 3]
    assert openings_to_paper(chest(("paint", "C1 rails"), ("paint", "C1 inside"))) == ()
    assert [o.number for o in openings_to_paper(rails, {2})] == [1, 3], "D2 is in its place"


def test_a_false_front_is_not_papered() -> None:
    front = front_from_rows((1, 1, 1), 800, (300, 300, 300))
    assert isinstance(front, Front)
    shut = set_kind(front, 2, OpeningKind.FALSE_FRONT)
    assert isinstance(shut, Front)
    piece = chest(("paint", Spot("C1", "rails")), ("stain", "X1"), front=shut)
    assert [o.span.row for o in openings_to_paper(piece)] == [0, 2]


def test_a_top_edge_of_another_path_is_one_seam() -> None:
    piece = chest(("paint", "D1"), ("stain", Spot("D1", "top edge")))
    seams = seams_of_part(piece, named(piece, "D1"), {("D", 1): {"top width": 775.0}})
    assert [s.length for s in seams if s.b.face == "top edge"] == [775.0]


@pytest.mark.parametrize(
    ("family", "asked", "names"),
    [
        (Family.DRAWER, "Width", ("top width", "bottom width")),
        (Family.DRAWER, "left", ("left height",)),
        (Family.DOOR, "front-thickness", ("thickness",)),
        (Family.HOME, "thickness", ()),
        (Family.LEG, "height", ("height",)),
        (Family.LEG, "width", ()),
        (Family.CARCASE, "depth", ("depth",)),
        (Family.DRAWER, "colour", ()),
    ],
)
def test_sizes_by_the_words_people_use(family: Family, asked: str, names: tuple[str, ...]) -> None:
    assert named_sizes(family, asked) == names
    assert set(names) <= set(size_names(family))


@settings(max_examples=60, deadline=None)
@given(pieces())
def test_every_finished_face_has_an_area_or_a_lack(piece: Piece) -> None:
    found = areas(piece, {})
    finished = [(p.short, f.name) for p in piece.present for f in p.faces if f.finished]
    assert len(found.faces) + len(found.missing) == len(finished)
    assert all(f.m2 >= 0 for f in found.faces)
    assert all(s.length > 0 for p in piece.present for s in seams_of_part(piece, p, {}))


@pytest.mark.parametrize(
    ("name", "m2"),
    [
        (Spot("D1", "bottom edge"), 0.78 * 0.02),
        (Spot("D1", "left edge"), 0.28 * 0.02),
        (Spot("D1", "right edge"), 0.28 * 0.02),
        (Spot("D1", "back"), 0.78 * 0.28),
        (Spot("D1", "bottom"), 0.78 * 0.40),
        (
            Spot("D1", "inside"),
            0.9728,
        ),  # the box 1.2848 m², its open top 0.312
        (Spot("C1", "left side"), 0.90 * 0.45),
        (Spot("C1", "right side"), 0.90 * 0.45),
        (Spot("C1", "top"), 0.80 * 0.45),
        (Spot("C1", "base"), 0.80 * 0.45),
        (Spot("C1", "back"), 0.80 * 0.90),
        (
            Spot("C1", "inside"),
            2.25,
        ),  # the box 2.97 m², its open front 0.72
        (Spot("T1", "front edge"), 0.80 * 0.02),
        (Spot("T1", "back edge"), 0.80 * 0.02),
        (Spot("T1", "left edge"), 0.45 * 0.02),
        (Spot("T1", "underside"), 0.80 * 0.45),
    ],
)
def test_every_face_of_a_chest_by_hand(name: Spot, m2: float) -> None:
    piece = chest(("paint", name), top=True)
    sizes = {("C", 1): {"depth": 450.0}, ("D", 1): {"depth": 400.0}}
    assert area(piece, name, sizes) == pytest.approx(m2)


def test_a_false_front_is_as_large_as_its_opening() -> None:
    front = front_from_rows((1, 1, 1), 800, (300, 300, 300))
    assert isinstance(front, Front)
    shut = set_kind(front, 2, OpeningKind.FALSE_FRONT)
    assert isinstance(shut, Front)
    piece = chest(("stain", "X1"), front=shut)
    found = [f.m2 for f in areas(piece, {}).faces if f.spot.part == "X1"]
    assert found == [pytest.approx(0.78 * 0.28)]


def test_a_cell_hardly_wider_than_its_rail_leaves_half_of_itself() -> None:
    front = front_from_rows((1,), 30, (24,))
    assert isinstance(front, Front)
    piece = chest(front=front)
    assert opening_size(piece, piece.front.openings[0], {}) == (15, 12)


def test_a_leg_wants_both_its_height_and_its_girth() -> None:
    piece = chest(("stain", "L1"))
    for half in ({"height": 150.0}, {"girth": 200.0}):
        assert areas(piece, {("L", 1): half}).lacks("stain") == ("height and girth of L1",)


def test_seams_over_the_depth_of_a_carcase_take_a_usual_one_until_it_is_measured() -> None:
    piece = chest(("paint", Spot("C1", "left side")), ("stain", Spot("C1", "top")))

    def corner(own: dict[str, float], end: str = Spot("C1", "top")) -> list[float]:
        found = seams_of_part(piece, named(piece, "C1"), {("C", 1): own})
        return [s.length for s in found if {s.a, s.b} == {Spot("C1", "left side"), end}]

    assert corner({}) == [450.0]
    assert corner({"depth": 380.0}) == [380.0]
    assert corner({"height": 870.0}, Spot("C1", "rails")) == [870.0]
    assert corner({}, Spot("C1", "rails")) == [900.0]


def test_a_top_is_as_deep_as_its_carcase_until_it_is_measured() -> None:
    piece = chest(top=True)
    carcase, top = named(piece, "C1"), named(piece, "T1")
    sizes = {("C", 1): {"depth": 440.0}}
    assert depth_of(piece, top, {}) is None
    assert depth_of(piece, top, sizes) == 440
    assert depth_of(piece, top, {**sizes, ("T", 1): {"depth": 470.0}}) == 470
    assert depth_of(piece, carcase, {("T", 1): {"depth": 470.0}}) is None


def test_the_usual_depth_stands_in_for_what_was_not_measured() -> None:
    piece = chest(top=True)
    found, lacks = with_usual_depths(piece, {}, {"C1", "D1"})
    assert (found, lacks) == ({("C", 1): {"depth": 450.0}}, ["depth of C1"])
    assert with_usual_depths(piece, {}, {"T1"})[1] == ["depth of T1"]
    known = {("C", 1): {"depth": 440.0}}
    assert with_usual_depths(piece, known, {"C1", "T1"}) == (known, [])


def test_a_face_without_a_finish_has_an_area_too() -> None:
    piece = chest()
    assert areas(piece, {}).faces == ()
    assert face_area(piece, named(piece, "C1"), "back", {}) == pytest.approx(800 * 900)
    assert face_area(piece, named(piece, "C1"), "base", {}) == "depth of C1"


def test_two_paths_on_one_part_meet_and_one_does_not() -> None:
    piece = chest()
    drawer = named(piece, "D1")
    every = frozenset(f.name for f in drawer.faces)
    plain = drawer.with_path("paint", every)
    assert seams_of_part(piece.with_part(plain), plain, {}) == []
    two = plain.with_path("stain", frozenset({"front"}))
    assert len(seams_of_part(piece.with_part(two), two, {})) == 4
