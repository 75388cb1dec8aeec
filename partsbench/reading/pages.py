"""Reads printed pages back before they are handed out, with a decoder that did not draw them."""

from __future__ import annotations

from dataclasses import dataclass

from partsbench.reading.found import How
from partsbench.reading.pictures import decode, pdf_pages

# The coarsest a page has to be read at: an old office scanner, or a telephone held at arm's length.
READ_BACK_DPI = 150


@dataclass(frozen=True, slots=True)
class PageRead:
    """What stands on one page: each code as often as it was read, in reading order."""

    number: int
    codes: tuple[str, ...]


def read_back(pdf: bytes, dpi: int = READ_BACK_DPI) -> list[PageRead]:
    """The codes on each page of a PDF by a plain look only. ReadingError if it cannot be drawn.

    A page that needs a treatment to be read is not good enough to be handed out.
    """
    pages: list[PageRead] = []
    for number, grey in enumerate(pdf_pages(pdf, dpi), start=1):
        found = decode(grey, number, How.PLAIN)
        found.sort(key=lambda f: (round(f.corners[0][1] / (dpi / 4)), f.corners[0][0]))
        pages.append(PageRead(number, tuple(f.text for f in found)))
    return pages
