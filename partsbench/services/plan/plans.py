"""The plan of the shop: made, followed from one record to the next, asked "what if", promised."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from statistics import median
from time import monotonic

from partsbench.core.outcomes import Refused
from partsbench.core.plan.bound import Bounds, Stop, never
from partsbench.core.plan.chain import Unreachable, why_not
from partsbench.core.plan.chance import Chances, PaceSpread, chances, spread_of
from partsbench.core.plan.change import (
    WORTH_A_CHANGE,
    Followed,
    followed,
    laid_again,
    shifted,
)
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.search import Best, HowFar, best_plan, proven_beside
from partsbench.core.plan.words import end_words, promise_words, said
from partsbench.core.plan.workshop import Promised, ShopPlan, Workshop, cost
from partsbench.services.known import plan_shown
from partsbench.services.known.work import own_times
from partsbench.services.plan import solver
from partsbench.services.plan.changes import changed_words
from partsbench.services.plan.reading import (
    NOTHING_ASSUMED,
    Assumed,
    Held,
    InHand,
    in_hand,
    minute_of,
)
from partsbench.services.shop import Shop, writing

SECONDS = 2.0
"""A first plan is there after so long; it is asked for on the command line."""

MOST_TOLD = 4
"""So many steps that find no time are told one by one."""

SURE, SURE_RUNS = 0.8, 120
"""A day is said by which a piece is done 8 times of 10."""


@dataclass(frozen=True, slots=True)
class PlanShown:
    """A plan with everything that is said of it. changed: in one line, against the plan shown
    before; "" when nothing moved, or none was shown."""

    hand: InHand
    best: Best
    followed: Followed | None = None
    changed: str = ""

    @property
    def at(self) -> datetime:
        return self.hand.at

    @property
    def shop(self) -> Workshop:
        return self.hand.shop

    @property
    def ends(self) -> dict[str, int]:
        return self.best.plan.ends(self.shop)

    @property
    def held(self) -> tuple[Held, ...]:
        return self.hand.held

    @property
    def sentence(self) -> str:
        """`Everything is done Thursday 03 Dec 16:00; no plan can be earlier than …`"""
        if not self.shop.stints:
            return "Nothing is left to do on the pieces in hand."
        end = max(self.ends.values())
        return end_words("Everything is", self.at, end, min(end, self.best.proven.end))

    @property
    def sentences(self) -> tuple[str, ...]:
        """What was begun and not ended, and what is missed; then the same of each piece, then of
        each promise, then what is held."""
        found = [f"Begun and not ended: {words}" for words in self.hand.begun]
        found += self._missed()
        found += [
            end_words(f"{self.shop.title(p)} is", self.at, end, min(end, self.best.proven.ends[p]))
            for p, end in self.ends.items()
        ]
        found += [self.promise_sentence(p) for p in self.shop.promised]
        found += [h.sentence for h in self.held]
        return (*found, *self.hand.notes)

    def _missed(self) -> list[str]:
        stints = {s.key: s for s in self.shop.stints}
        missed = self.best.plan.missed
        found = []
        for a, b in missed[:MOST_TOLD]:
            by = stints[b].by
            why = "for it in the hours of the shop"
            if a != b:
                why = f"that keeps its window after {stints[a].name}"
            elif by is not None:
                why = f"for it before its window closes, {said(self.at, by)}"
            found.append(f"{stints[b].name}: no time was found {why}.")
        more = len(missed) - MOST_TOLD
        return [*found, f"{more} more steps have none."] if more > 0 else found

    def promise_sentence(self, promised: Promised) -> str:
        end = self.ends[promised.piece]
        return promise_words(
            self.shop, promised, self.at, end, min(end, self.best.proven.ends[promised.piece])
        )


def plan(
    shop: Shop,
    tags: Sequence[str] = (),
    at: datetime | None = None,
    *,
    seconds: float = SECONDS,
    seed: int = 0,
    stop: Stop = never,
    told: HowFar | None = None,
    keep: bool = True,
    with_solver: float = 0.0,
) -> PlanShown:
    """The plan of the pieces in hand. It goes on from the plan that was shown before, and changes
    only what must change, or what is worth it; `keep` notes it as the one that was shown.

    with_solver: seconds for CP-SAT as well, where it is installed.
    """
    hand = in_hand(shop, at or shop.clock(), tags)
    before = None if tags else shown_before(shop, hand)
    made = planned(hand, seconds, seed, stop, told, before, with_solver)
    if keep and not tags:
        keep_shown(shop, made)
    return made


def plan_as_shown(
    shop: Shop, tags: Sequence[str] = (), at: datetime | None = None, seconds: float = SECONDS
) -> PlanShown:
    """The plan that was shown last, laid out over what is left now: what is told beside the plan
    looks for no better one. Where none was shown, or of some pieces only, as `plan` does it."""
    hand = in_hand(shop, at or shop.clock(), tags)
    before = None if tags else shown_before(shop, hand)
    if before is not None:
        return planned(hand, 0, before=before)
    made = planned(hand, seconds)
    if not tags:
        writing(keep_shown)(shop, made)
    return made


def planned(
    hand: InHand,
    seconds: float = SECONDS,
    seed: int = 0,
    stop: Stop = never,
    told: HowFar | None = None,
    before: ShopPlan | None = None,
    with_solver: float = 0.0,
) -> PlanShown:
    """The best plan found in so many seconds; the one before, laid out anew, unless that is worse
    by more than is worth a change."""
    work = hand.shop
    if not work.stints:
        return PlanShown(hand, best_plan(work, seed, 0))
    until = monotonic() + seconds

    def over() -> bool:
        return stop() or monotonic() > until

    again = laid_again(Bounds(Floor(work)), before) if before is not None else None
    best = best_plan(work, seed, 10**9, over, told, from_plan=again)
    if with_solver and not stop():
        best = _solved(work, best, with_solver)
    if again is None or before is None:
        return PlanShown(hand, best)
    if cost(work, again) <= best.cost + WORTH_A_CHANGE:
        best = proven_beside(work, best, again)
    moved = followed(work, before, best.plan)
    return PlanShown(hand, best, moved, changed_words(moved, work, before, hand.at))


def assumed_plan(
    shop: Shop,
    now: datetime,
    change: Callable[[Workshop], Workshop],
    assumed: Assumed = NOTHING_ASSUMED,
    seconds: float = SECONDS,
    seed: int = 0,
) -> PlanShown:
    """The plan if something were otherwise; it is shown beside the other and kept nowhere."""
    hand = in_hand(shop, now, (), assumed)
    return planned(replace(hand, shop=change(hand.shop)), seconds, seed)


@dataclass(frozen=True, slots=True)
class PromiseTold:
    """What a promise would come to: the answer, why not, and what it does to the others' ends.

    others: (tag, end as things are, end with this promise), in minutes from `at`.
    """

    at: datetime
    tag: str
    by: datetime
    kept: bool
    sentence: str
    unreachable: Unreachable | None
    others: tuple[tuple[str, int, int], ...]
    shop: Workshop


def ask_promise(
    shop: Shop,
    tag: str,
    by: datetime,
    worth: float = 10.0,
    at: datetime | None = None,
    seconds: float = SECONDS,
) -> PromiseTold | Refused:
    """Whether a piece can be done by then, and what that costs the others. Notes nothing."""
    now = at or shop.clock()
    hand = in_hand(shop, now)
    if tag not in hand.shop.pieces:
        hand = in_hand(shop, now, [*hand.shop.pieces, tag])
    if tag not in hand.shop.pieces:
        held = next((h.sentence for h in hand.held if h.tag == tag), "")
        return Refused(held or f"{tag} has nothing left to do, or no finish path.")
    minute = minute_of(by, now)
    promised = Promised(tag, minute, worth)
    others = tuple(p for p in hand.shop.promised if p.piece != tag)
    free = planned(replace(hand, shop=replace(hand.shop, promised=others)), seconds / 2)
    bound = replace(hand, shop=replace(hand.shop, promised=(*others, promised)))
    kept = replace(free, hand=bound)
    if free.ends[tag] > minute:
        # From the plan without it: the others move only for the sake of the promise.
        kept = planned(bound, seconds / 2, before=free.best.plan)
        if cost(bound.shop, free.best.plan) <= kept.best.cost:
            kept = replace(kept, best=proven_beside(bound.shop, kept.best, free.best.plan))
    bounds = Bounds(Floor(bound.shop))
    why = why_not(bounds, tag, minute, kept.best.proven.ends[tag])
    return PromiseTold(
        now,
        tag,
        by,
        kept.ends[tag] <= minute,
        kept.promise_sentence(promised),
        why,
        tuple((p, free.ends[p], end) for p, end in kept.ends.items() if end != free.ends[p]),
        bound.shop,
    )


def sure(shop: Shop, made: PlanShown, seed: int = 0, stop: Stop = never) -> Chances:
    """How sure the days of a plan are, by the spread of the shop's own times, ours until there are
    enough of a kind."""
    return sure_of(made, spreads(shop, made.at), seed, stop)


def spreads(shop: Shop, at: datetime) -> dict[str, PaceSpread]:
    """How the shop's own times spread, by the work and by the work and the kind of part (`sand`,
    `sand D`)."""
    times: dict[str, list[float]] = {}
    for (operation, _, *kind), minutes in own_times(shop, at).items():
        # A part and a face take different minutes, but spread alike about their own middle.
        middle = median(minutes)
        if middle > 0:
            key = " ".join((operation.value, *kind))
            times.setdefault(key, []).extend(m / middle for m in minutes)
    found = {key: spread_of(minutes) for key, minutes in times.items()}
    return {key: spread for key, spread in found.items() if spread.times}


def sure_of(
    made: PlanShown, own: Mapping[str, PaceSpread], seed: int = 0, stop: Stop = never
) -> Chances:
    """The same of spreads that were read already."""
    return chances(made.shop, made.best.plan, own, seed, SURE_RUNS, stop)


def sure_words(made: PlanShown, found: Chances) -> tuple[str, ...]:
    """`Larch: 8 of 10 by Friday 04 Dec 11:00` for each piece, and how sure each promise is."""
    words = [
        f"{made.shop.title(p)}: 8 of 10 by {said(made.at, found.by(p, SURE))}." for p in found.ends
    ]
    for p in made.shop.promised:
        of_ten = round(10 * found.kept(p.piece, p.by))
        words.append(f"{made.shop.title(p.piece)}: its promise is kept {of_ten} times of 10.")
    return tuple(words)


def _solved(work: Workshop, best: Best, seconds: float) -> Best:
    """What CP-SAT makes of it, where it is installed: a better plan, a higher bound, or neither."""
    found = solver.improved(work, best.plan, seconds)
    if found is None or best.plan.missed:
        return best
    if found.plan is not None and cost(work, found.plan) < best.cost:
        best = proven_beside(work, best, found.plan)
    if found.least_cost > best.proven.cost:
        best = replace(best, proven=replace(best.proven, cost=found.least_cost))
    return best


def keep_shown(shop: Shop, made: PlanShown) -> None:
    """Note a plan as the one that was shown, which the next one goes on from."""
    plan_shown.keep(shop, made.best.plan, made.at)


def shown_before(shop: Shop, hand: InHand) -> ShopPlan | None:
    """The plan that was shown last, counted from now; None when it is too old to go on from."""
    found = plan_shown.kept(shop, hand.at)
    if found is None:
        return None
    minutes = int((hand.at - found[0]).total_seconds() // 60)
    known = {s.key for s in hand.shop.stints}
    mine = tuple(p for p in found[1].placed if p.stint in known)
    return shifted(ShopPlan(mine), minutes) if mine else None
