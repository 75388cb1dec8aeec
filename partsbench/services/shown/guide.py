"""A first job by hand-holding: which of its steps is next, told from the book alone.

Nothing is kept of it: whoever leaves and comes back stands where the book stands.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.returning import missing
from partsbench.services.books.watching import all_pieces
from partsbench.services.known import old_finish
from partsbench.services.known.state import PieceState, Where, piece_state
from partsbench.services.shop import Shop
from partsbench.services.shown import labels, proof


@dataclass(frozen=True, slots=True)
class GuideStep:
    """One thing to do. `page` is where; `scans` are the numbers of the labels that lie at hand;
    `number` is 0 when nothing is left."""

    key: str
    title: str
    says: str
    page: str
    scans: tuple[str, ...] = ()
    number: int = 0
    of: int = 0
    tag: str = ""


_Done = Callable[[Shop, PieceState], bool]

_SEATED = (Where.WRONG, Where.HOME)
"""It came back, right or wrong: whoever begins with the right one need not swap."""
_LAY_OUT = GuideStep(
    "lay out", "Lay the piece out",
    "Type 2 1 into the large field and press Enter: two drawers above, one below.", "start",
)  # fmt: skip
_STEPS: tuple[tuple[GuideStep, _Done], ...] = (
    (
        GuideStep(
            "known", "Say what is on it",
            "Press “Next: old finish and its test”. Choose “Bare wood”, press “Write it down”, "
            "close. While nobody knows what is on a piece, it is neither sanded nor scraped dry.",
            "start",
        ),
        lambda shop, state: bool(old_finish.records(shop, state.piece.tag)),
    ),
    (
        GuideStep(
            "path", "Brush a finish path on",
            "Open the tab Finish at the right, choose “Clear only”, and press “All fronts” below "
            "it.",
            "layout",
        ),
        lambda _, state: any(f.path.steps for s in state.parts.values() for f in s.faces),
    ),
    (
        GuideStep(
            "labels", "Print the labels",
            "Press Ctrl+P. The sheet is shown as it will come out: save it as a PDF, and close. In "
            "a real job each label is stuck on before its part is pulled.", "layout",
        ),
        lambda shop, state: not labels.unprinted(shop, state.piece),
    ),
    (
        GuideStep(
            "out", "Take it apart",
            "Scan each drawer as it comes out: click the labels below.", "teardown",
        ),
        lambda _, state: not _waiting(state),
    ),
    (
        GuideStep(
            "step", "Do one step",
            "Click the label of D1: the large word says whether its next step may be done. Click "
            "it again to record it. Where something is asked first, the same scan says yes.",
            "bench",
        ),
        lambda _, state: any(f.marks for s in state.parts.values() for f in s.faces),
    ),
    (
        GuideStep(
            "swap", "Put a drawer into the wrong home",
            "Click the label “HOME OF D1”, white on black, and then the label of D2. See what it "
            "says.", "return",
        ),
        lambda _, state: any(state.of(short).where in _SEATED for short in _drawers(state.piece)),
    ),
    (
        GuideStep(
            "home", "Bring all of it home",
            "An arrow shows where D2 belongs. Click the home of each drawer and then the "
            "drawer itself, until the front is full.", "return",
        ),
        lambda _, state: not missing(state),
    ),
    (
        GuideStep(
            "proof", "Print the proof",
            "Everything is home. Press Ctrl+P, choose “Proof sheet”, save it, and close.", "return",
        ),
        lambda shop, state: proof.was_handed_out(shop, state.piece),
    ),
)  # fmt: skip
_DONE = GuideStep(
    "done", "That is a whole job",
    "The proof sheet says who brought what home, and when. Leave the sample when you like: your "
    "own pieces go into a book of their own.", "return",
)  # fmt: skip


def guide(shop: Shop) -> GuideStep:
    """The step that is next for the newest piece of the book."""
    every = [_LAY_OUT, *(step for step, _ in _STEPS)]
    listed = all_pieces(shop)
    piece = shop.piece(listed[0].tag) if listed else None
    if piece is None:
        return _numbered(_LAY_OUT, every, "", ())
    state = piece_state(shop, piece)
    found = next((step for step, done in _STEPS if not done(shop, state)), _DONE)
    return _numbered(found, every, piece.tag, _scans(found.key, state))


def _numbered(
    step: GuideStep, every: list[GuideStep], tag: str, scans: tuple[str, ...]
) -> GuideStep:
    number = every.index(step) + 1 if step in every else 0
    return replace(step, number=number, of=len(every), tag=tag, scans=scans)


def _waiting(state: PieceState) -> list[str]:
    """Drawers that were never out."""
    return [s for s in _drawers(state.piece) if not state.of(s).was_out]


def _drawers(piece: Piece) -> list[str]:
    return [p.short for p in piece.present if p.family is Family.DRAWER]


def _scans(key: str, state: PieceState) -> tuple[str, ...]:
    """What is at hand: labels to scan, and at the return those of the homes too."""
    drawers = _drawers(state.piece)
    if key == "out":
        return tuple(_waiting(state))
    if key == "step":
        return tuple(drawers)
    if key in ("swap", "home"):
        homes = [short_number(Family.HOME, n) for n in state.piece.home_numbers()]
        return (*homes, *drawers)
    return ()
