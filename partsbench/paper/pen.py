"""Draws black on white in mm from the top left corner of a page; the only place that knows PDF."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from io import BytesIO
from typing import Any

from partsbench.resources import asset

MM = 72 / 25.4
REGULAR, BOLD = "AtkinsonHyperlegible-Regular", "AtkinsonHyperlegible-Bold"

Point = tuple[float, float]


class Pen:
    """One PDF in the making. Sizes of letters are font sizes in mm; nothing depends on the clock."""

    def __init__(self, width: float, height: float, title: str) -> None:
        from reportlab.pdfgen.canvas import Canvas

        _load_fonts()
        self.width, self.height = width, height
        self._to = BytesIO()
        size = (width * MM, height * MM)
        self._canvas = Canvas(self._to, pagesize=size, invariant=True, pageCompression=1)
        self._canvas.setTitle(title)
        self._canvas.setCreator("partsbench")
        self._canvas.setAuthor("")
        self._canvas.setSubject("")
        self.origin: Point = (0.0, 0.0)

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: float,
        *,
        bold: bool = False,
        white: bool = False,
    ) -> None:
        """Words from x on, standing on the line y."""
        canvas = self._canvas
        if white:
            canvas.setFillGray(1)
        canvas.setFont(BOLD if bold else REGULAR, size * MM)
        canvas.drawString(self._x(x), self._up(y), words)
        if white:
            canvas.setFillGray(0)

    def fitted(
        self, x: float, y: float, words: str, size: float, width: float, *, bold: bool = False
    ) -> float:
        """Words on the line y made to fit `width`: smaller by a third at most, then cut short.

        Returns the width taken.
        """
        size, words = fit(words, size, width, bold)
        self.text(x, y, words, size, bold=bold)
        return text_width(words, size, bold)

    def line(self, start: Point, end: Point, thick: float = 0.2, dash: float = 0.0) -> None:
        canvas = self._canvas
        canvas.setLineWidth(thick * MM)
        canvas.setDash([dash * MM] if dash else [])
        canvas.line(self._x(start[0]), self._up(start[1]), self._x(end[0]), self._up(end[1]))

    def boxes(
        self,
        boxes: Iterable[tuple[float, float, float, float]],
        *,
        thick: float = 0.2,
        dash: float = 0.0,
        fill: float | None = None,
    ) -> None:
        """Boxes (x, y, width, height) as one path: outlined `thick`, filled with a grey 0 to 1."""
        canvas = self._canvas
        path = canvas.beginPath()
        empty = True
        for x, y, width, height in boxes:
            path.rect(self._x(x), self._up(y + height), width * MM, height * MM)
            empty = False
        if empty:
            return
        if fill is not None:
            canvas.setFillGray(fill)
        canvas.setLineWidth(thick * MM)
        canvas.setDash([dash * MM] if dash else [])
        canvas.drawPath(path, stroke=int(thick > 0), fill=int(fill is not None))
        if fill:
            canvas.setFillGray(0)

    def path(self, polygons: Iterable[Sequence[Point]]) -> Any:
        """Closed polygons as one path, in units of its own; may be filled more than once."""
        path = self._canvas.beginPath()
        for first, *others in polygons:
            path.moveTo(*first)
            for corner in others:
                path.lineTo(*corner)
            path.close()
        return path

    def fill(self, path: Any, x: float = 0.0, y: float = 0.0, unit: float = 1.0) -> None:
        """The path in black by the even-odd rule, from (x, y) on, `unit` mm to one of its units."""
        from reportlab.pdfgen.canvas import FILL_EVEN_ODD

        canvas = self._canvas
        canvas.saveState()
        canvas.transform(unit * MM, 0, 0, -unit * MM, self._x(x), self._up(y))
        canvas.drawPath(path, stroke=0, fill=1, fillMode=FILL_EVEN_ODD)
        canvas.restoreState()

    @contextmanager
    def clipped(self, x: float, y: float, width: float, height: float) -> Iterator[None]:
        """Nothing is drawn outside the box meanwhile."""
        canvas = self._canvas
        canvas.saveState()
        path = canvas.beginPath()
        path.rect(self._x(x), self._up(y + height), width * MM, height * MM)
        canvas.clipPath(path, stroke=0, fill=0)
        yield
        canvas.restoreState()

    @contextmanager
    def form(self, name: str) -> Iterator[None]:
        """What is drawn meanwhile is kept under a name, to be stamped as often as wanted."""
        origin, self.origin = self.origin, (0.0, 0.0)
        self._canvas.beginForm(name, 0, 0, self.width * MM, self.height * MM)
        yield
        self._canvas.endForm()
        self.origin = origin

    def stamp(self, name: str, x: float, y: float) -> None:
        """The form, its page's top left corner moved to (x, y)."""
        canvas = self._canvas
        canvas.saveState()
        canvas.translate(self._x(x), -(self.origin[1] + y) * MM)
        canvas.doForm(name)
        canvas.restoreState()

    def next_page(self) -> None:
        self._canvas.showPage()

    def finish(self) -> bytes:
        """The PDF; the page in hand is its last one."""
        self._canvas.save()
        return self._to.getvalue()

    def _x(self, x: float) -> float:
        return (self.origin[0] + x) * MM

    def _up(self, y: float) -> float:
        return (self.height - self.origin[1] - y) * MM


def fit(words: str, size: float, width: float, bold: bool = False) -> tuple[float, str]:
    """A size and words that fit `width`: smaller by a third at most, then cut short with …"""
    wide = text_width(words, size, bold)
    if wide <= width:
        return size, words
    size *= max(width / wide, 0.66)
    while words and text_width(words, size, bold) > width:
        words = words.removesuffix("…")[:-1].rstrip() + "…"
        if words == "…":
            break
    return size, words


def text_width(words: str, size: float, bold: bool = False) -> float:
    """mm that words take at a font size in mm."""
    _load_fonts()
    widths = _widths(BOLD if bold else REGULAR)
    return sum(widths.get(ord(c), 527) for c in words) * size / 1000


def printable(words: str) -> str:
    """The words in letters that the font has: marks it lacks are left off, the rest become ?."""
    have = _widths(REGULAR)
    told = []
    for character in " ".join(words.split()):
        if ord(character) in have:
            told.append(character)
            continue
        bare = unicodedata.normalize("NFKD", character)
        told.append(
            "".join(c for c in bare if ord(c) in have and not unicodedata.combining(c)) or "?"
        )
    return "".join(told)


def all_printable(words: str) -> bool:
    """True when no letter of the words has to be shown as ?."""
    return printable(words).count("?") == words.count("?")


@cache
def _load_fonts() -> None:
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    for name in (REGULAR, BOLD):
        registerFont(TTFont(name, str(asset(f"fonts/{name}.ttf"))))


@cache
def _widths(name: str) -> dict[int, Any]:
    from reportlab.pdfbase.pdfmetrics import getFont

    _load_fonts()
    return dict(getFont(name).face.charWidths)
