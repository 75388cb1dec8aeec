"""A film of our own labels for a browser's camera: Motion JPEG, one picture after the other."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from PIL import Image, ImageFilter

from tests.support.labels import label_picture

SIZE = (1280, 720)
DIFFERENT = 6
"""Pictures of a scene, shown in turn."""
A_SECOND = 30
"""Pictures, as the browser plays them."""


def film(file: Path, scenes: Sequence[tuple[str, float]], seed: int = 5) -> Path:
    """Each scene is the code of a label ("" for an empty bench) and how many seconds it stays."""
    chance = np.random.default_rng(seed)
    with file.open("wb") as out:
        for text, seconds in scenes:
            held = [_frame(text, chance) for _ in range(DIFFERENT)]
            for number in range(round(seconds * A_SECOND)):
                held[number % DIFFERENT].save(out, "JPEG", quality=80)
    return file


def _frame(text: str, chance: np.random.Generator) -> Image.Image:
    """A label held by hand: it trembles, leans a little, and the picture has noise."""
    bench = Image.new("L", SIZE, 150)
    if text:
        label = Image.fromarray(label_picture(text)).resize((760, 317), Image.Resampling.LANCZOS)
        lean = float(chance.normal(4, 1))
        turned = label.rotate(lean, expand=True, fillcolor=150, resample=Image.Resampling.BICUBIC)
        x, y = chance.integers(-6, 7, 2)
        bench.paste(turned, (240 + int(x), 170 + int(y)))
    noise = chance.normal(0, 4, (SIZE[1], SIZE[0]))
    grey = np.clip(np.asarray(bench.filter(ImageFilter.GaussianBlur(0.8)), float) + noise, 0, 255)
    return Image.fromarray(grey.astype(np.uint8)).convert("RGB")
