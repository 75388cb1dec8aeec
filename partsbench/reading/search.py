"""Where in a picture a ruined symbol may be: first by its texture, then by its known modules.

A symbol is a square of strong contrast with calm around it. Such squares are found on a coarse
map; each is then compared with the known modules in many turns, sizes and leanings at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray
from PIL import Image as Pictures
from PIL import ImageChops, ImageFilter

from partsbench.reading.found import SIDE
from partsbench.reading.symbol import known_signs

if TYPE_CHECKING:
    from PIL.Image import Image

Array = NDArray[np.float32]

# A pixel of the coarse map; a module is 3 to 6 pixels in the picture that the map is made of.
CELL = 8
SQUARE_CELLS = (7, 9, 12, 15)
# Symbols of severity 4 have 0.6 and more; wood and cloth seldom 0.4.
WORTH_A_LOOK = 0.4
# The paper's lightness counts up to so many times the contrast within the symbol: a white sheet
# on dark wood is no symbol because of that.
_LIGHTER = 1.5
# The window around a square for the comparison: 2 pixels a module, 32 modules.
WINDOW = 64
PX = 2.0
TURNS = 40
SIZES = (0.76, 0.87, 1.0, 1.15)
# Seen from the side, a symbol is narrower along one axis (share, degrees). Leanings are tried for
# the best _LEANED of the upright templates.
LEANS = ((1.0, 0.0), *((share, axis) for share in (0.78, 0.6) for axis in (0.0, 45.0, 90.0, 135.0)))
_LEANED = 12
_UPRIGHT = range(0, TURNS * len(SIZES) * len(LEANS), len(LEANS))


@dataclass(frozen=True, slots=True)
class Square:
    """A place that may hold a symbol: centre and side in pixels of the picture it was found in."""

    score: float
    x: float
    y: float
    side: float


@dataclass(frozen=True, slots=True)
class Pose:
    """How a symbol may lie: centre, and the 2 × 2 matrix from modules to pixels."""

    score: float
    x: float
    y: float
    matrix: tuple[float, float, float, float]

    def place(self, modules: Array) -> Array:
        """Pixels (n × 2) of places counted in modules from the symbol's centre (n × 2)."""
        a, b, c, d = self.matrix
        turn = np.array([[a, b], [c, d]], np.float32)
        return modules @ turn.T + np.array([self.x, self.y], np.float32)

    def enlarged(self, times: float) -> Pose:
        """The same pose in a picture `times` as large."""
        a, b, c, d = (value * times for value in self.matrix)
        return Pose(self.score, self.x * times, self.y * times, (a, b, c, d))


def squares(grey: Image, most: int) -> list[Square]:
    """The most likely places at modules of 3 to 6 pixels, best first."""
    rough = ImageChops.difference(grey, grey.filter(ImageFilter.BoxBlur(4))).reduce(CELL)
    strength = np.asarray(rough, np.float64)
    light = np.asarray(grey.reduce(CELL), np.float64)
    found: list[Square] = []
    for size in SQUARE_CELLS:
        if min(strength.shape) >= size:
            found += _peaks(_stands_out(strength, light, size), size, most)
    found.sort(key=lambda s: -s.score)
    return found[:most]


def _stands_out(
    strength: NDArray[np.float64], light: NDArray[np.float64], size: int
) -> NDArray[np.float64]:
    """How much the square of `size` cells at each place looks like a symbol on its paper.

    Strong contrast within, and as strong everywhere; little in the ring around it, which is as
    light as the symbol's light modules.
    """
    marked = np.log(strength + 2)
    inner, ring = _inner_and_ring(marked, size)
    spread = np.sqrt(np.maximum(_box_mean(marked**2, size) - inner**2, 0))
    dark, paper = _inner_and_ring(light, size)
    lighter = np.clip((paper - dark) / np.exp(inner), -_LIGHTER, _LIGHTER)
    standing: NDArray[np.float64] = inner - ring - 0.5 * spread + 0.4 * lighter
    return standing


