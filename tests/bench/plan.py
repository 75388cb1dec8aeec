"""How good plans are, and what planning saves: `python -m tests.bench.plan [--solver 30]`.

Shops are drawn with seeds (`tests/support/workshops.py`), from our own assumptions:

- paths: 16 parts of four pieces, each worked by itself, on the shipped finish paths, some begun;
  own pace, air and hours of the shop drawn, one pair of hands.
- whole: 16 parts of four pieces with 18 to 20 steps left on each, on the longest shipped paths.
- faces: five pieces with 300 faces in 60 parts, in the batches of the planner.
- chains: 16 parts of 20 steps each with waits, windows, rack and promises drawn by chance: harder
  than any path.

Each is planned in so many seconds of this process's own time. Told are the medians over the seeds
of what the plan costs more than the bound (proven), and than the best that anyone found; CP-SAT
(two workers) begins from our plan. “rule” is a person without a plan: whatever may be done now, the
oldest piece first; saved are days of the last end against it. The checker looks at every plan.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass, replace
from statistics import median
from time import process_time

from partsbench.core.plan.check import faults
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.placing import place_all
from partsbench.core.plan.search import best_plan, oldest_first
from partsbench.core.plan.workshop import ShopPlan, Workshop, cost
from partsbench.services.plan import solver
from tests.support import workshops

DAY = 24 * 60
KINDS: dict[str, tuple[Callable[[int], Workshop], float]] = {
    "paths": (workshops.of_paths, 2.0),
    "whole": (lambda seed: workshops.of_paths(seed, whole=True), 2.0),
    "faces": (lambda seed: workshops.of_paths(seed, 300, 5, alone=False), 5.0),
    "chains": (workshops.shop, 2.0),
}


@dataclass(frozen=True, slots=True)
class Row:
    """One shop: costs in minutes, ends in days. solved: None where CP-SAT was not asked."""

    stints: int
    ours: float
    bound: float
    solved: float | None
    rule: float
    end: float
    rule_end: float

    @property
    def best(self) -> float:
        return min(self.ours, self.solved or self.ours)


def one(shop: Workshop, seconds: float, solver_seconds: float) -> Row:
    began = process_time()
    found = best_plan(shop, rounds=10**9, stop=lambda: process_time() - began > seconds)
    wrong = faults(shop, found.plan)
    assert wrong == [], wrong[:3]
    solved, bound = None, found.proven.cost
    if solver_seconds:
        answer = solver.improved(shop, found.plan, solver_seconds)
        if answer and answer.plan:
            assert faults(shop, answer.plan) == []
            solved = cost(shop, answer.plan)
        bound = max(bound, answer.least_cost if answer else 0.0)
    plain = by_rule(shop)
    return Row(
        len(shop.stints),
        found.cost,
        bound,
        solved,
        cost(shop, plain),
        max(found.plan.ends(shop).values()) / DAY,
        max(plain.ends(shop).values()) / DAY,
    )


def by_rule(shop: Workshop) -> ShopPlan:
    """Whatever may be done now, the oldest piece first."""
    floor = Floor(shop)
    units = floor.units(())
    assert units is not None
    return place_all(floor, units, oldest_first(floor)).plan()


def table(seeds: int, solver_seconds: float, kinds: list[str], promises: bool) -> None:
    print(f"{'shops':8} {'stints':>6} {'to bound':>9} {'to best':>8} {'within 2 %':>10} "
          f"{'rule':>6} {'days':>6} {'saved':>6} {'CP-SAT':>7}")  # fmt: skip
    for kind in kinds:
        draw, seconds = KINDS[kind]
        rows = []
        for seed in range(seeds):
            shop = draw(seed)
            if not promises:
                shop = replace(shop, promised=())
            rows.append(one(shop, seconds, solver_seconds))
        to_bound = [r.ours / r.bound - 1 for r in rows]
        to_best = [r.ours / r.best - 1 for r in rows]
        near = sum(gap <= 0.02 for gap in (to_best if solver_seconds else to_bound))
        solved = [r.ours / r.solved for r in rows if r.solved]
        print(f"{kind:8} {median(r.stints for r in rows):6.0f} {median(to_bound):9.1%} "
              f"{median(to_best):8.1%} {near:5} of {seeds:2} "
              f"{median(r.rule / r.ours for r in rows):6.2f} "
              f"{median(r.end for r in rows):6.1f} "
              f"{median(r.rule_end - r.end for r in rows):6.1f} "
              f"{median(solved) if solved else 0:7.3f}", flush=True)  # fmt: skip


def growth(most: int) -> None:
    """From one piece to `most`, 12 parts each with a front and four edges."""
    print(f"\n{'pieces':>6} {'stints':>6} {'first plan s':>12} {'to bound after 5 s':>18}")
    for pieces in range(1, most + 1):
        shop = replace(workshops.of_paths(7, 60 * pieces, pieces, alone=False), promised=())
        began = process_time()
        best_plan(shop, rounds=0, stop=lambda: True)
        first = process_time() - began
        began = process_time()
        found = best_plan(shop, rounds=10**9, stop=lambda: process_time() - began > 5)  # noqa: B023
        print(f"{pieces:6} {len(shop.stints):6} {first:12.2f} {found.gap:18.1%}", flush=True)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=50)
    parser.add_argument("--solver", type=float, default=0.0, help="seconds of CP-SAT a shop")
    parser.add_argument("--kinds", nargs="*", default=list(KINDS), choices=list(KINDS))
    parser.add_argument("--promises", action="store_true", help="with promised dates in the cost")
    parser.add_argument("--growth", type=int, default=0, metavar="PIECES")
    wanted = parser.parse_args()
    if wanted.seeds:
        table(wanted.seeds, wanted.solver, wanted.kinds, wanted.promises)
    if wanted.growth:
        growth(wanted.growth)


if __name__ == "__main__":
    main()
