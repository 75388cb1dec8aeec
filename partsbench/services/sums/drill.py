"""Drilling sheets: where to drill a front, at true size, and whether it is the right front."""

from __future__ import annotations

from dataclasses import dataclass, replace

from partsbench.core.outcomes import Answer, Outcome, Refused, Tone
from partsbench.core.piece.codes import SHEET, Code, Family, parse_code
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import home_words
from partsbench.core.said_often import not_read_back
from partsbench.core.sums import drilling, units
from partsbench.core.sums.drilling import Holes, Scale
from partsbench.core.sums.fronts import FrontPlan
from partsbench.core.sums.holes import HolePlan
from partsbench.core.wording import sentences
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.shop import Shop
from partsbench.services.sums.ground import SumGround, front_of, ground
from partsbench.services.sums.holes import choices
from partsbench.services.sums.told import Told, good, once


@dataclass(frozen=True, slots=True)
class Drilling:
    """Where to drill one front, and what the printer needs to be true."""

    part: str
    holes: Holes
    scale: Scale
    pull: str
    lacks: tuple[str, ...]
    measures: units.Measures

    @property
    def sentence(self) -> str:
        """`D5: 2 holes, 93 mm from the top: … Your printer is 1.2 % small; corrected.`"""
        holes = f"{self.part}: {self.holes.say(self.measures)}"
        return sentences(holes, "" if self._unmeasured else self.scale.sentence)

    @property
    def _unmeasured(self) -> bool:
        return any("printed bar" in lack for lack in self.lacks)


@dataclass(frozen=True, slots=True)
class DrillSheet:
    """A sheet that was read back from its own pages."""

    drilling: Drilling
    code: str
    pdf: bytes
    pages: int


