"""Places that may hold a symbol: found at every size and turn, and rarely elsewhere."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from partsbench.reading.search import cut, evened, poses, squares
from tests.support.damage import bilinear, shoot
from tests.support.labels import DOTS_PER_MM, MODULE_MM, label_picture, symbol_places
from tests.support.scenes import scene

CODE = "K7Q4-D05AK"


@pytest.mark.parametrize("module", [3.0, 4.2, 5.9])
@pytest.mark.parametrize("turn", [0, 33, 200])
def test_a_symbol_is_among_the_first_squares(module: float, turn: float) -> None:
    """One symbol on its label on wood: its centre within three modules, its turn within ten."""
    drawn = Image.fromarray(label_picture(CODE, 1)).crop((0, 0, 600, 800))
    share = module / (MODULE_MM * DOTS_PER_MM)
    label = drawn.resize((round(drawn.width * share), round(drawn.height * share)))
    behind = scene("wood", 4, 1000)
    turned = label.rotate(turn, expand=True, fillcolor=128)
    behind.paste(turned, (60, 40))
    x, y = _turned_centre(label.size, turned.size, turn, share)
    near = [s for s in squares(behind, 8) if np.hypot(s.x - 60 - x, s.y - 40 - y) < 3 * module]
    assert near
    best = poses(behind, near[0])[0]
    a, _, c, _ = best.matrix
    found_turn = np.degrees(np.arctan2(-c, a)) - turn
    assert abs((found_turn + 180) % 360 - 180) < 10
    assert np.hypot(best.x - 60 - x, best.y - 40 - y) < 2 * module


def _turned_centre(
    size: tuple[int, int], turned: tuple[int, int], turn: float, share: float
) -> tuple[float, float]:
    """Where the left symbol's centre is in the label turned anticlockwise by `turn` degrees."""
    left, top = symbol_places()[0]
    half = 21 * MODULE_MM / 2
    x = (left + half) * DOTS_PER_MM * share - size[0] / 2
    y = (top + half) * DOTS_PER_MM * share - size[1] / 2
    angle = np.radians(turn)
    return (
        turned[0] / 2 + x * np.cos(angle) + y * np.sin(angle),
        turned[1] / 2 - x * np.sin(angle) + y * np.cos(angle),
    )


def test_squares_of_a_damaged_label_come_first() -> None:
    """Both symbols of a mixed-damage label among the first eight places."""
    shot = shoot(CODE, "mixed", 1, seed=2)
    found = squares(shot.picture, 8)
    for left, top in symbol_places():
        middle = 21 * MODULE_MM / 2
        off = (shot.u - left - middle) ** 2 + (shot.v - top - middle) ** 2
        y, x = np.unravel_index(off.argmin(), off.shape)
        assert min(np.hypot(s.x - x, s.y - y) for s in found) < 16


def test_cut_repeats_the_edge_outside() -> None:
    picture = Image.fromarray(np.tile(np.arange(50, dtype=np.uint8), (50, 1)))
    piece = cut(picture, -20, 10, 40, 40)
    assert piece[:, :20] == pytest.approx(0)
    assert piece[20, 25:39] == pytest.approx(np.arange(5, 19), abs=1)
    assert cut(picture, 400, 400, 40, 20) == pytest.approx(128)


def test_evened_takes_out_shadow_and_contrast() -> None:
    rng = np.random.default_rng(1)
    modules = np.kron(rng.choice([-1.0, 1.0], (20, 20)), np.ones((4, 4)))
    shadow = np.linspace(200, 60, 80)[None, :]
    even = evened((shadow + modules * shadow / 4).astype(np.float32), 14)
    middle = np.s_[10:-10, 10:-10]
    assert np.corrcoef(even[middle].ravel(), modules[middle].ravel())[0, 1] > 0.95
    assert np.abs(even).max() <= 1.5


def test_bilinear_of_the_model_meets_the_dots() -> None:
    """The model that these tests rest on: whole places give back the picture."""
    picture = np.arange(12, dtype=np.float32).reshape(3, 4)
    y, x = np.mgrid[:3, :4].astype(np.float32)
    assert bilinear(picture, x, y) == pytest.approx(picture, abs=0.01)
