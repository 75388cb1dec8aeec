from __future__ import annotations

from partsbench.core.sums.rings import BENCH, Move
from partsbench.ui.bench.moves_list import arrows, move_lines

RING = [Move("D1", 3, BENCH), Move("D3", 2, 3), Move("D2", 1, 2), Move("D1", BENCH, 1)]


def test_each_move_has_its_number_and_both_ends() -> None:
    assert move_lines(RING) == [
        "1  D1: H3 to the bench",
        "2  D3: H2 to H3",
        "3  D2: H1 to H2",
        "4  D1: the bench to H1",
    ]


def test_what_goes_by_the_bench_has_one_arrow_home() -> None:
    assert [(a.start, a.end, a.turns) for a in arrows(RING)] == [
        ("H2", "H3", "2"),
        ("H1", "H2", "3"),
        ("H3", "H1", "1, 4"),
    ]


def test_a_long_list_tells_its_first_moves_and_counts_the_rest() -> None:
    lines = move_lines([Move(f"D{n}", n, n + 1) for n in range(1, 15)])
    assert len(lines) == 10
    assert lines[-1] == "and 5 more after these"
