"""What a description says of single parts: what is taken, and what is told by its place."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.piece.described import add_described
from partsbench.core.piece.front import Front, OpeningKind, front_from_rows
from partsbench.core.piece.furnish import furnish, with_front, without_part
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.shaping import set_kind


def chest() -> Piece:
    """Two drawers and a door, with four legs."""
    front = front_from_rows((3,))
    assert isinstance(front, Front)
    made = furnish("K7Q4", "Heron", front, legs=4)
    assert isinstance(made, Piece)
    door = set_kind(made.front, 3, OpeningKind.DOOR)
    assert isinstance(door, Front)
    made = with_front(made, door)
    assert isinstance(made, Piece)
    return made


def added(**doc: Any) -> Piece:
    made = add_described(chest(), doc)
    assert isinstance(made, Piece), made
    return made


def part(piece: Piece, short: str) -> Part:
    found = piece.part(short)
    assert found is not None, short
    return found


def fault(**doc: Any) -> str:
    made = add_described(chest(), doc)
    assert isinstance(made, Refused), made
    return made.sentence


def test_nothing_said_is_nothing_changed() -> None:
    assert added() == chest()


def test_drawers_and_doors_are_fitted_and_written_small_too() -> None:
    piece = added(fittings={"pull": {"d1": 2, "G1": 1}, "lock": {"D2": 1}, "runner": {"D2": 0}})
    assert [(p.name, p.parent) for p in piece.present if p.parent] == [
        ("pull", "D1"), ("pull", "D1"), ("pull", "G1"), ("lock", "D2"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("fittings", "said"),
    [
        ({"handle": {"D1": 1}}, "fittings.handle: write a table of counts for one of pull, knob,"),
        ({"pull": 2}, "fittings.pull: write a table of counts"),
        ({"pull": {"L1": 1}}, "fittings.pull.L1: there is no such drawer or door."),
        ({"pull": {"D9": 1}}, "fittings.pull.D9: there is no such drawer or door."),
        ({"pull": {"D1": "1"}}, "fittings.pull.D1: write how many there are."),
        ({"pull": {"D1": True}}, "fittings.pull.D1: write how many there are."),
        ({"pull": {"D1": 7}}, "fittings.pull.D1: 7 × pull on each cannot be drawn; 0 to 6 can."),
    ],
)
def test_fittings_that_cannot_be_are_told(fittings: object, said: str) -> None:
    assert fault(fittings=fittings).startswith(said)


def test_a_bag_lies_on_a_part_or_on_the_piece() -> None:
    piece = added(bag=[{"name": "screws", "contents": "8", "on": "D2"}, {}])
    one, other = part(piece, "B1"), part(piece, "B2")
    assert (one.name, one.contents, one.parent, one.home.kind) == (
        "screws", "8", "D2", HomeKind.ON_PART,
    )  # fmt: skip
    assert (other.name, other.contents, other.parent, other.home.kind) == (
        "", "", "", HomeKind.ON_PIECE,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("bag", "said"),
    [
        ({"name": "screws"}, "bag: write each as a [[bag]] of its own."),
        ([{"name": "screws"}, 3], "bag: write each as a [[bag]] of its own."),
        ([{}, {"size": "big"}], "bag 2: it has a name, contents and on, each in quotes."),
        ([{"contents": 8}], "bag 1: it has a name, contents and on, each in quotes."),
        ([{"on": "D9"}], "bag 1: there is no part D9."),
    ],
)
def test_bags_that_cannot_be_are_told(bag: object, said: str) -> None:
    assert fault(bag=bag) == said


def test_old_marks_and_notes_go_each_to_its_own() -> None:
    piece = added(old_marks={"D1": 3, "D2": "III"}, notes={"D1": "runs tight"})
    assert [(p.old_mark, p.note) for p in (part(piece, "D1"), part(piece, "D2"))] == [
        ("3", "runs tight"), ("III", ""),
    ]  # fmt: skip


@pytest.mark.parametrize("key", ["old_marks", "notes"])
def test_marks_and_notes_that_cannot_be_are_told(key: str) -> None:
    assert fault(**{key: {"D9": "3"}}) == f"{key}.D9: there is no such part."
    for words in (True, 1.5, ["3"], None):
        assert fault(**{key: {"D1": words}}) == f"{key}.D1: write it in quotes."


def test_a_part_may_be_fragile_or_secret_or_both() -> None:
    piece = added(fragile=["D1", "L1"], secret=["D1", "D2"])
    flags = {p.short: (p.fragile, p.hidden) for p in piece.present}
    assert (flags["D1"], flags["L1"], flags["D2"], flags["G1"]) == (
        (True, True), (True, False), (False, True), (False, False),
    )  # fmt: skip


@pytest.mark.parametrize("key", ["fragile", "secret"])
def test_flags_that_cannot_be_are_told(key: str) -> None:
    assert fault(**{key: "D1"}) == f"{key}: write a list of parts."
    for name in ("D9", "lid", 7):
        assert fault(**{key: [name]}) == f"{key}: there is no part {name}."


def test_a_part_that_is_retired_is_no_part_any_more() -> None:
    gone = without_part(replace(chest(), numbers_fixed=True), "D1", "burnt")
    said = add_described(gone, {"notes": {"D1": "tight"}})
    assert said == Refused("notes.D1: there is no such part.")
