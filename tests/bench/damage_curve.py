"""The benchmark's curve as a small picture: labels read against severity of mixed damage."""

from __future__ import annotations

from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

from partsbench.resources import asset

SIZE = (760, 440)
LEFT, TOP, RIGHT, BOTTOM = 62, 46, 560, 384
PAPER, INK, FAINT = "#ffffff", "#222222", "#cfcfcf"
# Name on the picture, column of the counts, colour, marker.
LINES = (
    ("plain look", "plain", "#7a7a7a", "circle"),
    ("and ladder", "ladder", "#b35c00", "square"),
    ("and known modules", "both symbols", "#00629b", "diamond"),
    ("and the book, to confirm", "against the book", "#3d7a2a", "triangle"),
)


def draw(totals: dict[str, dict[str, int]], path: Path) -> None:
    """Write the curve of the mixed rows of the counts to `path` (PNG, drawn at double size)."""
    picture = Image.new("RGB", (SIZE[0] * 2, SIZE[1] * 2), PAPER)
    pen = ImageDraw.Draw(picture)
    _axes(pen)
    names: list[tuple[float, str, str]] = []
    for name, column, colour, marker in LINES:
        points = [_point(s, _share(totals[f"mixed {s}"], column)) for s in (1, 2, 3, 4)]
        pen.line([_twice(p) for p in points], fill=colour, width=5)
        for point in points:
            _mark(pen, point, marker, colour)
        names.append((points[-1][1], name, colour))
    lowest = 0.0
    for y, name, colour in sorted(names):
        lowest = max(y, lowest + 20)
        _text(pen, (RIGHT + 14, lowest), name, 15, colour, "lm")
    picture.quantize(32).save(path, optimize=True)


def _share(total: dict[str, int], column: str) -> float:
    return 100 * total.get(column, 0) / total["pictures"]


def _point(severity: float, share: float) -> tuple[float, float]:
    x = LEFT + 20 + (severity - 1) / 3 * (RIGHT - LEFT - 30)
    return x, BOTTOM - share / 100 * (BOTTOM - TOP)


def _axes(pen: ImageDraw.ImageDraw) -> None:
    _text(pen, (LEFT - 44, 20), "Whole labels read, in per cent (mixed damage)", 17, INK, "lm")
    for share in range(0, 101, 20):
        _, y = _point(1, share)
        pen.line([_twice((LEFT, y)), _twice((RIGHT, y))], fill=FAINT, width=2)
        _text(pen, (LEFT - 8, y), str(share), 14, INK, "rm")
    for severity in (1, 2, 3, 4):
        x, y = _point(severity, 0)
        _text(pen, (x, y + 16), str(severity), 14, INK, "mm")
    _text(pen, ((LEFT + RIGHT) / 2, BOTTOM + 40), "severity", 15, INK, "mm")


def _mark(pen: ImageDraw.ImageDraw, point: tuple[float, float], shape: str, colour: str) -> None:
    x, y = _twice(point)
    if shape == "circle":
        pen.ellipse((x - 10, y - 10, x + 10, y + 10), fill=colour)
        return
    corners = {
        "square": [(-9, -9), (9, -9), (9, 9), (-9, 9)],
        "diamond": [(0, -13), (13, 0), (0, 13), (-13, 0)],
        "triangle": [(0, -12), (12, 10), (-12, 10)],
    }[shape]
    pen.polygon([(x + dx, y + dy) for dx, dy in corners], fill=colour)


def _text(
    pen: ImageDraw.ImageDraw,
    at: tuple[float, float],
    text: str,
    size: int,
    colour: str,
    anchor: str,
) -> None:
    name = str(asset("fonts/AtkinsonHyperlegible-Regular.ttf"))
    pen.text(_twice(at), text, colour, ImageFont.truetype(name, size * 2), anchor=anchor)


def _twice(point: tuple[float, float]) -> tuple[float, float]:
    return point[0] * 2, point[1] * 2
