"""How long a photograph of 12 megapixels takes, by each means, and at which sizes labels are read.

    python -m tests.bench.photographs [--each 3]

The label lies anywhere on wood, cloth or print, mixed damage of severity 2, at 3.9 to 14 pixels a
module. Ratios are to the plain look in the same run.
"""

from __future__ import annotations

import argparse
import statistics
import time
from collections.abc import Callable

import numpy as np
from PIL import Image

from partsbench.reading.found import Found, How
from partsbench.reading.ladder import treatments
from partsbench.reading.pictures import decode
from partsbench.reading.ruined import read_ruined
from tests.support.books import shop_codes
from tests.support.damage import MIXED, shoot
from tests.support.scenes import scene

SIZE = (4000, 3000)
ENLARGED = (1.0, 2.0, 3.6)
BEHIND = ("wood", "cloth", "text")


def photograph(code: str, kind: str, enlarged: float, seed: int) -> Image.Image:
    """A large picture of one scene repeated, with a damaged label somewhere on it."""
    whole = Image.new("L", SIZE)
    for x in range(0, SIZE[0], 640):
        for y in range(0, SIZE[1], 640):
            whole.paste(scene(kind, seed * 100 + x // 640 + 7 * (y // 640)), (x, y))
    label = shoot(code, MIXED, 2, seed).picture
    size = (round(label.width * enlarged), round(label.height * enlarged))
    label = label.resize(size, Image.Resampling.BICUBIC)
    rng = np.random.default_rng(seed)
    room = (SIZE[0] - label.width, SIZE[1] - label.height)
    whole.paste(label, (int(rng.integers(room[0])), int(rng.integers(room[1]))))
    return whole


def _ladder(grey: Image.Image) -> list[Found]:
    return [f for how, treated, scale in treatments(grey) for f in decode(treated, 1, how, scale)]


def _timed(look: Callable[[Image.Image], list[Found]], grey: Image.Image) -> tuple[float, set[str]]:
    start = time.perf_counter()
    found = look(grey)
    return time.perf_counter() - start, {f.text for f in found}


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--each", type=int, default=3, help="photographs of each kind and size")
    each = options.parse_args().each
    means: dict[str, Callable[[Image.Image], list[Found]]] = {
        "plain": lambda grey: decode(grey, 1, How.PLAIN),
        "whole ladder": _ladder,
        "last resort": read_ruined,
    }
    print(
        "| behind | pixels a module | " + " | ".join(f"{n}: read, s, ratio" for n in means) + " |"
    )
    print("|" + " --- |" * (len(means) + 2))
    for kind in BEHIND:
        for enlarged in ENLARGED:
            cells, base = [], 1.0
            pictures = [
                (code, photograph(code, kind, enlarged, seed))
                for seed, code in enumerate(shop_codes()[:each])
            ]
            for name, look in means.items():
                taken = [(*_timed(look, grey), code) for code, grey in pictures]
                middle = statistics.median(seconds for seconds, _, _ in taken)
                base = middle if name == "plain" else base
                read = sum(code in texts for _, texts, code in taken)
                cells.append(f"{read} of {each}, {middle:.2f}, {middle / base:.0f}×")
            print(f"| {kind} | {3.85 * enlarged:.1f} | " + " | ".join(cells) + " |", flush=True)


if __name__ == "__main__":
    main()
