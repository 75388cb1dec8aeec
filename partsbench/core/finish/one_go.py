"""How many fronts fit into one window: told before the first of them is begun, not after."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from partsbench.core.finish.effort import Own, effort_alone
from partsbench.core.finish.steps import FinishPath, Step
from partsbench.core.finish.waits import Wait, WaitFigures, waits_into

MOST = 40
"""More than that in one go is no matter of the window."""


def in_one_go(path: FinishPath, step: Step, shop: WaitFigures, own: Own) -> int | None:
    """How many faces can be begun with `step` so that each is followed up inside its windows.

    All get the step one after another, then all the next one, at the shop's own pace or ours. None
    when no window follows, or when more fit than anybody does in one go.
    """
    chain = _chain(path, step, shop)
    if len(chain) < 2:
        return None
    waits = [waits_into(s, chain[:i], shop) for i, s in enumerate(chain)]
    work = [effort_alone(s, own) for s in chain]
    fits = next((k - 1 for k in range(1, MOST + 1) if not _fit(k, chain, waits, work)), None)
    return None if fits is None else max(fits, 1)


def _chain(path: FinishPath, step: Step, shop: WaitFigures) -> list[Step]:
    """The step and those after it that must follow within a time."""
    chain = [step]
    place = path.index(step.key)
    for following in path.steps[place + 1 :] if place is not None else ():
        if following.optional:
            continue
        if all(w.latest is None for w in waits_into(following, [chain[-1]], shop)):
            break
        chain.append(following)
    return chain


def _fit(
    count: int, chain: Sequence[Step], waits: Sequence[Sequence[Wait]], work: Sequence[timedelta]
) -> bool:
    """Whether so many faces, worked step by step, keep every window between these steps."""
    now, ended = timedelta(), dict[tuple[str, int], timedelta]()
    for step, before, takes in zip(chain, waits, work, strict=True):
        for face in range(count):
            for wait in before:
                now = max(now, ended[wait.before.key, face] + (wait.earliest or timedelta()))
            for wait in before:
                closes = wait.latest
                if closes is not None and now > ended[wait.before.key, face] + closes:
                    return False
            now += takes
            ended[step.key, face] = now
    return True
