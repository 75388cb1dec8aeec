"""Parts, their faces and their homes: what bears a number and where it goes back to."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from partsbench.core.key_words import face_word, part_word, place_word
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.spot import Spot

PAINT, STAIN, CLEAR, RAW, LEAVE = "paint", "stain", "clear", "raw", "leave"
"""Keys of the built-in finish paths; raw and leave (leave as found) have no steps."""

NO_FINISH = frozenset({RAW, LEAVE})


class HomeKind(StrEnum):
    """What a home is: an opening, a corner of the carcase, a place on a part, or the floor."""

    OPENING = "opening"
    CORNER = "corner"
    ON_PART = "on part"
    ON_PIECE = "on piece"
    STAYS = "stays"


@dataclass(frozen=True, slots=True)
class Home:
    """Where a part returns. `number` is that of an opening or corner, `spot` the place in words."""

    kind: HomeKind
    number: int = 0
    spot: str = ""


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the carcase that a leg stands at; numbered among the homes."""

    number: int
    spot: str


@dataclass(frozen=True, slots=True)
class Face:
    """One surface of a part with its own finish path; `path` is the key of that path."""

    name: str
    path: str = RAW

    @property
    def finished(self) -> bool:
        """True when the face is to get a finish."""
        return self.path not in NO_FINISH


@dataclass(frozen=True, slots=True)
class Part:
    """Anything with a number. `parent` is the short number of the part it travels with."""

    family: Family
    number: int
    home: Home
    name: str = ""
    parent: str = ""
    faces: tuple[Face, ...] = ()
    old_mark: str = ""
    note: str = ""
    contents: str = ""
    group: str = ""
    """Parts of one group are equals: each may go to any home of the group."""
    fragile: bool = False
    hidden: bool = False
    """Left off papers that a client may see."""
    retired: str = ""
    """Why the part is no longer there; its number is not given again."""
    generation: str = "A"

    @property
    def short(self) -> str:
        return short_number(self.family, self.number)

    @property
    def called(self) -> str:
        """Its name in words, else that of its family: `drawer`, `upper hinge`, `rear left leg`."""
        if self.family is Family.LEG and self.name == leg_name(self.home.spot):
            return f"{place_word(self.home.spot)} leg"
        return part_word(self.name) or family_word(self.family)

    def face(self, name: str) -> Face | None:
        return next((f for f in self.faces if f.name == name), None)

    def spot(self, face: str = "") -> Spot:
        """A face of this part among all of its piece; the part as a whole when none is named."""
        return Spot(self.short, face)

    def with_path(self, path: str, names: frozenset[str] | None = None) -> Part:
        """The part with `path` on the named faces; on those that show when none are named."""
        chosen = names if names is not None else SHOWN[self.family]
        faces = tuple(replace(f, path=path) if f.name in chosen else f for f in self.faces)
        return replace(self, faces=faces)


_FRONT_EDGES = ("top edge", "bottom edge", "left edge", "right edge")

FACES: dict[Family, tuple[str, ...]] = {
    Family.DRAWER: ("front", *_FRONT_EDGES, "sides", "inside", "back", "bottom"),
    Family.DOOR: ("front", *_FRONT_EDGES, "back"),
    Family.SHELF: ("top", "front edge", "underside"),
    Family.LEG: ("outside", "joint"),
    Family.PULL: ("face",),
    Family.LOCK: ("face",),
    Family.RUNNER: ("whole",),
    Family.TOP: ("top", "front edge", "left edge", "right edge", "back edge", "underside"),
    Family.CARCASE: ("rails", "left side", "right side", "top", "base", "back", "inside"),
    Family.BAG: (),
    Family.OTHER: ("whole",),
    Family.HOME: (),
}
"""Faces that a new part of each family has."""

SHOWN: dict[Family, frozenset[str]] = {
    Family.DRAWER: frozenset({"front", *_FRONT_EDGES}),
    Family.DOOR: frozenset({"front", *_FRONT_EDGES}),
    Family.SHELF: frozenset({"top", "front edge"}),
    Family.LEG: frozenset({"outside"}),
    Family.PULL: frozenset({"face"}),
    Family.LOCK: frozenset({"face"}),
    Family.RUNNER: frozenset({"whole"}),
    Family.TOP: frozenset({"top", "front edge", "left edge", "right edge", "back edge"}),
    Family.CARCASE: frozenset({"rails", "left side", "right side", "top", "base"}),
    Family.BAG: frozenset(),
    Family.OTHER: frozenset({"whole"}),
    Family.HOME: frozenset(),
}
"""Faces that people see; a path given to a part without naming faces goes to these."""

_RAW_METAL = frozenset({Family.PULL, Family.LOCK})

FAMILY_NAMES: dict[Family, str] = {
    Family.DRAWER: "drawer",
    Family.DOOR: "door",
    Family.SHELF: "shelf",
    Family.LEG: "leg",
    Family.PULL: "pull",
    Family.LOCK: "lock or key",
    Family.RUNNER: "runner",
    Family.TOP: "top",
    Family.CARCASE: "carcase",
    Family.BAG: "bag",
    Family.OTHER: "part",
    Family.HOME: "home",
}

"""What a part is called by its family in files and in JSON; `called` says it in words."""


def many_of(name: str) -> str:
    """How several parts of one name are typed: `drawers`, `shelves`."""
    return {"shelf": "shelves", "lock or key": "locks and keys"}.get(name, name + "s")


def leg_name(spot: str) -> str:
    """What a leg is called in the book that nobody named otherwise."""
    return f"{spot} {FAMILY_NAMES[Family.LEG]}"


def family_word(family: Family) -> str:
    """`drawer`: one part of a family, in words."""
    return part_word(FAMILY_NAMES[family])


_STICK_ON: dict[Family, tuple[str, ...]] = {
    Family.DRAWER: ("back", "bottom", "sides", "inside"),
    Family.DOOR: ("back",),
    Family.SHELF: ("underside",),
    Family.TOP: ("underside",),
    Family.CARCASE: ("inside", "back"),
    Family.BAG: ("bag",),
    Family.OTHER: (),
}

TIE_ON = "tie-on tag or bag"


class LabelSize(StrEnum):
    """What a part's label is: one to stick on, a small one for hardware, or a tag to tie on."""

    STICK = "label"
    SMALL = "small label"
    TAG = "tag"


_SMALL = frozenset({Family.PULL, Family.LOCK})


def new_faces(family: Family) -> tuple[Face, ...]:
    """Faces of a part fresh from the door: shown ones left as found until decided, others raw."""
    shown = SHOWN[family]
    return tuple(
        Face(name, LEAVE if name in shown or family in _RAW_METAL else RAW)
        for name in FACES[family]
    )


def label_size(part: Part) -> LabelSize:
    """Small for pulls, knobs, plates, locks and keys; a tag for what no label is stuck on."""
    if part.family in _SMALL:
        return LabelSize.SMALL
    return LabelSize.TAG if where_to_stick(part) == TIE_ON else LabelSize.STICK


def where_to_stick(part: Part) -> str:
    """A face with no planned finish and out of sight, else a tie-on tag or bag."""
    if part.family is Family.BAG:
        return "on the bag"
    for name in _STICK_ON.get(part.family, ()):
        face = part.face(name)
        if face and not face.finished:
            return f"on the {face_word(name)}" if name != "sides" else "on a side, outside"
    return TIE_ON
