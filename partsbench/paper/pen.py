"""Draws black on white in mm from the top left corner of a page; the only place that knows PDF."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import cache, lru_cache
from io import BytesIO

from partsbench.resources import asset

MM = 72 / 25.4
REGULAR, BOLD = "AtkinsonHyperlegible-Regular", "AtkinsonHyperlegible-Bold"

SMALLEST_SHARE = 0.7
"""Words are made smaller by that at most before they are cut."""

PenPoint = tuple[float, float]
Rectangle = tuple[float, float, float, float]
_OTHER_WIDTH = 527
_SPACES = re.compile(r"\s+")


class Pen:
    """One PDF in the making. Sizes of letters are font sizes in mm; no clock is looked at."""

    def __init__(self, width: float, height: float, title: str) -> None:
        from reportlab.pdfgen.canvas import Canvas

        _prepare()
        self.width, self.height = width, height
        self._to = BytesIO()
        size = (width * MM, height * MM)
        self._canvas = Canvas(self._to, pagesize=size, invariant=True, pageCompression=1)
        self._canvas.setTitle(title)
        self._canvas.setCreator("partsbench")
        self._canvas.setAuthor("")
        self._canvas.setSubject("")
        self.origin: PenPoint = (0.0, 0.0)

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
        self,
        x: float,
        y: float,
        words: str,
        size: float,
        width: float,
        *,
        bold: bool = False,
        least: float = SMALLEST_SHARE,
    ) -> float:
        """Words on the line y made to fit `width`: smaller, then cut short. Returns their width."""
        size, words = fit(words, size, width, bold, least)
        self.text(x, y, words, size, bold=bold)
        return text_width(words, size, bold)

    def line(self, start: PenPoint, end: PenPoint, thick: float = 0.2, dash: float = 0.0) -> None:
        path = f"{self._at(*start)} m {self._at(*end)} l S"
        self._draw(f"{_stroke(thick, dash)} {path}")

    def boxes(
        self,
        boxes: Iterable[Rectangle],
        *,
        thick: float = 0.2,
        dash: float = 0.0,
        fill: float | None = None,
    ) -> None:
        """Boxes (x, y, width, height) as one path: outlined `thick`, filled with a grey 0 to 1."""
        path = " ".join(self._rectangle(*box) for box in boxes)
        if not path:
            return
        grey = "" if fill is None else f"{fill:g} g"
        ending = "S" if fill is None else "B" if thick else "f"
        self._draw(f"{grey} {_stroke(thick, dash)} {path} {ending}")

    def fill(self, path: str, x: float = 0.0, y: float = 0.0, unit: float = 1.0) -> None:
        """A path of `polygons` in black by the even-odd rule, from (x, y) on, in units of mm."""
        scale = unit * MM
        self._draw(f"{scale:.5f} 0 0 {-scale:.5f} {self._at(x, y)} cm {path} f*")

    @contextmanager
    def clipped(self, box: Rectangle) -> Iterator[None]:
        """Nothing is drawn outside the box meanwhile."""
        self._canvas.addLiteral(f"q {self._rectangle(*box)} W n")
        yield
        self._canvas.addLiteral("Q")

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
        self._canvas.addLiteral(f"q 1 0 0 1 {self._x(x):.3f} {-(self.origin[1] + y) * MM:.3f} cm")
        self._canvas.doForm(name)
        self._canvas.addLiteral("Q")

    def next_page(self) -> None:
        self._canvas.showPage()

    def finish(self) -> bytes:
        """The PDF; the page in hand is its last one."""
        self._canvas.save()
        return self._to.getvalue()

    def _draw(self, words: str) -> None:
        """PDF's own words, between a kept and a restored state, so that none leaks out."""
        self._canvas.addLiteral(f"q {words} Q")

    def _rectangle(self, x: float, y: float, width: float, height: float) -> str:
        return f"{self._at(x, y + height)} {width * MM:.3f} {height * MM:.3f} re"

    def _at(self, x: float, y: float) -> str:
        return f"{self._x(x):.3f} {self._up(y):.3f}"

    def _x(self, x: float) -> float:
        return (self.origin[0] + x) * MM

    def _up(self, y: float) -> float:
        return (self.height - self.origin[1] - y) * MM


