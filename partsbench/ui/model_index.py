"""What Qt's models are asked with: an index, or one that outlives a change of the model."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex

Index = QModelIndex | QPersistentModelIndex
