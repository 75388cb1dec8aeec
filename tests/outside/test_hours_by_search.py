"""Plans within the hours of a shop against a search of every quarter of an hour."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from partsbench.core.finish.hours import LOUD, DaySpan, Hours
from partsbench.core.finish.progress import progress
from partsbench.core.finish.schedule import Schedule, schedule
from partsbench.core.finish.steps import FinishPath, Missed, Operation, PathKind, Step
from partsbench.core.finish.waits import WaitFigures

MIDNIGHT = datetime(2026, 11, 25, tzinfo=UTC)
QUARTER = timedelta(minutes=15)
DAYS = 4
SHOP_HOURS = Hours(DaySpan(time(8), time(12)), DaySpan(time(11), time(9)), UTC)
"""Short days, so that the search stays small: 8 to 12, gun and sander from 9 to 11."""

STEPS = st.lists(
    st.tuples(
        st.sampled_from([Operation.SAND, Operation.STAIN, Operation.WIPE]),
        st.integers(1, 9),  # quarters of work
        st.integers(0, 14),  # no sooner than
        st.integers(0, 8) | st.none(),  # no later than so much more
    ),
    min_size=2,
    max_size=3,
)


def made(steps: list[tuple[Operation, int, int, int | None]]) -> FinishPath:
    return FinishPath("own", "Own", PathKind.STAIN, tuple(
        Step(f"s{i}", f"Step {i}", "done", operation, minutes_per_face=15 * work,
             earliest=wait * QUARTER,
             latest=None if more is None else (wait + more) * QUARTER,
             missed=None if more is None else Missed("s0", "begin again"))
        for i, (operation, work, wait, more) in enumerate(steps)
    ))  # fmt: skip


def may_begin(operation: Operation, work: int, quarter: int) -> bool:
    """Every quarter of the work lies in the hours, in the noisy ones when it is loud."""
    first, last = (9, 11) if operation in LOUD else (8, 12)
    return all(first * 4 <= q % 96 < last * 4 for q in range(quarter, quarter + work))


def by_search(
    steps: list[tuple[Operation, int, int, int | None]], now: int
) -> tuple[int, ...] | None:
    """The soonest start of each step over all plans that keep everything; None without any."""
    starts = [
        [q for q in range(now, 96 * DAYS) if may_begin(operation, work, q)]
        for operation, work, _, _ in steps
    ]
    good = []
    for plan in product(*starts):
        for i in range(len(plan) - 1):
            gap = plan[i + 1] - (plan[i] + steps[i][1])
            wait, more = steps[i][2], steps[i][3]
            if gap < wait or (more is not None and gap > wait + more):
                break
        else:
            good.append(plan)
    return tuple(min(p[i] for p in good) for i in range(len(steps))) if good else None


@settings(max_examples=60, deadline=None)
@given(STEPS, st.integers(28, 60))
def test_the_plan_is_the_soonest_that_keeps_hours_and_windows(steps, now):
    found = schedule({"": progress(made(steps), [])}, MIDNIGHT + now * QUARTER, WaitFigures(),
                     hours=SHOP_HOURS)  # fmt: skip
    assert isinstance(found, Schedule)
    best = by_search(steps, now)
    if best is None:
        # The search ends after four days, the plan may go on; then it begins after them.
        last = MIDNIGHT + 96 * DAYS * QUARTER
        assert not found.in_hours or max(p.starts for p in found.planned) >= last - 24 * QUARTER
        return
    assert found.in_hours
    ours = tuple(int((p.starts - MIDNIGHT) / QUARTER) for p in sorted(
        found.planned, key=lambda p: p.step.key))  # fmt: skip
    assert ours == best
