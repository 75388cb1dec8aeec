"""What a shop does to a label, and how a camera then sees it: a model with fixed seeds.

Six kinds of damage, each in four severities, alone or all at once ("mixed"). The label lies on
wood, turned at random, seen at 7 camera pixels a millimetre (3.85 a module). The strengths are
our own choice, set so that a general decoder reads one symbol of a mixed picture in about a
quarter of the cases at severity 2.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from PIL import Image, ImageFilter

from tests.support.labels import DOTS_PER_MM, LABEL_MM, label_picture
from tests.support.scenes import wood

KINDS = ("drops", "wrinkles", "bend", "tilt", "shadow", "blur")
MIXED = "mixed"
SEVERITIES = (1, 2, 3, 4)
CAMERA_PX_PER_MM = 7.0
PAPER, INK = 215.0, 35.0
SENSOR_NOISE = 2.5
DOTS = 10
CAMERA_DISTANCE_MM = 250.0

Grid = np.ndarray
"""Float32 picture, height × width."""


@dataclass(frozen=True)
class Shot:
    """A picture of a damaged label, and where on the label each pixel looks (mm; for checks)."""

    picture: Image.Image
    u: Grid
    v: Grid


def shoot(text: str, kind: str, severity: int, seed: int, symbols: int = 2) -> Shot:
    """A label with `kind` of damage (or MIXED) at `severity` 0 to 4, always the same for a seed."""
    kinds = KINDS if kind == MIXED else (kind,)
    rng = np.random.default_rng([seed, severity, (*KINDS, MIXED).index(kind)])
    strength = {name: float(severity) if name in kinds else 0.0 for name in KINDS}
    surface = _paper(text, symbols).copy()
    _drops(surface, strength["drops"], rng)
    x, y = _canvas(rng)
    x, y = _tilt(x, y, strength["tilt"], rng)
    x, y, shade = _bend(x, y, strength["bend"], rng)
    u, v, crease = _wrinkles(x, y, strength["wrinkles"], rng)
    u, v = u + LABEL_MM[0] / 2, v + LABEL_MM[1] / 2
    seen = _look(surface, u, v, wood(u.shape, rng)) * shade * crease
    seen *= _shadow(u.shape, strength["shadow"], rng)
    seen = _blur(seen, strength["blur"], rng)
    seen += rng.normal(0, SENSOR_NOISE + 0.5 * strength["blur"], seen.shape)
    return Shot(Image.fromarray(np.clip(seen, 0, 255).astype(np.uint8)), u, v)


@lru_cache(maxsize=64)
def _paper(text: str, symbols: int) -> Grid:
    """The undamaged label at half the dots: 10 a millimetre is finer than the camera sees."""
    label = Image.fromarray(label_picture(text, symbols)).reduce(DOTS_PER_MM // DOTS)
    return INK + np.asarray(label, np.float32) * np.float32((PAPER - INK) / 255)


def _drops(surface: Grid, strength: float, rng: np.random.Generator) -> None:
    """Paint, stripper and thumbs: uneven spots, dark or light, hardly to be seen through."""
    height, width = surface.shape
    for _ in range(rng.poisson(6 * strength)):
        radius = rng.uniform(0.6, 1.2 + 0.55 * strength) * DOTS
        x, y = rng.uniform(0, width), rng.uniform(0, height)
        box = (
            slice(max(0, int(y - 2 * radius)), min(height, int(y + 2 * radius))),
            slice(max(0, int(x - 2 * radius)), min(width, int(x + 2 * radius))),
        )
        rows, columns = np.mgrid[box]
        angle = np.arctan2(rows - y, columns - x)
        edge = 1 + sum(
            rng.uniform(-0.2, 0.2) * np.cos(n * angle + rng.uniform(0, 7)) for n in (1, 2, 3)
        )
        inside = np.hypot(rows - y, columns - x) < radius * edge
        colour, cover = rng.uniform(20, 235), rng.uniform(0.75, 1.0)
        surface[box] = np.where(inside, surface[box] * (1 - cover) + colour * cover, surface[box])


def _canvas(rng: np.random.Generator) -> tuple[Grid, Grid]:
    """Millimetres from the label's centre for each camera pixel, the label turned at random."""
    turn = rng.uniform(0, 2 * np.pi)
    cos, sin = np.cos(turn), np.sin(turn)
    half_width = (abs(cos) * LABEL_MM[0] + abs(sin) * LABEL_MM[1]) / 2 + 5
    half_height = (abs(sin) * LABEL_MM[0] + abs(cos) * LABEL_MM[1]) / 2 + 5
    xs = np.arange(-half_width, half_width, 1 / CAMERA_PX_PER_MM, dtype=np.float32)
    ys = np.arange(-half_height, half_height, 1 / CAMERA_PX_PER_MM, dtype=np.float32)
    x, y = np.meshgrid(xs + rng.uniform(0, 0.2), ys + rng.uniform(0, 0.2))
    return x * np.float32(cos) + y * np.float32(sin), y * np.float32(cos) - x * np.float32(sin)


def _tilt(x: Grid, y: Grid, strength: float, rng: np.random.Generator) -> tuple[Grid, Grid]:
    """The label's plane leans away from the camera about a random axis in it."""
    lean = np.radians(rng.uniform(0.6, 1.0) * 13 * strength)
    axis = rng.uniform(0, 2 * np.pi)
    cos, sin = np.float32(np.cos(axis)), np.float32(np.sin(axis))
    along, across = x * cos + y * sin, y * cos - x * sin
    # A point at `a` across the axis comes nearer by a·sin(lean); solved for a.
    a = across / (np.cos(lean) + across * np.sin(lean) / CAMERA_DISTANCE_MM)
    along = along * (1 - a * np.sin(lean) / CAMERA_DISTANCE_MM)
    across = a
    return along * cos - across * sin, along * sin + across * cos


