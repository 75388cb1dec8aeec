"""Pages and pictures of them: the work that is done off the window's thread."""

from __future__ import annotations

from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.wording import plural
from partsbench.services.shown import labels
from partsbench.services.shown.labels import Sheet, SheetPlan

PREVIEW_DPI = 120
MM_PER_INCH = 25.4


@dataclass(frozen=True, slots=True)
class Drawn:
    """A PDF, pictures of its pages, their size in mm, and what is said of it.

    `sheet` is there for labels: what the book notes when they are handed out.
    """

    pdf: bytes
    pictures: tuple[bytes, ...]
    size_mm: tuple[float, float]
    said: str
    sheet: Sheet | None = None


def drawn_labels(plan: SheetPlan, dpi: int = PREVIEW_DPI) -> Drawn | Refused:
    """A sheet of labels drawn, read back and pictured; needs no book."""
    sheet = labels.draw_sheet(plan)
    if isinstance(sheet, Refused):
        return sheet
    many = len(sheet.keys)
    these = plural(many, "1 label", f"{many} labels")
    said = f"{these} on {_pages(sheet.pages)}; every code was read back."
    return pictured(sheet.pdf, said, sheet, dpi)


def pictured(
    pdf: bytes, said: str = "", sheet: Sheet | None = None, dpi: int = PREVIEW_DPI
) -> Drawn:
    """A PDF with pictures of its pages."""
    pictures = tuple(labels.page_pictures(pdf, dpi))
    wide, high = _pixels(pictures[0])
    size = (wide / dpi * MM_PER_INCH, high / dpi * MM_PER_INCH)
    return Drawn(pdf, pictures, size, said or f"{_pages(len(pictures))}.", sheet)


def _pixels(png: bytes) -> tuple[int, int]:
    """Width and height of a PNG, from its header."""
    return int.from_bytes(png[16:20], "big"), int.from_bytes(png[20:24], "big")


def _pages(count: int) -> str:
    return plural(count, "1 page", f"{count} pages")
