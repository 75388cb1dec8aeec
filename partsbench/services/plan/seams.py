"""Order across seams: the side that is finished first is masked before the other gets its coats,
and stays masked until it has them. Of the faces of one part, and of parts that are together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from partsbench.core.finish.between import Together
from partsbench.core.finish.masks import seam_order
from partsbench.core.finish.sheets import seams_of
from partsbench.core.finish.steps import FinishPath, PathKind
from partsbench.core.piece.spot import Spot
from partsbench.core.plan.making import Made
from partsbench.core.plan.workshop import Lag
from partsbench.services.known import facts
from partsbench.services.known.state import PieceState
from partsbench.services.rules import neighbours
from partsbench.services.shop import Shop


def seam_lags(shop: Shop, state: PieceState, made: Made) -> Iterator[Lag]:
    """What the stints of a piece must keep beside the order of their own paths."""
    paths = {
        part.part.spot(face.name): face.path for part in state.parts.values() for face in part.faces
    }
    told: set[tuple[str, str]] = set()
    for painted, other in dict.fromkeys(_pairs(shop, state, paths)):
        for order in seam_order(other, paths[other], painted, paths[painted]):
            a = _made(made, state.piece.tag, paths, order.before, sooner=True)
            b = _made(made, state.piece.tag, paths, order.after, sooner=False)
            if a and b and a != b and (a, b) not in told:
                told.add((a, b))
                yield Lag(a, b, 0, None, order.why)


def _pairs(
    shop: Shop, state: PieceState, paths: Mapping[Spot, FinishPath]
) -> Iterator[tuple[Spot, Spot]]:
    """A face that is painted, and one beside it that is finished first and covered."""
    known = facts.of_piece(shop, state.piece.tag)
    for part in state.parts.values():
        seams = seams_of(state.piece, part.part)
        for face in part.faces if seams else ():
            name = part.part.spot(face.name)
            for other in facts.beside(shop, part.part, face.name, known, seams):
                if _covered(paths, name, other):
                    yield name, other
    for met in neighbours.of_piece(shop, state.piece, known, {}):
        if met.wants_tape and met.together is Together.YES:
            one, two = met.meeting.a, met.meeting.b
            yield from (pair for pair in ((one, two), (two, one)) if _covered(paths, *pair))


def _covered(paths: Mapping[Spot, FinishPath], painted: Spot, other: Spot) -> bool:
    if painted not in paths or other not in paths:
        return False
    mine, theirs = paths[painted], paths[other]
    return mine.kind is PathKind.PAINT and theirs.kind is not PathKind.PAINT and bool(theirs.steps)


def _made(
    made: Made,
    tag: str,
    paths: Mapping[Spot, FinishPath],
    of: tuple[Spot, str],
    *,
    sooner: bool,
) -> str | None:
    """The stint of a step on a face; where that step is not due on its path, as the mask of a seam
    between two parts, the one before it, or the one after it."""
    face, key = of
    steps = paths[face].steps
    place = paths[face].index(key)
    assert place is not None
    beside = steps[place::-1] if sooner else steps[place:]
    return next((k for s in beside if (k := made.of.get((tag, face, s.key)))), None)
