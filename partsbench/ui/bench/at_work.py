"""The piece at work as a page shows it: read once while it is shown, and whether it is stale."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Protocol

from partsbench.core.bench.state import Waits
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.shop import Shop

if TYPE_CHECKING:
    from partsbench.services.heard.session import Session


class WorkingPage(Protocol):
    """The page that has a piece at work."""

    shop: Shop
    tag: str

    @property
    def at_bench(self) -> Session: ...


class AtWork:
    """Nothing of the book is kept but the number of the last change that came from this page."""

    def __init__(self, page: WorkingPage) -> None:
        self._page = page
        self._piece: Piece | None = None
        self._seen = 0
        self.times_shown = 0

    def piece(self) -> Piece | None:
        """The piece at work as the book has it now."""
        page = self._page
        return self._piece or (page.shop.piece(page.tag) if page.tag else None)

    def part(self, short: str) -> Part | None:
        piece = self.piece()
        return piece.part(short) if piece and short else None

    @contextmanager
    def showing(self) -> Iterator[Piece | None]:
        """While the page shows it, the piece is read once; a record that was undone or overtaken
        does not stand as one any more."""
        bench = self._page.at_bench
        self.times_shown += 1
        if bench.state.hand.waits is Waits.RECORDED and self.is_stale():
            bench.undone()
        self._piece = self.piece()
        try:
            yield self._piece
        finally:
            self._piece = None

    def changed_here(self) -> None:
        """The latest change of the book came from this page."""
        self._seen = self._newest()

    def is_stale(self) -> bool:
        """The book was changed by somebody else, or undone, since this page last changed it."""
        return self._seen != self._newest()

    def _newest(self) -> int:
        entries = history(self._page.shop, limit=1)
        return entries[0].id if entries else 0
