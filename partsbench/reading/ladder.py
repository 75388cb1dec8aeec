"""A short ladder of treatments, climbed only when a plain look at a picture found nothing.

Each is cheap and helps against something of its own: small modules (enlarged), blur (sharpened),
shadow (local threshold), faint print under a film (local contrast), grain (smoothed).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from partsbench.reading.found import How

if TYPE_CHECKING:
    from PIL.Image import Image

# A large photograph has large modules; enlarging it would cost a second and read nothing more.
LARGEST_TO_ENLARGE = 2_500_000


def treatments(grey: Image) -> Iterator[tuple[How, Image, float]]:
    """Each treated picture with its name and its scale against `grey` (mode L), one at a time."""
    from PIL import ImageFilter
    from PIL.Image import Resampling

    if grey.width * grey.height > LARGEST_TO_ENLARGE:
        yield How.SHARPENED, sharpened(grey, 2), 1.0
        yield How.LOCAL_THRESHOLD, local_threshold(grey, 16), 1.0
        return
    large = grey.resize((grey.width * 2, grey.height * 2), Resampling.LANCZOS)
    yield How.ENLARGED, large, 2.0
    yield How.SHARPENED, sharpened(large, 4), 2.0
    yield How.SHARPENED, sharpened(large, 7), 2.0
    yield How.LOCAL_THRESHOLD, local_threshold(large, 16), 2.0
    yield How.LOCAL_CONTRAST, sharpened(local_contrast(grey, 15), 2), 1.0
    yield How.SMOOTHED, grey.filter(ImageFilter.BoxBlur(1.5)), 1.0


def sharpened(grey: Image, radius: float) -> Image:
    """Every pixel's difference to its neighbourhood of `radius` pixels, three times as large."""
    from PIL import Image, ImageFilter

    return Image.blend(grey.filter(ImageFilter.BoxBlur(radius)), grey, 3.0)


def local_threshold(grey: Image, radius: float) -> Image:
    """Black where a pixel is darker than its neighbourhood of `radius` pixels, white elsewhere."""
    from PIL import ImageChops, ImageFilter

    softened = grey.filter(ImageFilter.BoxBlur(1))
    lighter = ImageChops.subtract(softened, grey.filter(ImageFilter.BoxBlur(radius)), 1, 128)
    return lighter.point([0] * 124 + [255] * 132)


def local_contrast(grey: Image, radius: float) -> Image:
    """Every neighbourhood of `radius` pixels stretched to the same mean and spread."""
    import numpy as np
    from PIL import Image, ImageChops, ImageFilter

    mean = grey.filter(ImageFilter.BoxBlur(radius))
    spread = ImageChops.difference(grey, mean).filter(ImageFilter.BoxBlur(radius))
    away = np.asarray(grey, np.float32) - np.asarray(mean, np.float32)
    stretched = 128 + 64 * away / (np.asarray(spread, np.float32) + 4)
    return Image.fromarray(np.clip(stretched, 0, 255).astype(np.uint8))
