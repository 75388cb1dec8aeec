from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.fittings import fittings, set_fittings, set_legs, set_top
from partsbench.core.piece.front import Front, front_from_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.parts import HomeKind
from partsbench.core.piece.piece import Piece, home_words


def piece_of(*counts: int, fixed: bool = False, **options) -> Piece:
    front = front_from_rows(counts)
    assert isinstance(front, Front)
    piece = furnish("K7Q4", "Heron", front, **options)
    assert isinstance(piece, Piece)
    return replace(piece, numbers_fixed=fixed)


def ok(made: Piece | Refused) -> Piece:
    assert isinstance(made, Piece), made
    return made


def shorts(piece: Piece, family: Family) -> list[str]:
    return [p.short for p in piece.present if p.family is family]


def test_each_drawer_has_as_many_pulls_as_asked():
    piece = ok(set_fittings(piece_of(2, 2, pulls=1), ["D1", "D3"], 2))
    spots = {s: [p.home.spot for p in fittings(piece, s, "pull")] for s in ("D1", "D2", "D3")}
    assert spots == {"D1": ["left", "right"], "D2": ["middle"], "D3": ["left", "right"]}
    assert shorts(piece, Family.PULL) == [f"P{n}" for n in range(1, 7)]


def test_pulls_taken_away_after_labels_are_retired_and_new_ones_numbered_on():
    piece = ok(set_fittings(piece_of(2, pulls=1, fixed=True), ["D1"], 2))
    assert piece.part("P1").retired == "taken off the plan"
    assert [p.short for p in fittings(piece, "D1", "pull")] == ["P3", "P4"]


def test_knobs_and_pulls_of_one_drawer_are_counted_apart():
    piece = ok(set_fittings(piece_of(1, pulls=2), ["D1"], 1, "knob"))
    assert len(fittings(piece, "D1", "pull")) == 2
    assert len(fittings(piece, "D1", "knob")) == 1


def test_a_lock_travels_with_its_drawer_and_runners_stay_in_its_opening():
    piece = ok(set_fittings(piece_of(2), ["D2"], 1, "lock"))
    piece = ok(set_fittings(piece, ["D2"], 2, "runner"))
    lock = fittings(piece, "D2", "lock")[0]
    assert (lock.family, lock.parent) == (Family.LOCK, "D2")
    runners = fittings(piece, "D2", "runner")
    assert [(r.home.kind, r.home.number, r.parent) for r in runners] == [
        (HomeKind.OPENING, 2, "")
    ] * 2
    assert home_words(piece, runners[0]) == "row 1, right, left"
    assert piece.occupant(2).short == "D2"
    assert fittings(ok(set_fittings(piece, ["D2"], 0, "runner")), "D2", "runner") == ()


@pytest.mark.parametrize(
    ("hosts", "count", "name", "says"),
    [
        (["D9"], 1, "pull", "no part D9"),
        (["D1"], 7, "pull", "0 to 6"),
        (["D1"], 1, "hinge", "no fitting “hinge”"),
        (["L1"], 1, "runner", "L1 lives in no opening"),
    ],
)
def test_fittings_that_cannot_be_are_refused(hosts, count, name, says):
    fault = set_fittings(piece_of(2, legs=4), hosts, count, name)
    assert isinstance(fault, Refused)
    assert says in fault.sentence


def test_legs_may_be_equals_and_go_to_any_corner():
    piece = ok(set_legs(piece_of(2), 4, equal=True))
    assert [home_words(piece, piece.part(s)) for s in shorts(piece, Family.LEG)] == [
        "any corner that a leg stands at"
    ] * 4
    fixed = ok(set_legs(piece, 4, equal=False))
    assert home_words(fixed, fixed.part("L3")) == "rear left corner"


def test_another_number_of_legs_is_refused_once_labels_are_printed():
    piece = piece_of(2, legs=4, fixed=True)
    assert ok(set_legs(piece, 4, equal=True)).part("L1").group == "leg"
    assert isinstance(set_legs(piece, 6, equal=False), Refused)
    assert isinstance(set_legs(piece_of(2), 13, equal=False), Refused)


def test_a_top_comes_and_goes():
    piece = set_top(piece_of(2), True)
    assert shorts(piece, Family.TOP) == ["T1"]
    assert set_top(piece, True) == piece
    assert shorts(set_top(piece, False), Family.TOP) == []
    retired = set_top(replace(piece, numbers_fixed=True), False)
    assert retired.part("T1").retired
    assert shorts(set_top(retired, True), Family.TOP) == ["T2"]


def test_six_on_each_are_the_most_and_none_is_allowed():
    piece = piece_of(1, pulls=1)
    assert len(fittings(ok(set_fittings(piece, ["D1"], 6)), "D1", "pull")) == 6
    assert fittings(ok(set_fittings(piece, ["D1"], 0)), "D1", "pull") == ()
    assert isinstance(set_fittings(piece, ["D1"], -1), Refused)
    assert isinstance(set_fittings(piece, ["D1"], 7), Refused)


def test_as_many_as_there_are_is_no_change_and_the_numbers_stay_free_or_fixed():
    for fixed in (False, True):
        piece = piece_of(2, pulls=2, fixed=fixed)
        assert ok(set_fittings(piece, ["D1", "D2"], 2)) == piece


def test_a_host_that_is_gone_has_no_fittings():
    piece = piece_of(2, pulls=1, fixed=True)
    assert fittings(piece, "D9", "pull") == ()
    lost = replace(piece.part("D1"), retired="burnt")
    assert isinstance(set_fittings(piece.with_part(lost), ["D1"], 2), Refused)


def test_what_was_retired_before_stays_so_when_fittings_change():
    piece = piece_of(2, pulls=1)
    piece = piece.with_part(replace(piece.part("P2"), retired="lost"))
    after = ok(set_fittings(piece, ["D1"], 2))
    assert [p.retired for p in after.parts if p.retired] == ["lost"]


@pytest.mark.parametrize(("legs", "allowed"), [(-1, False), (0, True), (12, True), (13, False)])
def test_so_many_legs_can_be_drawn(legs, allowed):
    made = set_legs(piece_of(2, legs=4), legs, equal=False)
    assert isinstance(made, Piece) is allowed
    if allowed:
        assert len(shorts(made, Family.LEG)) == len(made.corners) == legs


def test_legs_of_another_number_may_be_equals_at_once():
    three = ok(set_legs(piece_of(2, legs=4), 3, equal=True))
    assert [three.part(s).group for s in ("L1", "L2", "L3")] == ["leg"] * 3
    assert three.count()[Family.LEG] == 3
    assert ok(set_legs(piece_of(2), 0, equal=True)).count()[Family.LEG] == 0


def test_a_part_has_runners_of_the_opening_that_it_lives_in():
    piece = ok(set_fittings(piece_of(2), ["D1"], 2, "runner"))
    assert [r.short for r in fittings(piece, "D1", "runner")] == ["R1", "R2"]
    assert fittings(piece, "D2", "runner") == ()
    fewer = ok(set_fittings(replace(piece, numbers_fixed=True), ["D1"], 1, "runner"))
    assert [r.home.spot for r in fittings(fewer, "D1", "runner")] == ["middle"]


@pytest.mark.parametrize(("legs", "groups"), [(1, [""]), (2, ["leg", "leg"])])
def test_two_legs_can_be_equals_and_one_cannot(legs, groups):
    piece = ok(set_legs(piece_of(2, legs=legs), legs, equal=True))
    assert [p.group for p in piece.present if p.family is Family.LEG] == groups
