"""What a finish path is made of: steps, the waits between them, and where each figure came from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import timedelta
from enum import StrEnum

from partsbench.core.sources import Source


class Operation(StrEnum):
    """What hands do in a step; the rules are written in these words."""

    WASH = "wash"
    RINSE = "rinse"
    STRIP = "strip"
    SCRAPE = "scrape"
    RESIDUE = "wipe residue"
    REPAIR = "repair"
    FILL = "fill"
    SAND = "sand"
    CONDITION = "condition"
    DYE = "dye"
    STAIN = "stain"
    WIPE = "wipe stain"
    WIPE_CONDITIONER = "wipe conditioner"
    SEAL = "seal"
    PRIME = "prime"
    MASK = "mask"
    COLOUR = "colour"
    TOPCOAT = "topcoat"
    UNMASK = "unmask"
    TOUCH_UP = "touch up"
    CLEAR = "clear"
    WAX = "wax"
    BUFF = "buff"


class Per(StrEnum):
    """What work is counted by: a part whatever faces of it are worked, or each face by itself."""

    PART = "part"
    FACE = "face"


class PathKind(StrEnum):
    """The family of a finish path: what the face ends up as."""

    PAINT = "paint"
    STAIN = "stain"
    CLEAR = "clear"
    RAW = "raw"
    LEAVE = "leave"


@dataclass(frozen=True, slots=True)
class Missed:
    """What to do when a window has closed: the step to go to, and a sentence."""

    step: str
    say: str


@dataclass(frozen=True, slots=True)
class After:
    """A wait counted from a named step; from the step just before, it replaces the general wait.

    With `only_when` it counts for faces that are known to be such a case, and for no others.
    """

    step: str
    earliest: timedelta | None = None
    latest: timedelta | None = None
    missed: Missed | None = None
    sources: tuple[Source, ...] = ()
    only_when: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a path. `earliest` and `latest` bound the next step, counted from this one.

    `needs` and `cautions` are keys of the trade tables; `takes` names further classes of product
    that it may be done with, besides `product`, whose waits it counts; `only_when` names the fact
    about a face that makes a step due that is otherwise optional; `on_tin` names figures that only
    the tin can give.
    """

    key: str
    name: str
    did: str
    operation: Operation
    product: str = ""
    grit: int | None = None
    needs: tuple[str, ...] = ()
    minutes_per_part: float | None = None
    minutes_per_face: float | None = None
    minutes_per_m2: float | None = None
    minutes_per_batch: float | None = None
    earliest: timedelta | None = None
    latest: timedelta | None = None
    missed: Missed | None = None
    after: tuple[After, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()
    optional: bool = False
    only_when: str = ""
    thickness: str = ""
    tinted: bool = False
    sheen: str = ""
    filler: str = ""
    on_tin: tuple[str, ...] = ()
    note: str = ""
    takes: tuple[str, ...] = ()

    def __hash__(self) -> int:
        # All else of it is compared only where keys are alike.
        return hash(self.key)

    @property
    def products(self) -> tuple[str, ...]:
        """The classes of product that it takes, the path's own first."""
        return (self.product, *self.takes) if self.product else self.takes

    @property
    def per(self) -> Per:
        """What its work is counted by."""
        return Per.PART if self.minutes_per_part else Per.FACE

    def suited(self, yes: frozenset[str]) -> Step:
        """The step for a face that is known to be the cases `yes`: due, and the waits for them
        count. A wait for a case that is not known keeps its `only_when`, and counts for nothing."""
        if self.only_when not in yes and all(a.only_when not in yes for a in self.after):
            return self
        waits = tuple(replace(a, only_when="") if a.only_when in yes else a for a in self.after)
        return replace(self, optional=self.optional and self.only_when not in yes, after=waits)

    def source_of(self, figure: str) -> Source | None:
        """The source of one figure of this step, by its name in the table."""
        return next((s for s in self.sources if s.figure == figure), None)


@dataclass(frozen=True, slots=True)
class FinishPath:
    """The ordered steps of a face. A path without steps is done from the start."""

    key: str
    name: str
    kind: PathKind
    steps: tuple[Step, ...] = ()
    about: str = ""
    sources: tuple[Source, ...] = field(default=())
    places: Mapping[str, int] = field(init=False, repr=False, compare=False)
    """Key of each step → where it stands. Asked for some thousand times in each answer."""

    _made: dict[tuple[frozenset[str], frozenset[str]], FinishPath] = field(
        init=False, repr=False, compare=False
    )
    """What `suited` gave so far, so that faces with the same facts are on the very same path."""

    def __post_init__(self) -> None:
        places = {s.key: i for i, s in reversed(list(enumerate(self.steps)))}
        object.__setattr__(self, "places", places)
        object.__setattr__(self, "_made", {})

    def step(self, key: str) -> Step | None:
        """The step with this key, if the path has it."""
        at = self.places.get(key)
        return None if at is None else self.steps[at]

    def index(self, key: str) -> int | None:
        """Where the step with this key stands, counted from 0."""
        return self.places.get(key)

    def given(self, facts: frozenset[str]) -> FinishPath:
        """The path for a face of which `facts` are true.

        Steps for these cases are due like all others, steps for other cases are left out.
        """
        kept = tuple(s.suited(facts) for s in self.steps if not s.only_when or s.only_when in facts)
        return FinishPath(self.key, self.name, self.kind, kept, self.about, self.sources)

    def suited(self, yes: frozenset[str], no: frozenset[str]) -> FinishPath:
        """The path for a face of which the cases `yes` are known to be so and `no` not to be.

        Steps for the first are due, for the second left out; of what is not known they stay open.
        """
        if not yes and not no:
            return self
        if (yes, no) not in self._made:
            kept = tuple(
                s.suited(yes) for s in self.steps if not s.only_when or s.only_when not in no
            )
            made = FinishPath(self.key, self.name, self.kind, kept, self.about, self.sources)
            self._made[yes, no] = made
        return self._made[yes, no]


RAW = FinishPath("raw", "Left raw", PathKind.RAW)
LEAVE = FinishPath("leave", "Left as found", PathKind.LEAVE)
NO_STEP_PATHS = {RAW.key: RAW, LEAVE.key: LEAVE}
