from __future__ import annotations

from dataclasses import replace

from partsbench.core.finish.between import Meeting, Together, meetings, together
from partsbench.core.piece import shaping
from partsbench.core.piece.front import Front, OpeningKind, front_from_rows
from partsbench.core.piece.furnish import furnish, with_front
from partsbench.core.piece.parts import LEAVE, PAINT, STAIN, Home, HomeKind
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot


def chest(*stained: str, left: tuple[str, ...] = ()) -> Piece:
    """900 wide, rows of 200: two drawers over one; all painted but for the parts named."""
    front = front_from_rows((2, 1))
    assert isinstance(front, Front)
    piece = furnish("K7Q4", "Heron", front, top=True)
    assert isinstance(piece, Piece)
    for part in piece.parts:
        path = STAIN if part.short in stained else LEAVE if part.short in left else PAINT
        piece = piece.with_part(part.with_path(path, frozenset(f.name for f in part.faces)))
    return piece


def test_a_stained_front_meets_the_painted_rails_all_round():
    """Its opening is its cell less a rail of 20 mm, or as it was measured."""
    assert meetings(chest("D1")) == [
        Meeting("D1", Spot("D1", "front"), Spot("C1", "rails"), 2 * (430 + 180))
    ]
    measured = {("H", 1): {"top width": 428.0, "left height": 181.0}}
    assert [m.length for m in meetings(chest("D1"), measured)] == [2 * (428 + 181)]


def test_a_stained_top_meets_the_carcase_below_its_four_edges():
    sizes = {("C", 1): {"depth": 480.0}}
    found = {(m.a, m.b): m.length for m in meetings(chest("T1"), sizes)}
    assert found == {
        (Spot("T1", "front edge"), Spot("C1", "rails")): 900,
        (Spot("T1", "back edge"), Spot("C1", "back")): 900,
        (Spot("T1", "left edge"), Spot("C1", "left side")): 480,
        (Spot("T1", "right edge"), Spot("C1", "right side")): 480,
    }
    own = {**sizes, ("T", 1): {"depth": 500.0}}
    assert {m.length for m in meetings(chest("T1"), own)} == {900, 500}
    assert {m.length for m in meetings(chest("T1"))} == {900, 450}


def test_parts_of_one_finish_have_no_seam_and_neither_have_two_that_get_none():
    assert meetings(chest()) == []
    assert meetings(chest(left=("C1", "D1", "D2", "D3", "T1"))) == []
    assert [m.part for m in meetings(chest(left=("D1",)))] == ["D1"]


def test_those_of_one_part_are_among_those_of_all():
    piece = chest("C1")
    every = meetings(piece)
    assert {m.part for m in every} == {"D1", "D2", "D3", "T1"}
    for part in piece.present:
        own = meetings(piece, of=part)
        mine = every if part.short == "C1" else [m for m in every if m.part == part.short]
        assert own == mine


def test_whether_two_parts_are_together():
    piece = chest()
    drawer, top = piece.part("D1"), piece.part("T1")
    assert drawer is not None and top is not None
    assert together(drawer, has_moved=False, is_home=False) is Together.NO
    assert together(drawer, has_moved=True, is_home=True) is Together.YES
    assert together(top, has_moved=False, is_home=False) is Together.MAYBE
    assert together(top, has_moved=True, is_home=False) is Together.NO
    stays = Home(HomeKind.STAYS, 1)
    assert together(replace(drawer, home=stays), False, False) is Together.YES


def shaped(piece: Piece, front: object) -> Piece:
    assert isinstance(front, Front), front
    made = with_front(piece, front)
    assert isinstance(made, Piece), made
    return made


def test_a_false_front_meets_the_rails_and_what_a_door_hides_meets_nothing_seen():
    piece = chest()
    piece = shaped(piece, shaping.set_kind(piece.front, 1, OpeningKind.FALSE_FRONT))
    piece = shaped(piece, shaping.set_kind(piece.front, 2, OpeningKind.DOOR))
    door = next(o.number for o in piece.front.openings if o.kind is OpeningKind.DOOR)
    piece = shaped(piece, shaping.put_behind(piece.front, door, [1]))
    carcase = piece.part("C1")
    assert carcase is not None
    piece = piece.with_part(carcase.with_path(STAIN, frozenset(f.name for f in carcase.faces)))
    painted = [p for p in piece.present if p.short not in ("C1", "T1")]
    for part in painted:
        piece = piece.with_part(part.with_path(PAINT, frozenset(f.name for f in part.faces)))
    behind = {o.number for o in piece.front.openings if o.behind is not None}
    hidden = [p.short for p in painted if p.home.number in behind]
    assert [p.short for p in painted] == ["D1", "D2", "G1", "X1"] and len(hidden) == 1
    met = {m.part for m in meetings(piece) if m.part != "T1"}
    assert met == {"D1", "D2", "G1", "X1"} - set(hidden)


def test_a_meeting_is_told_from_either_side():
    front, rails = Spot("D1", "front"), Spot("C1", "rails")
    meeting = Meeting("D1", front, rails, 1220)
    assert (meeting.other(front), meeting.other(rails)) == (rails, front)
