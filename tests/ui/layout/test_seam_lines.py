from __future__ import annotations

from pathlib import Path

from pytestqt.qtbot import QtBot

from partsbench.core.finish.masks import MaskState
from partsbench.services.acts.masks import SeamLine
from partsbench.services.shop import Shop
from partsbench.ui.layout.seam_lines import SeamLines, SeenSeam, Side
from partsbench.ui.piece_view import PieceView
from partsbench.ui.theme import Theme
from tests.support.shops import tall_chest


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
