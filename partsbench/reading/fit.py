"""Lays a net over a symbol until its known modules lie where they are seen, wrinkles and all.

The net has few meshes first and more later; each round moves its knots so that the picture agrees
better with the known modules (Gauss-Newton, from memory after Lucas and Kanade 1981), while the
net resists being bent.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from partsbench.reading.found import SIDE
from partsbench.reading.search import Array, Pose, cut, evened
from partsbench.reading.symbol import known_signs

if TYPE_CHECKING:
    from PIL.Image import Image

# The window is brought to this many pixels a module, whatever the picture has.
PX = 4.0
WINDOW_MODULES = 36
WINDOW = int(PX * WINDOW_MODULES)
# (knots a side, blur in pixels, rounds, stiffness): a stiff plane first, then a yielding net.
PLANE = ((2, 3.0, 5, 0.0), (2, 1.5, 4, 0.0))
YIELDING = ((4, 1.5, 4, 30.0), (6, 1.0, 4, 15.0))
# A ring of the paper around the symbol is known as well, two points a module are compared.
_QUIET = 1
_SPAN = SIDE + 2 * _QUIET
_POINTS = 2


@dataclass(frozen=True, slots=True)
class Net:
    """A symbol laid out: a window of the picture, evened out, and the knots in its pixels.

    `agreement` with the known modules is 1 at best and about 0 for anything that is no symbol.
    """

    window: Array
    knots: Array
    agreement: float
    left: float
    top: float
    scale: float

    def at(self, modules: Array) -> Array:
        """Window pixels (n × 2) of places counted in modules from the symbol's top left."""
        return _weights(modules, _count(self.knots)) @ self.knots

    def in_picture(self, modules: Array) -> Array:
        """Pixels of the picture (n × 2) of places in modules from the symbol's top left."""
        return self.at(modules) * self.scale + np.array([self.left, self.top], np.float32)

    @property
    def module(self) -> float:
        """Pixels of the picture a module, on average."""
        x, y = (self.knots * self.scale).T
        count = _count(self.knots)
        corners = [0, count - 1, count * count - 1, count * (count - 1)]
        x, y = x[corners], y[corners]
        area = abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2
        return float(area**0.5) / SIDE


def lay_plane(grey: Image, pose: Pose) -> Net:
    """A flat net over the symbol that `pose` says lies about there."""
    a, b, c, d = pose.matrix
    scale = abs(a * d - b * c) ** 0.5 / PX
    left, top = pose.x - WINDOW / 2 * scale, pose.y - WINDOW / 2 * scale
    window = evened(cut(grey, left, top, WINDOW * scale, WINDOW), int(3.5 * PX))
    knots = (pose.place(_knot_places(2) - SIDE / 2) - np.array([left, top])) / scale
    return _fitted(Net(window, knots.astype(np.float32), 0.0, left, top, scale), PLANE)


def lay_net(plane: Net) -> Net:
    """A flat net given more knots, and let into folds and bends."""
    return _fitted(plane, YIELDING)


def _fitted(net: Net, stages: tuple[tuple[int, float, int, float], ...]) -> Net:
    knots, agreement = net.knots, 0.0
    for count, blur, rounds, stiffness in stages:
        knots = _weights(_knot_places(count), _count(knots)) @ knots
        picture = blurred(net.window, blur)
        weights, wanted = _target(count, blur)
        down, across = _slopes(picture)
        bending = np.float32(stiffness) * _bending(count)
        for _ in range(rounds):
            places = weights @ knots
            seen = sample(picture, places)
            slopes = sample(across, places), sample(down, places)
            knots = knots + _step(knots, weights, seen, wanted, slopes, bending)
        agreement = _agreement(sample(picture, weights @ knots), wanted)
    return replace(net, knots=knots, agreement=agreement)


def _slopes(picture: Array) -> tuple[Array, Array]:
    """How the picture grows lighter downwards and to the right, per pixel."""
    down, across = (np.asarray(slope, np.float32) for slope in np.gradient(picture))
    return down, across


def _step(
    knots: Array,
    weights: Array,
    seen: Array,
    wanted: Array,
    slopes: tuple[Array, Array],
    bend: Array,
) -> Array:
    """How to move the knots so that what is seen comes nearer to what is wanted."""
    off = wanted * _gain(seen, wanted) - seen
    trust = 1 / (1 + (off / 0.6) ** 2)
    count = len(knots)
    reach = np.concatenate([weights * slopes[0][:, None], weights * slopes[1][:, None]], axis=1)
    push = (reach * trust[:, None]).T
    square, right = push @ reach, push @ off
    for axis in (0, 1):
        own = slice(axis * count, (axis + 1) * count)
        square[own, own] += bend + 1e-3 * np.eye(count, dtype=np.float32)
        right[own] -= bend @ knots[:, axis]
    step: Array = np.linalg.solve(square, right).reshape(2, count).T
    return step * np.float32(min(1.0, PX / max(float(np.abs(step).max()), 1e-6)))


