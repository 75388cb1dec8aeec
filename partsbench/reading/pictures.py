"""Codes in pictures and PDF files: a plain look, the ladder, then what we know of our labels.

Only full QR symbols count: the decoder's wider QR family finds Micro QR texts in damaged ones.
Only texts with a code's shape and check character are returned: a damaged symbol can decode to
another text. Whether the book has such a code is for the caller to ask.
"""

from __future__ import annotations

import threading
import warnings
from collections.abc import Callable, Collection, Generator, Iterator
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from partsbench import files
from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Code, parse_code
from partsbench.core.wording import within
from partsbench.reading.found import Corners, Found, How, ReadingError
from partsbench.reading.ladder import treatments

if TYPE_CHECKING:
    from PIL.Image import Image
    from pypdfium2 import PdfDocument

PDF_DPI = 200
# A page is drawn no larger than this: a drawing sheet must not fill the memory.
LARGEST_PAGE_PIXELS = 40_000_000
MOST_PAGES = 200
LARGEST_FILE = 200_000_000
LONGEST_SIDE = 65_535
"""Pixels: the decoder counts no further."""
LEAST_CONTRAST = 4
"""Of 255 steps between the lightest and the darkest pixel: below, a page is blank."""
# The library that draws PDF pages keeps state of its own: only one thread may be in it at a time.
_PDFIUM = threading.Lock()


Heard = Callable[[int], None]


def _nobody(_: int) -> None:
    """Nobody hears how far it is."""


def read_file(
    path: Path, book: Collection[str] = (), dpi: int = PDF_DPI, heard: Heard = _nobody
) -> list[Found]:
    """The codes in a picture or PDF file, told apart by content. ReadingError names the file.

    `heard` is told the number of each page of a PDF before it is looked at.
    """
    data = files.read(path, LARGEST_FILE)
    if isinstance(data, Refused):
        raise ReadingError(within(data.sentence))
    try:
        if b"%PDF-" in data[:1024]:
            return read_pdf(data, book, dpi, heard)
        return read_picture(data, book)
    except ReadingError as error:
        raise ReadingError(f"{path}: {error}") from error


def read_picture(source: Path | bytes | Image, book: Collection[str] = ()) -> list[Found]:
    """The codes in a picture (every frame of a multi-page TIFF). ReadingError if it is none."""
    found: list[Found] = []
    for page, grey in enumerate(_grey_frames(source), start=1):
        found += read_grey(grey, book, page)
    return found


def read_plainly(source: Path | bytes | Image) -> list[Found]:
    """The codes that a decoder reads at once, without any treatment. ReadingError if it is none."""
    frames = enumerate(_grey_frames(source), start=1)
    return [found for page, grey in frames for found in decode(grey, page, How.PLAIN)]


def read_pdf(
    source: Path | bytes,
    book: Collection[str] = (),
    dpi: int = PDF_DPI,
    heard: Heard = _nobody,
) -> list[Found]:
    """The codes on all pages of a PDF, drawn at `dpi`. ReadingError if it cannot be drawn."""
    found: list[Found] = []
    for page, grey in enumerate(pdf_pages(source, dpi), start=1):
        heard(page)
        found += read_grey(grey, book, page)
    return found


def read_grey(grey: Image, book: Collection[str] = (), page: int = 1) -> list[Found]:
    """The codes in one grey picture (mode L), by the first means that finds any.

    A label that nothing else reads is compared with the codes of `book`; such a finding is not
    `certain`.
    """
    if _is_blank(grey):
        return []
    if max(grey.size) > LONGEST_SIDE:
        raise ReadingError(f"a side is longer than {LONGEST_SIDE:,} pixels")
    found = decode(grey, page, How.PLAIN)
    if found:
        return found
    for how, treated, scale in treatments(grey):
        found = decode(treated, page, how, scale)
        if found:
            return found
    from partsbench.reading.ruined import read_ruined

    return read_ruined(grey, book, page)


def _is_blank(grey: Image) -> bool:
    used = [shade for shade, count in enumerate(grey.histogram()) if count]
    return not used or used[-1] - used[0] < LEAST_CONTRAST