def _bend(x: Grid, y: Grid, strength: float, rng: np.random.Generator) -> tuple[Grid, Grid, Grid]:
    """The label lies round a leg or a knob: lines move together at the flanks, which darken."""
    if not strength:
        return x, y, np.ones_like(x)
    radius = rng.uniform(1.0, 1.5) * 150 / (strength + 1)
    axis = rng.uniform(-0.5, 0.5) + (np.pi / 2 if rng.random() < 0.3 else 0.0)
    cos, sin = np.float32(np.cos(axis)), np.float32(np.sin(axis))
    across, along = x * cos + y * sin, y * cos - x * sin
    share = np.clip(across / radius, -0.999, 0.999)
    depth = radius * (1 - np.sqrt(1 - share**2))
    along = along * (1 + depth / CAMERA_DISTANCE_MM) + depth * rng.uniform(-0.15, 0.15)
    seen = radius * np.arcsin(share)
    across = np.where(np.abs(across) < 0.998 * radius, seen, 4 * LABEL_MM[0]).astype(np.float32)
    shade = 1 - 0.5 * (1 - np.sqrt(1 - share**2)) + rng.uniform(-0.15, 0.15) * share
    return across * cos - along * sin, across * sin + along * cos, shade.astype(np.float32)


def _wrinkles(
    x: Grid, y: Grid, strength: float, rng: np.random.Generator
) -> tuple[Grid, Grid, Grid]:
    """Folds of the tape: paper is pushed together along a line, which catches the light."""
    light = np.ones_like(x)
    for _ in range(rng.poisson(1.5 * strength)):
        angle, place = rng.uniform(0, np.pi), rng.uniform(-0.45, 0.45) * LABEL_MM[0]
        cos, sin = np.float32(np.cos(angle)), np.float32(np.sin(angle))
        wave = rng.uniform(0, 1.0) * np.sin((y * cos - x * sin) / rng.uniform(5, 15))
        away = (x - np.float32(place)) * cos + y * sin + wave.astype(np.float32)
        width = rng.uniform(0.8, 2.5)
        push = rng.uniform(-1, 1) * (0.12 + 0.13 * strength)
        near = np.exp(-((away / width) ** 2))
        x, y = x + push * near * cos, y + push * near * sin
        light += near * (away / width) * rng.uniform(-1, 1) * (0.1 + 0.12 * strength)
    return x, y, np.clip(light, 0.2, 1.5)


def _look(surface: Grid, u: Grid, v: Grid, behind: Grid) -> Grid:
    """What each pixel sees: the label where there is one, else what it lies on."""
    on_label = (u > 0) & (u < LABEL_MM[0]) & (v > 0) & (v < LABEL_MM[1])
    return np.where(on_label, bilinear(surface, u * DOTS - 0.5, v * DOTS - 0.5), behind)


def bilinear(picture: Grid, x: Grid, y: Grid) -> Grid:
    """`picture` at real-valued places, clamped at its edges."""
    height, width = picture.shape
    x, y = np.clip(x, 0, width - 1.001), np.clip(y, 0, height - 1.001)
    left, top = x.astype(np.int32), y.astype(np.int32)
    fx, fy = x - left, y - top
    at = top * width + left
    flat = picture.ravel()
    upper = flat[at] * (1 - fx) + flat[at + 1] * fx
    lower = flat[at + width] * (1 - fx) + flat[at + width + 1] * fx
    return upper * (1 - fy) + lower * fy


def _shadow(shape: tuple[int, ...], strength: float, rng: np.random.Generator) -> Grid:
    """A hand or a lamp: one soft edge of a deep shadow, and light that falls off to one side."""
    rows, columns = np.mgrid[: shape[0], : shape[1]].astype(np.float32)
    light = np.ones(shape, np.float32)
    for _ in range(2 if strength else 0):
        angle = rng.uniform(0, 2 * np.pi)
        across = (columns - shape[1] / 2) * np.cos(angle) + (rows - shape[0] / 2) * np.sin(angle)
        softness = rng.uniform(3, 60)
        edge = np.clip((across - rng.uniform(-0.25, 0.25) * max(shape)) / softness, -20, 20)
        light *= 1 - (0.1 + 0.18 * strength) * rng.uniform(0.5, 1) / (1 + np.exp(-edge))
    return light


def _blur(seen: Grid, strength: float, rng: np.random.Generator) -> Grid:
    """Out of focus, and the hand moves along a line while the shutter is open."""
    if not strength:
        return seen
    radius = rng.uniform(0.5, 1.0) * (0.8 + 0.55 * strength)
    picture = Image.fromarray(np.clip(seen, 0, 255).astype(np.float32))
    soft = picture.convert("L").filter(ImageFilter.GaussianBlur(radius))
    out = np.asarray(soft, np.float32)
    length, angle = rng.uniform(0, 1.2) * strength, rng.uniform(0, np.pi)
    steps = np.linspace(-0.5, 0.5, 5) * length
    return sum(_moved(out, s * np.cos(angle), s * np.sin(angle)) for s in steps) / len(steps)


def _moved(picture: Grid, right: float, down: float) -> Grid:
    """The picture seen from so many pixels further, edges repeated."""
    x, y = int(np.floor(right)), int(np.floor(down))
    fx, fy = np.float32(right - x), np.float32(down - y)
    height, width = picture.shape
    wide = np.pad(picture, 4, mode="edge")
    rows = wide[4 + y : 5 + y + height] * (1 - fy) + wide[5 + y : 6 + y + height] * fy
    return (
        rows[:height, 4 + x : 4 + x + width] * (1 - fx) + rows[:height, 5 + x : 5 + x + width] * fx
    )