def _gain(seen: Array, wanted: Array) -> float:
    """How much the picture's contrast is of the full one; covered modules do not count."""
    return max(0.3, float(seen @ wanted) / float(wanted @ wanted))


def _agreement(seen: Array, wanted: Array) -> float:
    return float(seen @ wanted) / float(np.sqrt((seen @ seen) * (wanted @ wanted)) + 1e-9)


@lru_cache(maxsize=8)
def _target(count: int, blur: float) -> tuple[Array, Array]:
    """Net weights of the points on known modules, and how light they should look (-1 to 1)."""
    known = np.pad(known_signs().astype(np.float32), _QUIET, constant_values=-1)
    dots = int(PX)
    fine = np.kron(known, np.ones((dots, dots), np.float32))
    smooth, covered = blurred(fine, blur), blurred((fine != 0).astype(np.float32), blur)
    steps = (np.arange(_SPAN * _POINTS) + 0.5) / _POINTS
    y, x = np.meshgrid(steps, steps, indexing="ij")
    places = np.stack([x.ravel(), y.ravel()], axis=1).astype(np.float32)
    column, row = places.astype(int).T
    sure = (known[row, column] != 0) & (sample(covered, places * dots) > 0.75)
    wanted = -sample(smooth, places * dots)[sure]
    return _weights(places[sure] - _QUIET, count), wanted


def _count(knots: Array) -> int:
    return math.isqrt(len(knots))


def _weights(modules: Array, count: int) -> Array:
    """Bilinear weights (n × count²) of the net's knots for places in modules; linear outside."""
    share = np.asarray(modules, np.float64) / SIDE * (count - 1)
    low = np.clip(np.floor(share), 0, count - 2).astype(int)
    part = share - low
    weights = np.zeros((len(share), count * count), np.float32)
    rows = np.arange(len(share))
    for dx, wx in ((0, 1 - part[:, 0]), (1, part[:, 0])):
        for dy, wy in ((0, 1 - part[:, 1]), (1, part[:, 1])):
            weights[rows, (low[:, 1] + dy) * count + low[:, 0] + dx] = wx * wy
    return weights


@lru_cache(maxsize=8)
def _knot_places(count: int) -> Array:
    line = np.linspace(0, SIDE, count, dtype=np.float32)
    y, x = np.meshgrid(line, line, indexing="ij")
    return np.stack([x.ravel(), y.ravel()], axis=1)


@lru_cache(maxsize=8)
def _bending(count: int) -> Array:
    """What it costs to bend the net: squared second differences along rows, columns, meshes."""
    if count < 3:
        return np.zeros((count * count, count * count), np.float32)
    second = np.diff(np.eye(count), n=2, axis=0)
    first = np.diff(np.eye(count), axis=0)
    along = np.kron(np.eye(count), second)
    across = np.kron(second, np.eye(count))
    twist = np.kron(first, first)
    cost: Array = (along.T @ along + across.T @ across + twist.T @ twist).astype(np.float32)
    return cost


def sample(picture: Array, places: Array) -> Array:
    """The picture at real-valued places (n × 2, x first), clamped at its edges."""
    height, width = picture.shape
    x = np.clip(places[:, 0] - 0.5, 0, width - 1.001)
    y = np.clip(places[:, 1] - 0.5, 0, height - 1.001)
    left, top = x.astype(int), y.astype(int)
    fx, fy = x - left, y - top
    upper = picture[top, left] * (1 - fx) + picture[top, left + 1] * fx
    lower = picture[top + 1, left] * (1 - fx) + picture[top + 1, left + 1] * fx
    taken: Array = (upper * (1 - fy) + lower * fy).astype(np.float32)
    return taken


def blurred(picture: Array, spread: float) -> Array:
    """Gaussian blur of a square picture by `spread` pixels, edges repeated."""
    smear = _smear(len(picture), spread)
    soft: Array = (smear @ picture @ smear.T).astype(np.float32)
    return soft


@lru_cache(maxsize=16)
def _smear(side: int, spread: float) -> Array:
    reach = int(3 * spread + 1)
    steps = np.arange(-reach, reach + 1)
    kernel = np.exp(-0.5 * (steps / max(spread, 1e-3)) ** 2)
    smear = np.zeros((side, side), np.float32)
    for step, weight in zip(steps, kernel / kernel.sum(), strict=True):
        np.add.at(smear, (np.arange(side), np.clip(np.arange(side) + step, 0, side - 1)), weight)
    return smear
