"""How long the sums take, and how the orphans of sixty drawers grow: python -m tests.bench.sums"""

from __future__ import annotations

import random
import tempfile
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

from partsbench import resources, trade
from partsbench.core.piece.spot import Spot
from partsbench.core.sums import tables
from partsbench.core.sums.film import coverage
from partsbench.core.sums.fit import (
    Play,
    Season,
    fit,
)
from partsbench.core.sums.fit_measured import Ends, Measured
from partsbench.core.sums.fronts import OldFront, Point, Pull
from partsbench.core.sums.holes import plan_holes
from partsbench.core.sums.mix import Rate, Surface, how_much
from partsbench.core.sums.money import Costs, floor_price, offer
from partsbench.core.sums.orphans import match
from partsbench.core.sums.plays import KnownSizes
from partsbench.core.sums.rings import moves
from partsbench.core.sums.wood import Cut
from partsbench.services.books.pieces import take_in
from partsbench.services.shop import Shop, open_shop
from partsbench.services.sums.asked.description import SumQuestion
from partsbench.services.sums.showcase import showcase
from partsbench.ui.sums.table import DECISIONS
from tests.support.films import painted

SIZES = ("width", "left height", "right height", "depth")


def chest(count: int, seed: int = 7) -> tuple[list[KnownSizes], list[KnownSizes]]:
    """So many open homes of nearly one size, and the drawers that belong into them."""
    chance = random.Random(seed)
    homes = [
        KnownSizes(f"opening {i}", {s: 500 + chance.random() * 12 for s in SIZES})
        for i in range(count)
    ]
    orphans = [
        KnownSizes(
            f"orphan {i}", {s: mm - 2 + chance.gauss(0, 0.6) for s, mm in home.sizes.items()}
        )
        for i, home in enumerate(homes)
    ]
    chance.shuffle(orphans)
    return orphans, homes


def page() -> None:
    """Every sum that one page of a nine-drawer chest shows."""
    woods, play = tables.woods(trade.load("woods")), tables.play(trade.load("fit"))
    if not isinstance(woods, dict) or not isinstance(play, Play):
        raise TypeError("the shipped tables are refused")
    season = Season(woods["walnut-black"], Cut.FLAT, 8, 6, 12)
    for _ in range(9):
        measured = Measured(Ends(602, 602), Ends(600, 600), Ends(184, 184), Ends(180, 180))
        fit(measured, painted(0.2), play, season)
    fronts = [OldFront(f"D{i}", 600, 180, (Point(252, 90), Point(348, 90)), True) for i in range(9)]
    for mm in (76.2, 96, 128, 160):
        plan_holes(Pull(f"{mm} mm", mm, foot=12), fronts)
    how_much([Surface(Spot(f"D{i}"), 0.2, f"row {i // 3}") for i in range(9)], Rate(168, 168), 300)
    match(*chest(9))
    moves({i: (i + 1) % 9 for i in range(9)}, {i: i for i in range(9)})
    coverage(52, 38.1, 30)
    offer(640, Costs(bought=217), 14.5)
    floor_price(Costs(bought=217), 14.5, 25)


def best_of(work: Callable[[], object], rounds: int = 5) -> float:
    """The quickest of several runs, ms."""
    times = []
    for _ in range(rounds):
        begun = perf_counter()
        work()
        times.append((perf_counter() - begun) * 1000)
    return min(times)


def decisions(shop: Shop, tag: str) -> dict[str, float]:
    """How long each decision of the page Sums takes from the book to its answer, ms."""
    times = {}
    for decision in DECISIONS:
        values = {ask.key: ask.choices[0] if ask.choices else "" for ask in decision.asks}
        if decision.sheet:
            values |= {"part": "D1", "spacing": "96"}

        def work(d: SumQuestion = decision, v: dict[str, str] = values) -> object:
            return d.answer(shop, tag, v)

        work()
        times[decision.key] = best_of(work)
    return times


def main() -> None:
    """Print the figures; nothing is judged here."""
    with tempfile.TemporaryDirectory() as folder:
        shop = open_shop(Path(folder) / "b.partsbench")
        assert isinstance(shop, Shop)
        taken = take_in(shop, resources.sample("heron"))
        assert isinstance(taken, list)
        showcase(shop, taken[0].tag)
        times = decisions(shop, taken[0].tag)
        slowest = max(times, key=times.__getitem__)
        print(
            f"{len(times)} decisions from the book: {sum(times.values()):.1f} ms in all, "
            f"the slowest ({slowest}) {times[slowest]:.1f} ms (a frame is 16)"
        )
        shop.close()
    print(f"all sums of a page, tables read anew: {best_of(page):.1f} ms (a frame is 16)")
    for count in (15, 30, 60):
        orphans, homes = chest(count)

        def work(o: list[KnownSizes] = orphans, h: list[KnownSizes] = homes) -> object:
            return match(o, h)

        print(f"orphans of {count} drawers with every margin: {best_of(work):.1f} ms")


if __name__ == "__main__":
    main()
