"""How long the day takes with pieces in hand: `python -m tests.bench.day [--pieces 12]`.

The book is filled through the use cases, which takes half a minute. What is printed are medians of
the time that the process itself was at work.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import process_time

from partsbench.services.plan.reading import in_hand
from partsbench.services.rules import clocks
from partsbench.services.shown import day
from tests.support import busy_book
from tests.support.clock import SetClock
from tests.support.shops import shop_at


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pieces", type=int, default=12)
    parser.add_argument("--records", type=int, default=40, help="for each piece")
    parser.add_argument("--runs", type=int, default=7)
    wanted = parser.parse_args()
    clock = SetClock()
    with tempfile.TemporaryDirectory() as folder:
        shop = shop_at(Path(folder) / "b.partsbench", clock)
        pieces = busy_book.fill(shop, clock, wanted.pieces, wanted.records, wild=False)
        tag = pieces[0].tag

        def whole() -> object:
            return day.day(shop)

        def one() -> object:
            return day.day(shop, tags=[tag])

        def read() -> object:
            return in_hand(shop, clock())

        def faces() -> object:
            return clocks.clocks_of(shop, tag)

        today = day.day(shop)
        print(f"{len(pieces)} pieces, {len(today.clocks)} groups of faces that wait or may be done")
        asked = {
            "the day": whole,
            "the day of one piece": one,
            "what is read for the plan": read,
            "clocks of one piece": faces,
        }
        for name, work in asked.items():
            print(f"{name:22} {_median(work, wanted.runs):6.0f} ms")
        shop.close()


def _median(work: Callable[[], object], runs: int) -> float:
    times = []
    for _ in range(runs):
        began = process_time()
        work()
        times.append((process_time() - began) * 1e3)
    return median(times)


if __name__ == "__main__":
    main()
