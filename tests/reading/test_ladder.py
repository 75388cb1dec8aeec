"""The ladder's treatments, each by itself, and what they are for."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from partsbench.reading.found import How
from partsbench.reading.ladder import (
    LARGEST_TO_ENLARGE,
    local_contrast,
    local_threshold,
    sharpened,
    treatments,
)
from partsbench.reading.pictures import decode
from tests.support.damage import MIXED, shoot

CODE = "K7Q4-D05AK"


def test_it_reads_what_a_plain_look_does_not() -> None:
    plain, treated = 0, 0
    for seed in range(16):
        grey = shoot(CODE, MIXED, 2, 60 + seed).picture
        if decode(grey, 1, How.PLAIN):
            plain += 1
            continue
        for how, picture, scale in treatments(grey):
            found = decode(picture, 1, how, scale)
            assert {f.text for f in found} <= {CODE}
            if found:
                treated += 1
                break
    assert 0 < plain < 16
    assert treated >= 2


def test_corners_are_those_of_the_untreated_picture() -> None:
    grey = shoot(CODE, "blur", 1, 3).picture
    (plain, *_) = decode(grey, 1, How.PLAIN)
    how, large, scale = next(iter(treatments(grey)))
    assert large.width == grey.width * scale
    both = [np.array(f.corners) for f in decode(large, 1, how, scale)]
    assert min(np.abs(corners - plain.corners).max() for corners in both) < 3


def test_a_large_photograph_is_not_enlarged() -> None:
    side = int(LARGEST_TO_ENLARGE**0.5) + 10
    large = Image.new("L", (side, side), 200)
    assert {(picture.size, scale) for _, picture, scale in treatments(large)} == {
        ((side, side), 1.0)
    }


@pytest.mark.parametrize("treat", [local_threshold, local_contrast])
def test_a_shadow_is_taken_out(treat) -> None:  # type: ignore[no-untyped-def]
    """Stripes in light and in a shadow of a third of it come out alike."""
    light = np.where(np.arange(120) < 60, 1.0, 0.33)
    stripes = np.where(np.arange(120) // 4 % 2, 200, 100)
    grey = Image.fromarray(np.tile((light * stripes).astype(np.uint8), (40, 1)))
    treated = np.asarray(treat(grey, 12), float)[20]
    lit, shaded = treated[16:48], treated[76:108]
    assert np.ptp(lit) > 100
    assert lit.mean() == pytest.approx(shaded.mean(), abs=25)
    assert np.corrcoef(lit, stripes[16:48])[0, 1] > 0.7
    assert np.corrcoef(shaded, stripes[76:108])[0, 1] > 0.7


def test_sharpening_steepens_an_edge_and_keeps_what_is_even() -> None:
    ramp = np.clip((np.arange(60) - 26) * 12 + 80, 80, 170).astype(np.uint8)
    sharp = np.asarray(sharpened(Image.fromarray(np.tile(ramp, (20, 1))), 3), int)[10]
    assert np.diff(sharp).max() > np.diff(ramp.astype(int)).max()
    assert sharp[:15] == pytest.approx(80)
    assert sharp[-15:] == pytest.approx(170)
