from __future__ import annotations

from itertools import combinations

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QAccessible, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton
from pytestqt.qtbot import QtBot

from partsbench.core.piece.front import Front, Opening, OpeningKind, Span
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.piece_view import Pattern, PieceView, TileLook
from partsbench.ui.theme import Theme
from tests.support.shops import lay_out


@pytest.fixture
def dresser(shop: Shop) -> Piece:
    piece = lay_out(shop, "Heron", "2 2 3", legs=4, pulls=2, top=True)
    assert isinstance(piece, Piece)
    return piece


@pytest.fixture
def view(qtbot: QtBot, theme: Theme, dresser: Piece) -> PieceView:
    made = PieceView()
    qtbot.addWidget(made)
    made.resize(800, 600)
    made.show_piece(dresser)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    return made


def chest_with_door() -> Piece:
    """A door on the left that hides two drawers, a drawer on the right."""
    front = Front(
        (400.0, 400.0),
        (300.0, 300.0),
        (
            Opening(1, Span(0, 0, 1, 2), OpeningKind.DOOR),
            Opening(2, Span(1, 0, 1, 2)),
            Opening(3, Span(0, 0), behind=1),
            Opening(4, Span(0, 1), behind=1),
        ),
    )
    piece = furnish("K7Q4", "Larch", front)
    assert isinstance(piece, Piece)
    return piece


def key_of_door(piece: Piece) -> str:
    door = next(o for o in piece.front.openings if o.kind is OpeningKind.DOOR)
    return f"H{door.number}"


def test_every_opening_leg_top_and_carcase_is_a_real_button_with_a_name(view: PieceView) -> None:
    assert view.keys() == [f"H{n}" for n in range(1, 12)] + ["T1", "C1"]
    keys = view.keys()
    for key in keys:
        tile = view.tile(key)
        assert isinstance(tile, QAbstractButton)
        assert tile.accessibleName()
        assert tile.accessibleDescription()
        assert tile.focusPolicy() is not Qt.FocusPolicy.NoFocus
        interface = QAccessible.queryAccessibleInterface(tile)
        assert interface.role() in (QAccessible.Role.Button, QAccessible.Role.CheckBox)
        assert interface.state().focusable
    first = view.tile("H1")
    assert first is not None
    assert first.accessibleName() == "D1"
    assert "row 1, left" in first.accessibleDescription()


def test_the_drawing_is_to_scale(view: PieceView, dresser: Piece) -> None:
    front = view.front_rect()
    assert front.width() / front.height() == pytest.approx(
        dresser.front.width / dresser.front.height
    )
    wide, narrow = view.tile_rect("H1"), view.tile_rect("H5")
    assert wide.width() / narrow.width() == pytest.approx(3 / 2, rel=0.03)


def test_arrows_move_by_where_things_are(view: PieceView) -> None:
    view.focus_tile("H1")
    walked = []
    keys = (
        Qt.Key.Key_Right,
        Qt.Key.Key_Down,
        Qt.Key.Key_Down,
        Qt.Key.Key_Left,
        Qt.Key.Key_Left,
        Qt.Key.Key_Up,
        Qt.Key.Key_Up,
        Qt.Key.Key_Up,
        Qt.Key.Key_Up,
        Qt.Key.Key_Down,
    )
    for key in keys:
        tile = view.tile(view.current())
        assert tile is not None
        QTest.keyClick(tile, key)
        walked.append(view.current())
    assert walked == ["H2", "H4", "H7", "H6", "H5", "H3", "H1", "T1", "C1", "H1"]


def test_every_tile_can_be_reached_by_arrows_alone(view: PieceView) -> None:
    ways = (Qt.Key.Key_Right, Qt.Key.Key_Left, Qt.Key.Key_Up, Qt.Key.Key_Down)
    seen: set[str] = set()
    waiting = ["H1"]
    while waiting:
        start = waiting.pop()
        for way in ways:
            view.focus_tile(start)
            tile = view.tile(start)
            assert tile is not None
            QTest.keyClick(tile, way)
            if view.current() not in seen:
                seen.add(view.current())
                waiting.append(view.current())
    assert seen == set(view.keys())


