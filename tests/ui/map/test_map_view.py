"""The progress map as a widget: every part is named, pressed by mouse and keys, and explained."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSize, Qt
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.services.acts import teardown
from partsbench.services.shop import Shop
from partsbench.services.shown.progress_map import ProgressMap, progress_map
from partsbench.ui.map.looks import told
from partsbench.ui.map.map_view import MapView
from partsbench.ui.piece_view import Rim, Sign
from partsbench.ui.theme import Theme
from tests.support.at_bench import insist
from tests.support.shops import lay_out, made, tall_chest


def work(shop: Shop, rows: str = "2 2 3") -> Piece:
    """All painted, body, legs and pulls too; D1 to D4 out, D5 forgotten."""
    drawers = [f"D{n}" for n in range(1, sum(map(int, rows.split())) + 1)]
    paths = [("paint", [*drawers, "carcase", "legs"])]
    piece = made(lay_out(shop, "Heron", rows, legs=4, pulls=1, paths=paths))
    teardown.take_out(shop, piece.tag, drawers[:4])
    for short in (d for d in drawers if d != "D5"):
        for _ in range(2 if short == "D1" else 3):
            insist(shop, short, here=piece.tag)
    return piece


def drawn(shop: Shop, piece: Piece) -> ProgressMap:
    found = progress_map(shop, piece.tag)
    assert found is not None
    return found


@pytest.fixture
def view(theme: Theme, qtbot: QtBot) -> MapView:
    made_view = MapView()
    qtbot.addWidget(made_view)
    made_view.resize(1100, 480)
    return made_view


def test_each_tile_says_number_steps_stand_and_place(shop: Shop, view: MapView) -> None:
    piece = work(shop)
    view.show_map(drawn(shop, piece))
    tile = view.front.tile("H1")
    assert tile is not None
    assert tile.accessibleName() == "D1 2/11"
    words = tile.accessibleDescription()
    assert words.startswith("drawer, row 1, left: 2 of 11 steps, ")
    assert "out" in words and "behind" not in words
    late = view.front.tile("H5")
    assert late is not None
    assert "behind most of its path" in late.accessibleDescription()


def test_a_tile_is_drawn_as_its_part_stands(shop: Shop, view: MapView) -> None:
    piece = work(shop)
    view.show_map(drawn(shop, piece))

    def gauge(key: str) -> object:
        tile = view.front.tile(key)
        assert tile is not None and tile.look.gauge is not None
        return tile.look.gauge

    out, forgotten = gauge("H1"), gauge("H5")
    assert (out.rim, out.behind) == (Rim.GONE, False)  # type: ignore[attr-defined]
    assert out.sign is Sign.GLASS  # type: ignore[attr-defined]
    assert (forgotten.share, forgotten.behind) == (0.0, True)  # type: ignore[attr-defined]
    assert forgotten.rim is Rim.THERE  # type: ignore[attr-defined]


def test_a_click_and_enter_choose_a_part(shop: Shop, view: MapView, qtbot: QtBot) -> None:
    view.show_map(drawn(shop, work(shop)))
    view.show()
    qtbot.waitExposed(view)
    chosen: list[str] = []
    view.part_chosen.connect(chosen.append)
    tile = view.front.tile("H5")
    assert tile is not None
    qtbot.mouseClick(tile, Qt.MouseButton.LeftButton)
    qtbot.keyClick(tile, Qt.Key.Key_Return)
    body = next(t for t in view.loose.tiles if t.key == "C1")
    qtbot.mouseClick(body, Qt.MouseButton.LeftButton)
    qtbot.keyClick(body, Qt.Key.Key_Space)
    leg = view.front.tile("H8")
    assert leg is not None
    qtbot.keyClick(leg, Qt.Key.Key_Return)
    assert chosen == ["D5", "D5", "C1", "C1", "L1"]


def test_body_and_pulls_stand_beside_the_front(shop: Shop, view: MapView) -> None:
    piece = work(shop)
    view.show_map(drawn(shop, piece))
    names = [tile.look.number for tile in view.loose.tiles]
    assert names == ["C1", "P1–P4", "P5–P7"], "the pulls of drawers that are out are out with them"
    assert view.loose.tiles[1].accessibleDescription().startswith("4 of a kind: P1–P4. ")


def test_what_a_door_hides_is_told_beside_the_front(
    shop: Shop, view: MapView, tmp_path: object
) -> None:
    piece = tall_chest(shop, tmp_path)  # type: ignore[arg-type]
    view.show_map(drawn(shop, piece))
    assert any(tile.look.number == "D4, D5" for tile in view.loose.tiles)


def test_only_what_is_on_the_map_is_explained(shop: Shop, view: MapView) -> None:
    view.show_map(drawn(shop, work(shop)))
    assert view.legend.words() == ["steps done", "behind most", "waits", "out"]


def test_small_it_has_no_legend_and_leaves_out_what_gets_no_finish(
    shop: Shop, theme: Theme, qtbot: QtBot
) -> None:
    small = MapView(small=True)
    qtbot.addWidget(small)
    small.resize(300, 320)
    small.show_map(drawn(shop, work(shop)))
    assert small.legend.isHidden()
    assert [tile.look.number for tile in small.loose.tiles] == ["C1"]


def test_arrows_lead_from_one_part_beside_the_front_to_the_next(
    shop: Shop, view: MapView, qtbot: QtBot
) -> None:
    view.show_map(drawn(shop, work(shop)))
    view.show()
    qtbot.waitExposed(view)
    first, second = view.loose.tiles[:2]
    first.setFocus()
    qtbot.keyClick(first, Qt.Key.Key_Right)
    assert view.focusWidget() is second
    qtbot.keyClick(second, Qt.Key.Key_Up)
    assert view.focusWidget() is first
    qtbot.keyClick(first, Qt.Key.Key_Left)
    assert view.focusWidget() is first


def test_the_tiles_beside_the_front_follow_the_piece(shop: Shop, view: MapView) -> None:
    piece = work(shop)
    view.show_map(drawn(shop, piece))
    plain = made(lay_out(shop, "Quill", "2"))
    view.show_map(drawn(shop, plain))
    assert [tile.look.number for tile in view.loose.tiles] == ["C1"]
    view.show_map(None)
    assert view.front.keys() == []


@pytest.mark.parametrize(("size", "most"), [(QSize(1100, 480), 60), (QSize(300, 320), 60)])
def test_sixty_drawers_each_have_their_number(
    shop: Shop, theme: Theme, qtbot: QtBot, size: QSize, most: int
) -> None:
    view = MapView(small=size.width() < 400)
    qtbot.addWidget(view)
    view.resize(size)
    view.show_map(drawn(shop, work(shop, " ".join(["6"] * 10))))
    view.show()
    qtbot.waitExposed(view)
    shown = [t for t in view.front.tiles() if t.look.number.startswith("D") and t.texts()]
    assert len(shown) == most


def test_it_is_told_in_one_line(shop: Shop) -> None:
    piece = work(shop)
    found = drawn(shop, piece)
    assert told(found, found.parts["C1"]) == (
        "carcase, stays where it stands: 0 of 13 steps, Wash next, ready; stays; "
        "behind most of its path"
    )
