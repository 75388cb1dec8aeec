"""Whatever is scanned, pressed and waited for, in any order: never a record of the wrong part."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from partsbench.core.bench.events import What
from tests.support.bench_events import RECORDS, RandomBench

SEEDS, EVENTS = 20, 5_000


def test_a_record_is_of_the_label_in_the_hand() -> None:
    """100,000 events in all; `python -m tests.bench.events` runs a million."""
    seen = set()
    for seed in range(SEEDS):
        bench = RandomBench(seed)
        bench.run(EVENTS)
        assert bench.faults == [], seed
        seen |= {What(name) for name in bench.seen}
    assert seen >= RECORDS | {What.LOAD_DONE}, "the runs came to every kind of record"


@given(st.integers(0, 2**32), st.integers(1, 60))
@settings(max_examples=60, deadline=None)
def test_short_runs_from_a_new_bench(seed: int, events: int) -> None:
    bench = RandomBench(seed)
    bench.run(events)
    assert bench.faults == []
