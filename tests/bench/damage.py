"""How many damaged labels are read, by which means, and whether one was ever read wrong.

    python -m tests.bench.damage                    a quick look: 10 pictures a cell
    python -m tests.bench.damage --count 720 --empty 1000 --jobs 2 --out damage.json
    python -m tests.bench.damage --add part1.json part2.json --draw curve.png

A cell is one kind of damage in one severity. Every picture has a whole label with its two symbols
at 7 camera pixels a millimetre. One label in ten is not in the book that guesses are taken from.
The known-modules reader looks at what nothing before it read, and at all mixed pictures.
"""

from __future__ import annotations

import argparse
import json
import os
import random
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import lru_cache
from multiprocessing import get_context
from pathlib import Path

from tests.support.books import shop_codes, some_codes
from tests.support.damage import KINDS, MIXED, SEVERITIES, shoot
from tests.support.scenes import SCENES, scene

COLUMNS = ("plain", "ladder", "known modules", "both symbols", "against the book")
WRONG = ("wrong recorded", "wrong guess")
Cell = tuple[str, int, int]


@lru_cache(maxsize=1)
def book() -> tuple[str, ...]:
    return shop_codes()


def code_for(seed: int) -> str:
    """A code of the book, or in one case of ten one of another shop."""
    if seed % 10:
        return random.Random(seed).choice(book())
    return some_codes(1, seed)[0]


def look(cell: Cell) -> tuple[Cell, list[str]]:
    """What one picture gives: the columns in which it was read, and what was wrong."""
    from partsbench.reading.found import How
    from partsbench.reading.ladder import treatments
    from partsbench.reading.pictures import decode
    from partsbench.reading.ruined import read_ruined

    kind, severity, seed = cell
    damaged = kind in (*KINDS, MIXED)
    code = code_for(seed) if damaged else ""
    grey = shoot(code, kind, severity, seed).picture if damaged else scene(kind, seed)
    readings = {"plain": decode(grey, 1, How.PLAIN)}
    if not readings["plain"]:
        for how, treated, scale in treatments(grey):
            if found := decode(treated, 1, how, scale):
                readings["ladder"] = found
                break
    if kind == MIXED or not any(readings.values()):
        for found in read_ruined(grey, book()):
            readings.setdefault(str(found.how), []).append(found)
    notes = [name for name, found in readings.items() if any(f.text == code for f in found)]
    everything = [f for found in readings.values() for f in found]
    notes += ["wrong recorded"] * any(f.certain and f.text != code for f in everything)
    notes += ["wrong guess"] * any(not f.certain and f.text != code for f in everything)
    return cell, notes


def cells(count: int, empty: int, first: int) -> Iterator[Cell]:
    for seed in range(first, first + count):
        for kind in (*KINDS, MIXED):
            for severity in SEVERITIES:
                yield kind, severity, seed
    for seed in range(first, first + empty):
        for kind in SCENES:
            yield kind, 0, seed


def run(count: int, empty: int, jobs: int, first: int = 0) -> dict[str, dict[str, int]]:
    """Counts by cell ("mixed 2") and column; each column also has what those before it read."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    totals: dict[str, Counter[str]] = {}
    with get_context("spawn").Pool(jobs) as pool:
        for (kind, severity, _), notes in pool.imap_unordered(
            look, cells(count, empty, first), chunksize=4
        ):
            total = totals.setdefault(f"{kind} {severity}" if severity else kind, Counter())
            total["pictures"] += 1
            reached = min((COLUMNS.index(n) for n in notes if n in COLUMNS), default=len(COLUMNS))
            total.update(COLUMNS[reached:])
            total.update(n for n in notes if n in WRONG)
            if kind == MIXED and any(n in ("known modules", "both symbols") for n in notes):
                total["known alone"] += 1
    return {name: dict(total) for name, total in totals.items()}


def added(parts: Iterable[dict[str, dict[str, int]]]) -> dict[str, dict[str, int]]:
    """Counts of several runs with different seeds as one."""
    totals: dict[str, Counter[str]] = {}
    for part in parts:
        for name, counts in part.items():
            totals.setdefault(name, Counter()).update(counts)
    return {name: dict(total) for name, total in totals.items()}


def table(totals: dict[str, dict[str, int]]) -> str:
    """The counts as a Markdown table, in per cent of the pictures of each row."""
    columns = (*COLUMNS, "known alone")
    lines = ["| damage | pictures | " + " | ".join((*columns, *WRONG)) + " |"]
    lines.append("|" + " --- |" * (len(columns) + 4))
    order = [f"{k} {s}" for k in (*KINDS, MIXED) for s in SEVERITIES] + list(SCENES)
    for name in (n for n in order if n in totals):
        total = totals[name]
        shares = [f"{100 * total.get(c, 0) / total['pictures']:.1f}" for c in COLUMNS]
        alone = "known alone" in total
        shares.append(f"{100 * total['known alone'] / total['pictures']:.1f}" if alone else "")
        wrong = [str(total.get(c, 0)) for c in WRONG]
        lines.append(f"| {name} | {total['pictures']} | " + " | ".join((*shares, *wrong)) + " |")
    pictures = sum(t["pictures"] for t in totals.values())
    lines.append(f"\n{pictures} pictures; " + ", ".join(f"{_sum(totals, w)} {w}" for w in WRONG))
    return "\n".join(lines)


def _sum(totals: dict[str, dict[str, int]], column: str) -> int:
    return sum(total.get(column, 0) for total in totals.values())


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--count", type=int, default=10, help="pictures a cell (28 cells)")
    options.add_argument("--empty", type=int, default=10, help="pictures of each of 5 empty scenes")
    options.add_argument("--first", type=int, default=0, help="first seed")
    options.add_argument("--jobs", type=int, default=1)
    options.add_argument("--out", type=Path, help="where the counts go, as JSON")
    options.add_argument("--add", type=Path, nargs="+", help="counts to add up instead of a run")
    options.add_argument("--draw", type=Path, help="where the curve goes, as PNG")
    chosen = options.parse_args()
    if chosen.add:
        totals = added(json.loads(path.read_text()) for path in chosen.add)
    else:
        totals = run(chosen.count, chosen.empty, chosen.jobs, chosen.first)
    if chosen.out:
        chosen.out.write_text(json.dumps(totals, indent=1))
    if chosen.draw:
        from tests.bench.damage_curve import draw

        draw(totals, chosen.draw)
    print(table(totals))


if __name__ == "__main__":
    main()