def where_to_drill(
    shop: Shop,
    tag: str,
    asked: str,
    *,
    pull: str = "",
    spacing: str = "",
    count: int = 1,
    from_top: str = "",
    from_side: str = "",
) -> Drilling | Refused:
    """The hole centres of a front: those that a noted pull wants there, or of a spacing typed."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    found = front_of(on, asked)
    if isinstance(found, Refused):
        return found
    part, size = found
    if pull:
        holes = _of_pull(shop, on, part, pull, size)
    else:
        holes = _of_spacing(on, size, spacing, count, from_top, from_side)
    if isinstance(holes, Refused):
        return holes
    scale = _scale(on)
    if isinstance(scale, Refused):
        return scale.told_in(on.measures)
    unmeasured = () if "bar across" in on.habits.typed else ("the printed bar as you measured it",)
    lacks = once(*_unknown_sizes(on, part), *holes.lacks, *scale.lacks, *unmeasured)
    return Drilling(part.short, holes, scale, pull, lacks, on.measures)


def drill_sheet(shop: Shop, tag: str, found: Drilling, paper: str = "") -> DrillSheet | Refused:
    """The sheet as PDF, its code read back from every page before it is handed out."""
    from partsbench.paper.drilling import DrillingContent, drilling_sheet
    from partsbench.reading.found import ReadingError
    from partsbench.reading.pages import read_back

    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    part = on.piece.part(found.part)
    assert part is not None
    code = str(replace(on.piece.code(part), generation=SHEET))
    content = DrillingContent(
        code,
        tag,
        on.piece.codename,
        part.short,
        home_words(on.piece, part),
        found.holes,
        found.holes.say(found.measures),
        found.pull,
        found.measures,
        measured=not _unknown_sizes(on, part),
    )
    pdf = drilling_sheet(content, found.scale, paper or on.habits.word("paper", "a4"))
    if isinstance(pdf, Refused):
        return pdf
    try:
        pages = read_back(pdf)
    except ReadingError as error:
        return Refused(not_read_back(error))
    if any(page.codes != (code,) for page in pages):
        return Refused("The sheet could not be read back; it is not handed out.")
    return DrillSheet(found, code, pdf, len(pages))


def sheet_front(shop: Shop, text: str, here: str = "") -> KnownLabel | Outcome | Refused:
    """The front that a scanned drilling sheet was drawn for; a label is no sheet, and is told."""
    code = parse_code(text)
    if isinstance(code, Code) and code.of_sheet:
        piece = shop.piece(code.tag)
        part = piece.numbered(code.family, code.number) if piece else None
        return identify(shop, str(piece.code(part)) if piece and part else text, here)
    known = identify(shop, text, here)
    if isinstance(known, Outcome):
        return known
    of = f"{known.piece.codename} {known.part.short}" if known.part else "a home"
    return Refused(
        f"That is the label of {of}, or a sheet from before sheets bore a code of their own. "
        "Scan the sheet; print an old one anew."
    )


def right_front(shop: Shop, sheet: str, front: str, here: str = "") -> Outcome | Refused:
    """Whether the front in hand is the one that the sheet was drawn for: scan both, then drill.

    The sheet's own code is wanted first, then the label on the front: one of them twice is no
    comparison.
    """
    drawn = sheet_front(shop, sheet, here)
    if not isinstance(drawn, KnownLabel):
        return drawn
    held = identify(shop, front, here)
    if isinstance(held, Outcome):
        return held
    if held.part is None:
        return Refused("That is the label of a home; scan the front itself.")
    assert drawn.part is not None
    right = drawn.piece.tag == held.piece.tag and drawn.part.short == held.part.short
    name = f"{held.piece.codename} {held.part.short}"
    if right:
        sentence = f"Right front: {name}. Top edge up, finished side towards you."
    else:
        other = f"{drawn.piece.codename} {drawn.part.short}"
        sentence = f"Do not drill: the sheet is for {other}, this is {name}."
    return Outcome(
        Answer.GO if right else Answer.STOP,
        Tone.QUIET if right else Tone.REFUSED,
        sentence,
        tag=held.piece.tag,
        part=held.part.short,
    )


def tell_drilling(found: Drilling) -> Told:
    """One row for each hole."""
    show = found.measures
    rows = tuple(
        (str(i), units.show_length(p.x, show, 1), units.show_length(p.y, show, 1))
        for i, p in enumerate(found.holes.centres, 1)
    )
    data = {
        "part": found.part,
        "centres": [[p.x, p.y] for p in found.holes.centres],
        "width": found.holes.width,
        "height": found.holes.height,
        "scale": {"across": found.scale.across, "down": found.scale.down},
    }
    head = ("hole", "from the left", "from the top")
    sources = once(*found.holes.sources, *found.scale.sources)
    return Told(found.sentence, head, rows, found.lacks, sources, data=data)


def _of_pull(
    shop: Shop, on: SumGround, part: Part, pull: str, size: tuple[float, float]
) -> Holes | Refused:
    found = choices(shop, on.piece.tag, doors=part.family is Family.DOOR)
    if isinstance(found, Refused):
        return found
    choice = next((c for c in found.choices if c.candidate.name == pull), None)
    if choice is None:
        return Refused(f"There is no candidate “{pull}”.")
    if not isinstance(choice.plan, HolePlan):
        return choice.plan.told_in(on.measures)
    front: FrontPlan | None = next((f for f in choice.plan.fronts if f.front == part.short), None)
    if front is None:
        return Refused(f"{part.short} is no front that takes a pull.")
    return Holes(*size, front.centres)


def _of_spacing(
    on: SumGround, size: tuple[float, float], spacing: str, count: int, top: str, side: str
) -> Holes | Refused:
    mm: dict[str, float | None] = {}
    for what, text in (("hole spacing", spacing), ("from the top", top), ("from the side", side)):
        if not text.strip():
            mm[what] = None
            continue
        read = 0.0 if text.strip() == "0" else units.length(text, on.measures, what)
        if isinstance(read, Refused):
            return read.told_in(on.measures)
        mm[what] = read if isinstance(read, float) else read.value
    apart = mm["hole spacing"]
    if apart is None:
        return Refused("hole spacing: is missing; 0 for a knob.")
    found = drilling.centres(*size, apart, count, mm["from the top"], mm["from the side"])
    return good(found, on.measures)


def _scale(on: SumGround) -> Scale | Refused:
    across, down = on.habits.value("bar across"), on.habits.value("bar down")
    if not isinstance(across, float):
        return drilling.scale(drilling.BAR_MM, drilling.BAR_MM)
    return drilling.scale(across, down if isinstance(down, float) else None)


def _unknown_sizes(on: SumGround, part: Part) -> tuple[str, ...]:
    return () if on.of(part) else (f"width and height of {part.short}, measured on the front",)
