"""What a proof sheet says: who brought home what, when and how, and what each face got last."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum

from partsbench.core.key_words import face_words, fit_word
from partsbench.core.naming import ALL, together
from partsbench.core.piece.drawing import Drawing, Shape, ShapeKind
from partsbench.core.wording import notes
from partsbench.paper.drawing import DrawnMark, ShapeLook

DOOR_STRIP = 0.36
"""Share of a door, at its left, that keeps its own number and mark beside what it hides."""


class Back(StrEnum):
    """Where a part is when the proof is made."""

    HOME = "home"
    MISSING = "not home"
    STAYS = "stays"
    """It is never taken off: the carcase, a false front."""


@dataclass(frozen=True, slots=True)
class ProofFace:
    """A face with a finish path: the last step recorded on it, and what is still to be done."""

    name: str
    path: str
    last: str = ""
    when: datetime | None = None
    who: str = ""
    next: str = ""
    """The step that it waits for; empty when it is finished."""
    insisted: bool = False
    """The last step was recorded against a hold."""


@dataclass(frozen=True, slots=True)
class ProofPart:
    """A part, where it lives, and how we know that it is there."""

    short: str
    name: str
    home: str
    back: Back
    how: str = ""
    when: datetime | None = None
    who: str = ""
    fit: str = ""
    fit_open: bool = False
    """The fit result still wants work."""
    eliminated: bool = False
    """It was told by elimination: nobody scanned it."""
    why: str = ""
    """What is known of a part that is not home."""
    faces: tuple[ProofFace, ...] = ()
    hidden: bool = False
    """Left off papers that a client may see; so is what sits on a hidden part: mark it, too."""


@dataclass(frozen=True, slots=True)
class ProofContent:
    """All that a proof sheet says. Times are printed as they are: give them in the shop's own."""

    codename: str
    tag: str
    drawing: Drawing
    when: datetime
    who: str
    parts: tuple[ProofPart, ...]
    title: str = ""
    notes: tuple[str, ...] = ()
    unlisted_away: int = 0
    """Parts left off this copy that are not home: the verdict counts them without naming them."""


def client_copy(content: ProofContent) -> ProofContent:
    """The same without the parts that a client is not to see, and without their shapes."""
    left_off = [p for p in content.parts if p.hidden]
    hidden = {p.short for p in left_off}
    shapes = tuple(s for s in content.drawing.shapes if s.part not in hidden)
    return replace(
        content,
        parts=tuple(p for p in content.parts if not p.hidden),
        drawing=replace(content.drawing, shapes=shapes),
        unlisted_away=sum(p.back is Back.MISSING for p in left_off),
    )


def verdict(content: ProofContent) -> tuple[bool, str]:
    """Is every part listed here home, and the sentence that says so."""
    counted = [p for p in content.parts if p.back is not Back.STAYS]
    away = [p for p in counted if p.back is Back.MISSING]
    told = _why_away(away)
    if content.unlisted_away:
        told.append(f"{content.unlisted_away} not listed here")
    if told:
        total = len(counted) + content.unlisted_away
        missing = len(away) + content.unlisted_away
        return False, f"NOT COMPLETE: {missing} of {total} not home: {'; '.join(told)}."
    if not counted:
        return False, "NOTHING TO PROVE: no part of this piece comes off."
    guessed = sum(p.eliminated for p in counted)
    home = f"COMPLETE: {_all(len(counted))} home"
    but = f"{guessed} of them told by elimination, not scanned" if guessed else ""
    return True, f"{notes(home, but)}."


def _why_away(away: Sequence[ProofPart]) -> list[str]:
    """`D5 is out`; of several for one reason `D1–D54 (is out)`."""
    whys: dict[str, list[str]] = {}
    for part in away:
        whys.setdefault(part.why, []).append(part.short)
    return [
        f"{shorts[0]} {why}".strip() if len(shorts) == 1 or not why
        else f"{together(shorts, ALL)} ({why})"
        for why, shorts in whys.items()
    ]  # fmt: skip


