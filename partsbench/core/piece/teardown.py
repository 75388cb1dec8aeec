"""The order in which a piece comes apart, and what is to be said at each part."""

from __future__ import annotations

from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece, numbered_order

_LAST = (Family.TOP, Family.LEG)


def teardown_order(piece: Piece) -> tuple[Part, ...]:
    """The parts that come out, in the order of taking them.

    Drawers in the order of their numbers; each door, then what it hides; then loose things, the
    top, and the legs last, when the carcase can be laid down. Pulls, locks and whatever else
    travels with a part follow at the end, in the same order: they come off at the bench.
    """
    first: list[Part] = []
    order = numbered_order(piece.front, piece.numbering)
    for opening in (o for o in order if o.behind is None):
        hidden = [o.number for o in order if o.behind == opening.number]
        for number in (opening.number, *hidden):
            first += sorted(piece.at_home(number), key=_runners_last)
    listed = {p.short for p in first}
    loose = [p for p in piece.present if p.short not in listed and not p.parent]
    loose = [p for p in loose if p.home.kind is not HomeKind.STAYS]
    first += sorted(loose, key=_top_and_legs_last)
    stays = [p for p in piece.present if p.home.kind is HomeKind.STAYS]
    follow = [child for host in (*first, *stays) for child in _descendants(piece, host)]
    return (*first, *follow)


def label_order(piece: Piece) -> tuple[Part, ...]:
    """Teardown order, then the parts that stay: carcase and false fronts have labels too."""
    order = teardown_order(piece)
    stays = [p for p in piece.present if p.home.kind is HomeKind.STAYS]
    return (*order, *stays)


def hint(piece: Piece, part: Part) -> str:
    """What to mind when this part comes out; empty when nothing is."""
    if part.family is Family.DOOR:
        hidden = [
            p.short for o in piece.front.behind(part.home.number) for p in piece.at_home(o.number)
        ]
        if hidden:
            return f"Open door {part.short}: {len(hidden)} inside ({', '.join(hidden)})."
    if part.family is Family.TOP or part.fragile:
        return "Fragile or heavy: two people, store upright." if part.fragile else "Two people."
    if part.family is Family.DRAWER:
        return "One drawer open at a time: a chest can tip."
    if part.family is Family.LEG:
        return "Lay the carcase down with two people before the legs come off."
    return ""


def _descendants(piece: Piece, part: Part) -> list[Part]:
    found: list[Part] = []
    for child in piece.children(part.short):
        found += [child, *_descendants(piece, child)]
    return found


def _runners_last(part: Part) -> bool:
    return part.family is Family.RUNNER


def _top_and_legs_last(part: Part) -> int:
    return _LAST.index(part.family) + 1 if part.family in _LAST else 0
