"""What may be alike, and what any of them is called."""

from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.piece.alike import alike_words, set_alike
from partsbench.core.piece.fittings import set_legs
from partsbench.core.piece.front import front_from_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.piece import Piece, home_words


def chest(**how: object) -> Piece:
    piece = furnish("K7Q4", "Heron", front_from_rows((2, 2)), legs=4, pulls=2, **how)  # type: ignore[arg-type]
    assert isinstance(piece, Piece)
    return piece


def alike(piece: Piece, *shorts: str, on: bool = True) -> Piece:
    found = set_alike(piece, shorts, on)
    assert isinstance(found, Piece), found
    return found


def fault(piece: Piece, *shorts: str) -> str:
    found = set_alike(piece, shorts, True)
    assert isinstance(found, Refused)
    return str(found)


def mates(piece: Piece, short: str) -> list[str]:
    part = piece.part(short)
    assert part is not None
    return [p.short for p in piece.alike_to(part)]


def test_any_of_them_goes_to_any_of_their_places() -> None:
    piece = alike(chest(), "P1", "P2", "P3", "P5")
    assert mates(piece, "P3") == ["P1", "P2", "P3", "P5"]
    assert mates(piece, "P4") == ["P4"]
    pull, other = piece.part("P5"), piece.part("P4")
    assert pull and other
    assert home_words(piece, pull) == "on any of D1–D3"
    assert home_words(piece, other).startswith("on D2, ")
    assert alike_words(piece, pull) == "any pull"


def test_legs_are_alike_by_the_same_rule() -> None:
    by_rule = alike(chest(), "L1", "L2", "L3", "L4")
    assert by_rule == set_legs(chest(), 4, True)
    leg = by_rule.part("L2")
    assert leg and home_words(by_rule, leg) == "any corner that a leg stands at"
    assert alike_words(by_rule, leg) == "any leg"
    back = set_legs(by_rule, 4, False)
    assert isinstance(back, Piece) and mates(back, "L1") == ["L1"]


def test_a_single_leg_is_alike_to_nothing() -> None:
    one = furnish("K7Q4", "Heron", front_from_rows((2,)), legs=1)  # type: ignore[arg-type]
    assert isinstance(one, Piece)
    found = set_legs(one, 1, True)
    assert isinstance(found, Piece) and mates(found, "L1") == ["L1"]
    assert found.part("L1").group == ""  # type: ignore[union-attr]


def test_two_groups_stay_apart() -> None:
    piece = alike(alike(chest(), "P1", "P2"), "P5", "P6")
    assert mates(piece, "P1") == ["P1", "P2"]
    assert mates(piece, "P6") == ["P5", "P6"]


def test_a_group_keeps_its_name_when_it_is_said_again() -> None:
    once = alike(chest(), "P1", "P2")
    assert once.part("P1").group == "pull"  # type: ignore[union-attr]
    assert alike(once, "P1", "P2") == once
    second = alike(once, "P5", "P6").part("P6")
    assert second and second.group == "P5"


def test_any_of_them_is_called_by_their_name() -> None:
    piece = chest()
    for short in ("P1", "P2"):
        part = piece.part(short)
        assert part
        piece = piece.with_part(replace(part, name="knob"))
    knob, leg = alike(piece, "P1", "P2").part("P1"), piece.part("L1")
    assert knob and leg
    assert alike_words(alike(piece, "P1", "P2"), knob) == "any knob"
    assert alike_words(piece, leg) == "any leg", "not by the corner it happens to have"


def test_of_two_one_cannot_be_alike_alone() -> None:
    piece = alike(alike(chest(), "P1", "P2"), "P2", on=False)
    assert mates(piece, "P1") == ["P1"]
    assert piece.part("P1").group == ""  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("shorts", "why"),
    [
        (("P1",), "two or more"),
        (("P1", "P1"), "two or more"),
        (("P1", "P99"), "no part P99"),
        (("D1", "D2"), "D1, D2 has a home of its own"),
        (("P1", "L1"), "different sorts"),
    ],
)
def test_what_cannot_be_alike_is_told(shorts: tuple[str, ...], why: str) -> None:
    assert why in fault(chest(), *shorts)


def test_another_name_or_finish_is_not_alike() -> None:
    piece = chest()
    pull = piece.part("P1")
    assert pull
    assert "different names: knob, pull" in fault(
        piece.with_part(replace(pull, name="knob")), "P1", "P2"
    )
    assert "same finish" in fault(piece.with_part(pull.with_path("paint")), "P1", "P2")


def test_any_of_several_names_at_corners_is_called_by_what_it_is() -> None:
    """Legs are named by their corners, and any of them may stand at any."""
    piece = alike(chest(), "L1", "L2")
    leg = piece.part("L1")
    assert leg and alike_words(piece, leg) == "any leg"
    pulls = alike(chest(), "P1", "P2")
    mixed = pulls.part("P1")
    assert mixed
    named = pulls.with_part(replace(mixed, name="brass pull"))
    assert alike_words(named, mixed) == "any pull", "they bear two names"


def test_of_three_one_leaves_and_two_stay_alike() -> None:
    piece = alike(alike(chest(), "P1", "P2", "P3"), "P3", on=False)
    assert mates(piece, "P1") == ["P1", "P2"]
    assert mates(piece, "P3") == ["P3"]


def test_a_part_that_is_gone_is_alike_to_nothing() -> None:
    lost = chest().part("P2")
    assert lost
    assert "no part P2" in fault(chest().with_part(replace(lost, retired="lost")), "P1", "P2")
    piece = alike(chest(), "P1", "P2")
    gone = piece.part("P2")
    assert gone
    left = alike(piece.with_part(replace(gone, retired="lost")), "P3", "P4")
    assert left.part("P1").group == "", "of its group nobody else is there"  # type: ignore[union-attr]
