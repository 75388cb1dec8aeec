"""The part that is shown on the bench: its faces, its steps, and what waits for it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol

from partsbench.core.bench.state import Hand, Waits
from partsbench.core.finish.steps import Step
from partsbench.services.known.state import FaceState, PartState, part_state
from partsbench.services.shop import Shop
from partsbench.ui.bench.at_work import AtWork


class HandPage(Protocol):
    """The page, and the label that was scanned last on it."""

    shop: Shop

    @property
    def hand(self) -> Hand: ...


class ShownPart:
    """Asks the book each time; while it is `showing`, once."""

    def __init__(self, page: HandPage, work: AtWork) -> None:
        self._page = page
        self._work = work
        self._state: PartState | None = None

    @contextmanager
    def showing(self) -> Iterator[PartState | None]:
        self._state = self.state()
        try:
            yield self._state
        finally:
            self._state = None

    @property
    def short(self) -> str:
        """The part of this piece that is shown; "" for none."""
        hand = self._page.hand
        return hand.part if hand.ours else ""

    @property
    def armed(self) -> bool:
        """A second scan, or Enter, records what is shown."""
        return self._page.hand.waits in (Waits.ARMED, Waits.ASKED)

    @property
    def held(self) -> bool:
        """The step shown is refused until it is insisted upon."""
        return self._page.hand.waits is Waits.HELD

    @property
    def face(self) -> str:
        """The face that was chosen by hand; "" for none."""
        return self._page.hand.face

    def state(self) -> PartState | None:
        """The part shown as the book now has it; None for none, and for one that is retired."""
        if self._state:
            return self._state
        piece = self._work.piece()
        part = piece.part(self.short) if piece and self.short else None
        if piece is None or part is None or part.retired:
            return None
        return part_state(self._page.shop, piece, part)

    def faces(self) -> tuple[FaceState, ...]:
        """Every face of the part that is shown, of a retired one too."""
        piece = self._work.piece()
        part = piece.part(self.short) if piece else None
        return part_state(self._page.shop, piece, part).faces if piece and part else ()

    def lane(self) -> tuple[FaceState, ...]:
        """The faces that a record would go to."""
        state = self.state()
        return state.worked(self.face) if state else ()

    def options(self) -> tuple[Step, ...]:
        """The steps that may be recorded now: optional ones first, then the one that is due."""
        state = self.state()
        return state.options(self.face) if state else ()

    def step(self) -> Step | None:
        """The step that a press records."""
        lane = self.lane()
        due = lane[0].progress.next if lane else None
        return next((s for s in self.options() if s.key == self._page.hand.step), due)
