"""Giving a front its parts, and keeping parts and numbers in step when the front changes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import HIGHEST_NUMBER, Family
from partsbench.core.piece.front import Front, Opening, OpeningKind
from partsbench.core.piece.parts import Corner, Home, HomeKind, Part, leg_name, new_faces
from partsbench.core.piece.piece import Numbering, Piece, corner_spots, renumbered
from partsbench.core.piece.shaping import mirrored
from partsbench.core.said_often import no_opening, too_many_legs, too_many_parts

_SERVES = {
    OpeningKind.DRAWER: Family.DRAWER,
    OpeningKind.DOOR: Family.DOOR,
    OpeningKind.FALSE_FRONT: Family.OTHER,
}
_STAYS = Home(HomeKind.STAYS)
_FAMILY_ORDER = list(Family)
MOST_PULLS = 6
MOST_LEGS = 12


def furnish(
    tag: str,
    codename: str,
    front: Front,
    *,
    legs: int = 0,
    equal_legs: bool = False,
    pulls: int = 0,
    top: bool = False,
    numbering: Numbering = Numbering.BY_ROW,
) -> Piece | Refused:
    """A new piece: a part for each opening that has one, its pulls, legs, top and carcase."""
    if not 0 <= legs <= MOST_LEGS:
        return Refused(too_many_legs(legs, MOST_LEGS))
    if not 0 <= pulls <= MOST_PULLS:
        return Refused(f"{pulls} pulls on each drawer cannot be drawn; 0 to {MOST_PULLS} can.")
    carcase = Part(Family.CARCASE, 1, _STAYS, "carcase", faces=new_faces(Family.CARCASE))
    piece = Piece(tag, codename, Front(front.columns, front.rows), (carcase,), numbering=numbering)
    if top:
        piece = with_top(piece)
    piece = with_legs(piece, legs, equal_legs)
    return with_front(piece, front, pulls)


def with_front(piece: Piece, front: Front, pulls: int | None = None) -> Piece | Refused:
    """The piece with another front: new openings get parts, parts of openings gone are retired.

    New drawers get `pulls` pulls each, by default as many as most drawers have. Until numbers are
    fixed all is numbered afresh in the piece's order; afterwards every number stays as it is.
    An opening that stays what it was and lost its part gets no new one.
    """
    each = _usual_pulls(piece) if pulls is None else pulls
    if piece.numbers_fixed:
        front = _with_unused_numbers(piece, front)
    gone = _with_travellers(piece, {p.short for p in piece.present if _lost_its_home(p, front)})
    if piece.numbers_fixed:
        kept = tuple(
            replace(p, retired="its opening is gone") if p.short in gone else p for p in piece.parts
        )
    else:
        kept = tuple(p for p in piece.parts if p.short not in gone)
    now = replace(piece, front=front, parts=kept)
    for opening in front.openings:
        family = _SERVES.get(opening.kind)
        before = piece.front.opening(opening.number)
        if before and before.kind is opening.kind:
            continue
        if family is None or any(p.family is family for p in now.at_home(opening.number)):
            continue
        if family is Family.OTHER and _false_front(now, opening.number):
            continue
        fitted = _fit_out(now, opening, family, each)
        if isinstance(fitted, Refused):
            return fitted
        now = fitted
    if not now.numbers_fixed:
        now = numbered_afresh(now)
    over = [p for p in now.parts if p.number > HIGHEST_NUMBER]
    if over:
        return Refused(too_many_parts(HIGHEST_NUMBER))
    return now


def _with_unused_numbers(piece: Piece, front: Front) -> Front:
    """New openings numbered above every home that the piece ever had, corners included.

    A home label may be stuck in each of those, so none of their numbers is given again.
    """
    old = {o.number for o in piece.front.openings}
    used = old | {c.number for c in piece.corners} | {p.home.number for p in piece.parts}
    fresh = [o.number for o in front.openings if o.number not in old]
    new = {number: max(used, default=0) + i for i, number in enumerate(sorted(fresh), 1)}
    openings = tuple(
        replace(
            o,
            number=new.get(o.number, o.number),
            behind=o.behind if o.behind is None else new.get(o.behind, o.behind),
        )
        for o in front.openings
    )
    return replace(front, openings=openings)


def numbered_afresh(piece: Piece) -> Piece:
    """All numbers given again in the piece's order. Only before numbers are fixed."""
    front, new_opening = renumbered(piece.front, piece.numbering)
    first_corner = len(front.openings) + 1
    new_corner = {c.number: first_corner + i for i, c in enumerate(piece.corners)}
    moved = [replace(p, home=_moved(p.home, new_opening, new_corner)) for p in piece.parts]
    top_down = sorted(
        (p for p in moved if not p.parent),
        key=lambda p: (_FAMILY_ORDER.index(p.family), p.home.number or p.number, p.number),
    )
    families: Counter[Family] = Counter()
    new_short: dict[str, str] = {}
    parts: list[Part] = []

    def give(part: Part) -> None:
        families[part.family] += 1
        new = replace(
            part,
            number=families[part.family],
            parent=new_short.get(part.parent, part.parent),
        )
        new_short[part.short] = new.short
        parts.append(new)
        for child in moved:
            if child.parent == part.short:
                give(child)

    for part in top_down:
        give(part)
    parts.sort(key=lambda p: (_FAMILY_ORDER.index(p.family), p.number))
    corners = tuple(replace(c, number=new_corner[c.number]) for c in piece.corners)
    return replace(piece, front=front, parts=tuple(parts), corners=corners)


