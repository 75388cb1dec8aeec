"""How pictures look to eyes that lack a kind of cone: `python -m tests.support.colour_sight`.

`python -m tests.support.colour_sight OUT PICTURE…` writes each picture as each kind of eye sees it.
Matrices at full severity on linear sRGB: Machado, Oliveira and Fernandes, “A Physiologically-based
Model for Simulation of Color Vision Deficiency”, IEEE TVCG 15 (2009); from memory.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Picture = NDArray[np.float64]
"""Height × width × 3, shares of sRGB."""

SIGHTS = {
    "protan": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216),
               (-0.003882, -0.048116, 1.051998)),
    "deutan": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413),
               (-0.011820, 0.042940, 0.968881)),
    "tritan": ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602),
               (0.004733, 0.691367, 0.303900)),
}  # fmt: skip


def seen(picture: Picture, sight: str) -> Picture:
    """The picture as that kind of eye sees it; `grey` is one without any colour."""
    light = _linear(picture)
    if sight == "grey":
        grey = light @ np.array([0.2126, 0.7152, 0.0722])
        return _coded(np.repeat(grey[..., None], 3, axis=2))
    return _coded(np.clip(light @ np.array(SIGHTS[sight]).T, 0, 1))


def luminance(picture: Picture) -> NDArray[np.float64]:
    """Relative luminance of each pixel (W3C WCAG 2.2)."""
    return _linear(picture) @ np.array([0.2126, 0.7152, 0.0722])


def _linear(picture: Picture) -> Picture:
    return np.where(picture <= 0.04045, picture / 12.92, ((picture + 0.055) / 1.055) ** 2.4)


def _coded(light: Picture) -> Picture:
    return np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)


def main(words: Sequence[str]) -> int:
    from PIL import Image

    out = Path(words[0])
    out.mkdir(parents=True, exist_ok=True)
    for name in words[1:]:
        picture = np.asarray(Image.open(name).convert("RGB"), dtype=float) / 255
        for sight in (*SIGHTS, "grey"):
            image = Image.fromarray((seen(picture, sight) * 255).round().astype("uint8"))
            image.save(out / f"{Path(name).stem}-{sight}.png")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
