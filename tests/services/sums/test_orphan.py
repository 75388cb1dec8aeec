"""Orphans of a piece: matched to open homes by what was measured, marked and worn."""

from __future__ import annotations

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.returning import bring_home
from partsbench.services.acts.teardown import take_out
from partsbench.services.books.pieces import edit_part
from partsbench.services.shop import Shop
from partsbench.services.sums.ground import drawers
from partsbench.services.sums.orphan import Orphans, drop_orphan, note_orphan, tell_orphans, whose
from partsbench.services.sums.told import Told
from tests.support.shops import lay_out
from tests.support.sizes import taken


@pytest.fixture
def piece(shop: Shop) -> Piece:
    """Three wide drawers whose openings are 180, 186 and 186.5 mm high."""
    made = lay_out(shop, "Heron", "1 1 1")
    assert isinstance(made, Piece)
    for home, height in (("H1", "180"), ("H2", "186"), ("H3", "186.5")):
        taken(shop, made, (home, "height", height), (home, "width", "862"))
    return made


@pytest.fixture
def known(shop: Shop) -> Piece:
    """The same with two more, which are home and measured: 2 mm of play each way."""
    made = lay_out(shop, "Heron", "1 1 1 1 1")
    assert isinstance(made, Piece)
    for home, height in (
        ("H1", "180"),
        ("H2", "186"),
        ("H3", "186.5"),
        ("H4", "195"),
        ("H5", "199"),
    ):
        taken(shop, made, (home, "height", height), (home, "width", "862"))
    return at_home(shop, made, ("D4", "860", "193"), ("D5", "860", "197"))


def at_home(shop: Shop, made: Piece, *measured: tuple[str, str, str]) -> Piece:
    """All taken out; these brought home again and measured: width and height."""
    take_out(shop, made.tag, [part.short for part in drawers(made)])
    for drawer, width, height in measured:
        bring_home(shop, made.tag, drawer)
        taken(shop, made, (drawer, "width", width), (drawer, "height", height))
    return made


def asked(shop: Shop, piece: Piece) -> Orphans:
    found = whose(shop, piece.tag)
    assert isinstance(found, Orphans), found
    return found


def note(shop: Shop, piece: Piece, name: str, **sizes: str) -> None:
    done = note_orphan(shop, piece.tag, name, sizes)
    assert isinstance(done, Done), done


def test_an_orphan_goes_where_its_play_is_usual(shop: Shop, known: Piece) -> None:
    note(shop, known, "lost", width="860", height="178")
    (match,) = asked(shop, known).found.matches
    assert match.home == "opening 1"
    assert match.told_apart
    assert match.play_mm == pytest.approx(2.0)


def test_two_homes_alike_are_told_as_alike(shop: Shop, known: Piece) -> None:
    note(shop, known, "lost", width="860", height="184.2")
    (match,) = asked(shop, known).found.matches
    assert {match.home, match.runner_up} == {"opening 2", "opening 3"}
    assert not match.told_apart
    told = tell_orphans(asked(shop, known))
    assert "is not ruled out: look for an old mark, or try both." in told.sentence
    assert "Play learnt from 2 drawers whose home is known: width 2.0 mm; height 2.0 mm." in (
        told.sentence
    )


def test_nothing_is_claimed_before_the_play_is_known(shop: Shop, piece: Piece) -> None:
    """Nobody has measured a drawer that is home; its opening and it are asked for by number."""
    note(shop, piece, "lost", width="860", height="178")
    told = tell_orphans(asked(shop, piece))
    assert told.sentence.startswith("Likeliest opening 1 (2.0 mm play), not told apart: how much")
    assert told.lacks[0].endswith("of a drawer whose home is known and its opening")
    assert [one["told_apart"] for one in orphans(told)] == [False]
    take_out(shop, piece.tag, ["D1", "D2", "D3"])
    bring_home(shop, piece.tag, "D3")
    again = tell_orphans(asked(shop, piece))
    assert again.lacks[0].endswith(" of D3")
    assert [one["next"] for one in orphans(again)] == [f"Measure the {again.lacks[0]}."]


def test_the_play_it_was_learnt_from_is_told_by_direction(shop: Shop, known: Piece) -> None:
    note(shop, known, "lost", width="860", height="178")
    told = tell_orphans(asked(shop, known))
    assert told.data["play_from"] == {"width": 2, "height": 2}
    assert told.data["usual_play_mm"] == {"width": pytest.approx(2), "height": pytest.approx(2)}
    assert [one["doubt"] for one in orphans(told)] == [None]