def client_verdict(content: ProofContent) -> str:
    """The verdict to the one whose piece it is; "" where only the plain one will do."""
    counted = [p for p in content.parts if p.back is not Back.STAYS]
    away = any(p.back is Back.MISSING for p in counted) or content.unlisted_away
    if away or not counted or any(p.eliminated for p in counted):
        return ""
    return f"Complete: {_all(len(counted))} back in place."


def reservations(content: ProofContent) -> list[str]:
    """What the verdict must not hide, a sentence each."""
    guessed = [p.short for p in content.parts if p.eliminated]
    fits = [f"{p.short} {fit_word(p.fit)}" for p in content.parts if p.fit_open]
    unfinished = [p.short for p in content.parts if any(f.next for f in p.faces)]
    insisted = [p.short for p in content.parts if any(f.insisted for f in p.faces)]
    told = [
        ("Told by elimination, not scanned", guessed),
        ("Fit still open", fits),
        ("Faces not finished on", unfinished),
        ("Last step recorded against a hold on", insisted),
    ]
    return [f"{lead}: {together(names, ALL)}." for lead, names in told if names] + list(
        content.notes
    )


def proof_drawing(content: ProofContent) -> Drawing:
    """The piece with what doors hide moved aside, so that a door keeps room for its own mark."""
    drawing = content.drawing
    doors = _hiding(drawing)

    def aside(shape: Shape) -> Shape:
        door = next((d for d in doors if _over(d, shape)), None)
        if door is None or shape is door or not _is_hidden(drawing, shape):
            return shape
        left = door.x + door.width * DOOR_STRIP + (shape.x - door.x) * (1 - DOOR_STRIP)
        return replace(shape, x=left, width=shape.width * (1 - DOOR_STRIP))

    return replace(drawing, shapes=tuple(aside(s) for s in drawing.shapes))


def proof_marks(content: ProofContent) -> list[DrawnMark]:
    """Every home ticked or crossed in the drawing; pulls are crossed only when they are missing."""
    looks = {p.short: _look(p) for p in content.parts}
    doors = _hiding(content.drawing)
    marks = []
    for shape in proof_drawing(content).shapes:
        look = looks.get(shape.part)
        if look is None or (shape.kind is ShapeKind.PULL and look is not ShapeLook.CROSSED):
            continue
        words = "" if shape.kind in (ShapeKind.PULL, ShapeKind.TOP) else shape.part
        strip = replace(shape, width=shape.width * DOOR_STRIP) if shape in doors else shape
        marks.append(DrawnMark(strip, look, words))
    return marks


def _hiding(drawing: Drawing) -> list[Shape]:
    """The doors that hide something."""
    hidden = drawing.of_kind(ShapeKind.HIDDEN)
    return [d for d in drawing.of_kind(ShapeKind.OPENING) if any(_over(d, h) for h in hidden)]


def _is_hidden(drawing: Drawing, shape: Shape) -> bool:
    """A hidden opening, or a pull on what lives in one."""
    hidden = drawing.of_kind(ShapeKind.HIDDEN)
    return shape in hidden or (
        shape.kind is ShapeKind.PULL and any(_over(h, shape) for h in hidden)
    )


def _over(outer: Shape, inner: Shape) -> bool:
    """Whether the middle of one shape lies on another."""
    x, y = inner.middle
    return outer.x < x < outer.x + outer.width and outer.y < y < outer.y + outer.height


def face_lines(faces: Iterable[ProofFace]) -> list[tuple[str, ProofFace]]:
    """Faces that say the same told in one line: their names, and one of them."""
    alike: dict[ProofFace, list[str]] = {}
    for face in faces:
        alike.setdefault(replace(face, name=""), []).append(face.name)
    return [(face_words(names), face) for face, names in alike.items()]


def _look(part: ProofPart) -> ShapeLook | None:
    if part.back is Back.STAYS:
        return None
    if part.back is Back.MISSING:
        return ShapeLook.CROSSED
    return ShapeLook.DOUBTED if part.eliminated else ShapeLook.TICKED


def _all(count: int) -> str:
    return "the one part is" if count == 1 else f"all {count} parts are"
