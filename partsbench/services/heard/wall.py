"""Paper for work without a screen: the verb sheet, tally strips and the day sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from partsbench.core.finish.cups import StoredCup
from partsbench.core.finish.loads import behind_words
from partsbench.core.key_words import face_word, grouped_faces, word_of
from partsbench.core.outcomes import Answer, Refused
from partsbench.core.piece.drawing import elevation
from partsbench.core.said_often import tint_words
from partsbench.core.shown_times import long_date_and_hour, weekday
from partsbench.core.verbs import FACES, GROUPS, REASONS, VERBS, WHOLE_PIECE, Key, Sort, WallCode
from partsbench.core.wording import capitals, notes
from partsbench.services.acts import loads
from partsbench.services.known import people
from partsbench.services.rules.clocks import Group
from partsbench.services.shop import Shop
from partsbench.services.shown import day
from partsbench.services.sums import cups
from partsbench.store.mixes import StoredLoad

if TYPE_CHECKING:
    from partsbench.paper.day_sheet import DayLine
    from partsbench.paper.tally import Strip
    from partsbench.paper.verbs import WallPart

MOST_CUPS = 9
_UNKNOWN_PAPER = "There is no paper “{}”; there are a4 and letter."
_PAPERS = ("a4", "letter")


def verb_sheet(shop: Shop, paper: str = "a4") -> bytes | Refused:
    """Codes for the wall: verbs, reasons, faces, and this shop's people, places and cups."""
    from partsbench.paper.verbs import verb_sheet as drawn

    if paper not in _PAPERS:
        return Refused(_UNKNOWN_PAPER.format(paper))
    return drawn(wall_parts(shop), paper)


def wall_parts(shop: Shop) -> list[WallPart]:
    """What stands on the verb sheet, heading by heading."""
    from partsbench.paper.verbs import WallCell, WallPart

    def cells(*found: tuple[str, str, str]) -> tuple[WallCell, ...]:
        return tuple(WallCell(*each) for each in found)

    verbs = {v.number: v for v in VERBS}
    number, name = FACES.index(WHOLE_PIECE) + 1, capitals(face_word(WHOLE_PIECE))
    whole = (str(WallCode(Sort.FACE, number)), name,
             "Then one part: it is said of all of its piece.")  # fmt: skip
    insist = [r for r in REASONS if r.key is Key.INSIST]
    back = [r for r in REASONS if r.key is Key.SEND_BACK]
    full = cups.listed(shop)[:MOST_CUPS]
    hung = []
    for title, numbers in GROUPS:
        group = [verbs[number] for number in numbers]
        more = [whole] if any(v.key is Key.OLD_FINISH for v in group) else []
        hung.append(WallPart(title, cells(*((v.code, v.name, v.says) for v in group), *more)))
    *first, back_again = hung
    return [
        *first,
        WallPart("Why insisted", cells(*((r.code, r.name, "") for r in insist))),
        WallPart("Why sent back", cells(*((r.code, r.name, "") for r in back))),
        WallPart(
            "Only this face",
            cells(
                *(
                    (str(WallCode(Sort.FACE, i)), face_word(f), "")
                    for i, f in enumerate(FACES, 1)
                    if f != WHOLE_PIECE
                )
            ),
        ),
        WallPart(
            "People", cells(*((people.person_code(p), p.name, "") for p in people.people(shop)))
        ),
        WallPart(
            "Places", cells(*((people.place_code(p), p.name, "") for p in people.places(shop)))
        ),
        WallPart("Cups", cells(*((cups.code(c), f"Cup {c.number}", _mix(c)) for c in full))),
        back_again,
    ]


def tally_strip(
    shop: Shop, asked: str | int, cup: StoredCup | None = None, paper: str = "a4"
) -> bytes | Refused:
    """The strip of a load, with the code of the cup where it is known."""
    from partsbench.paper.tally import tally_strip as drawn

    found = loads.find(shop, asked)
    if isinstance(found, Refused):
        return found
    if paper not in _PAPERS:
        return Refused(_UNKNOWN_PAPER.format(paper))
    return drawn(_strip(shop, found, cup), paper)


def day_sheet(
    shop: Shop, tags: tuple[str, ...] = (), paper: str = "a4", tonight: str = ""
) -> bytes | Refused:
    """The day as it stands now, with boxes for the pencil; tonight: the sentence of the plan."""
    from partsbench.paper.day_sheet import DaySheet, day_sheet

    if paper not in _PAPERS:
        return Refused(_UNKNOWN_PAPER.format(paper))
    today = day.day(shop, tags=tags)
    lines = [_line(g) for g in today.clocks if g.said.answer is not Answer.GO or g.closes]
    return day_sheet(
        DaySheet(
            long_date_and_hour(today.at),
            today.sentence,
            today.because,
            tonight,
            tuple(loop.sentence for loop in today.loops),
            tuple(_task_line(t) for t in today.tasks),
            tuple(lines),
            tuple(behind_words(today.stragglers)),
            (*today.said, *today.notes),
        ),
        paper,
    )


def _strip(shop: Shop, load: StoredLoad, cup: StoredCup | None) -> Strip:
    from partsbench.paper.labels import marks_of
    from partsbench.paper.tally import Strip, StripLine

    piece = shop.piece(load.tag)
    assert piece is not None
    drawing = elevation(piece)
    by_part: dict[str, list[str]] = {}
    for spot in load.faces:
        by_part.setdefault(spot.part, []).append(spot.face)
    lines = []
    for short, faces in by_part.items():
        part = piece.part(short)
        marks = marks_of(piece, part, drawing) if part else ()
        lines.append(StripLine(short, grouped_faces(faces), marks))
    steps = [s for f in piece.present for face in f.faces for s in shop.path(face.path).steps]
    coat = next((s.name for s in steps if s.key == load.step), load.step)
    return Strip(
        loads.code(load),
        load.number,
        f"{piece.codename} {piece.tag}",
        coat,
        tuple(lines),
        drawing,
        cups.code(cup) if cup else "",
        cups.words(cup, shop) if cup else "",
    )


def _task_line(task: day.Task) -> DayLine:
    from partsbench.paper.day_sheet import DayLine

    group = task.group
    minutes = f"{group.minutes:.0f} min" if group.minutes else ""
    by = f"before {_at(group)}" if group.closes else ""
    return DayLine(minutes, f"{group.where}: {group.step.name}", by, bool(group.closes))


def _line(group: Group) -> DayLine:
    from partsbench.paper.day_sheet import DayLine

    until = group.said.until
    when = weekday(until, group.now) if until else word_of(group.said.answer)
    by = f"until {_at(group)}" if group.closes else ""
    said = group.said
    what = f"{group.where}: {group.step.name}"
    what = f"{what}. {said.because}" if said.answer is Answer.STOP else what
    return DayLine(when, what, by, bool(group.closes))


def _at(group: Group) -> str:
    return weekday(group.closes, group.now) if group.closes else ""


def _mix(cup: StoredCup) -> str:
    return notes(cup.cup.name, tint_words(cup.cup.tint) if cup.cup.tinted else "")
