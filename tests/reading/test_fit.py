"""A net laid over a folded, bent or tilted symbol lies where the symbol is."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from partsbench.reading.fit import blurred, lay_net, lay_plane, sample
from partsbench.reading.found import SIDE
from partsbench.reading.search import poses, squares
from tests.support.damage import Shot, shoot
from tests.support.labels import MODULE_MM, symbol_places

CODE = "K7Q4-D05AK"


@pytest.mark.parametrize("kind", ["wrinkles", "bend", "tilt", "blur"])
def test_every_module_is_found_within_half_a_module(kind: str) -> None:
    """Compared with where the model put each point of the label."""
    shot = shoot(CODE, kind, 2, seed=3, symbols=1)
    (square, *_) = squares(shot.picture, 3)
    planes = [lay_plane(shot.picture, pose) for pose in poses(shot.picture, square)]
    net = lay_net(max(planes, key=lambda plane: plane.agreement))
    assert net.agreement > 0.7
    middles = np.stack(np.meshgrid(np.arange(SIDE) + 0.5, np.arange(SIDE) + 0.5), -1)
    middles = middles.reshape(-1, 2).astype(np.float32)
    off = _true_modules(shot, net.in_picture(middles)) - middles
    away = np.hypot(*off.T)
    assert np.median(away) < 0.25
    assert np.mean(away < 0.5) > 0.95


def _true_modules(shot: Shot, pixels: np.ndarray) -> np.ndarray:
    """Which place of the symbol, in modules, the model shows at each pixel."""
    left, top = symbol_places()[0]
    u, v = sample(shot.u, pixels), sample(shot.v, pixels)
    return np.stack([u - left, v - top], axis=1) / MODULE_MM


def test_an_even_surface_has_no_symbol() -> None:
    flat = Image.new("L", (300, 300), 180)
    assert squares(flat, 5) == []


def test_sample_counts_pixels_by_their_edges() -> None:
    picture = np.array([[0, 10], [20, 30]], np.float32)
    places = np.array([[0.5, 0.5], [1.0, 0.5], [1.0, 1.0], [-5, 9]], np.float32)
    assert sample(picture, places) == pytest.approx([0, 5, 15, 20], abs=0.05)


def test_blurred_keeps_what_is_even_and_spreads_the_rest() -> None:
    assert blurred(np.full((20, 20), 7, np.float32), 2.0) == pytest.approx(7)
    point = np.zeros((41, 41), np.float32)
    point[20, 20] = 1
    soft = blurred(point, 2.0)
    assert soft.sum() == pytest.approx(1, abs=1e-4)
    rows = np.arange(41) - 20
    assert (soft.sum(axis=1) * rows**2).sum() == pytest.approx(4.0, rel=0.05)
