"""A piece: one carcase, its front, and everything that belongs to it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from enum import StrEnum

from partsbench.core.key_words import place_word
from partsbench.core.naming import ALL, together
from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import HIGHEST_NUMBER, Code, Family
from partsbench.core.piece.front import Front, Opening, OpeningKind
from partsbench.core.piece.parts import Corner, HomeKind, Part
from partsbench.core.said_often import too_many_parts
from partsbench.core.wording import notes, nth


class Numbering(StrEnum):
    """The order in which openings are numbered, always as seen from the front."""

    BY_ROW = "by row"
    BY_COLUMN = "by column"
    FROM_BOTTOM = "from the bottom"


@dataclass(frozen=True, slots=True)
class Piece:
    """One carcase. Its tag stands on every label; its codename is the job's public name."""

    tag: str
    codename: str
    front: Front
    parts: tuple[Part, ...] = ()
    corners: tuple[Corner, ...] = ()
    title: str = ""
    numbering: Numbering = Numbering.BY_ROW
    numbers_fixed: bool = False
    """True once a label was printed or work recorded: from then on no number changes."""
    mirror_of: str = ""
    home_generations: tuple[tuple[int, str], ...] = ()
    """Homes whose label was printed again, and the letter of the latest printing."""

    def part(self, short: str) -> Part | None:
        return next((p for p in self.parts if p.short == short), None)

    def numbered(self, family: Family, number: int) -> Part | None:
        return next((p for p in self.parts if p.family is family and p.number == number), None)

    @property
    def present(self) -> tuple[Part, ...]:
        """The parts that are not retired."""
        return tuple(p for p in self.parts if not p.retired)

    def children(self, short: str) -> tuple[Part, ...]:
        """What travels with a part."""
        return tuple(p for p in self.present if p.parent == short)

    def code(self, part: Part) -> Code:
        return Code(self.tag, part.family, part.number, part.generation)

    def home_code(self, number: int) -> Code:
        """The code of the home label of an opening or corner."""
        generation = dict(self.home_generations).get(number, "A")
        return Code(self.tag, Family.HOME, number, generation)

    def home_code_of(self, part: Part) -> Code:
        """What is scanned with a part when it comes home.

        The label of its opening or corner, the part that it sits on, or the carcase; what has
        nothing to sit on, as the carcase itself, bears its own.
        """
        if part.home.kind in (HomeKind.OPENING, HomeKind.CORNER):
            return self.home_code(part.home.number)
        on_carcase = part.home.kind is not HomeKind.ON_PART
        hosts = (p for p in self.present if p.family is Family.CARCASE)
        host = next(hosts, None) if on_carcase else self.part(part.parent)
        return self.code(host or part)

    def home_numbers(self) -> tuple[int, ...]:
        """Numbers of the homes that expect something back: openings in order, then corners."""
        served = {p.home.number for p in self.present if p.home.kind is HomeKind.OPENING}
        openings = [
            o.number for o in self.front.openings if o.kind.expects_return or o.number in served
        ]
        return (*sorted(openings), *(c.number for c in self.corners))

    def at_home(self, number: int) -> tuple[Part, ...]:
        """The parts whose home has that number."""
        kinds = (HomeKind.OPENING, HomeKind.CORNER)
        return tuple(p for p in self.present if p.home.kind in kinds and p.home.number == number)

    def occupant(self, number: int) -> Part | None:
        """The drawer, door or leg of that home, without the runners that stay in it."""
        return next((p for p in self.at_home(number) if p.family is not Family.RUNNER), None)

    def next_number(self, family: Family) -> int | Refused:
        """The lowest number above all that the family ever had on this piece."""
        number = max((p.number for p in self.parts if p.family is family), default=0) + 1
        if number > HIGHEST_NUMBER:
            return Refused(too_many_parts(HIGHEST_NUMBER))
        return number

    def alike_to(self, part: Part) -> tuple[Part, ...]:
        """The parts that may stand in for one another, itself among them; else itself alone."""
        if not part.group:
            return (part,)
        return tuple(p for p in self.present if p.group == part.group)

    def with_part(self, part: Part) -> Piece:
        """The piece with `part` in place of the one of its number, or added."""
        if self.part(part.short) is None:
            return replace(self, parts=(*self.parts, part))
        return replace(self, parts=tuple(part if p.short == part.short else p for p in self.parts))

    def count(self) -> Counter[Family]:
        return Counter(p.family for p in self.present)