def test_a_loose_chest_walked_from_the_lost_label_to_the_home(shop: Shop) -> None:
    """Six drawers of a chest that runs with 5 mm of play; D3 has lost its label.

    Opening 2 is 3 mm lower than opening 3: with 2 mm of play for everything the drawer of opening 3
    belongs there, and it was called clear.
    """
    made = lay_out(shop, "Quill", "1 1 1 1 1 1")
    assert isinstance(made, Piece)
    at_home(shop, made)
    heights = {"H1": 160, "H2": 197, "H3": 200, "H4": 215, "H5": 230, "H6": 245}
    for home, height in heights.items():
        taken(shop, made, (home, "height", str(height)), (home, "width", "700"))
    note(shop, made, "no label", width="695", height="195")
    first = asked(shop, made).found
    assert first.matches[0].home == "opening 2"
    assert not first.matches[0].told_apart
    at_home(shop, made, ("D4", "695", "210"), ("D5", "694.5", "224.5"), ("D6", "695.2", "240.2"))
    found = asked(shop, made).found
    (match,) = found.matches
    assert (match.home, match.runner_up) == ("opening 3", "opening 2")
    assert "Play learnt from 3 drawers whose home is known: width 5.1 mm, 4.8 mm to 5.5 mm; " in (
        found.sentence
    )


def orphans(told: Told) -> list[dict[str, object]]:
    rows = told.data["orphans"]
    assert isinstance(rows, list)
    return rows


def test_an_old_mark_decides(shop: Shop, piece: Piece) -> None:
    edit_part(shop, piece.tag, "D2", old_mark="3")
    edit_part(shop, piece.tag, "D3", old_mark="7")
    note_orphan(shop, piece.tag, "lost", {"width": "860", "height": "184.2"}, marks="7")
    (match,) = asked(shop, piece).found.matches
    assert match.home == "opening 3" and match.told_apart


def test_a_home_that_is_filled_is_not_open(shop: Shop, piece: Piece) -> None:
    take_out(shop, piece.tag, ["D1", "D2", "D3"])
    bring_home(shop, piece.tag, "D2")
    note(shop, piece, "lost", width="860", height="184.2")
    (match,) = asked(shop, piece).found.matches
    assert match.home == "opening 3"
    assert match.runner_up != "opening 2"


def test_known_pairs_teach_the_usual_play(shop: Shop, piece: Piece) -> None:
    """D1 is known to run with 4 mm of play, so the orphan is expected to as well."""
    taken(shop, piece, ("D1", "height", "176"), ("D1", "width", "858"))
    take_out(shop, piece.tag, ["D1", "D2", "D3"])
    bring_home(shop, piece.tag, "D1")
    note(shop, piece, "lost", width="858", left="182")
    (match,) = asked(shop, piece).found.matches
    assert match.home == "opening 2"


def test_an_opening_drawn_far_too_small_is_not_asked_about(shop: Shop) -> None:
    made = lay_out(shop, "Heron", "3 1")
    assert isinstance(made, Piece)
    note(shop, made, "lost", width="870")
    found = asked(shop, made)
    assert [m.home for m in found.found.matches] == ["opening 4"]
    assert all("opening 1" not in lack for lack in found.found.lacks)


def test_an_orphan_that_found_its_home_is_dropped(shop: Shop, piece: Piece) -> None:
    note(shop, piece, "lost", width="860")
    assert isinstance(drop_orphan(shop, piece.tag, "lost"), Done)
    refused = whose(shop, piece.tag)
    assert isinstance(refused, Refused) and "No orphan is noted" in refused.sentence
    assert isinstance(drop_orphan(shop, piece.tag, "lost"), Refused)


@pytest.mark.parametrize(
    ("name", "sizes", "told"),
    [
        ("", {"width": "860"}, "needs a name"),
        ("lost", {"colour": "860"}, "no colour to measure"),
        ("lost", {"width": "-860"}, "negative"),
        ("lost", {"width": "inf"}, "cannot be read"),
        ("lost", {"width": "0"}, "no size of a drawer"),
    ],
)
def test_nonsense_is_refused(
    shop: Shop, piece: Piece, name: str, sizes: dict[str, str], told: str
) -> None:
    refused = note_orphan(shop, piece.tag, name, sizes)
    assert isinstance(refused, Refused) and told in refused.sentence


def test_with_every_drawer_home_no_home_stands_open(shop: Shop, piece: Piece) -> None:
    take_out(shop, piece.tag, ["D1", "D2", "D3"])
    note(shop, piece, "lost", width="860", height="178")
    for drawer in ("D1", "D2", "D3"):
        bring_home(shop, piece.tag, drawer)
    assert whose(shop, piece.tag) == Refused(
        "Every drawer of Heron is home: no home stands open."
    )  # fmt: skip


def test_an_orphan_that_is_not_noted_is_not_dropped(shop: Shop, piece: Piece) -> None:
    before = shop.book.newest()
    assert drop_orphan(shop, piece.tag, "lost") == Refused("No orphan “lost” is noted for Heron.")
    assert shop.book.newest() == before
