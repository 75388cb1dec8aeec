from __future__ import annotations

from partsbench.core.bench.state import Mode, Waits
from partsbench.core.bench.table import ROWS, row_for
from tests.support.draw_bench import drawn, in_developers


def test_developers_shows_the_bench_as_it_is() -> None:
    """`python -m tests.support.draw_bench` draws it anew."""
    assert in_developers() == drawn()


def test_every_row_says_what_it_does_and_is_tried() -> None:
    for place, row in enumerate(ROWS):
        assert row.does, row
        tried = [
            (mode, hand, happens)
            for mode in row.modes or tuple(Mode)
            for hand in row.hands or tuple(Waits)
            for happens in row.happens
            if row_for(mode, hand, happens) is row
        ]
        assert tried, f"row {place} is hidden by those above it: {row.does}"
