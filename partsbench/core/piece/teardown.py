"""The order in which a piece comes apart, and what is to be said at each part."""

from __future__ import annotations

from partsbench.core.naming import together
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece, numbered_order

_LAST = (Family.TOP, Family.LEG)

_MIND = {Family.DRAWER: "tipping", Family.TOP: "two_people", Family.LEG: "lifting"}
"""The key of the caution for each sort of part."""


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
    """What is special about this part when it comes out; empty when nothing is."""
    if part.family is not Family.DOOR:
        return ""
    hidden = [
        p.short for o in piece.front.behind(part.home.number) for p in piece.at_home(o.number)
    ]
    if not hidden:
        return ""
    return f"Open door {part.short}: {len(hidden)} inside ({together(hidden)})."


def mind(part: Part) -> tuple[str, ...]:
    """The keys of the cautions when such a part comes out."""
    if part.fragile:
        return ("fragile",)
    key = _MIND.get(part.family)
    return (key,) if key else ()


def _descendants(piece: Piece, part: Part) -> list[Part]:
    found: list[Part] = []
    for child in piece.children(part.short):
        found += [child, *_descendants(piece, child)]
    return found


def _runners_last(part: Part) -> bool:
    return part.family is Family.RUNNER


def _top_and_legs_last(part: Part) -> int:
    return _LAST.index(part.family) + 1 if part.family in _LAST else 0
