"""A short ladder of treatments, climbed only when a plain look at a picture found nothing.

Each treatment is cheap and helps against something of its own: small or blurred modules (enlarged),
noise and fibres (smoothed), shadow (local threshold), faded print under a film (local contrast).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from partsbench.reading.found import How

if TYPE_CHECKING:
    from PIL.Image import Image

# Enlarging a large photograph costs much and helps little: its modules are large already.
LARGEST_TO_ENLARGE = 2_500_000


def treatments(grey: Image) -> Iterator[tuple[How, Image, float]]:
    """Each treated picture with its name and its scale against `grey` (mode L), one at a time."""
    from PIL import ImageFilter

    small = grey.width * grey.height <= LARGEST_TO_ENLARGE
    if small:
        yield How.ENLARGED, _enlarged(grey), 2.0
    yield How.SMOOTHED, grey.filter(ImageFilter.GaussianBlur(1.5)), 1.0
    yield How.LOCAL_THRESHOLD, local_threshold(grey, radius=12), 1.0
    yield How.LOCAL_CONTRAST, local_contrast(grey, radius=20), 1.0
    if small:
        yield How.LOCAL_CONTRAST, local_contrast(_enlarged(grey), radius=30), 2.0


def local_threshold(grey: Image, radius: int) -> Image:
    """Black where a pixel is darker than its neighbourhood of `radius` pixels, white elsewhere."""
    import numpy as np
    from PIL import Image, ImageFilter

    softened = grey.filter(ImageFilter.GaussianBlur(1))
    mean = np.asarray(softened.filter(ImageFilter.BoxBlur(radius)), np.int16)
    dark = np.asarray(softened, np.int16) < mean - 4
    return Image.fromarray(np.where(dark, 0, 255).astype(np.uint8))


def local_contrast(grey: Image, radius: int) -> Image:
    """Every neighbourhood of `radius` pixels stretched to the same mean and spread."""
    import numpy as np
    from PIL import Image, ImageFilter

    mean = grey.filter(ImageFilter.BoxBlur(radius))
    away = np.asarray(grey, np.float32) - np.asarray(mean, np.float32)
    size = Image.fromarray(np.minimum(np.abs(away), 255).astype(np.uint8))
    spread = np.asarray(size.filter(ImageFilter.BoxBlur(radius)), np.float32)
    stretched = 128 + 64 * away / (spread + 4)
    return Image.fromarray(np.clip(stretched, 0, 255).astype(np.uint8))


def _enlarged(grey: Image) -> Image:
    from PIL.Image import Resampling

    return grey.resize((grey.width * 2, grey.height * 2), Resampling.BICUBIC)
