"""The words that people see for what is a key: in the book, in files, in JSON, and as it is typed.

A key never changes; the words behind it are what another language has its own for. What is no key
is a name that a person gave, and stays as it was given.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from enum import StrEnum
from types import MappingProxyType

from partsbench.core.wording import clauses, listed

_FACES = MappingProxyType({
    "front": "front",
    "top edge": "top edge",
    "bottom edge": "bottom edge",
    "left edge": "left edge",
    "right edge": "right edge",
    "front edge": "front edge",
    "back edge": "back edge",
    "sides": "sides",
    "left side": "left side",
    "right side": "right side",
    "inside": "inside",
    "outside": "outside",
    "back": "back",
    "bottom": "bottom",
    "top": "top",
    "underside": "underside",
    "base": "base",
    "rails": "rails",
    "joint": "joint",
    "face": "face",
    "whole": "whole",
    "whole piece": "whole piece",
})  # fmt: skip

_EDGES = MappingProxyType({
    "top edge": "top",
    "bottom edge": "bottom",
    "left edge": "left",
    "right edge": "right",
    "front edge": "front",
    "back edge": "back",
})  # fmt: skip
"""Which edge it is, where several are told together."""

_PARTS = MappingProxyType({
    "drawer": ("drawer", "drawers"),
    "door": ("door", "doors"),
    "shelf": ("shelf", "shelves"),
    "leg": ("leg", "legs"),
    "pull": ("pull", "pulls"),
    "knob": ("knob", "knobs"),
    "plate": ("plate", "plates"),
    "lock": ("lock", "locks"),
    "key": ("key", "keys"),
    "lock or key": ("lock or key", "locks and keys"),
    "runner": ("runner", "runners"),
    "top": ("top", "tops"),
    "carcase": ("carcase", "carcases"),
    "bag": ("bag", "bags"),
    "part": ("part", "parts"),
    "home": ("home", "homes"),
})  # fmt: skip
"""What a part is called that nobody named otherwise: one, and several."""

_PATHS = MappingProxyType({
    "paint": "paint",
    "stain": "stain",
    "clear": "clear",
    "raw": "raw",
    "leave": "as found",
    "chalk_wax": "chalk wax",
    "dye_stain": "dye stain",
    "shellac_paint": "shellac paint",
})  # fmt: skip

_PLACES = MappingProxyType({
    "left": "left",
    "middle": "middle",
    "right": "right",
    "front left": "front left",
    "front right": "front right",
    "rear left": "rear left",
    "rear right": "rear right",
    "rear": "rear",
    "top": "top",
    "front middle": "front middle",
    "rear middle": "rear middle",
})  # fmt: skip

_CHOICES = MappingProxyType({
    "older": "older",
    "newer": "newer",
    "unknown": "unknown",
    "none": "none",
    "paint": "paint",
    "clear": "clear",
    "tested free": "none found",
    "tested lead": "lead found",
    "wet": "wet",
    "chemical": "chemical",
    "yes": "yes",
    "no": "no",
    "open": "open",
    "done": "done",
    "oil": "oil",
    "water": "water",
    "flat": "flat",
    "quarter": "quarter",
    "mixed": "mixed",
    "brush": "brush",
    "cup-gun": "cup-gun",
    "hvlp": "hvlp",
    "airless": "airless",
    "air-assisted-airless": "air-assisted-airless",
    "dip": "dip",
    "depth": "depth",
    "height": "height",
    "width": "width",
    "bought": "bought",
    "hardware": "hardware",
    "materials": "materials",
    "delivery": "delivery",
    "storage": "storage",
    "other": "other",
    "extra": "extra",
    "agreed": "agreed",
    "offer": "offer",
    "sold": "sold",
    "top width": "top width",
    "bottom width": "bottom width",
    "left height": "left height",
    "right height": "right height",
    "overall height": "overall height",
    "good": "good",
    "worn": "worn",
    "bent": "bent",
    "broken": "broken",
    "letter": "letter",
    "test kit": "test kit",
    "laboratory": "laboratory",
    "hours": "hours",
    "cost": "cost",
    "floor": "floor",
    "sale": "sale",
    "inch": "inch",
    "column": "column",
    "columns": "columns",
    "row": "row",
    "rows": "rows",
    "up": "up",
    "down": "down",
    "openings": "openings",
    "hidden": "hidden",
    "other parts": "other parts",
    "others": "others",
    "part": "part",
    "face": "face",
    "batch": "batch",
    "not known": "not known",
    "finished": "finished",
    "no finish planned": "no finish planned",
    "reached": "reached",
    "below": "below",
    "mass": "mass",
    "volume": "volume",
    "enclosed volume": "enclosed volume",
    "you": "you",
})  # fmt: skip
"""What may be chosen in a field, be typed as a fact, or stand in a table by itself."""

_LARGE = MappingProxyType({
    "GO": "GO",
    "WAIT": "WAIT",
    "LATE": "LATE",
    "STOP": "STOP",
    "OTHER JOB": "OTHER JOB",
    "DONE": "DONE",
    "OUT": "OUT",
    "HOME": "HOME",
    "NOW": "NOW",
    "FINISHED": "FINISHED",
})  # fmt: skip
"""The one large word."""

_BEFORE = MappingProxyType({
    "sand": "it is sanded",
    "recoat": "another coat",
    "tape": "tape",
    "handle": "handling",
    "touch": "it touches or is stacked",
    "service": "service",
})  # fmt: skip
"""Of a film, what it has to be dry before."""

_VALUES: Mapping[str, Mapping[str, str]] = MappingProxyType({
    "Answer": _LARGE,
    "WordLook": _LARGE,
    "Status": {
        "published": "published",
        "published, read in a copy": "published, read in a copy",
        "maker's sheet": "maker's sheet",
        "trade press": "trade press",
        "calculated": "calculated",
        "common practice": "common practice",
        "from memory": "from memory",
        "tin": "tin",
        "own": "own",
    },
    "OpeningKind": {
        "drawer": "drawer",
        "door": "door",
        "open shelf": "open shelf",
        "false front": "false front",
        "empty": "empty",
    },
    "PathKind": {
        "paint": "paint",
        "stain": "stain",
        "clear": "clear",
        "raw": "raw",
        "leave": "leave",
    },
    "Where": {
        "in the piece": "in the piece",
        "out": "out",
        "home": "home",
        "in a wrong home": "in a wrong home",
        "stays": "stays",
    },
    "PartStand": {
        "late": "late",
        "held": "held",
        "ready": "ready",
        "waits": "waits",
        "every step done": "every step done",
        "no finish planned": "no finish planned",
    },
    "Ready": {
        "sand": "sand",
        "recoat": "recoat",
        "tape": "tape",
        "handle": "handle",
        "touch": "touch",
        "service": "service",
    },
    "MaskState": {
        "masked": "masked",
        "no mask needed": "no mask needed",
        "not known": "not known",
    },
    "FitResult": {
        "runs free": "runs free",
        "tight": "tight",
        "needs wax": "needs wax",
        "sticks": "sticks",
    },
    "Lead": {
        "bare wood": "bare wood",
        "newer than the year that local rules name": "newer than the year that local rules name",
        "tested: none found": "tested: none found",
        "tested: lead found": "tested: lead found",
        "not known": "not known",
        "nobody has said": "nobody has said",
    },
    "Numbering": {
        "by row": "by row",
        "by column": "by column",
        "from the bottom": "from the bottom",
    },
    "Hands": {
        "clean": "clean",
        "dusty": "dusty",
        "gloves": "gloves",
    },
    "Level": {
        "hold": "hold",
        "check": "check",
        "warn": "warn",
        "advise": "advise",
    },
    "HowTimed": {
        "measured by the clock": "measured by the clock",
        "corrected by hand": "corrected by hand",
        "estimated": "estimated",
    },
})  # fmt: skip
"""By the class of the key, for two classes may have the same key."""


_SAID = MappingProxyType({
    ("age", "older"): "older than the year that local rules name",
    ("age", "newer"): "newer than the year that local rules name",
    ("age", "unknown"): "of unknown age",
    ("old finish", "none"): "bare",
    ("old finish", "paint"): "painted",
    ("old finish", "clear"): "with a clear finish",
    ("old finish", "unknown"): "with an unknown finish",
    ("lead", "unknown"): "not tested for lead",
    ("lead", "tested free"): "a test found no lead",
    ("lead", "tested lead"): "a test found lead",
    ("lead", "wet"): "worked wet",
    ("lead", "chemical"): "worked with stripper",
})  # fmt: skip
"""What was said of an old finish, by key and value."""


def face_word(face: str) -> str:
    """`top edge`, as it is shown."""
    return _FACES.get(face, face)


def face_words(faces: Iterable[str]) -> str:
    """`front, back`: faces by their keys, in no sentence."""
    return listed(map(face_word, faces))


def grouped_faces(faces: Sequence[str]) -> str:
    """Every face in words; those that are edges together: `front; edges: top, left, right`."""
    edges = [_EDGES[face] for face in faces if face in _EDGES]
    if len(edges) < 2:
        return face_words(faces)
    others = face_words(face for face in faces if face not in _EDGES)
    return clauses([others, f"edges: {listed(edges)}"])


def counted_faces(faces: Sequence[str]) -> str:
    """`front, 4 edges`: faces in words, three edges or more by their count."""
    edges = sum(face in _EDGES for face in faces)
    if edges < 3:
        return face_words(faces)
    others = face_words(face for face in faces if face not in _EDGES)
    return listed([others, f"{edges} edges"])


def part_word(name: str) -> str:
    """`shelf`: what a part is called, one of it."""
    return _PARTS[name][0] if name in _PARTS else name


def parts_word(name: str) -> str:
    """`shelves`: several parts of one name."""
    return _PARTS[name][1] if name in _PARTS else name


def choice_word(key: str) -> str:
    """What may be chosen in a field, and a word by itself in a table."""
    return _CHOICES.get(key) or part_word(place_word(key))


def fact_words(key: str, value: str) -> str:
    """`a test found no lead`, `veneer yes`: what was said of a piece, a part or a face."""
    return _SAID.get((key, value)) or f"{key} {value}"


def before_word(ready: StrEnum) -> str:
    """`another coat`: what a film has to be dry before."""
    return _BEFORE[ready.value]


def large_word(key: str) -> str:
    """`DONE`, `OUT`: the large word of what is no answer to a scan."""
    return _LARGE[key]


def path_word(path: str) -> str:
    """A finish path in a word or two, for a tile: `chalk wax`, `as found`."""
    return _PATHS.get(path) or path.replace("_", " ")


def place_word(place: str) -> str:
    """`rear left`, `front middle 2`: a place in the front, or of a corner."""
    words, _, number = place.rpartition(" ")
    if number.isdigit() and words in _PLACES:
        return f"{_PLACES[words]} {number}"
    return _PLACES.get(place, place)


def fit_word(result: str) -> str:
    """How a drawer runs, of what the book keeps of it."""
    return _VALUES["FitResult"].get(result, result)


def word_of(key: StrEnum) -> str:
    """What is said for a state, a kind, or an answer that is a key too."""
    return _VALUES[type(key).__name__].get(key.value, key.value)