def test_enter_and_a_click_press_a_tile(view: PieceView, qtbot: QtBot) -> None:
    pressed: list[str] = []
    view.pressed.connect(pressed.append)
    view.focus_tile("H3")
    tile = view.tile("H3")
    other = view.tile("H6")
    assert tile is not None
    assert other is not None
    QTest.keyClick(tile, Qt.Key.Key_Return)
    qtbot.mouseClick(other, Qt.MouseButton.LeftButton)
    assert pressed == ["H3", "H6"]
    assert view.selection() == ["H6"]


def test_several_are_chosen_with_control_shift_and_space(view: PieceView, qtbot: QtBot) -> None:
    view.multi_select = True
    tiles = {key: view.tile(key) for key in list(view.keys())}
    left, control, shift = (
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.ControlModifier,
        Qt.KeyboardModifier.ShiftModifier,
    )
    qtbot.mouseClick(tiles["H1"], left)
    qtbot.mouseClick(tiles["H4"], left, control)
    assert view.selection() == ["H1", "H4"]
    qtbot.mouseClick(tiles["H1"], left, control)
    assert view.selection() == ["H4"]
    qtbot.mouseClick(tiles["H1"], left)
    qtbot.mouseClick(tiles["H4"], left, shift)
    assert sorted(view.selection()) == ["H1", "H2", "H3", "H4"]
    QTest.keyClick(tiles["H2"], Qt.Key.Key_Space)
    assert sorted(view.selection()) == ["H1", "H3", "H4"]


def test_sweeping_with_the_button_down_names_each_tile_once(view: PieceView) -> None:
    swept: list[str] = []
    view.swept.connect(swept.append)
    start, target = view.tile("H1"), view.tile("H2")
    assert start is not None
    assert target is not None
    QTest.mousePress(start, Qt.MouseButton.LeftButton)
    for step in (10, 20, 30):
        inside = target.mapTo(view, QPoint(step, 20))
        move = start.mapFrom(view, inside)
        _drag(start, move)
    QTest.mouseRelease(start, Qt.MouseButton.LeftButton)
    assert swept == ["H2"]


def _drag(tile: QAbstractButton, point: QPoint) -> None:
    from PySide6.QtCore import QCoreApplication, QEvent, QPointF
    from PySide6.QtGui import QMouseEvent

    left = Qt.MouseButton.LeftButton
    place = QPointF(tile.mapToGlobal(point))
    event = QMouseEvent(
        QEvent.Type.MouseMove,
        QPointF(point),
        place,
        Qt.MouseButton.NoButton,
        left,
        Qt.KeyboardModifier.NoModifier,
    )
    QCoreApplication.sendEvent(tile, event)


def test_what_a_door_hides_is_told_on_it_and_shown_over_it_on_demand(
    view: PieceView,
) -> None:
    piece = chest_with_door()
    view.show_piece(piece)
    door = view.tile(key_of_door(piece))
    assert door is not None
    assert door.note == "2 inside"
    before = view.keys()
    view.show_hidden = True
    assert door.note == ""
    hidden = [key for key in list(view.keys()) if key not in before]
    assert len(hidden) == 2
    whole = QRect(door.geometry())
    for key in hidden:
        tile = view.tile(key)
        assert tile is not None
        assert whole.contains(tile.geometry())


def test_another_piece_takes_the_place_of_the_first_and_leaves_no_tile_behind(
    view: PieceView, shop: Shop
) -> None:
    small = lay_out(shop, "Quill", "1 1")
    assert isinstance(small, Piece)
    view.select(["H7"])
    view.show_piece(small)
    assert view.keys() == ["H1", "H2", "C1"]
    assert view.selection() == []
    shown = [t for t in view.findChildren(QAbstractButton) if t.isVisibleTo(view)]
    assert len(shown) == 3


