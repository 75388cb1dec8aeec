"""What a piece takes of each kind of hardware, and what is counted of it.

Census, order and allotment all stand on this one count: the order buys what it says is needed, the
allotment seats what it says serves.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum

from partsbench.core.key_words import part_word, parts_word
from partsbench.core.outcomes import Refused
from partsbench.core.sums.refusal import amount, first
from partsbench.core.sums.spacings import MEASURED_WITHIN_MM, takes_screw
from partsbench.core.wording import and_list, clauses, plural

Expected = Mapping[str, Mapping[str, int]]
"""Front → kind → how many it takes."""


class Condition(IntEnum):
    """How good a piece of hardware is; the number is how much a look at it costs."""

    GOOD = 0
    WORN = 1
    BENT = 2
    BROKEN = 9


@dataclass(frozen=True, slots=True)
class Hardware:
    """One thing counted: where it belongs, what it is, and its condition. Sizes in mm."""

    name: str
    front: str
    kind: str
    condition: Condition
    spacing: float | None = None
    thread: str = ""
    screw_mm: float | None = None

    @property
    def usable(self) -> bool:
        """Whether it can go back on."""
        return self.condition < Condition.BROKEN


@dataclass(frozen=True, slots=True)
class Count:
    """One kind: the places the piece has for it, and what is counted.

    `missing` are places for which nothing is counted; `not_counted` are those of them on fronts
    where nothing of the kind is counted at all. `spacing` and `thread` are those of most; a
    misfit is usable, but its holes are too far from those of most.
    """

    kind: str
    wanted: int
    usable: int = 0
    broken: int = 0
    not_counted: int = 0
    misfits: int = 0
    spacing: float | None = None
    thread: str = ""
    over: tuple[float, ...] = ()
    """Other spacings among the usable, misfits or not, as far as measuring tells them apart."""

    @property
    def counted(self) -> int:
        return self.usable + self.broken

    @property
    def missing(self) -> int:
        return max(0, self.wanted - self.counted)

    @property
    def serving(self) -> int:
        """The usable that go onto the holes of most."""
        return self.usable - self.misfits

    @property
    def needed(self) -> int:
        """The least to buy: places that nothing counted serves."""
        return max(0, self.wanted - self.serving)

    def serves(self, item: Hardware) -> bool:
        """Whether a thing of this kind can go back on where most of them sit."""
        if item.kind != self.kind or not item.usable:
            return False
        if item.spacing is None or self.spacing is None:
            return True
        return takes_screw(abs(item.spacing - self.spacing) / 2)


@dataclass(frozen=True, slots=True)
class Census:
    """Each kind counted, and how many fronts can still be fitted out with what serves."""

    counts: tuple[Count, ...]
    complete_sets: int
    mixed: tuple[str, ...]
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ("the count itself",)

    @property
    def usable(self) -> Mapping[str, int]:
        return {c.kind: c.usable for c in self.counts if c.usable}

    @property
    def broken(self) -> Mapping[str, int]:
        return {c.kind: c.broken for c in self.counts if c.broken}

    @property
    def missing(self) -> Mapping[str, int]:
        return {c.kind: c.missing for c in self.counts if c.missing}

    @property
    def counted(self) -> bool:
        """Whether anything that the piece takes is counted: what nobody counted is not missing."""
        return any(c.counted for c in self.counts if c.wanted)

    def of(self, kind: str) -> Count:
        """The count of one kind; of one that nobody wants or has, nothing."""
        return next((c for c in self.counts if c.kind == kind), Count(kind, 0))

    @property
    def sentence(self) -> str:
        """`It takes 12 pulls: 9 usable, 1 broken, 2 missing; 4 complete sets left.`"""
        said = _counted(self.counts)
        if not self.counted:
            return f"{said}."
        sets = self.complete_sets
        left = plural(sets, "1 complete set left", f"{sets} complete sets left")
        return f"{clauses([said, left])}."


def say_counts(counts: Iterable[Count]) -> str:
    """What these kinds are counted to, in the words that every answer has."""
    return f"{_counted(counts)}."


def kinds(count: int, kind: str) -> str:
    """`1 pull`, `12 knobs`, of a kind as the census names it."""
    return plural(count, f"1 {part_word(kind)}", f"{count} {parts_word(kind)}")


def _counted(counts: Iterable[Count]) -> str:
    """The same without its full stop."""
    taken = [c for c in counts if c.wanted]
    if not taken:
        return "It takes no pull, knob or plate"
    wanted = and_list(kinds(c.wanted, c.kind) for c in taken)
    if not any(c.counted for c in taken):
        return f"Nothing is counted yet of the {wanted} that it takes"
    usable, broken, missing, bare, misfits = (
        sum(counts)
        for counts in zip(
            *((c.usable, c.broken, c.missing, c.not_counted, c.misfits) for c in taken),
            strict=True,
        )
    )
    fitting = f"{usable} usable"
    fitting = f"{fitting} ({misfits} of another hole spacing)" if misfits else fitting
    gone = f"{missing} missing ({bare} not counted yet)" if bare else f"{missing} missing"
    return f"It takes {wanted}: {fitting}, {broken} broken, {gone}"


def census(found: Sequence[Hardware], expected: Expected) -> Census | Refused:
    """Count what is there against what each front takes."""
    bad = first(
        *(
            amount(f"{kind} of {front}", count, least=0, most=100)
            for front, kinds in expected.items()
            for kind, count in kinds.items()
        ),
        *(
            amount(f"spacing of {item.name}", item.spacing, least=0, most=1000, unit="mm")
            for item in found
            if item.spacing is not None
        ),
    )
    if bad:
        return bad
    taken = {kind for kinds in expected.values() for kind, count in kinds.items() if count}
    kinds = [*sorted(taken), *sorted({item.kind for item in found} - taken)]
    counts = tuple(_count(kind, found, expected) for kind in kinds)
    unmeasured = tuple(
        f"hole spacing and thread of {item.name}"
        for item in found
        if item.usable and item.spacing is None and not item.thread
    )
    mixed = tuple(sorted(kind for kind in kinds if _mixed(kind, found)))
    return Census(counts, _complete_sets(counts, expected), mixed, unmeasured)


def _count(kind: str, found: Sequence[Hardware], expected: Expected) -> Count:
    items = [item for item in found if item.kind == kind]
    want = {front: kinds[kind] for front, kinds in expected.items() if kinds.get(kind)}
    spacing, thread = _usual(items)
    usable = [item for item in items if item.usable]
    usual = Count(kind, sum(want.values()), spacing=spacing, thread=thread)
    other = {i.spacing for i in usable if i.spacing is not None and spacing is not None
             and abs(i.spacing - spacing) > MEASURED_WITHIN_MM}  # fmt: skip
    return Count(
        kind,
        usual.wanted,
        len(usable),
        len(items) - len(usable),
        _not_counted(want, items),
        sum(not usual.serves(item) for item in usable),
        spacing,
        thread,
        tuple(sorted(other)),
    )


def _not_counted(want: Mapping[str, int], items: Sequence[Hardware]) -> int:
    """Places on fronts where nothing is counted, less what is counted beyond its own front."""
    there = Counter(item.front for item in items)
    bare = sum(count for front, count in want.items() if not there[front])
    beyond = sum(max(0, count - want.get(front, 0)) for front, count in there.items())
    return max(0, bare - beyond)


def _usual(items: Sequence[Hardware]) -> tuple[float | None, str]:
    """The spacing that most have, and the thread that most of those have, as far as is known."""
    spacings = Counter(item.spacing for item in items if item.spacing is not None)
    spacing = spacings.most_common(1)[0][0] if spacings else None
    alike = [item for item in items if item.spacing == spacing]
    threads = Counter(item.thread for item in alike if item.thread)
    return spacing, threads.most_common(1)[0][0] if threads else ""


def _mixed(kind: str, found: Sequence[Hardware]) -> bool:
    """Whether the usable of a kind are known to have several spacings or threads."""
    usable = [item for item in found if item.kind == kind and item.usable]
    spacings = {item.spacing for item in usable if item.spacing is not None}
    return len(spacings) > 1 or len({item.thread for item in usable if item.thread}) > 1


def _complete_sets(counts: Iterable[Count], expected: Expected) -> int:
    """How many fronts those that serve can fit out, the fronts that want least first."""
    left = Counter({count.kind: count.serving for count in counts})
    complete = 0
    for kinds in sorted(expected.values(), key=lambda wanted: sum(wanted.values())):
        if sum(kinds.values()) and all(left[kind] >= count for kind, count in kinds.items()):
            left.subtract(kinds)
            complete += 1
    return complete