def pull_spots(count: int) -> tuple[str, ...]:
    """Where that many pulls sit on a front."""
    named = {0: (), 1: ("middle",), 2: ("left", "right"), 3: ("left", "middle", "right")}
    return named.get(count) or tuple(f"place {n}" for n in range(1, count + 1))


def add_part(
    piece: Piece,
    family: Family,
    home: Home,
    name: str = "",
    *,
    parent: str = "",
    contents: str = "",
    fragile: bool = False,
) -> Piece | Refused:
    """One more part with the next number of its family; no other number moves."""
    if parent and (piece.part(parent) is None or not _present(piece, parent)):
        return Refused(f"There is no part {parent} for it to sit on.")
    if home.kind is HomeKind.OPENING and piece.front.opening(home.number) is None:
        return Refused(no_opening(home.number))
    number = piece.next_number(family)
    if isinstance(number, Refused):
        return number
    part = Part(
        family,
        number,
        home,
        name,
        parent=parent,
        faces=new_faces(family),
        contents=contents,
        fragile=fragile,
    )
    return replace(piece, parts=(*piece.parts, part))


def without_part(piece: Piece, short: str, reason: str) -> Piece:
    """The piece without a part and what travels with it: retired once numbers are fixed."""
    gone = _with_travellers(piece, {short})
    if not piece.numbers_fixed:
        return replace(piece, parts=tuple(p for p in piece.parts if p.short not in gone))
    parts = tuple(replace(p, retired=reason) if p.short in gone else p for p in piece.parts)
    return replace(piece, parts=parts)


def mirrored_piece(piece: Piece, tag: str, title: str) -> Piece:
    """The other one of a pair: left and right exchanged, its own tag, no marks or labels yet."""
    parts = tuple(
        replace(
            p,
            home=replace(p.home, spot=_other_side(p.home.spot)),
            faces=tuple(replace(f, name=_other_side(f.name)) for f in p.faces),
            name=_other_side(p.name),
            old_mark="",
            note="",
            generation="A",
        )
        for p in piece.present
    )
    corners = tuple(replace(c, spot=_other_side(c.spot)) for c in piece.corners)
    twin = replace(
        piece,
        tag=tag,
        title=title,
        front=mirrored(piece.front),
        parts=parts,
        corners=corners,
        numbers_fixed=False,
        mirror_of=piece.tag,
        home_generations=(),
    )
    return numbered_afresh(_in_usual_order(twin))


