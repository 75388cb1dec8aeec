"""The lines of a PDF page in mm from its top left corner, read from the page itself."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator

import pypdfium2
import pypdfium2.raw as pdfium

MM = 25.4 / 72

Line = tuple[float, float, float, float]
"""x and y of both ends, mm."""


def lines(pdf: bytes) -> list[list[Line]]:
    """The straight stroked lines on each page, in the order they were drawn."""
    with pypdfium2.PdfDocument(pdf) as document:
        return [list(_lines(page)) for page in document]


def page_sizes(pdf: bytes) -> list[tuple[float, float]]:
    with pypdfium2.PdfDocument(pdf) as document:
        return [(page.get_width() * MM, page.get_height() * MM) for page in document]


def _lines(page: pypdfium2.PdfPage) -> Iterator[Line]:
    height = page.get_height()
    for found in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
        if pdfium.FPDFPath_CountSegments(found.raw) != 2:
            continue
        ends = [_end(found, i) for i in (0, 1)]
        (x0, y0), (x1, y1) = ends
        yield x0 * MM, (height - y0) * MM, x1 * MM, (height - y1) * MM


def _end(found: pypdfium2.PdfObject, place: int) -> tuple[float, float]:
    segment = pdfium.FPDFPath_GetPathSegment(found.raw, place)
    x, y = ctypes.c_float(), ctypes.c_float()
    assert pdfium.FPDFPathSegment_GetPoint(segment, x, y)
    return tuple(found.get_matrix().on_point(x.value, y.value))
