"""What Qt's models are asked with: an index, or one that outlives a change of the model."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
"""What a model is asked for at an index."""
