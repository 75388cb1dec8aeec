"""What a finish path itself gets wrong, before anybody works by it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise

from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.findings import EXPERIENCE, PRACTICE, Finding, Level
from partsbench.core.finish.grits import (
    BETWEEN_SOURCE,
    COARSEST_BEFORE_LAST_COAT,
    FINEST_BEFORE_STAIN,
    GRIT_SOURCE,
    JUMP_SOURCE,
    is_jump,
)
from partsbench.core.finish.holds import WATER_OVER_OIL
from partsbench.core.finish.loops import PAIRS
from partsbench.core.finish.products import COATS, FILM, Product
from partsbench.core.finish.steps import FinishPath, Operation, PathKind, Step
from partsbench.core.finish.waits import WaitFigures, waits_into
from partsbench.core.sources import Source

WATER_OVER_OIL_WAIT = timedelta(hours=72)
_BUILDS = frozenset({Operation.COLOUR, Operation.TOPCOAT, Operation.CLEAR})
_ON_WOOD = frozenset({Operation.STAIN, Operation.DYE})
_CAUTIONS = {
    Operation.WASH: "alkaline_cleaner",
    Operation.STRIP: "stripper",
    Operation.SAND: "dust",
    Operation.WIPE: "oily_rags",
}

Remarks = Iterator[tuple[Step, str]]
Look = Callable[[FinishPath, Mapping[str, Product]], Remarks]


@dataclass(frozen=True, slots=True)
class PathRule:
    """A named rule over a whole path: it yields the steps it finds fault with, and why."""

    name: str
    level: Level
    source: Source
    look: Look


def review(path: FinishPath, products: Mapping[str, Product]) -> tuple[Finding, ...]:
    """Everything the rules find in a path, in the order of its steps; () when nothing.

    The path is looked at as it is for a face with no case of its own, and for each case alone:
    cases may exclude each other, as the two kinds of conditioner do.
    """
    cases = dict.fromkeys(s.only_when for s in path.steps if s.only_when)
    variants = [path.given(frozenset(facts)) for facts in ((), *((case,) for case in cases))]
    found = {
        (rule.name, step.key): Finding(
            rule.level, rule.name, f"{step.name}: {why}", rule.source, step.key
        )
        for variant in variants
        for rule in RULES
        for step, why in rule.look(variant, products)
    }
    return tuple(sorted(found.values(), key=lambda f: path.index(f.where) or 0))


def _too_fine(path: FinishPath, _: Mapping[str, Product]) -> Remarks:
    for step, before in _with_before(path):
        if step.operation not in _ON_WOOD or any(s.operation in FILM for s in before):
            continue
        last = next((s for s in reversed(before) if s.grit), None)
        if last and (last.grit or 0) > FINEST_BEFORE_STAIN:
            yield last, f"{last.grit} is over {FINEST_BEFORE_STAIN}: the wood takes stain poorly"


def _grit_jump(path: FinishPath, _: Mapping[str, Product]) -> Remarks:
    for before, after in pairwise(s for s in path.steps if s.grit or s.operation in FILM):
        if is_jump(before.grit, after.grit):
            yield after, f"from {before.grit} to {after.grit} skips too much"


def _coarse_last(path: FinishPath, _: Mapping[str, Product]) -> Remarks:
    coats = [i for i, s in enumerate(path.steps) if s.operation in _BUILDS]
    if len(coats) < 2:
        return
    between = path.steps[coats[-2] : coats[-1]]
    last = next((s for s in reversed(between) if s.grit), None)
    if last and (last.grit or 0) < COARSEST_BEFORE_LAST_COAT:
        yield last, f"scratches of {last.grit} show through the last coat"


def _filler(path: FinishPath, _: Mapping[str, Product]) -> Remarks:
    if path.kind is not PathKind.STAIN:
        return
    for step in path.steps:
        if step.operation is Operation.FILL and step.filler != "stainable":
            yield step, "filler shows as a pale spot under stain"


def _tint_on_stain(path: FinishPath, _: Mapping[str, Product]) -> Remarks:
    for step in path.steps:
        if step.tinted and path.kind in (PathKind.STAIN, PathKind.CLEAR):
            yield step, "a tinted coat hides what stain and clear are to show"


def _clear_over_tinted(path: FinishPath, _: Mapping[str, Product]) -> Remarks:
    for step, before in _with_before(path):
        clear = step.operation in (Operation.CLEAR, Operation.TOPCOAT) and not step.tinted
        if clear and any(s.tinted for s in before):
            yield step, "clear over a tinted coat brings back the haze that the tint is against"


def _water_over_oil(path: FinishPath, products: Mapping[str, Product]) -> Remarks:
    """Each water film right over an oil one, whichever of the optional steps are left out."""
    shop = WaitFigures(products)
    for step, before in _with_before(path):
        known = products.get(step.product)
        if step.operation not in COATS or known is None or known.film != "water":
            continue
        for under in _may_be_under(before):
            below = products.get(under.product)
            if below is None or below.film != "oil":
                continue
            wait = _wait_from(under, step, path, shop)
            if wait < WATER_OVER_OIL_WAIT and not _in(under, "earliest", path, step):
                yield step, f"only {say_duration(wait)} after {under.name}, a film of oil"


def _in(under: Step, figure: str, path: FinishPath, step: Step) -> bool:
    """True when the wait is left to the tin: no figure of the path's own."""
    own = under.earliest is not None or any(a.step == under.key for a in step.after)
    return figure in under.on_tin and not own


