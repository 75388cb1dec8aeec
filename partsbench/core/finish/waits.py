"""The waits that lead into a step: from which step, both ends, and whose figures they are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import timedelta

from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.own_readiness import OwnWait
from partsbench.core.finish.products import Product, Ready, TinCard, readiness_for
from partsbench.core.finish.steps import After, Missed, Operation, Step
from partsbench.core.sources import Source

MOST_STRETCH = 100.0
_TRANSPARENT = frozenset({Operation.MASK, Operation.UNMASK})


@dataclass(frozen=True, slots=True)
class Air:
    """How many times its label time a water-borne film takes in this room; never under 1."""

    factor: float = 1.0
    said: str = ""
    source: str = ""

    @property
    def stretch(self) -> float:
        """The factor within bounds: no shorter than the tin, and no longer than can be counted."""
        return min(max(1.0, self.factor), MOST_STRETCH)


@dataclass(frozen=True, slots=True)
class Longer:
    """A wait that is longer than the figure, and whose it is."""

    time: timedelta
    source: Source


@dataclass(frozen=True, slots=True)
class WaitFigures:
    """What the waits are computed with: product classes, tin cards by class, the room's air, and
    what the shop's own tries say of a class and state. checks: the sentence of each that is asked
    before a step."""

    products: Mapping[str, Product] = field(default_factory=dict)
    tins: Mapping[str, TinCard] = field(default_factory=dict)
    air: Air = Air()
    own: Mapping[tuple[str, Ready], OwnWait] = field(default_factory=dict)
    checks: Mapping[str, str] = field(default_factory=dict)

    def tin(self, step: Step) -> TinCard | None:
        return self.tins.get(step.product)

    def own_longer(self, step: Step, ready: Ready | None, wait: timedelta | None) -> Longer | None:
        """The shop's own wait for a film of this step, with its source, where it is longer."""
        own = self.own.get((step.product, ready)) if ready and self.own else None
        longer = own.longer_than(wait) if own else None
        return Longer(longer, own.source) if own and longer else None

    def water_borne(self, step: Step) -> bool:
        product = self.products.get(step.product)
        return product is not None and product.water_borne


@dataclass(frozen=True, slots=True)
class Wait:
    """From the end of `before` to the start of `after`: no sooner, no later, and whose figures.

    stretched: how many times the figure was lengthened for the room's air (1: not at all).
    """

    before: Step
    after: Step
    earliest: timedelta | None = None
    latest: timedelta | None = None
    missed: Missed | None = None
    earliest_source: Source | None = None
    latest_source: Source | None = None
    stretched: float = 1.0

    def why_not_yet(self) -> str:
        """`Colour coat 1 first needs 4 h`."""
        if self.earliest is None:
            return ""
        needs = f"{self.before.name} first needs {say_duration(self.earliest)}"
        if self.stretched > 1:
            return f"{needs} ({self.stretched:.1f} times, for the room's air)"
        return needs

    def why_no_longer(self) -> str:
        """`Stain must follow Conditioner within 10 min`."""
        if self.latest is None:
            return ""
        name = f"{self.after.name} must follow {self.before.name}"
        return f"{name} within {say_duration(self.latest)}"


def waits_into(step: Step, before: Sequence[Step], shop: WaitFigures) -> list[Wait]:
    """Every wait that bounds `step`, given the steps done or planned before it, in order.

    The step just before gives its general wait, unless `step` names that step itself. Masking
    does not dry anything: the step before a mask or its removal bounds what comes after as well.
    """
    found = list(_named(step, before))
    named = {wait.before.key for wait in found}
    for previous in reversed(before):
        if previous.key not in named:
            found.append(_general(previous, step))
        if previous.operation not in _TRANSPARENT:
            break
    found = [_by_own(_stretched(_by_tin(wait, shop), shop), shop) for wait in found]
    return [w for w in found if w.earliest is not None or w.latest is not None]


def wait_over(film: Step, step: Step, shop: WaitFigures) -> Wait | None:
    """What a coat that lies on the face asks before `step`, wherever both stand on the path."""
    wait = _by_own(_stretched(_by_tin(_general(film, step), shop), shop), shop)
    return replace(wait, latest=None) if wait.earliest is not None else None


def _named(step: Step, before: Sequence[Step]) -> Iterator[Wait]:
    keys = {s.key: s for s in before}
    for after in step.after:
        if after.step in keys and not after.only_when:
            yield _wait(keys[after.step], step, after)


def _general(previous: Step, step: Step) -> Wait:
    """The wait that `previous` asks of whatever comes next.

    An optional step that is there to mend a missed window is not late itself.
    """
    wait = _wait(previous, step, previous)
    return replace(wait, latest=None) if _mends(wait) else wait


def _mends(wait: Wait) -> bool:
    return wait.after.optional and wait.missed is not None and wait.missed.step == wait.after.key


def _wait(before: Step, after: Step, said: After | Step) -> Wait:
    sources = {s.figure: s for s in said.sources}
    return Wait(
        before,
        after,
        said.earliest,
        said.latest,
        said.missed,
        sources.get("earliest"),
        sources.get("latest"),
    )


def _by_tin(wait: Wait, shop: WaitFigures) -> Wait:
    """The tin on the lower step wins, each end for itself."""
    tin = shop.tin(wait.before)
    said = tin.wait_for(wait.after.operation) if tin else None
    if tin is None or said is None:
        return wait
    if said.earliest is not None:
        source = tin.source("earliest", said.earliest)
        wait = replace(wait, earliest=said.earliest, earliest_source=source)
    if said.latest is not None and not _mends(wait):
        source = tin.source("latest", said.latest)
        wait = replace(wait, latest=said.latest, latest_source=source)
    return wait


def _stretched(wait: Wait, shop: WaitFigures) -> Wait:
    """Damp or cold air lengthens what water-borne films need; it never opens a window longer."""
    factor = shop.air.stretch
    if wait.earliest is None or factor <= 1 or not shop.water_borne(wait.before):
        return wait
    return replace(wait, earliest=wait.earliest * factor, stretched=factor)


def _by_own(wait: Wait, shop: WaitFigures) -> Wait:
    """What was tried and not ready in this shop lengthens a wait; nothing here shortens one."""
    if not shop.own:
        return wait
    longer = shop.own_longer(wait.before, readiness_for(wait.after.operation), wait.earliest)
    if longer is None:
        return wait
    return replace(wait, earliest=longer.time, earliest_source=longer.source, stretched=1.0)
