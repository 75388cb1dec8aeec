from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF
from pytestqt.qtbot import QtBot

from partsbench.core.finish.masks import MaskState
from partsbench.services.acts.masks import SeamLine
from partsbench.services.shop import Shop
from partsbench.ui.layout.seam_lines import SeamLines, SeenSeam, Side
from partsbench.ui.piece_view import PieceView
from partsbench.ui.theme import Theme
from tests.support.shops import lay_out, made, tall_chest


def test_a_seam_behind_a_door_is_drawn_only_while_that_is_shown(
    shop: Shop, tmp_path: Path, theme: Theme, qtbot: QtBot
) -> None:
    piece = tall_chest(shop, tmp_path)
    view = PieceView()
    qtbot.addWidget(view)
    view.resize(600, 400)
    view.show_piece(piece)
    lines = SeamLines(view)
    hidden, plain = piece.part("D4"), piece.part("D1")
    assert hidden is not None and plain is not None
    behind, before = (
        SeenSeam(
            f"H{part.home.number}",
            Side.TOP,
            SeamLine(f"{part.short} front", f"{part.short} top edge", 300.0, MaskState.UNKNOWN),
        )
        for part in (hidden, plain)
    )
    assert lines.line_of(behind).isNull()
    assert not lines.line_of(before).isNull()
    view.show_hidden = True
    assert not lines.line_of(behind).isNull()


def four_sides(short: str, number: int, state: MaskState = MaskState.UNKNOWN) -> list[SeenSeam]:
    """Where the front of a drawer meets its four edges."""
    lengths = {Side.LEFT: 180.0, Side.RIGHT: 180.0, Side.TOP: 400.0, Side.BOTTOM: 400.0}
    return [
        SeenSeam(f"H{number}", side, SeamLine(f"{short} front", f"{short} {side} edge", mm, state))
        for side, mm in lengths.items()
    ]


def drawn(shop: Shop, qtbot: QtBot, rows: str, wide: int, high: int) -> tuple[PieceView, SeamLines]:
    """A front with every drawer taped round, in a view so large."""
    piece = made(lay_out(shop, "Larch", rows))
    view = PieceView()
    qtbot.addWidget(view)
    view.resize(wide, high)
    view.show_piece(piece)
    lines = SeamLines(view)
    lines.show_seams([s for p in piece.present if p.short[0] == "D"
                      for s in four_sides(p.short, p.home.number)])  # fmt: skip
    return view, lines


@pytest.mark.parametrize(("rows", "wide", "high"), [("6 6", 560, 400), ("1 1 1 1 1", 220, 560)])
def test_on_a_narrow_front_no_length_lies_on_another_or_on_a_number(
    shop: Shop, theme: Theme, qtbot: QtBot, rows: str, wide: int, high: int
) -> None:
    view, lines = drawn(shop, qtbot, rows, wide, high)
    boxes = [box for _, box in lines.labels()]
    assert 0 < len(boxes) < len(lines.seen), "some have no room"
    assert not any(a.intersects(b) for a, b in combinations(boxes, 2))
    numbers = [t.chip.translated(QPointF(tile.pos())) for tile in view.tiles()
               for t in tile.texts()]  # fmt: skip
    assert len(numbers) >= len(lines.seen) / 4
    assert not any(box.intersects(number) for box in boxes for number in numbers)


def test_where_there_is_room_every_length_stands_and_the_longest_is_kept(
    shop: Shop, theme: Theme, qtbot: QtBot
) -> None:
    _, wide = drawn(shop, qtbot, "1 1", 900, 900)
    assert sorted(m for m, _ in wide.labels()) == ["0.18 m"] * 4 + ["0.40 m"] * 4
    _, low = drawn(shop, qtbot, "3 3", 560, 400)
    kept = [m for m, _ in low.labels()]
    assert kept.count("0.40 m") == 12, "each of the long ones"
    assert 0 < kept.count("0.18 m") < 12
    wide.show_seams(four_sides("D1", 1, MaskState.NOT_NEEDED))
    assert wide.labels() == []