def _may_be_under(before: Sequence[Step]) -> Iterator[Step]:
    """Films that can be the uppermost: the last one due, and the optional ones after it."""
    for step in reversed(before):
        if step.operation in FILM:
            yield step
            if not step.optional:
                return


def _wait_from(under: Step, step: Step, path: FinishPath, shop: WaitFigures) -> timedelta:
    """The time that must pass from `under` to `step` when all optional steps between are left."""
    first, last = path.index(under.key) or 0, path.index(step.key) or 0
    chain = [under, *(s for s in path.steps[first + 1 : last] if not s.optional), step]
    soonest = {under.key: timedelta()}
    for place, after in enumerate(chain[1:], 1):
        waits = waits_into(after, chain[:place], shop)
        soonest[after.key] = max(
            [soonest[chain[place - 1].key]]
            + [soonest[w.before.key] + w.earliest for w in waits if w.earliest]
        )
    return soonest[step.key]


def _thick_first(path: FinishPath, _: Mapping[str, Product]) -> Remarks:
    for operation in (Operation.COLOUR, Operation.TOPCOAT):
        coats = [s for s in path.steps if s.operation is operation]
        thick = next((i for i, s in enumerate(coats) if s.thickness == "full"), None)
        if thick is not None and any(s.thickness == "thin" for s in coats[thick + 1 :]):
            yield coats[thick], "a full coat before a thin one runs on an upright face"
        elif thick == 0 and len(coats) > 1:
            yield coats[0], "the first coat is best thin: a full one runs on an upright face"


def _no_scuff(path: FinishPath, _: Mapping[str, Product]) -> Remarks:
    for step in path.steps:
        if step.operation not in _BUILDS or step.latest is None or step.missed is None:
            continue
        mended = path.step(step.missed.step)
        if mended and mended.operation is not Operation.SAND:
            yield step, "when its window has closed the next coat needs a scuff first"


def _sheens(path: FinishPath, _: Mapping[str, Product]) -> Remarks:
    coats = [s for s in path.steps if s.operation in _BUILDS and s.sheen]
    for before, after in pairwise(coats):
        if before.sheen != after.sheen:
            yield after, f"{after.sheen} over {before.sheen}"


def _open_pairs(path: FinishPath, _: Mapping[str, Product]) -> Remarks:
    for pair in PAIRS:
        begun = [i for i, s in enumerate(path.steps) if s.operation is pair.begun]
        ends = [i for i, s in enumerate(path.steps) if s.operation is pair.ends]
        if begun and not any(i > begun[-1] for i in ends):
            yield path.steps[begun[-1]], f"no step '{pair.ends}' ends it"


def _no_wait(path: FinishPath, products: Mapping[str, Product]) -> Remarks:
    """A coat that something comes over at once, with no time given and none left to the tin."""
    shop = WaitFigures(products)
    for before, after in pairwise(s for s in path.steps if not s.optional):
        works = after.operation in COATS or after.operation is Operation.SAND
        if before.operation not in COATS or not works or "earliest" in before.on_tin:
            continue
        waits = waits_into(after, [before], shop)
        if not any(w.earliest for w in waits):
            yield before, f"no time is given before {after.name}"


def _no_caution(path: FinishPath, _: Mapping[str, Product]) -> Remarks:
    for step in path.steps:
        caution = _CAUTIONS.get(step.operation)
        if caution and caution not in step.cautions:
            yield step, f"the caution '{caution}' is missing"


def _with_before(path: FinishPath) -> Iterator[tuple[Step, tuple[Step, ...]]]:
    for place, step in enumerate(path.steps):
        yield step, path.steps[:place]


RULES = (
    PathRule("too fine before stain", Level.WARN, GRIT_SOURCE, _too_fine),
    PathRule("grit jump", Level.WARN, JUMP_SOURCE, _grit_jump),
    PathRule("coarse last grit", Level.WARN, BETWEEN_SOURCE, _coarse_last),
    PathRule("filler under stain", Level.WARN, PRACTICE, _filler),
    PathRule("tint on stain or clear", Level.HOLD, PRACTICE, _tint_on_stain),
    PathRule("clear over tinted", Level.WARN, PRACTICE, _clear_over_tinted),
    PathRule("water over oil too soon", Level.HOLD, WATER_OVER_OIL, _water_over_oil),
    PathRule("thick coat first", Level.WARN, PRACTICE, _thick_first),
    PathRule("no scuff after a closed window", Level.WARN, EXPERIENCE, _no_scuff),
    PathRule("different sheen", Level.WARN, PRACTICE, _sheens),
    PathRule("open loop", Level.HOLD, PRACTICE, _open_pairs),
    PathRule("no drying time", Level.WARN, PRACTICE, _no_wait),
    PathRule("caution missing", Level.WARN, PRACTICE, _no_caution),
)