def corner_spots(legs: int) -> tuple[str, ...]:
    """Where that many legs stand, as seen from the front."""
    front, rear = ("front left", "front right"), ("rear left", "rear right")
    if legs <= 2:
        return front[:legs]
    if legs == 3:
        return (*front, "rear")
    middles = tuple(
        f"{line} middle {n}" if legs > 6 else f"{line} middle"
        for n in range(1, (legs - 4 + 1) // 2 + 1)
        for line in ("front", "rear")
    )
    return (*front, *rear, *middles[: legs - 4])


def numbered_order(front: Front, numbering: Numbering) -> tuple[Opening, ...]:
    """The openings in the order of their numbers: drawers, then doors, then the others.

    Drawers come first so that the home label of a drawer bears the drawer's own number; what a
    door hides is counted after what one sees.
    """
    kinds = list(OpeningKind)

    def place(o: Opening) -> tuple[int, int, int, int]:
        x, y = o.span.column, o.span.row
        first, second = {
            Numbering.BY_ROW: (y, x),
            Numbering.BY_COLUMN: (x, y),
            Numbering.FROM_BOTTOM: (-o.span.bottom, x),
        }[numbering]
        return (kinds.index(o.kind), o.layer, first, second)

    return tuple(sorted(front.openings, key=place))


def renumbered(front: Front, numbering: Numbering) -> tuple[Front, dict[int, int]]:
    """The front with openings numbered 1, 2, 3… in order, and old number → new number."""
    order = numbered_order(front, numbering)
    new = {opening.number: place for place, opening in enumerate(order, 1)}
    openings = tuple(
        replace(o, number=new[o.number], behind=None if o.behind is None else new[o.behind])
        for o in order
    )
    return replace(front, openings=openings), new


def home_words(piece: Piece, part: Part) -> str:
    """Where a part lives, in words: `row 2, left`, `front left corner`, `on D5, left`."""
    home = part.home
    if home.kind is HomeKind.OPENING:
        opening = piece.front.opening(home.number)
        where = opening_words(piece.front, opening) if opening else f"opening {home.number}"
        return f"{where}, {place_word(home.spot)}" if home.spot else where
    if home.kind is HomeKind.CORNER:
        return (
            "any corner that a leg stands at" if part.group else f"{place_word(home.spot)} corner"
        )
    if home.kind is HomeKind.ON_PART:
        if part.group:
            hosts = dict.fromkeys(p.parent for p in piece.alike_to(part))
            return f"on any of {together(hosts, ALL)}"
        return f"on {part.parent}, {place_word(home.spot)}" if home.spot else f"on {part.parent}"
    if home.kind is HomeKind.STAYS:
        return "stays where it stands"
    if part.group:
        return "on the piece, at any of their places"
    return f"on the piece, {place_word(home.spot)}" if home.spot else "on the piece"


def opening_words(front: Front, opening: Opening) -> str:
    """An opening in words, as seen from the front: `row 2, left`, `row 1, 3rd of 4`."""
    if opening.behind is not None:
        peers = front.behind(opening.behind)
        hiding = {o.behind for o in front.openings if o.behind is not None}
        lead = "behind the door" if len(hiding) == 1 else f"behind door H{opening.behind}"
    else:
        peers = tuple(o for o in front.openings if o.behind is None)
        lead = ""
    tops = sorted({o.span.row for o in peers})
    row = tops.index(opening.span.row) + 1
    beside = sorted((o for o in peers if o.span.row == opening.span.row), key=_column)
    across = _across(beside.index(opening) + 1, len(beside))
    if len(tops) == 1 and lead:
        return notes(lead, across or "alone")
    return notes(lead, f"row {row}", across)


def _column(opening: Opening) -> int:
    return opening.span.column


def _across(place: int, of: int) -> str:
    if of == 1:
        return ""
    if place == 1:
        return place_word("left")
    if place == of:
        return place_word("right")
    if of == 3:
        return place_word("middle")
    return f"{nth(place)} of {of}"
