"""What the board of the shop says of each piece: the next act, its day, and the risk in words."""

from __future__ import annotations

from dataclasses import dataclass

from partsbench.core.plan.words import end_words
from partsbench.services.plan.plans import PlanShown
from partsbench.services.plan.week import next_act


@dataclass(frozen=True, slots=True)
class BoardLine:
    """One piece on the board. day: when it is done, or how its promise stands; risk: the plan does
    not keep it; held: what nothing is planned for, and why."""

    next_act: str
    day: str
    risk: bool = False
    held: tuple[str, ...] = ()


def board_lines(shown: PlanShown) -> dict[str, BoardLine]:
    """By tag, of every piece that has work left or something held."""
    held: dict[str, list[str]] = {}
    for each in shown.held:
        held.setdefault(each.tag, []).append(each.sentence)
    promised = {p.piece: p for p in shown.shop.promised}
    found = {}
    for tag in dict.fromkeys((*shown.ends, *held)):
        end, promise = shown.ends.get(tag), promised.get(tag)
        day = ""
        if end is not None and promise is not None:
            day = shown.promise_sentence(promise)
        elif end is not None:
            soonest = min(end, shown.best.proven.ends[tag])
            day = end_words(f"{shown.shop.title(tag)} is", shown.at, end, soonest)
        risk = end is not None and promise is not None and end > promise.by
        found[tag] = BoardLine(next_act(shown, tag) if end is not None else "", day, risk,
                               tuple(held.get(tag, ())))  # fmt: skip
    return found
