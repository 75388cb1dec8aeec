"""What can be known of a face, part or piece besides its marks, and which steps follow from it.

A fact said of a face wins over one of its part, and that over one of its piece.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from partsbench.core.finish.old_finish import (
    AGE,
    AGES,
    BARE,
    LEAD,
    OLD,
    ON_IT,
    TESTS,
    WAYS,
    meant,
    old_finish,
)
from partsbench.core.finish.situation import FaceFacts
from partsbench.core.finish.steps import FinishPath
from partsbench.core.outcomes import Refused
from partsbench.core.piece.spot import Spot

YES, NO = "yes", "no"
NO_MASK = "no mask: "
"""Before the name of a neighbouring face: it needs no cover."""

AWAY, BACK = "away until", "back"
"""At an outside workshop until a day; and that it is back."""

ORDERED = "hardware ordered"
ARRIVES = "hardware comes"
"""The day on which it is promised to arrive."""
PUT_AWAY = "put away"
"""A piece that is finished: no day and no plan speaks of it until it is taken out again."""
KIND = "kind"
"""What the piece is, in the shop's own word: a quote asks about pieces of one kind."""
LONGEST_KIND = 30

SEAM = "seam"


@dataclass(frozen=True, slots=True)
class FactKind:
    """One thing that may be said: its key, the question, and the answers; () for what is typed,
    which looks like `typed`."""

    key: str
    asks: str
    answers: tuple[str, ...] = (YES, NO)
    typed: str = "mm"


KINDS = {
    kind.key: kind
    for kind in (
        FactKind(KIND, "What kind of piece is it?", (), "chest, nightstand, dresser, table"),
        # The year: in the USA from 1978 on furniture for sale may bear no lead paint (16 CFR 1303).
        FactKind(
            AGE,
            "Older or newer than the year your local rules name for lead in paint (USA: 1978)?",
            AGES,
        ),
        FactKind(OLD, "What is on it now?", ON_IT),
        FactKind(
            LEAD,
            "What did a test find in its old finish, or how is it worked?",
            (*TESTS, *WAYS),
        ),
        FactKind("veneer", "Is it veneer?"),
        FactKind("bleeds", "May old colour or tannin bleed through?"),
        FactKind("silicone", "Was silicone polish used on it?"),
        FactKind("patch tested", "Was tape and colour tried on a hidden patch?"),
        FactKind("repairs", "Are repairs open on it?", ("open", "done", "none")),
        FactKind("conditioner", "Which kind of conditioner?", ("oil", "water", "none")),
        FactKind("seal coat", "A seal coat under the tape?"),
        FactKind("second stain", "A second coat of stain?"),
        FactKind("third topcoat", "A third topcoat?"),
        FactKind("depth mm", "How deep is the piece, in mm?", ()),
        FactKind("thickness mm", "How thick are the fronts, in mm?", ()),
        FactKind(ORDERED, "Is its hardware ordered?"),
        FactKind(ARRIVES, "On which day does its hardware come?", (), "2026-12-04"),
        FactKind(PUT_AWAY, "Is it finished and put away?"),
        FactKind(AWAY, "At an outside workshop until which day?", (), "2026-12-04, or back"),
    )
}

IN_MM = frozenset(key for key, kind in KINDS.items() if kind.typed == "mm" and not kind.answers)
"""What is said as a size."""

_CASES = {
    "bleeds": "bleeds",
    "seal coat": "seal_coat",
    "second stain": "second_stain",
    "third topcoat": "third_topcoat",
}


def fact_fault(key: str, value: str) -> Refused | None:
    """Why this can not be said; None when it can."""
    if key.startswith(NO_MASK):
        return None if value in (YES, NO) else Refused("Say yes or no.")
    kind = KINDS.get(key)
    if kind is None:
        return Refused(f"“{key}” is nothing that is asked; it can be: {', '.join(KINDS)}.")
    if key == AWAY:
        said = value == BACK or _day(value) is not None
        return None if said else Refused(f"{key}: write the day as 2026-12-04, or {BACK}.")
    if key == ARRIVES:
        said = _day(value) is not None
        return None if said else Refused(f"{key}: write the day as 2026-12-04.")
    if key == KIND:
        word = len(value) <= LONGEST_KIND and any(letter.isalpha() for letter in value)
        return None if word else Refused(f"{key}: say it in a word, as in {kind.typed}.")
    if kind.answers:
        fits = meant(key, value) in kind.answers
        return None if fits else Refused(f"{key}: say {', '.join(kind.answers)}.")
    try:
        fits = 0 < float(value) <= 10_000
    except ValueError:
        fits = False
    return None if fits else Refused(f"{key}: “{value}” is no size in mm.")


def away_until(facts: Mapping[str, str]) -> date | None:
    """The day that a part at an outside workshop is promised for; None when it is here."""
    said = facts.get(AWAY)
    return None if said is None else _day(said)


def arrives_on(facts: Mapping[str, str]) -> date | None:
    """The day on which the hardware of a piece comes; None when nobody said one."""
    said = facts.get(ARRIVES)
    return None if said is None else _day(said)


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def cases(facts: Mapping[str, str], seam: bool) -> tuple[frozenset[str], frozenset[str]]:
    """The cases of a path that are known to be so, and those known not to be."""
    yes, no = set[str](), set[str]()
    for key, case in _CASES.items():
        if key in facts:
            (yes if facts[key] == YES else no).add(case)
    if "conditioner" in facts:
        for kind in ("oil", "water"):
            (yes if facts["conditioner"] == kind else no).add(f"conditioner_{kind}")
    old = facts.get(OLD)
    if old in ("paint", "clear"):
        yes.add("old_finish")
    elif old == BARE:
        no.add("old_finish")
    repairs = facts.get("repairs")
    if repairs == "open":
        yes.add("repairs")
    elif repairs == "none":
        no.add("repairs")
    if seam:
        yes.add(SEAM)
    return frozenset(yes), frozenset(no)


def suited(
    path: FinishPath, facts: Mapping[str, str], seam: bool, marked: frozenset[str] = frozenset()
) -> FinishPath:
    """The path for a face with these facts; a step in `marked` was recorded, so it stays."""
    if not path.steps:
        return path
    yes, no = cases(facts, seam)
    worked = {s.only_when for s in path.steps if s.only_when and s.key in marked}
    return path.suited(yes, no - worked)


def face_facts(
    face: Spot,
    facts: Mapping[str, str],
    upright: bool,
    sand_backs: int,
    found_elsewhere: bool,
) -> FaceFacts:
    """The facts as the rules read them; lead may have been found elsewhere on the piece."""
    return FaceFacts(
        face,
        old_finish(facts, found_elsewhere),
        veneer=facts.get("veneer") == YES,
        upright=upright,
        bleeds=facts.get("bleeds") == YES,
        bleeds_said="bleeds" in facts,
        silicone=facts.get("silicone") == YES,
        tested_patch=facts.get("patch tested") == YES,
        repairs_open=facts.get("repairs") == "open",
        sand_backs=sand_backs,
    )


def not_masked(facts: Mapping[str, str]) -> frozenset[Spot]:
    """The neighbouring faces that were said to need no cover."""
    return frozenset(
        Spot.of(key.removeprefix(NO_MASK)) for key, value in facts.items()
        if key.startswith(NO_MASK) and value == YES
    )  # fmt: skip