def test_patterns_are_told_apart_in_grey(theme: Theme, qtbot: QtBot, shop: Shop) -> None:
    """Each pair of patterns differs in many pixels by a clear step of grey, without a word."""
    piece = lay_out(shop, "Quill", "1")
    assert isinstance(piece, Piece)
    view = PieceView()
    qtbot.addWidget(view)
    view.resize(420, 260)
    grabbed: dict[Pattern, QImage] = {}
    for pattern in Pattern:
        view.show_piece(piece, {"H1": TileLook("D1", "", pattern)})
        grabbed[pattern] = view.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    for a, b in combinations(Pattern, 2):
        assert _unlike(grabbed[a], grabbed[b]) > 250, (a, b)


def _unlike(a: QImage, b: QImage) -> int:
    """Pixels whose greys are more than 25 of 255 apart."""
    first, second = bytes(a.constBits()), bytes(b.constBits())
    return sum(abs(x - y) > 25 for x, y in zip(first, second, strict=True))


def test_sixty_drawers_all_show_their_number(theme: Theme, qtbot: QtBot, shop: Shop) -> None:
    piece = lay_out(shop, "Larch", " ".join(["6"] * 10))
    assert isinstance(piece, Piece)
    view = PieceView()
    qtbot.addWidget(view)
    view.resize(700, 480)
    view.show_piece(piece)
    keys = view.keys()
    for key in keys:
        tile = view.tile(key)
        assert tile is not None
        if key != "C1":
            assert tile.number_font(tile.look.number, tile.most) is not None, key


def test_tiles_of_like_size_have_numbers_of_like_size(theme: Theme, qtbot: QtBot) -> None:
    """However high the view: tiles that differ by little never fall on two sides of a limit."""
    heights = (100.0, 107.0, 70.0, 100.0, 100.0, 100.0, 100.0)
    drawers = tuple(Opening(n + 1, Span(0, n)) for n in range(len(heights)))
    piece = furnish("K7Q4", "Larch", Front((600.0,), heights, drawers))
    assert isinstance(piece, Piece)
    view = PieceView()
    qtbot.addWidget(view)
    view.show_piece(piece)
    view.show()
    qtbot.waitExposed(view)
    differ = {}
    for high in range(180, 400):
        view.resize(500, high)
        tiles = [view.tile(key) for key in ("H1", "H2")]
        sizes = [tile.texts()[0].font.pixelSize() for tile in tiles if tile]
        differ[high] = max(sizes) / min(sizes)
    assert max(differ.values()) < 1.2, max(differ, key=lambda high: differ[high])


def test_where_not_all_numbers_have_room_only_the_one_at_hand_is_shown(
    theme: Theme, qtbot: QtBot, shop: Shop
) -> None:
    piece = lay_out(shop, "Larch", "6 6 6 6 6 6 6 6 6 6")
    assert isinstance(piece, Piece)
    view = PieceView()
    qtbot.addWidget(view)
    view.setMinimumSize(0, 0)
    view.resize(170, 300)
    view.show_piece(piece, {"H3": TileLook("D3", pattern=Pattern.FILLED)})
    view.show()
    qtbot.waitExposed(view)
    numbered = [t.key for t in view.tiles() if t.key.startswith("H") and t.texts()]
    assert numbered == ["H3"]


def test_the_next_tile_pulses_only_while_there_is_one(
    view: PieceView, qtbot: QtBot, dresser: Piece
) -> None:
    view.show_piece(dresser, {"H2": TileLook("D2", "", Pattern.NEXT)})
    tile = view.tile("H2")
    assert tile is not None
    qtbot.waitUntil(lambda: tile.wide, timeout=3000)
    view.show_piece(dresser, {})
    assert view._pulse == 0


def test_a_tile_and_its_view_are_freed_when_the_view_goes(
    qtbot: QtBot, theme: Theme, dresser: Piece
) -> None:
    import gc
    import weakref

    view = PieceView()
    view.show_piece(dresser)
    gone = weakref.ref(view)
    tile = weakref.ref(view.tile("H1"))
    gc.disable()
    try:
        view.deleteLater()
        del view
        qtbot.waitUntil(lambda: gone() is None and tile() is None)
    finally:
        gc.enable()
