"""The progress map: one read of the book, who may go on, and who is behind."""

from __future__ import annotations

import pytest

from partsbench.core.piece.piece import Piece
from partsbench.services.acts import places, returning, teardown
from partsbench.services.books import pieces
from partsbench.services.known.state import Where
from partsbench.services.shop import Shop
from partsbench.services.shown.progress_map import PartStand, ProgressMap, alike, progress_map
from tests.support.at_bench import insist, record
from tests.support.clock import SetClock
from tests.support.shops import heron, lay_out, made


def drawn(shop: Shop, piece: Piece) -> ProgressMap:
    found = progress_map(shop, piece.tag)
    assert found is not None
    return found


def chest(shop: Shop, rows: str = "2 2 2", **how: object) -> Piece:
    """Drawers that are all to be painted."""
    drawers = [f"D{n}" for n in range(1, sum(map(int, rows.split())) + 1)]
    return made(lay_out(shop, "Heron", rows, paths=[("paint", drawers)], **how))


def step(shop: Shop, piece: Piece, short: str, times: int = 1) -> None:
    for _ in range(times):
        insist(shop, short, here=piece.tag)


def test_a_fresh_piece_stands_at_nothing_and_nobody_is_behind(shop: Shop) -> None:
    piece = heron(shop)
    found = drawn(shop, piece)
    assert set(found.parts) == {p.short for p in piece.present}
    painted, bare = found.parts["D1"], found.parts["D4"]
    assert (painted.done, painted.share, painted.stand) == (0, 0.0, PartStand.READY)
    assert painted.of > 5 and painted.step and painted.where is Where.IN
    assert (bare.of, bare.stand, bare.steps) == (0, PartStand.BARE, "")
    assert found.behind == ()


def test_steps_are_counted_as_the_bench_counts_them(shop: Shop) -> None:
    piece = chest(shop)
    said = record(shop, "D3", here=piece.tag)
    each = drawn(shop, piece).parts["D3"]
    assert each.done == 1 and each.steps == f"1/{each.of}"
    assert each.share == pytest.approx(1 / each.of)
    assert said.step_name == each.step


def test_who_is_two_steps_behind_most_is_behind(shop: Shop) -> None:
    piece = chest(shop)
    for short in ("D1", "D2", "D3"):
        step(shop, piece, short)
    assert drawn(shop, piece).behind == ()
    for short in ("D1", "D2", "D3"):
        step(shop, piece, short)
    assert drawn(shop, piece).behind == ("D4", "D5", "D6")
    step(shop, piece, "D4")
    step(shop, piece, "D5", 2)
    assert drawn(shop, piece).behind == ("D6",)
    step(shop, piece, "D6")
    assert drawn(shop, piece).behind == ()


def test_paths_are_not_compared_with_one_another(shop: Shop) -> None:
    piece = made(
        lay_out(shop, "Heron", "2 2", paths=[("paint", ["D1", "D2"]), ("stain", ["D3", "D4"])])
    )
    step(shop, piece, "D1", 2)
    step(shop, piece, "D2", 2)
    assert drawn(shop, piece).behind == ()


def test_what_waits_says_until_when_and_then_is_ready(shop: Shop, clock: SetClock) -> None:
    piece = chest(shop)
    while drawn(shop, piece).parts["D1"].stand is PartStand.READY:
        step(shop, piece, "D1")
    waits = drawn(shop, piece).parts["D1"]
    assert waits.stand is PartStand.WAITS
    assert waits.until is not None and waits.until > shop.clock()
    clock.now = waits.until
    assert drawn(shop, piece).parts["D1"].stand is PartStand.READY


def test_all_steps_done_is_told(shop: Shop) -> None:
    piece = chest(shop)
    of = drawn(shop, piece).parts["D1"].of
    step(shop, piece, "D1", of)
    each = drawn(shop, piece).parts["D1"]
    assert (each.stand, each.done, each.share, each.step) == (PartStand.DONE, of, 1.0, "")


def test_one_late_face_makes_the_part_late(shop: Shop, clock: SetClock) -> None:
    piece = made(lay_out(shop, "Heron", "2", paths=[("stain", ["D1"])]))
    while drawn(shop, piece).parts["D1"].stand is not PartStand.LATE:
        insist(shop, "D1", here=piece.tag, face="front")
        clock.pass_time(hours=80)
        assert drawn(shop, piece).parts["D1"].done == 0
    assert drawn(shop, piece).parts["D1"].step


def test_out_at_a_place_and_home(shop: Shop) -> None:
    piece = chest(shop)
    teardown.take_out(shop, piece.tag, ["D1", "D2"])
    places.put(shop, "rack 2", ["D2"], here=piece.tag)
    returning.bring_home(shop, piece.tag, "D1", "H1")
    parts = drawn(shop, piece).parts
    assert parts["D1"].where is Where.HOME
    assert (parts["D2"].where, parts["D2"].place) == (Where.OUT, "rack 2")


def test_the_sentence_counts_and_names_who_is_behind(shop: Shop) -> None:
    piece = chest(shop)
    for short in ("D1", "D2", "D3", "D4"):
        step(shop, piece, short, 2)
    assert drawn(shop, piece).sentence == "Behind: D5, D6. 2 ready, 4 waiting."
    plain = made(pieces.lay_out(shop, "Quill", "2"))
    assert drawn(shop, plain).sentence == "No part has a finish path yet."


def test_legs_pulls_and_body_are_on_the_map(shop: Shop) -> None:
    piece = made(
        lay_out(
            shop, "Heron", "2 2", legs=4, pulls=1,
            paths=[("paint", ["legs", "carcase", "pulls"])],
        )
    )  # fmt: skip
    parts = drawn(shop, piece).parts
    assert all(parts[short].of for short in ("L1", "L4", "P1", "C1"))
    assert parts["C1"].where is Where.STAYS


def test_alike_of_one_sort_are_one(shop: Shop) -> None:
    piece = chest(shop)
    step(shop, piece, "D2")
    groups = alike([p for s, p in drawn(shop, piece).parts.items() if s.startswith("D")])
    assert [[p.part.short for p in group] for group in groups] == [
        ["D1", "D3", "D4", "D5", "D6"],
        ["D2"],
    ]


def test_the_book_is_read_once_however_many_parts_there_are(shop: Shop) -> None:
    def statements(rows: str) -> int:
        piece = chest(shop, rows, pulls=1, legs=4)
        step(shop, piece, "D1", 3)
        said: list[str] = []
        shop.book.connection.set_trace_callback(said.append)
        drawn(shop, piece)
        shop.book.connection.set_trace_callback(None)
        return len(said)

    assert statements("2 2") == statements(" ".join(["6"] * 10))


def test_no_such_piece_has_no_map(shop: Shop) -> None:
    assert progress_map(shop, "ZZZZ") is None
