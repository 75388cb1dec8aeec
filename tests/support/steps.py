"""Faces brought to a step through the use cases, at times that the rules allow."""

from __future__ import annotations

from partsbench.core.outcomes import Answer
from partsbench.services.acts import bench
from partsbench.services.shop import Shop
from tests.support.at_bench import record
from tests.support.clock import SetClock

MOST = 60


def bring(shop: Shop, clock: SetClock, tag: str, short: str, step: str, face: str = "") -> None:
    """Record every step of a part (or of one face) until `step` is next and may be done.

    The clock goes on to when each may be done.
    """
    for _ in range(MOST):
        seen = bench.look(shop, short, here=tag, face=face)
        if seen.answer is Answer.WAIT and seen.until:
            clock.now = max(clock.now, seen.until)
            continue
        if seen.step == step:
            return
        if seen.answer is Answer.LATE:
            _mend(shop, tag, short, seen.recover, face)
            continue
        said = record(shop, short, here=tag, face=face)
        assert said.recorded, said
    raise AssertionError(f"{short} never came to {step}")


def _mend(shop: Shop, tag: str, short: str, recover: str, face: str) -> None:
    """A window was missed meanwhile: back to the step that its path names, or on to it."""
    back = bench.send_back(shop, short, recover, "missed window", here=tag, face=face)
    if not back.recorded:
        assert record(shop, short, here=tag, face=face, step=recover).recorded
