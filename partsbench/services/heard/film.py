"""A film of one of our own labels held before a camera, made from a page as it was printed."""

from __future__ import annotations

from pathlib import Path

from partsbench.core.outcomes import Refused
from partsbench.services.heard.reading import glance_plainly

SIZE = (960, 540)
FRAME_MS = 70
EMPTY_S, HELD_S = 1.2, 1.8
BENCH_GREY = 120
PAPER = 0.35
"""Of the symbol's side: so much of the paper round it is cut out with it."""
TREMBLES = ((0, 0), (2, 1), (-1, 2), (1, -2), (-2, -1))
"""Pixels by which a hand moves from picture to picture."""


def film_of(page: bytes, text: str, target: Path) -> int | Refused:
    """An empty bench, then that label held before it, as an animated GIF; how many pictures.

    `page` is a picture of a printed sheet. Refused when the label cannot be read on it.
    """
    from io import BytesIO

    from PIL import Image, ImageFilter

    seen = glance_plainly(page, "The page")
    corners = next((s.corners for s in seen.symbols if s.text == text), None)
    if corners is None:
        return Refused(f"{text} is not read on the page.")
    whole = Image.open(BytesIO(page)).convert("L")
    across, down = [x for x, _ in corners], [y for _, y in corners]
    more = PAPER * (max(across) - min(across))
    label = whole.crop((round(min(across) - more), round(min(down) - more),
                        round(max(across) + more), round(max(down) + more)))  # fmt: skip
    bench = Image.new("L", SIZE, BENCH_GREY)
    frames = [bench] * round(EMPTY_S * 1000 / FRAME_MS)
    for number in range(round(HELD_S * 1000 / FRAME_MS)):
        held, (dx, dy) = bench.copy(), TREMBLES[number % len(TREMBLES)]
        held.paste(label, ((SIZE[0] - label.width) // 2 + dx, (SIZE[1] - label.height) // 2 + dy))
        frames.append(held.filter(ImageFilter.GaussianBlur(0.6)))
    frames[0].save(target, save_all=True, append_images=frames[1:], duration=FRAME_MS, loop=0)
    return len(frames)
