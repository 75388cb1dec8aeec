"""A million random events for the bench machine: `python -m tests.bench.events [EVENTS] [SEED]`."""

from __future__ import annotations

import sys
from collections import Counter
from time import perf_counter

from tests.support.bench_events import RandomBench

A_RUN = 5_000


def main(events: int = 1_000_000, seed: int = 1) -> int:
    """Prints what was done how often and the faults; 1 when there was one."""
    seen: Counter[str] = Counter()
    faults: list[str] = []
    begun = perf_counter()
    for number in range(events // A_RUN):
        bench = RandomBench(seed + number)
        bench.run(A_RUN)
        seen += bench.seen
        faults += bench.faults
    span = perf_counter() - begun
    print(f"{events} events, seeds {seed} to {seed + events // A_RUN - 1}, {span:.0f} s")
    for name, count in seen.most_common():
        print(f"  {count:8} {name}")
    print(f"faults: {len(faults)}", *faults[:10], sep="\n")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
