"""The drawing of a piece, worked out by hand: a front of 1000 by 400 mm, its frame 30 mm broad.

The frame is 3 % of the longer side, the overhang of the top 1.5 % of the width, the top 5 % of
the body, and the legs are 14 % of the front's height.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from partsbench.core.piece import shaping
from partsbench.core.piece.codes import Family
from partsbench.core.piece.drawing import Drawing, Shape, ShapeKind, elevation
from partsbench.core.piece.front import Front, OpeningKind, front_from_rows
from partsbench.core.piece.furnish import add_part, furnish, with_front, without_part
from partsbench.core.piece.parts import Home, HomeKind
from partsbench.core.piece.piece import Piece

WIDE = 1000 + 2 * 30 + 2 * 15


def front(*counts: int, width: float = 1000, height: float = 400) -> Front:
    made = front_from_rows(counts)
    assert isinstance(made, Front)
    made = shaping.scale(made, width, height)
    assert isinstance(made, Front)
    return made


def piece(of: Front, **how: object) -> Piece:
    made = furnish("K7Q4", "Heron", of, **how)  # type: ignore[arg-type]
    assert isinstance(made, Piece)
    return made


def shaped(before: Piece, to: object) -> Piece:
    assert isinstance(to, Front), to
    after = with_front(before, to)
    assert isinstance(after, Piece), after
    return after


def box(shape: Shape) -> tuple[float, float, float, float]:
    return shape.x, shape.y, shape.width, shape.height


def one(drawing: Drawing, part: str) -> Shape:
    (found,) = [s for s in drawing.shapes if s.part == part]
    return found


def test_a_carcase_alone_is_its_front_and_the_frame_round_it() -> None:
    drawing = elevation(piece(front(2)))
    assert (drawing.width, drawing.height) == pytest.approx((WIDE, 460))
    assert box(one(drawing, "C1")) == pytest.approx((15, 0, 1060, 460))
    assert box(one(drawing, "D1")) == pytest.approx((45 + 4, 30 + 4, 492, 392))
    assert box(one(drawing, "D2")) == pytest.approx((45 + 504, 30 + 4, 492, 392))
    assert one(drawing, "D2").middle == pytest.approx((45 + 750, 230))


def test_a_high_piece_has_its_frame_from_its_height() -> None:
    drawing = elevation(piece(front(1, width=400, height=1000)))
    assert (drawing.width, drawing.height) == pytest.approx((400 + 2 * 30 + 2 * 6, 1060))


def test_a_top_lies_on_the_body_as_wide_as_the_whole_and_legs_stand_below() -> None:
    drawing = elevation(piece(front(2), top=True, legs=4))
    assert (drawing.width, drawing.height) == pytest.approx((WIDE, 23 + 460 + 56))
    assert box(one(drawing, "T1")) == pytest.approx((0, 0, WIDE, 23))
    assert box(one(drawing, "C1")) == pytest.approx((15, 23, 1060, 460))
    assert box(one(drawing, "D1")) == pytest.approx((49, 57, 492, 392))


def test_legs_stand_at_their_corners_the_rear_ones_shorter_and_further_in() -> None:
    drawing = elevation(piece(front(2), legs=4))
    legs = {s.part: (s.kind, *box(s)) for s in drawing.shapes if s.part[0] == "L"}
    broad, inset = 0.6 * 56, 1.3 * 0.6 * 56
    front_leg, rear_leg = ShapeKind.LEG, ShapeKind.REAR_LEG
    expected: dict[str, tuple[object, ...]] = {
        "L1": (front_leg, 15, 460, broad, 56),
        "L2": (front_leg, 15 + 1060 - broad, 460, broad, 56),
        "L3": (rear_leg, 15 + inset, 460, broad, 0.85 * 56),
        "L4": (rear_leg, 15 + 1060 - inset - broad, 460, broad, 0.85 * 56),
    }
    for short, (kind, *where) in legs.items():
        assert kind is expected[short][0], short
        assert where == pytest.approx(expected[short][1:]), short
    assert list(legs) == ["L3", "L4", "L1", "L2"], "what stands in front is drawn later"
    assert [s.home for s in drawing.of_kind(front_leg)] == [3, 4]


def test_legs_of_a_narrow_high_piece_are_as_broad_as_its_width_bears() -> None:
    drawing = elevation(piece(front(1, width=400, height=1000), legs=2))
    assert one(drawing, "L1").width == pytest.approx(0.06 * 460)


@pytest.mark.parametrize(
    ("legs", "shares"),
    [
        (3, {"rear": 1 / 2}),
        (6, {"front middle": 1 / 3, "rear middle": 2 / 3}),
        (8, {"front middle 1": 1 / 5, "rear middle 1": 2 / 5, "front middle 2": 3 / 5}),
    ],
)
def test_legs_between_the_corners_share_the_width(legs: int, shares: dict[str, float]) -> None:
    made = piece(front(2), legs=legs)
    drawing = elevation(made)
    for corner in made.corners:
        if corner.spot in shares:
            (shape,) = [s for s in drawing.shapes if s.home == corner.number]
            between = shape.middle[0] - (15 + 1060 / 2)
            inset = 1.3 * shape.width if "rear" in corner.spot else 0
            reach = 1060 - shape.width - 2 * inset
            assert between == pytest.approx((shares[corner.spot] - 1 / 2) * reach), corner.spot


def test_a_corner_without_its_leg_is_drawn_all_the_same() -> None:
    made = without_part(replace(piece(front(2), legs=4), numbers_fixed=True), "L2", "broken")
    legs = elevation(made).of_kind(ShapeKind.LEG)
    assert [(s.part, s.home) for s in legs] == [("L1", 3), ("", 4)]


@pytest.mark.parametrize(
    ("width", "height", "gap"),
    [(1000, 400, 4), (60, 400, 3), (1000, 40, 2), (80, 80, 4)],
    ids=["usual", "narrow", "low", "just as large"],
)
def test_the_gap_round_an_opening_leaves_most_of_it(
    width: float, height: float, gap: float
) -> None:
    (shape,) = elevation(piece(front(1, width=width, height=height))).of_kind(ShapeKind.OPENING)
    assert (shape.width, shape.height) == pytest.approx((width - 2 * gap, height - 2 * gap))
    assert (shape.home, shape.part, shape.opening) == (1, "D1", OpeningKind.DRAWER)


def centres(of: Piece) -> Sequence[float]:
    """Of each pull: where its middle is on the width of the front it sits on."""
    drawing = elevation(of)
    (host,) = drawing.of_kind(ShapeKind.OPENING)
    return [(s.middle[0] - host.x) / host.width for s in drawing.of_kind(ShapeKind.PULL)]


@pytest.mark.parametrize(
    ("pulls", "where"),
    [
        (1, [1 / 2]),
        (2, [1 / 4, 3 / 4]),
        (3, [1 / 4, 1 / 2, 3 / 4]),
        (4, [1 / 5, 2 / 5, 3 / 5, 4 / 5]),
        (6, [n / 7 for n in range(1, 7)]),
    ],
)
def test_pulls_share_the_width_of_their_drawer(pulls: int, where: list[float]) -> None:
    assert centres(piece(front(1), pulls=pulls)) == pytest.approx(where)


def test_the_pull_of_a_door_sits_at_its_edge() -> None:
    made = piece(front(1), pulls=1)
    door = shaped(made, shaping.set_kind(made.front, 1, OpeningKind.DOOR))
    assert centres(door) == pytest.approx([0.88])


def test_a_pull_is_half_as_high_as_broad_and_a_plate_half_as_broad_again() -> None:
    made = piece(front(2), pulls=1)
    plate = made.part("P1")
    assert plate
    drawing = elevation(made.with_part(replace(plate, name="back plate")))
    broad = 0.14 * 492
    assert (one(drawing, "P2").width, one(drawing, "P2").height) == pytest.approx(
        (broad, broad / 2)
    )
    assert (one(drawing, "P1").width, one(drawing, "P1").height) == pytest.approx(
        (1.5 * broad, broad / 2)
    )
    for pull, drawer in (("P1", "D1"), ("P2", "D2")):
        assert one(drawing, pull).middle == pytest.approx(one(drawing, drawer).middle)


def test_a_pull_on_a_low_drawer_is_as_large_as_its_height_bears() -> None:
    drawing = elevation(piece(front(1, width=1000, height=100), pulls=1))
    assert one(drawing, "P1").width == pytest.approx(0.28 * 92)


def behind_a_door() -> Piece:
    made = piece(front(2))
    door = shaped(made, shaping.set_kind(made.front, 2, OpeningKind.DOOR))
    number = next(o.number for o in door.front.openings if o.kind is OpeningKind.DOOR)
    return shaped(door, shaping.put_behind(door.front, number, [1]))


def test_what_a_door_hides_is_drawn_after_it_and_smaller() -> None:
    drawing = elevation(behind_a_door())
    kinds = [s.kind for s in drawing.shapes]
    assert kinds[-1] is ShapeKind.HIDDEN
    assert kinds.count(ShapeKind.OPENING) == 2
    assert box(one(drawing, "D2")) == pytest.approx((45 + 500 + 40, 30 + 40, 420, 320))


def test_a_false_front_is_shown_by_its_opening_and_an_empty_place_by_none() -> None:
    made = piece(front(3))
    false = shaped(made, shaping.set_kind(made.front, 2, OpeningKind.FALSE_FRONT))
    number = next(o.number for o in false.front.openings if o.kind is OpeningKind.FALSE_FRONT)
    assert {s.part for s in elevation(false).of_kind(ShapeKind.OPENING)} == {"D1", "D2", "X1"}
    empty = shaped(false, shaping.set_kind(false.front, number, OpeningKind.EMPTY))
    (shape,) = [s for s in elevation(empty).of_kind(ShapeKind.OPENING) if not s.part]
    assert shape.opening is OpeningKind.EMPTY


def test_a_part_is_shown_where_it_lives_or_what_it_sits_on() -> None:
    """A runner by its opening, a key by the drawer of its lock, a bag by the carcase."""
    made = piece(front(2), pulls=1, legs=2)
    for family, home, parent in (
        (Family.RUNNER, Home(HomeKind.OPENING, 2, "left"), ""),
        (Family.LOCK, Home(HomeKind.ON_PART), "D2"),
        (Family.LOCK, Home(HomeKind.ON_PART), "K1"),
        (Family.BAG, Home(HomeKind.ON_PIECE), ""),
    ):
        now = add_part(made, family, home, parent=parent)
        assert isinstance(now, Piece), now
        made = now
    drawing = elevation(made)
    shown = {p.short: drawing.shape_of(made, p).part for p in made.present}
    assert shown == {
        "D1": "D1", "D2": "D2", "P1": "P1", "P2": "P2", "L1": "L1", "L2": "L2", "C1": "C1",
        "R1": "D2", "K1": "D2", "K2": "D2", "B1": "C1",
    }  # fmt: skip
