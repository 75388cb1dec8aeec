"""What changed between two plans, short enough for one look: the piece that moved most, and why."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from partsbench.core.finish.durations import say_duration
from partsbench.core.plan.change import SMALL, Followed
from partsbench.core.plan.words import change_words
from partsbench.core.plan.workshop import ShopPlan, Stint, Workshop
from partsbench.core.wording import and_list, plural, sentences


def changed_words(moved: Followed, work: Workshop, before: ShopPlan, at: datetime) -> str:
    """`Heron is done Thu 06 Mar 16:00 and not …. …; 3 more move. Quill is done at another time,
    too.` "" where nothing moved. The new days of all stand with the plan."""
    if not moved.shifts and not moved.ends:
        return ""
    ends = sorted(moved.ends, key=_by_how_much, reverse=True)
    one, others = replace(moved, ends=tuple(ends[:1])), ends[1:]
    names = and_list(work.title(piece) for piece, _, _ in others)
    too = plural(len(others), f"{names} is done at another time, too.",
                 f"{names} are done at other times, too.") if others else ""  # fmt: skip
    return sentences(change_words(one, work, at), longer_words(work, before), too)


def longer_words(work: Workshop, before: ShopPlan) -> str:
    """The step whose work is reckoned with other minutes than before on all that it is left to do
    on, as when the shop's own pace is known: `Wash takes 3 h in all and not 2 h.`

    Only where the same stints are left: else faces may have been done, or batches made anew. One
    stint alone says nothing either: a face of it may have been taken back.
    """
    old, steps = before.at(), dict[str, list[Stint]]()
    for stint in work.stints:
        steps.setdefault(stint.does, []).append(stint)
    found = []
    for does, stints in steps.items():
        step = _step(stints[0].key)
        if {s.key for s in stints} != {key for key in old if _step(key) == step}:
            continue
        pairs = [(old[s.key].end - old[s.key].start, s.minutes) for s in stints]
        if len(pairs) > 1 and len({(was < now) - (was > now) for was, now in pairs}) == 1:
            was, now = (sum(minutes) for minutes in zip(*pairs, strict=True))
            found.append(
                (abs(now - was), f"{does} takes {_long(now)} in all and not {_long(was)}.")
            )
    most, said = max(found, default=(0, ""))
    return said if most >= SMALL else ""


def _step(key: str) -> str:
    """What ends the key of a stint: the step that it is of."""
    return key.rpartition("|")[2]


def _by_how_much(end: tuple[str, int, int]) -> int:
    return abs(end[2] - end[1])


def _long(minutes: int) -> str:
    return say_duration(timedelta(minutes=minutes))
