"""A sheet of labels and pictures of its pages: the work that is done off the window's thread."""

from __future__ import annotations

from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.services import labels
from partsbench.services.labels import Sheet, SheetPlan

PREVIEW_DPI = 120


@dataclass(frozen=True, slots=True)
class Drawn:
    """A sheet that was read back, and pictures of its pages."""

    sheet: Sheet
    pictures: tuple[bytes, ...]


def drawn(plan: SheetPlan, dpi: int = PREVIEW_DPI) -> Drawn | Refused:
    """The sheet drawn, read back and pictured; needs no book."""
    sheet = labels.draw_sheet(plan)
    if isinstance(sheet, Refused):
        return sheet
    return Drawn(sheet, tuple(labels.page_pictures(sheet.pdf, dpi)))
