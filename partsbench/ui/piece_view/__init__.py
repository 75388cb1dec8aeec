"""The piece drawn to scale from the front, every opening a button."""

from __future__ import annotations

from partsbench.ui.piece_view.looks import Gauge, Pattern, Rim, Sign, TileLook
from partsbench.ui.piece_view.shapes import key_of
from partsbench.ui.piece_view.view import PieceView

__all__ = ["Gauge", "Pattern", "PieceView", "Rim", "Sign", "TileLook", "key_of"]
