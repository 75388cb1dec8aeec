"""The plan of the shop, looked for off the window's thread: a first one at once, then a better."""

from __future__ import annotations

from dataclasses import dataclass
from threading import Event
from time import monotonic

from PySide6.QtCore import QObject, Signal

from partsbench.core.plan.chance import PaceSpread
from partsbench.core.plan.workshop import ShopPlan
from partsbench.services.acts.history import history
from partsbench.services.plan import plans
from partsbench.services.plan.plans import PlanShown
from partsbench.services.plan.reading import InHand, in_hand
from partsbench.services.plan.week import cannot_be_kept
from partsbench.services.shop import Shop, writing
from partsbench.ui.dialogs.later import Later, LongWork

HOLDS_MINUTES = 15
"""A plan stands so long while nothing is recorded."""

AT_ONCE = 0.0
"""Seconds for the first plan: one pass, and no search behind it."""


@dataclass(frozen=True, slots=True)
class _Found:
    """A plan that was looked for, what cannot be kept, and whether it is the first of two."""

    shown: PlanShown
    lost: tuple[str, ...]
    sure: tuple[str, ...]
    first: bool


class WeekPlanner(QObject):
    """The book is read here, in the window's thread; what is reckoned in the other is pure."""

    found = Signal(object, object, object)
    """A PlanShown, a sentence for each promise that cannot be kept, and how sure the days are: at
    once without that, and again when the search is over or was stopped."""
    progressed = Signal(float)
    """How much of the time is over, 0 to 1; it comes from the other thread."""
    busy_changed = Signal(bool)

    def __init__(
        self, shop: Shop, parent: QObject | None = None, seconds: float = plans.SECONDS
    ) -> None:
        super().__init__(parent)
        self._shop = shop
        self.seconds = seconds
        self._for: tuple[int, int] = (-1, 0)
        self._hand: InHand | None = None
        self._before: ShopPlan | None = None
        self._own: dict[str, PaceSpread] = {}
        self._stop = Event()
        self.busy = False
        self._later = Later(self)
        self._later.ended.connect(self.on_ended)

    def ask(self) -> None:
        """Plan anew if something was recorded, or if the plan is old."""
        asked = self._version()
        if asked == self._for:
            return
        self._for = asked
        self.stop()
        self._stop = Event()
        self._hand = in_hand(self._shop, self._shop.clock())
        self._before = plans.shown_before(self._shop, self._hand)
        self._own = plans.spreads(self._shop, self._hand.at)
        self._busy(True)
        self._later.start(self._work(self._hand, AT_ONCE, first=True))

    def stop(self) -> None:
        """Look no further: what was found so far is the plan."""
        self._stop.set()

    def wait(self) -> None:
        """Let what runs come to its end, before the window goes away."""
        self.stop()
        self._later.forget()
        self._later.wait()

    def on_ended(self, found: object) -> None:
        assert isinstance(found, _Found)
        if self._shop.is_closed:
            return
        if found.first and self._hand is not None and not self._stop.is_set():
            self._later.start(self._work(self._hand, self.seconds, first=False))
        else:
            # A book that cannot be written to still has a plan; it is only not gone on from.
            writing(plans.keep_shown)(self._shop, found.shown)
            self._busy(False)
        self.found.emit(found.shown, found.lost, found.sure)

    def _work(self, hand: InHand, seconds: float, *, first: bool) -> LongWork:
        before, own, stop = self._before, self._own, self._stop
        told = self.progressed.emit

        def look() -> _Found:
            since = monotonic()

            def tell(_: float) -> None:
                told(min(1.0, (monotonic() - since) / seconds) if seconds else 0.0)

            shown = plans.planned(hand, seconds, 0, stop.is_set, tell, before)
            sure: tuple[str, ...] = ()
            if not first and shown.shop.stints and not stop.is_set():
                chances = plans.sure_of(shown, own, 0, stop.is_set)
                # Of a few runs nothing can be said 8 times of 10.
                sure = () if stop.is_set() else plans.sure_words(shown, chances)
            return _Found(shown, cannot_be_kept(shown), sure, first)

        return look

    def _busy(self, busy: bool) -> None:
        self.busy = busy
        self.busy_changed.emit(busy)

    def _version(self) -> tuple[int, int]:
        """The newest record (what is taken back makes one too) and the time in steps."""
        newest = history(self._shop, limit=1)
        minute = int(self._shop.clock().timestamp() // 60)
        return (newest[0].id if newest else 0, minute // HOLDS_MINUTES)