def _in_usual_order(piece: Piece) -> Piece:
    """Faces and corners in the order that a drawn piece has: left before right."""
    parts = []
    for part in piece.parts:
        order = {f.name: i for i, f in enumerate(new_faces(part.family))}
        faces = sorted(part.faces, key=lambda f: order.get(f.name, len(order)))
        parts.append(replace(part, faces=tuple(faces)))
    spots = {spot: i for i, spot in enumerate(corner_spots(len(piece.corners)))}
    corners = sorted(piece.corners, key=lambda c: spots.get(c.spot, len(spots)))
    return replace(piece, parts=tuple(parts), corners=tuple(corners))


def _other_side(words: str) -> str:
    swap = {"left": "right", "right": "left"}
    return " ".join(swap.get(word, word) for word in words.split(" "))


def with_top(piece: Piece) -> Piece:
    """The piece with a top more that comes off."""
    number = max((p.number for p in piece.parts if p.family is Family.TOP), default=0) + 1
    home = Home(HomeKind.ON_PIECE, spot="top")
    return piece.with_part(Part(Family.TOP, number, home, "top", faces=new_faces(Family.TOP)))


def _with_travellers(piece: Piece, shorts: set[str]) -> set[str]:
    """Those parts and all that travels with them: a key on a lock on a drawer."""
    found = set(shorts)
    while more := {p.short for p in piece.present if p.parent in found} - found:
        found |= more
    return found


def with_legs(piece: Piece, legs: int, equal: bool) -> Piece:
    """The piece with that many legs more, each at a corner of its own."""
    start = max([o.number for o in piece.front.openings] + [0]) + 1
    corners = tuple(Corner(start + i, spot) for i, spot in enumerate(corner_spots(legs)))
    parts = tuple(
        Part(
            Family.LEG,
            place,
            Home(HomeKind.CORNER, corner.number, corner.spot),
            leg_name(corner.spot),
            faces=new_faces(Family.LEG),
            group="leg" if equal else "",
        )
        for place, corner in enumerate(corners, 1)
    )
    return replace(piece, parts=(*piece.parts, *parts), corners=corners)


def _fit_out(piece: Piece, opening: Opening, family: Family, pulls: int) -> Piece | Refused:
    home = Home(HomeKind.OPENING, opening.number)
    if family is Family.OTHER:
        home = Home(HomeKind.STAYS, opening.number)
    name = "false front" if family is Family.OTHER else ""
    now = add_part(piece, family, home, name)
    if isinstance(now, Refused) or family is Family.OTHER:
        return now
    host = now.parts[-1]
    spots = pull_spots(pulls) if family is Family.DRAWER else pull_spots(min(pulls, 1))
    for spot in spots:
        at = Home(HomeKind.ON_PART, spot=spot)
        more = add_part(now, Family.PULL, at, "pull", parent=host.short)
        if isinstance(more, Refused):
            return more
        now = more
    return now


def _usual_pulls(piece: Piece) -> int:
    counts = Counter(
        sum(c.family is Family.PULL for c in piece.children(p.short))
        for p in piece.present
        if p.family is Family.DRAWER
    )
    return counts.most_common(1)[0][0] if counts else 0


def _lost_its_home(part: Part, front: Front) -> bool:
    if part.home.kind not in (HomeKind.OPENING, HomeKind.STAYS) or not part.home.number:
        return False
    opening = front.opening(part.home.number)
    if opening is None:
        return True
    serving = part.family in (Family.DRAWER, Family.DOOR) or part.home.kind is HomeKind.STAYS
    return serving and _SERVES.get(opening.kind) is not part.family


def _false_front(piece: Piece, number: int) -> Part | None:
    stays = Home(HomeKind.STAYS, number)
    return next((p for p in piece.present if p.home == stays), None)


def _moved(home: Home, openings: dict[int, int], corners: dict[int, int]) -> Home:
    if home.kind is HomeKind.CORNER:
        return replace(home, number=corners.get(home.number, home.number))
    return replace(home, number=openings.get(home.number, home.number))


def _present(piece: Piece, short: str) -> bool:
    part = piece.part(short)
    return part is not None and not part.retired


def walk(piece: Piece) -> Iterator[Part]:
    """The present parts, each followed by what travels with it."""

    def down(part: Part) -> Iterator[Part]:
        yield part
        for child in piece.children(part.short):
            yield from down(child)

    for part in piece.present:
        if not part.parent:
            yield from down(part)
