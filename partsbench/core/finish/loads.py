"""Loads: what one filling of the gun coats, stragglers first, in spray order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from partsbench.core.finish.behind import usual
from partsbench.core.finish.progress import Progress
from partsbench.core.finish.steps import Operation, Step
from partsbench.core.naming import ALL, together
from partsbench.core.piece.spot import Spot

SPRAYED = frozenset(
    {Operation.PRIME, Operation.SEAL, Operation.COLOUR, Operation.TOPCOAT, Operation.CLEAR}
)
"""What comes out of a gun."""
COUNTED = SPRAYED | {Operation.STAIN, Operation.DYE, Operation.WAX}
"""What a shop means by a coat; conditioner and touch-up are not counted."""


@dataclass(frozen=True, slots=True)
class Hung:
    """One face that may be coated: its place in spray order, its row, its area in m²."""

    face: Spot
    order: int
    now: Progress
    area_m2: float = 0.0
    row: str = ""

    @property
    def coats(self) -> int:
        return coats_on(self.now)


@dataclass(frozen=True, slots=True)
class Straggler:
    """A face behind its siblings: how many coats it has and how many most of them have."""

    face: Spot
    coats: int
    siblings: int

    @property
    def sentence(self) -> str:
        """`D4 front has 2 coats, most of its siblings 3.`"""
        coats = "1 coat" if self.coats == 1 else f"{self.coats} coats"
        return f"{self.face} has {coats}, most of its siblings {self.siblings}."


@dataclass(frozen=True, slots=True)
class Load:
    """Faces in the order to coat them, the step they get, and how they split over cups.

    cups: faces per cup; one cup when no volume was asked about.
    """

    step: Step | None
    faces: tuple[Spot, ...]
    cups: tuple[tuple[Spot, ...], ...] = ()
    stragglers: tuple[Straggler, ...] = ()


def behind_words(found: Iterable[tuple[str, Straggler]]) -> list[str]:
    """`Heron D3, D8: 1 of 2 coats`: of each codename those that lack as many; a part once."""
    lines: dict[tuple[str, int, int], dict[str, None]] = {}
    for codename, each in found:
        shorts = lines.setdefault((codename, each.coats, each.siblings), {})
        shorts.setdefault(each.face.part)
    return [
        f"{codename} {together(shorts, ALL)}: {coats} of {siblings} coats"
        for (codename, coats, siblings), shorts in lines.items()
    ]


def coats_on(now: Progress) -> int:
    """Coats that stand on a face."""
    steps = (now.path.step(m.step) for m in now.done)
    return sum(s is not None and s.operation in COUNTED for s in steps)


def stragglers(hung: Sequence[Hung]) -> tuple[Straggler, ...]:
    """Faces with fewer coats than most faces of the same path; leaders make no straggler."""
    found = []
    for path in dict.fromkeys(h.now.path.key for h in hung):
        group = [h for h in hung if h.now.path.key == path]
        most = usual(h.coats for h in group)
        found += [Straggler(h.face, h.coats, most) for h in group if h.coats < most]
    return tuple(found)


def propose(hung: Sequence[Hung], ml_per_m2: float = 0.0, cup_ml: float = 0.0) -> Load:
    """The next load: the coat that stragglers wait for, else the one most faces wait for.

    Faces whose next coat takes the same mix go together, stragglers first, then in spray order.
    """
    behind = stragglers(hung)
    names = {s.face for s in behind}
    ready = [(h, step) for h in hung if (step := _next_coat(h.now))]
    if not ready:
        return Load(None, (), (), behind)
    first = [(h, s) for h, s in ready if h.face in names] or ready
    mixes = Counter(_mix(step) for _, step in first)
    mix = max(mixes, key=lambda m: mixes[m])
    chosen = [(h, step) for h, step in ready if _mix(step) == mix]
    chosen.sort(key=lambda pair: (pair[0].face not in names, pair[0].order))
    faces = [h for h, _ in chosen]
    return Load(
        chosen[0][1], tuple(h.face for h in faces), _split(faces, ml_per_m2, cup_ml), behind
    )


def _next_coat(now: Progress) -> Step | None:
    """The coat that is due now; optional steps before it do not stand in its way."""
    return now.next if now.next and now.next.operation in SPRAYED else None


def _mix(step: Step) -> tuple[str, str, bool]:
    return step.operation.value, step.product, step.tinted


def _split(hung: Sequence[Hung], ml_per_m2: float, cup_ml: float) -> tuple[tuple[Spot, ...], ...]:
    """Cups of at most `cup_ml`, broken between rows where that costs no cup its place."""
    if ml_per_m2 <= 0 or cup_ml <= 0:
        return (tuple(h.face for h in hung),)
    cups: list[tuple[Spot, ...]] = []
    rest = list(hung)
    while rest:
        fits = _fitting(rest, ml_per_m2, cup_ml)
        taken = _natural_break(rest, fits)
        cups.append(tuple(h.face for h in rest[:taken]))
        rest = rest[taken:]
    return tuple(cups)


def _fitting(hung: Sequence[Hung], ml_per_m2: float, cup_ml: float) -> int:
    """How many of the first faces one cup coats; at least one, or nothing would ever be coated."""
    used = 0.0
    for count, h in enumerate(hung):
        used += h.area_m2 * ml_per_m2
        if used > cup_ml + 1e-9:
            return max(1, count)
    return len(hung)


def _natural_break(hung: Sequence[Hung], fits: int) -> int:
    """Back to the last end of a row within the cup, when the break would fall inside one."""
    if fits == len(hung) or not hung[fits].row or hung[fits].row != hung[fits - 1].row:
        return fits
    for count in range(fits - 1, 0, -1):
        if hung[count - 1].row != hung[count].row:
            return count
    return fits