def _inner_and_ring(
    values: NDArray[np.float64], size: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Means of the square of `size` cells at each place and of the ring of two cells around it."""
    outer_size = size + 4
    inner, outer = _box_mean(values, size), _box_mean(values, outer_size)
    return inner, (outer * outer_size**2 - inner * size**2) / (outer_size**2 - size**2)


def _peaks(score: NDArray[np.float64], size: int, most: int) -> Iterator[Square]:
    reach = size // 3
    for _ in range(most):
        row, column = np.unravel_index(score.argmax(), score.shape)
        value = float(score[row, column])
        if value < WORTH_A_LOOK:
            return
        yield Square(value, (column + 0.5) * CELL, (row + 0.5) * CELL, float(size * CELL))
        top, left = max(0, row - reach), max(0, column - reach)
        score[top : row + reach + 1, left : column + reach + 1] = 0


def _box_mean(values: NDArray[np.float64], size: int) -> NDArray[np.float64]:
    before = size // 2
    padded = np.pad(values, (before, size - 1 - before), mode="edge")
    sums = np.pad(padded.cumsum(0).cumsum(1), ((1, 0), (1, 0)))
    total = sums[size:, size:] - sums[:-size, size:] - sums[size:, :-size] + sums[:-size, :-size]
    mean: NDArray[np.float64] = total / size**2
    return mean


def poses(grey: Image, square: Square, most: int = 3) -> list[Pose]:
    """The best ways a symbol may lie in a square, best first."""
    pixels = square.side / SIDE / PX
    half = WINDOW / 2 * pixels
    window = cut(grey, square.x - half, square.y - half, WINDOW * pixels, WINDOW)
    picture = np.fft.rfft2(evened(window, 7)).astype(np.complex64)
    found = _matches(picture, _upright_spectra(), _UPRIGHT)
    found.sort(key=lambda m: -m[0])
    leaning = [lying + lean for _, lying, _, _ in found[:_LEANED] for lean in range(1, len(LEANS))]
    found += _matches(picture, np.stack([_spectrum(index) for index in leaning]), leaning)
    found.sort(key=lambda m: -m[0])
    best: list[Pose] = []
    for score, index, row, column in found:
        dx, dy = (column - WINDOW // 2) * pixels, (row - WINDOW // 2) * pixels
        a, b, c, d = (float(v) * pixels for v in _matrix(index).ravel())
        pose = Pose(score, square.x + dx, square.y + dy, (a, b, c, d))
        if all(_apart(pose, other) for other in best):
            best.append(pose)
            if len(best) == most:
                break
    return best


def _matches(
    picture: NDArray[np.complex64], spectra: NDArray[np.complex64], which: Sequence[int]
) -> list[tuple[float, int, int, int]]:
    """Score, index, row and column of the best place of each of the templates `which`."""
    match = np.fft.irfft2(spectra * picture, s=(WINDOW, WINDOW)).reshape(len(spectra), -1)
    place = match.argmax(axis=1)
    score = match[np.arange(len(match)), place]
    return [
        (float(s), i, *divmod(int(p), WINDOW)) for s, i, p in zip(score, which, place, strict=True)
    ]


def _apart(one: Pose, other: Pose) -> bool:
    """Two poses whose corners lie more than two modules from one another on average."""
    corners = np.array([[-10, -10], [10, -10], [10, 10], [-10, 10]], np.float32)
    module = abs(other.matrix[0] * other.matrix[3] - other.matrix[1] * other.matrix[2]) ** 0.5
    gaps = np.hypot(*(one.place(corners) - other.place(corners)).T)
    return bool(gaps.mean() > 2 * module)


@lru_cache(maxsize=1)
def _upright_spectra() -> NDArray[np.complex64]:
    return np.stack([_spectrum(index) for index in _UPRIGHT])


@lru_cache(maxsize=TURNS * len(SIZES) * len(LEANS))
def _spectrum(index: int) -> NDArray[np.complex64]:
    """The conjugate spectrum of the known modules as template `index` lays them."""
    places, known = _drawing()
    u, v = np.linalg.inv(_matrix(index)) @ places + len(known) / 2
    inside = (u >= 0) & (u < len(known)) & (v >= 0) & (v < len(known))
    drawn = np.zeros(WINDOW * WINDOW, np.float32)
    drawn[inside] = -known[v[inside].astype(int), u[inside].astype(int)]
    seen = drawn != 0
    drawn[seen] -= drawn[seen].mean()
    drawn /= np.sqrt(drawn @ drawn)
    centred = np.fft.ifftshift(drawn.reshape(WINDOW, WINDOW))
    return np.conj(np.fft.rfft2(centred)).astype(np.complex64)


def _matrix(index: int) -> Array:
    """From modules to window pixels (2 × 2) for a template: turned, sized, then leaning away."""
    rest, lean = divmod(index, len(LEANS))
    turn, size = divmod(rest, len(SIZES))
    share, axis = LEANS[lean]
    narrow = _rotation(axis) @ np.diag([1, share]) @ _rotation(-axis)
    return (narrow @ _rotation(turn * 360 / TURNS) * PX * SIZES[size]).astype(np.float32)


@lru_cache(maxsize=1)
def _drawing() -> tuple[Array, Array]:
    """Window pixels from its middle (2 × n), and the known modules with a ring of their paper."""
    line = np.arange(WINDOW, dtype=np.float32) - WINDOW // 2
    y, x = np.meshgrid(line, line, indexing="ij")
    known = np.pad(known_signs().astype(np.float32), 1, constant_values=-1)
    return np.stack([x.ravel(), y.ravel()]), known


def _rotation(degrees: float) -> NDArray[np.float64]:
    angle = np.radians(degrees)
    return np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])


def cut(grey: Image, left: float, top: float, side: float, pixels: int) -> Array:
    """A square piece of a picture brought to `pixels` a side; its edge is repeated outside."""
    x0, y0 = int(np.floor(left)), int(np.floor(top))
    width = int(np.ceil(side)) + 2
    box = (max(0, x0), max(0, y0), min(grey.width, x0 + width), min(grey.height, y0 + width))
    if box[2] <= box[0] or box[3] <= box[1]:
        return np.full((pixels, pixels), 128, np.float32)
    piece = np.asarray(grey.crop(box))
    edges = ((box[1] - y0, y0 + width - box[3]), (box[0] - x0, x0 + width - box[2]))
    whole = Pictures.fromarray(np.pad(piece, edges, mode="edge"))
    inner = (left - x0, top - y0, left - x0 + side, top - y0 + side)
    small = whole.resize((pixels, pixels), Pictures.Resampling.BILINEAR, box=inner)
    return np.asarray(small, np.float32)


def evened(picture: Array, radius: int) -> Array:
    """The picture with the mean and the spread of each neighbourhood of `radius` pixels taken out.

    Light above zero, dark below; about -1.5 to 1.5.
    """
    values = picture.astype(np.float64)
    size = 2 * radius + 1
    mean = _box_mean(values, size)
    spread = np.sqrt(np.maximum(_box_mean(values**2, size) - mean**2, 0))
    even: Array = np.clip((values - mean) / (spread + 3), -1.5, 1.5).astype(np.float32)
    return even
