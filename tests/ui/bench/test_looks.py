from __future__ import annotations

from pathlib import Path

from partsbench.core.piece.piece import Piece
from partsbench.services.acts.returning import bring_home, by_elimination
from partsbench.services.acts.teardown import stays_in, take_out, teardown
from partsbench.services.known.state import PieceState, piece_state
from partsbench.services.shop import Shop
from partsbench.ui.bench.looks import (
    bench_looks,
    open_doors,
    return_looks,
    teardown_looks,
    tile_part,
)
from partsbench.ui.piece_view import Pattern, TileLook
from partsbench.ui.piece_view.keys import tile_key
from tests.support.shops import heron, tall_chest


def state_of(shop: Shop, piece: Piece) -> PieceState:
    return piece_state(shop, piece)


def torn(shop: Shop, piece: Piece, chosen: str = "") -> dict[str, TileLook]:
    state = state_of(shop, piece)
    return teardown_looks(state, teardown(state).next, chosen)


def test_out_is_hatched_stays_is_ticked_and_the_next_is_outlined(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D2"], place="rack 2")
    stays_in(shop, piece.tag, "D3")
    looks = torn(shop, piece)
    assert looks["H1"].pattern is Pattern.NEXT
    assert (looks["H2"].pattern, looks["H2"].words) == (Pattern.HATCHED, "rack 2")
    assert (looks["H3"].pattern, looks["H3"].words) == (Pattern.DONE, "stays in")
    assert looks["H4"].pattern is Pattern.PLAIN


def test_a_chosen_part_has_the_outline_in_place_of_the_next(shop: Shop) -> None:
    piece = heron(shop)
    looks = torn(shop, piece, "D6")
    assert looks["H6"].pattern is Pattern.NEXT
    assert looks["H1"].pattern is Pattern.PLAIN


def test_a_pull_outlines_the_drawer_it_sits_on(shop: Shop) -> None:
    piece = heron(shop)
    looks = torn(shop, piece, "P5")
    assert looks["H5"].pattern is Pattern.NEXT
    assert looks["H5"].words == "P5 pull"


def test_every_tile_is_described_for_a_screen_reader(shop: Shop) -> None:
    piece = heron(shop)
    state = state_of(shop, piece)
    for looks in (torn(shop, piece), bench_looks(piece, None), return_looks(state, 0, "")):
        assert {f"H{n}" for n in range(1, 12)} | {"T1", "C1"} == set(looks)
        assert all(look.description for look in looks.values())
    assert torn(shop, piece)["H2"].description == "drawer, row 1, right, still in the piece"


def test_a_wrong_drawer_shows_where_it_lives(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1", "D2"])
    bring_home(shop, piece.tag, "D2", "H1")
    looks = return_looks(state_of(shop, piece), 0, "")
    assert (looks["H1"].number, looks["H1"].pattern) == ("D2", Pattern.WRONG)
    assert looks["H1"].words == "lives in H2"
    assert looks["H2"].pattern is Pattern.EMPTY


def test_an_equal_leg_shows_at_the_corner_it_stands_at(shop: Shop) -> None:
    piece = heron(shop, equal_legs=True)
    take_out(shop, piece.tag, ["L1", "L2"])
    bring_home(shop, piece.tag, "L1", "H9")
    looks = return_looks(state_of(shop, piece), 0, "")
    assert (looks["H9"].number, looks["H9"].pattern) == ("L1", Pattern.DONE)


def test_home_by_elimination_is_told_apart(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D5"])
    for number in (1, 2, 3, 4, 6, 7):
        bring_home(shop, piece.tag, f"D{number}")
    by_elimination(shop, piece.tag)
    assert return_looks(state_of(shop, piece), 0, "")["H5"].words == "by elimination"


def test_the_home_that_waits_and_the_home_of_a_part_light_up(shop: Shop) -> None:
    piece = heron(shop)
    state = state_of(shop, piece)
    assert return_looks(state, 3, "")["H3"].words == "scan what goes in"
    assert return_looks(state, 0, "D4")["H4"].words == "D4 goes here"
    assert return_looks(state, 0, "P4")["H4"].pattern is Pattern.NEXT


def test_tiles_and_parts_lead_to_each_other(shop: Shop, tmp_path: Path) -> None:
    piece = tall_chest(shop, tmp_path)
    for short in ("D1", "D4", "G1", "L3"):
        part = piece.part(short)
        assert part is not None
        assert tile_part(piece, tile_key(piece, part)) == short
    assert tile_part(piece, "nonsense") == ""


def test_an_open_door_gives_its_number_up_to_what_it_hides(shop: Shop, tmp_path: Path) -> None:
    piece = tall_chest(shop, tmp_path)
    door = piece.part("G1")
    assert door is not None
    key = tile_key(piece, door)
    looks = open_doors(piece, bench_looks(piece, None))
    assert looks[key].number == ""
    assert "G1" in looks[key].words
