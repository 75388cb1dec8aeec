"""Scan to answer on a book of ten years against an empty one: `python -m tests.bench.scans`.

Each answer is one look at a part (what a first scan does) or one record (what a second does), on
the same piece in both books, in turn, so that the machine's mood falls on both alike.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path
from statistics import median
from time import perf_counter

from partsbench.core.outcomes import Done, Outcome
from partsbench.core.piece.codes import Family
from partsbench.services.acts import bench
from partsbench.services.books import pieces
from partsbench.services.known import old_finish
from partsbench.services.known.old_finish import Saying
from partsbench.services.shop import Shop, open_shop
from tests.support import big_book
from tests.support.at_bench import record

DRAWERS = 7
STEPS = 10
"""After so many steps of each drawer a fresh piece is taken, so that every record is one."""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pieces", type=int, default=500)
    parser.add_argument("--records", type=int, default=400_000)
    parser.add_argument("--scans", type=int, default=1000)
    parser.add_argument("--book", type=Path, help="a big book made before; a copy is worked on")
    wanted = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        small, big = Path(folder) / "small.partsbench", Path(folder) / "big.partsbench"
        if wanted.book:
            big.write_bytes(wanted.book.read_bytes())
        else:
            big_book.make(big, wanted.pieces, wanted.records)
        shops = {"empty": _shop(small), f"{wanted.records} records": _shop(big)}
        times = {name: ([], []) for name in shops}
        work = {name: (shop, _fresh_piece(shop)) for name, shop in shops.items()}
        for count in range(wanted.scans):
            if count and count % (DRAWERS * STEPS) == 0:
                work = {name: (shop, _fresh_piece(shop)) for name, shop in shops.items()}
            for name, (shop, codes) in work.items():
                code = codes[count % DRAWERS]
                looked, seen = _timed(partial(bench.look, shop, code))
                # Work done long before its time: every rule is asked, and the work stands.
                why = dict.fromkeys(seen.held, "a benchmark")
                recorded, done = _timed(partial(record, shop, code, insist=why))
                assert done.recorded and not seen.recorded, done
                times[name][0].append(looked)
                times[name][1].append(recorded)
        _print(times)
        for shop in shops.values():
            shop.close()


def _shop(path: Path) -> Shop:
    shop = open_shop(path)
    assert isinstance(shop, Shop), shop
    return shop


def _fresh_piece(shop: Shop) -> list[str]:
    piece = pieces.lay_out(
        shop, "Heron", "2 2 3", legs=4, pulls=2, top=True, paths=[("paint", ["drawers"])]
    )
    tested = Saying(test="tested free", how="laboratory", where="D1", by="Wren", on=shop.clock())
    assert isinstance(old_finish.say(shop, piece.tag, tested), Done)
    return [str(piece.code(p)) for p in piece.parts if p.family is Family.DRAWER]


def _timed(answer: Callable[[], Outcome]) -> tuple[float, Outcome]:
    start = perf_counter()
    outcome = answer()
    return perf_counter() - start, outcome


def _print(times: dict[str, tuple[list[float], list[float]]]) -> None:
    for place, what in enumerate(("look", "record")):
        medians = []
        for name, both in times.items():
            ordered = sorted(both[place])
            p99 = ordered[int(len(ordered) * 0.99)]
            medians.append(median(ordered))
            print(f"{what:7} {name:>16}: median {median(ordered) * 1e3:6.2f} ms, "
                  f"p99 {p99 * 1e3:6.2f} ms")  # fmt: skip
        print(f"{what:7} ratio of medians {medians[1] / medians[0]:.2f}")


if __name__ == "__main__":
    main()
