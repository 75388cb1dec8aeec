"""The codes that are no labels: verbs for the wall, reasons, faces, people, cups, loads, places.

They have the same ten characters as a label, under tags of letters alone, which no piece gets:
one shape and one check character for all that a scanner reads.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from partsbench.core.finish.answer import ANY_HOLD, WORST_FIRST
from partsbench.core.finish.loads import SPRAYED
from partsbench.core.finish.old_finish import (
    AGE,
    BARE,
    CHEMICAL,
    FOUND,
    FREE,
    LEAD,
    NEWER,
    OLD,
    UNKNOWN,
    WET,
)
from partsbench.core.finish.steps import Operation
from partsbench.core.piece.codes import Code, CodeFault, Family, parse_code


class Sort(StrEnum):
    """What a code that is no label stands for; the value is its tag."""

    VERB = "VERB"
    REASON = "WHYS"
    FACE = "FACE"
    PERSON = "CREW"
    CUP = "CVPS"
    LOAD = "STRP"
    PLACE = "RACK"


class Key(StrEnum):
    """The verbs that the bench treats each in a way of its own."""

    DO = "do"
    UNDO = "undo"
    REDO = "redo"
    INSIST = "insist"
    SEND_BACK = "send back"
    SKIP = "skip"
    EXCEPT = "all except"
    END = "end"
    LOAD = "next load"
    OUT = "out"
    HOME = "home"
    PIECE = "this piece"
    NO_MASK = "no mask needed"
    OLD_FINISH = "old finish"
    TRIED_READY = "tried, ready"
    TRIED_NOT = "tried, not ready"
    RAGS_FLAT = "rags flat"
    RAGS_WATER = "rags in water"
    STRAINED = "strained"
    CUP_EMPTY = "cup empty"
    START = "start"
    STOP = "stop"
    CAMERA = "camera"
    OFF = "verb off"
    KEEP = "keep recording"


@dataclass(frozen=True, slots=True)
class Verb:
    """A verb: its number on the wall, its name there, and what it does to the parts after it.

    operations: the step that is recorded must be one of these; () for any. count: how many parts
    ALL EXCEPT takes before it is done by itself; 0 for until END.
    """

    number: int
    name: str
    key: Key
    says: str
    operations: frozenset[Operation] = frozenset()
    count: int = 0
    wet: bool = False
    says_of_old: tuple[str, str] = ("", "")
    """What it says of the old finish of the parts after it: key and answer of a fact."""
    how: str = ""
    """How that was found out; it stands in the record of the test."""
    stays: bool = True
    """It holds for each part until another verb; otherwise it is done at once or for one part."""

    @property
    def code(self) -> str:
        return str(Code(Sort.VERB, Family.OTHER, self.number))


@dataclass(frozen=True, slots=True)
class Reason:
    """Why something is insisted upon, sent back or left out. `bare`: back to bare wood."""

    number: int
    name: str
    key: Key
    bare: bool = False

    @property
    def code(self) -> str:
        return str(Code(Sort.REASON, Family.OTHER, self.number))


def _done(number: int, name: str, says: str, *operations: Operation) -> Verb:
    return Verb(number, name, Key.DO, says, frozenset(operations))


def _old(number: int, name: str, says: str, key: str, value: str, how: str = "") -> Verb:
    return Verb(number, name, Key.OLD_FINISH, says, says_of_old=(key, value), how=how)


_O = Operation
VERBS = (
    _done(1, "DONE", "The next step of each part is done, whatever it is."),
    Verb(2, "UNDO", Key.UNDO, "Takes the last record back.", stays=False),
    Verb(3, "REDO", Key.REDO, "Does again what was undone.", stays=False),
    Verb(4, "INSIST", Key.INSIST, "Record what was refused; then scan a reason."),
    Verb(5, "SENT BACK", Key.SEND_BACK, "Back to an earlier step; scan a reason, then parts."),
    Verb(6, "LEFT OUT", Key.SKIP, "The next optional step is left out."),
    Verb(7, "VERB OFF", Key.OFF, "No verb any more.", stays=False),
    Verb(8, "NEXT LOAD", Key.LOAD, "Proposes the next load of the piece.", stays=False),
    Verb(9, "END", Key.END, "The whole load is coated.", stays=False),
    Verb(10, "ALL EXCEPT", Key.EXCEPT, "The load but the parts after it, until END."),
    Verb(11, "ALL EXCEPT 1", Key.EXCEPT, "The load but one part.", count=1),
    Verb(12, "ALL EXCEPT 2", Key.EXCEPT, "The load but two parts.", count=2),
    Verb(13, "ALL EXCEPT 3", Key.EXCEPT, "The load but three parts.", count=3),
    _done(20, "WASHED", "Washed.", _O.WASH),
    _done(21, "RINSED", "Rinsed.", _O.RINSE),
    _done(22, "STRIPPED", "Stripper is on, or scraped off.", _O.STRIP, _O.SCRAPE),
    _done(23, "RESIDUE WIPED", "Stripper residue wiped off.", _O.RESIDUE),
    _done(24, "FILLED OR MENDED", "Filled, glued, patched.", _O.FILL, _O.REPAIR),
    _done(25, "SANDED", "Sanded or scuffed.", _O.SAND),
    Verb(37, "SANDED WET", Key.DO, "Sanded wet.", frozenset({_O.SAND}), wet=True),
    _done(26, "CONDITIONED", "Conditioner is on.", _O.CONDITION),
    _done(27, "STAINED", "Stain or dye is on.", _O.STAIN, _O.DYE),
    _done(28, "WIPED", "Stain or conditioner wiped off.", _O.WIPE, _O.WIPE_CONDITIONER),
    _done(29, "COAT ON", "Sealed, primed, coloured, clear or wax on.", *SPRAYED, _O.WAX),
    _done(30, "BUFFED", "Wax buffed.", _O.BUFF),
    _done(31, "TOUCHED UP", "Touched up.", _O.TOUCH_UP),
    _done(32, "MASK ON", "Masked.", _O.MASK),
    _done(33, "MASK OFF", "Mask taken off.", _O.UNMASK),
    Verb(34, "NO MASK NEEDED", Key.NO_MASK, "What this face meets needs no cover."),
    Verb(35, "TRIED READY", Key.TRIED_READY, "Tried for its next step: it is ready."),
    Verb(36, "TRIED NOT READY", Key.TRIED_NOT, "Tried for its next step: not ready yet."),
    _old(60, "BARE WOOD", "No old finish is on it.", OLD, BARE),
    _old(61, "NEWER", "Newer than the year that your local rules name for lead.", AGE, NEWER),
    _old(62, "KIT, NO LEAD", "Tested with a kit: none found.", LEAD, FREE, "test kit"),
    _old(63, "KIT, LEAD", "Tested with a kit: lead found.", LEAD, FOUND, "test kit"),
    _old(64, "LAB, NO LEAD", "Tested by a laboratory: none found.", LEAD, FREE, "laboratory"),
    _old(65, "LAB, LEAD", "Tested by a laboratory: lead found.", LEAD, FOUND, "laboratory"),
    _old(66, "LEAD NOT KNOWN", "Nobody knows whether it holds lead.", LEAD, UNKNOWN),
    _old(67, "WORKED WET", "Its old finish is worked wet only.", LEAD, WET),
    _old(68, "BY STRIPPER", "Its old finish is taken off by chemistry.", LEAD, CHEMICAL),
    Verb(40, "OUT", Key.OUT, "Out of the piece."),
    Verb(41, "HOME", Key.HOME, "Back in its home."),
    Verb(42, "THIS PIECE", Key.PIECE, "The piece of the next part is at work.", stays=False),
    Verb(50, "RAGS FLAT", Key.RAGS_FLAT, "Oily rags are spread flat to dry.", stays=False),
    Verb(51, "RAGS IN WATER", Key.RAGS_WATER, "Oily rags are under water in a lidded metal can.",
         stays=False),
    Verb(52, "CUP STRAINED", Key.STRAINED, "The mix in hand was strained.", stays=False),
    Verb(53, "CUP EMPTY", Key.CUP_EMPTY, "The mix in hand is used up.", stays=False),
    Verb(54, "START WORK", Key.START, "Hands-on time begins.", stays=False),
    Verb(55, "STOP WORK", Key.STOP, "Hands-on time ends.", stays=False),
    Verb(56, "CAMERA", Key.CAMERA, "The camera of the window goes on, or off.", stays=False),
)  # fmt: skip

KEEP = Verb(0, "KEEP RECORDING", Key.KEEP, "Each part scanned now is recorded so, once.")
"""The verb of the keyboard: it hangs on no wall."""

GROUPS = (
    ("The next step, whatever it is", (1, 6)),
    ("Preparing", (20, 21, 22, 23, 24, 25, 37)),
    ("Colour and coats", (26, 27, 28, 29, 30, 31)),
    ("Masks", (32, 33, 34)),
    ("Tried", (35, 36)),
    ("Loads of the gun", (8, 9, 10, 11, 12, 13)),
    ("Cups and rags", (52, 53, 50, 51)),
    ("Parts, the piece, the clock", (40, 41, 42, 54, 55, 56)),
    ("Against a hold, or a step back", (4, 5)),
    ("Old finish, before it is stripped or sanded", (60, 61, 62, 63, 64, 65, 66, 67, 68)),
    ("Taking back", (2, 7, 3)),
)
"""How the verbs hang on the wall, by their numbers. What takes back hangs last, away from DONE: a
scan that slips must not undo what it meant to do."""

REASONS = (
    Reason(1, "tried, it is ready", Key.INSIST),
    Reason(2, "the tin says so", Key.INSIST),
    Reason(3, "tried on a test patch", Key.INSIST),
    Reason(4, "agreed with the client", Key.INSIST),
    Reason(5, "done earlier, noted late", Key.INSIST),
    Reason(11, "run or sag", Key.SEND_BACK),
    Reason(12, "dust in the coat", Key.SEND_BACK),
    Reason(13, "missed window", Key.SEND_BACK),
    Reason(14, "sanded through", Key.SEND_BACK, bare=True),
    Reason(15, "blotchy or wrong colour", Key.SEND_BACK, bare=True),
    Reason(16, "damaged", Key.SEND_BACK),
)

WHOLE_PIECE = "whole piece"
"""Not a face, but of how much something is said: all of the piece that the next part is of."""

FACES = (
    "front", "top edge", "bottom edge", "left edge", "right edge", "sides", "inside", "back",
    "bottom", "top", "front edge", "back edge", "underside", "outside", "joint", "rails",
    "left side", "right side", "base", "face", "whole", WHOLE_PIECE,
)  # fmt: skip
"""Names of faces in the order of their numbers on the wall, from 1."""


@dataclass(frozen=True, slots=True)
class WallCode:
    """A code that is no label: what sort of thing, and its number."""

    sort: Sort
    number: int

    def __str__(self) -> str:
        return str(Code(self.sort, Family.OTHER, self.number))


def wall_code(text: str) -> WallCode | None:
    """What a scanned text stands for besides labels; None for a label and for what is no code."""
    code = parse_code(text)
    if isinstance(code, CodeFault) or not is_reserved(code.tag):
        return None
    return WallCode(Sort(code.tag), code.number)


def is_reserved(tag: str) -> bool:
    """True for the tags that no piece may bear."""
    return tag in set(Sort)


def verb_numbered(number: int) -> Verb | None:
    return next((v for v in VERBS if v.number == number), None)


def reason_numbered(number: int) -> Reason | None:
    return next((r for r in REASONS if r.number == number), None)


def reasons_for(key: Key) -> tuple[Reason, ...]:
    return tuple(r for r in REASONS if r.key is key)


def find_reason(text: str, key: Key) -> Reason | None:
    """The reason of the wall that a person means: by its name, a start of it, number or code."""
    words = " ".join(text.lower().split())
    if not words:
        return None
    code = wall_code(text)
    for reason in reasons_for(key):
        if code == WallCode(Sort.REASON, reason.number) or words in (
            reason.name,
            str(reason.number),
        ):
            return reason
    return next((r for r in reasons_for(key) if r.name.startswith(words)), None)


def why_insisted(text: str) -> str:
    """The reason as it is kept: of the wall where it is one, else in the person's own words."""
    found = find_reason(text, Key.INSIST)
    return found.name if found else " ".join(text.split())


def insists(asked: str | Iterable[str] | Mapping[str, str]) -> dict[str, str]:
    """The reasons given, by the hold that each lifts: `not dry yet: the tin says so`.

    A reason that names no hold stands under `ANY_HOLD`: it lifts a hold that stands alone.
    """
    if isinstance(asked, Mapping):
        pairs = [(rule, why) for rule, why in asked.items()]
    else:
        pairs = [_named_hold(text) for text in ([asked] if isinstance(asked, str) else asked)]
    return {rule: said for rule, why in pairs if (said := why_insisted(why))}


def _named_hold(text: str) -> tuple[str, str]:
    rule, colon, why = text.partition(":")
    named = " ".join(rule.lower().split())
    return (named, why) if colon and named in WORST_FIRST else (ANY_HOLD, text)


def insisted_words(lifted: Mapping[str, str]) -> str:
    """`the tin says so (not dry yet); agreed with the client (wrong cup)`: kept for ever."""
    return "; ".join(f"{why} ({rule})" if rule else why for rule, why in lifted.items())


def face_numbered(number: int) -> str:
    """The name of a face on the wall; "" when there is none of that number."""
    return FACES[number - 1] if 1 <= number <= len(FACES) else ""