def _stroke(thick: float, dash: float) -> str:
    return f"{thick * MM:.3f} w [{f'{dash * MM:.2f}' if dash else ''}] 0 d"


def polygons(corners: Iterable[Sequence[PenPoint]]) -> str:
    """Closed polygons as the words of a PDF path, written once and filled as often as wanted."""
    drawn = []
    for polygon in corners:
        drawn += [_step(corner) for corner in polygon]
        drawn[-len(polygon)] = f"{drawn[-len(polygon)][:-1]}m"
        drawn.append("h")
    return " ".join(drawn)


@lru_cache(maxsize=1024)
def _step(corner: PenPoint) -> str:
    """A line to there, in numbers as PDF knows them: no power of ten (ISO 32000-1:2008, 7.3.3)."""
    from reportlab.lib.rl_accel import fp_str

    return f"{fp_str(*corner)} l"


def fit(
    words: str, size: float, width: float, bold: bool = False, least: float = SMALLEST_SHARE
) -> tuple[float, str]:
    """A size and words that fit `width`: down to a share `least` of the size, then cut with …"""
    wide = text_width(words, size, bold)
    if wide <= width:
        return size, words
    size *= max(width / wide * 0.999, least)
    if text_width(words, size, bold) <= width:
        return size, words
    # Half of what is left is looked at each time: the words may be thousands of letters.
    short, long = 0, len(words)
    while long - short > 1:
        middle = (short + long) // 2
        fits = text_width(words[:middle].rstrip() + "…", size, bold) <= width
        short, long = (middle, long) if fits else (short, middle)
    kept = words[:short].rstrip()
    return size, f"{kept}…" if kept else ""


def wrapped(words: str, size: float, width: float, bold: bool = False) -> list[str]:
    """The words in lines that fit `width`; a word too long for a line is cut short."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, bold) <= width:
            lines[-1] = longer
        else:
            lines.append(fit(word, size, width, bold, least=1.0)[1])
    return lines


def text_width(words: str, size: float, bold: bool = False) -> float:
    """mm that words take at a font size in mm."""
    return _width_of(words, bold) * size


@lru_cache(maxsize=4096)
def _width_of(words: str, bold: bool) -> float:
    widths = _widths(BOLD if bold else REGULAR)
    return sum(widths.get(ord(c), _OTHER_WIDTH) for c in words) / 1000


@lru_cache(maxsize=4096)
def printable(words: str) -> str:
    """The words in letters that the font has: marks it lacks are left off, the rest become ?."""
    have = _widths(REGULAR)
    told = []
    for character in _SPACES.sub(" ", words):
        if ord(character) in have:
            told.append(character)
            continue
        bare = unicodedata.normalize("NFKD", character)
        kept = (c for c in bare if ord(c) in have and not unicodedata.combining(c))
        told.append("".join(kept) or "?")
    return "".join(told)


def all_printable(words: str) -> bool:
    """True when no letter of the words has to be shown as ?."""
    return printable(words).count("?") == words.count("?")


@cache
def _prepare() -> None:
    """Fonts, and streams in bytes: writing them as printable characters only takes time."""
    from reportlab import rl_config
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    rl_config.useA85 = 0
    for name in (REGULAR, BOLD):
        registerFont(TTFont(name, str(asset(f"fonts/{name}.ttf"))))


@cache
def _widths(name: str) -> dict[int, float]:
    """Widths of the letters that the font has, in thousandths of its size."""
    from reportlab.pdfbase.pdfmetrics import getFont

    _prepare()
    return dict(getFont(name).face.charWidths)
