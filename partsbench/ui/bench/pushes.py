"""What the keys and presses of the Bench let the bench hear, and its way back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import TYPE_CHECKING, Protocol

from partsbench.core.bench.events import Push
from partsbench.core.outcomes import Done, Refused
from partsbench.services.acts.history import redo
from partsbench.services.shop import Shop
from partsbench.ui.bench.telling import Telling
from partsbench.ui.turning_back import UndoTwice

if TYPE_CHECKING:
    from partsbench.services.heard.session import Session


class PushPage(Protocol):
    """A page whose keys and answers go to the bench."""

    shop: Shop
    tag: str

    @property
    def at_bench(self) -> Session: ...
    def push(
        self, push: Push, text: str = "", *, label: str = "", at: datetime | None = None
    ) -> None: ...
    def refresh(self) -> None: ...


class BenchPushes:
    """About the part in the hand, each."""

    def __init__(self, page: PushPage) -> None:
        self._page = page

    def record(self) -> None:
        self._page.push(Push.ENTER)

    def skip(self) -> None:
        self._page.push(Push.SKIP)

    def wet(self) -> None:
        """It is sanded wet, or it is not."""
        self._page.push(Push.WET)
        self._page.refresh()

    def face(self, name: str) -> None:
        self._page.push(Push.FACE, name)

    def step(self, key: str) -> None:
        self._page.push(Push.STEP, key)

    def idle_minutes(self, minutes: int) -> None:
        """A verb goes off after so many of them."""
        self._page.push(Push.IDLE, str(minutes))


class WayBack:
    """Undo and redo on the page; `forget` takes away the answer that stood there."""

    def __init__(self, page: PushPage, telling: Telling, forget: Callable[[], None]) -> None:
        self._page = page
        self._telling = telling
        self._forget = forget
        self._twice = UndoTwice(page.shop)

    def undo(self) -> None:
        self._went(self._twice.undo())

    def redo(self) -> None:
        self._went(redo(self._page.shop))

    def _went(self, answer: Done | Refused) -> None:
        self._page.at_bench.undone()
        self._forget()
        self._telling.tell(answer)