def decode(grey: Image, page: int, how: How, scale: float = 1.0) -> list[Found]:
    """What the general decoder reads in a grey picture, corners divided by `scale`."""
    import numpy as np
    import zxingcpp

    pixels = np.asarray(grey)
    if max(pixels.shape) > LONGEST_SIDE:
        return []
    symbols = zxingcpp.read_barcodes(
        pixels, formats=zxingcpp.BarcodeFormat.QRCodeModel2, try_invert=False
    )
    found: list[Found] = []
    for symbol in symbols:
        code = parse_code(symbol.text)
        # The printer writes a code in one way only; a text that must be tidied first is not ours.
        if isinstance(code, Code) and symbol.text == str(code):
            place = symbol.position
            found.append(Found(symbol.text, code, _corners(place, scale), page, how))
    return found


def pdf_pages(source: Path | bytes, dpi: int, first: int = 1) -> Generator[Image, None, None]:
    """The pages of a PDF from the `first` on as grey pictures, one at a time.

    May be used from several threads.
    """
    import pypdfium2

    with _PDFIUM:
        try:
            document = pypdfium2.PdfDocument(source)
        except (pypdfium2.PdfiumError, OSError) as error:
            raise ReadingError("the PDF is damaged, empty or locked with a password") from error
        count = len(document)
    try:
        if count > MOST_PAGES:
            raise ReadingError(f"{count} pages are more than {MOST_PAGES}")
        for index in range(first - 1, count):
            with _PDFIUM:
                picture = _drawn_page(document, index, dpi)
            yield picture
    finally:
        with _PDFIUM:
            document.close()


def _drawn_page(document: PdfDocument, index: int, dpi: int) -> Image:
    import pypdfium2

    try:
        page = document[index]
        width, height = page.get_size()
        scale = min(dpi / 72, (LARGEST_PAGE_PIXELS / max(width * height, 1)) ** 0.5)
        scale = min(scale, LONGEST_SIDE / max(width, height, 1))
        picture: Image = page.render(scale=scale, grayscale=True).to_pil().convert("L")
        page.close()
    except (pypdfium2.PdfiumError, ValueError, OSError) as error:
        raise ReadingError(f"page {index + 1} of the PDF cannot be drawn") from error
    return picture


def _grey_frames(source: Path | bytes | Image) -> Iterator[Image]:
    """Upright grey frames of a picture, on white where it is transparent."""
    from PIL import Image, ImageOps, ImageSequence, UnidentifiedImageError

    if isinstance(source, Image.Image):
        yield to_grey(source)
        return
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            opened = Image.open(BytesIO(source) if isinstance(source, bytes) else source)
        with opened:
            if opened.format != "TIFF":
                yield to_grey(ImageOps.exif_transpose(opened))
                return
            for _, frame in zip(range(MOST_PAGES), ImageSequence.Iterator(opened), strict=False):
                yield to_grey(ImageOps.exif_transpose(frame))
    except UnidentifiedImageError as error:
        raise ReadingError("neither a picture nor a PDF that can be read") from error
    except (Image.DecompressionBombWarning, Image.DecompressionBombError) as error:
        raise ReadingError("the picture has too many pixels") from error
    except (OSError, SyntaxError, ValueError, EOFError) as error:
        raise ReadingError("the picture is damaged or cut short") from error


def to_grey(picture: Image) -> Image:
    """A picture of any mode as mode L, on white where it is transparent."""
    return _plain(picture).convert("L")


def to_colour(picture: Image) -> Image:
    """A picture of any mode as mode RGB, on white where it is transparent."""
    return _plain(picture).convert("RGB")


def _plain(picture: Image) -> Image:
    from PIL import Image

    if picture.mode.startswith("I;16") or picture.mode in ("I", "F"):
        return _squeezed(picture)
    if "A" in picture.getbands() or "transparency" in picture.info:
        clear = picture.convert("RGBA")
        white = Image.new("RGBA", clear.size, "white")
        return Image.alpha_composite(white, clear)
    return picture


def _squeezed(picture: Image) -> Image:
    """A picture of more than 8 bits, its whole range brought to 8."""
    import numpy as np
    from PIL import Image

    values = np.asarray(picture, np.float64)
    low, high = float(values.min()), float(values.max())
    spread = (values - low) * (255 / (high - low)) if high > low else np.full_like(values, 255)
    return Image.fromarray(spread.astype(np.uint8))


def _corners(place: object, scale: float) -> Corners:
    names = ("top_left", "top_right", "bottom_right", "bottom_left")
    points = [getattr(place, name) for name in names]
    first, second, third, fourth = ((p.x / scale, p.y / scale) for p in points)
    return first, second, third, fourth
