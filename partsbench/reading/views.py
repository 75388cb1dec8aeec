"""Small pictures of what was looked at, for a person to see where a label was found."""

from __future__ import annotations

import warnings
from collections.abc import Iterable
from contextlib import closing
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from partsbench.reading.found import Corners
from partsbench.reading.pictures import PDF_DPI, pdf_pages, to_colour

if TYPE_CHECKING:
    from PIL.Image import Image

LONGEST_PX = 1400
CLOSE_PX = 360
# A symbol's quiet zone and a little of what is around it, as a share of the symbol's extent.
AROUND = 0.35
MOST_PAGES_SHOWN = 12


@dataclass(frozen=True, slots=True)
class View:
    """A page, or a part of one, as `width` × `height` pixels of red, green and blue bytes.

    A place (x, y) of the page is at ((x - left) / scale, (y - top) / scale) of the view.
    """

    page: int
    width: int
    height: int
    rgb: bytes
    left: int = 0
    top: int = 0
    scale: float = 1.0


@dataclass(frozen=True, slots=True)
class Views:
    """The pages on which something was found, and the first symbol from close by."""

    pages: tuple[View, ...] = ()
    close: View | None = None


class FoundOnPage(Protocol):
    """Something found on a page."""

    @property
    def page(self) -> int: ...
    @property
    def corners(self) -> Corners: ...


def views_of(source: Path | bytes, found: Iterable[FoundOnPage]) -> Views:
    """Views for what was found in a picture or PDF file that could be read."""
    first: dict[int, Corners] = {}
    for one in found:
        first.setdefault(one.page, one.corners)
    pages: list[View] = []
    close: View | None = None
    for page, corners in list(first.items())[:MOST_PAGES_SHOWN]:
        picture = _page(source, page)
        pages.append(_whole(picture, page))
        close = close or _close(picture, page, corners)
    return Views(tuple(pages), close)


def _page(source: Path | bytes, page: int) -> Image:
    """The upright page in colour, as large as it was when it was read."""
    from PIL import Image, ImageOps

    data = source if isinstance(source, bytes) else source.read_bytes()
    if b"%PDF-" in data[:1024]:
        with closing(pdf_pages(data, PDF_DPI, page)) as pages:
            return next(pages).convert("RGB")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", Image.DecompressionBombWarning)
        with Image.open(BytesIO(data)) as opened:
            opened.seek(page - 1)
            return to_colour(ImageOps.exif_transpose(opened))


def _whole(picture: Image, page: int) -> View:
    shrink = -(-max(picture.size) // LONGEST_PX)
    small = picture.reduce(shrink) if shrink > 1 else picture
    return View(page, *small.size, small.tobytes(), scale=float(shrink))


def _close(picture: Image, page: int, corners: Corners) -> View:
    """A symbol and what is around it."""
    across, down = zip(*corners, strict=True)
    room = AROUND * max(max(across) - min(across), max(down) - min(down))
    left, top = (max(0, int(min(side) - room)) for side in (across, down))
    right = min(picture.width, int(max(across) + room) + 1)
    bottom = min(picture.height, int(max(down) + room) + 1)
    cut = picture.crop((left, top, max(right, left + 1), max(bottom, top + 1)))
    shrink = -(-max(cut.size) // CLOSE_PX)
    small = cut.reduce(shrink) if shrink > 1 else cut
    return View(page, *small.size, small.tobytes(), left, top, float(shrink))
