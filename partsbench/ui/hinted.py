"""The example in an empty field, whole also where the field is narrower than it."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit


def show_hint(field: QLineEdit, hint: str) -> None:
    """Put an example into a field while it is empty, and beside the pointer."""
    field.setPlaceholderText(hint)
    field.setToolTip(hint)
