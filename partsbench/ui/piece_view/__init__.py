"""The piece drawn to scale from the front, every opening a button."""

from __future__ import annotations

from partsbench.ui.piece_view.looks import Pattern, TileLook
from partsbench.ui.piece_view.shapes import key_of
from partsbench.ui.piece_view.view import PieceView

__all__ = ["Pattern", "PieceView", "TileLook", "key_of"]
