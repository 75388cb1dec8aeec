"""The plan of the shop in a window: one for all pages, looked for off the window's thread."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from threading import Event
from time import monotonic

from PySide6.QtCore import QObject, QTimer, Signal

from partsbench.core.plan.chance import PaceSpread
from partsbench.core.plan.workshop import ShopPlan
from partsbench.core.shown_times import time_of_day
from partsbench.services.acts.history import history
from partsbench.services.plan import plans
from partsbench.services.plan.evening import EveningHours, Tonight, evening_of, tonight_of
from partsbench.services.plan.plans import PlanShown
from partsbench.services.plan.reading import InHand, Reader
from partsbench.services.plan.week import cannot_be_kept
from partsbench.services.shop import Shop, writing
from partsbench.ui.dialogs.later import Later, LongWork

HOLDS_MINUTES = 15
"""A plan stands so long while nothing is recorded."""

PAUSE_MS, BEAT_MS = 150, 5
"""No scan waits for the plan: it is read after a pause, and a piece at each beat."""

AT_ONCE = 0.0
"""Seconds for the first plan: one pass, and no search behind it."""


@dataclass(frozen=True, slots=True)
class PlanFound:
    """A plan and what is said of it: promises that cannot be kept, how sure the days are, and what
    to begin tonight. first: the search for a better one, and for how sure it is, still goes on.
    moved: what changed last and why, with the time where an earlier plan did; "" for nothing yet.
    """

    shown: PlanShown
    lost: tuple[str, ...] = ()
    sure: tuple[str, ...] = ()
    tonight: Tonight | None = None
    first: bool = False
    moved: str = ""


class ShopPlanner(QObject):
    """Day, Week and Pieces ask it, and all show the same plan. The book is read here, in the
    window's thread, piece by piece; what is reckoned in the other is pure."""

    found = Signal(object)
    """A PlanFound: a first one at once, and one again when the search is over or was stopped."""
    progressed = Signal(float)
    """How much of the time is over, 0 to 1; it comes from the other thread."""
    busy_changed = Signal(bool)

    def __init__(
        self, shop: Shop, parent: QObject | None = None, seconds: float = plans.SECONDS
    ) -> None:
        super().__init__(parent)
        self._shop = shop
        self.seconds = seconds
        self.last: PlanFound | None = None
        self._for: tuple[int, int] = (-1, 0)
        self._reader: Reader | None = None
        self._hand: InHand | None = None
        self._before: ShopPlan | None = None
        self._own: dict[str, PaceSpread] = {}
        self._evening: EveningHours | None = None
        self._moved: tuple[datetime, str] | None = None
        self._stop = Event()
        self.busy = False
        self._beat = QTimer(self, singleShot=True)
        self._beat.timeout.connect(self.on_beat)
        self._later = Later(self)
        self._later.ended.connect(self.on_ended)

    def ask(self) -> None:
        """Plan anew if something was recorded, or if the plan is old; else say what stands."""
        asked = self._version()
        if asked == self._for:
            if self.last is not None:
                self.found.emit(self.last)
            return
        pause = PAUSE_MS if self.last or self.busy else 0
        self._for = asked
        self.stop()
        self._later.forget()
        self._stop = Event()
        self._reader = self._hand = self.last = None
        self._busy(True)
        self._beat.start(pause)

    def on_beat(self) -> None:
        """Read one piece more; when all are read, plan."""
        if self._shop.is_closed:
            return
        now = self._shop.clock()
        if self._reader is None:
            self._reader = Reader(self._shop, now)
        if self._reader.step():
            self._beat.start(BEAT_MS)
            return
        self._hand, self._reader = self._reader.hand(), None
        self._before = plans.shown_before(self._shop, self._hand)
        self._own = plans.spreads(self._shop, now)
        self._evening = evening_of(self._shop, self._hand.at)
        self._later.start(self._work(self._hand, AT_ONCE, first=True))

    def stop(self) -> None:
        """Look no further: what was found so far is the plan."""
        self._stop.set()

    def wait(self) -> None:
        """Let what runs come to its end, before the window goes away; who asks again plans anew."""
        self.stop()
        self._beat.stop()
        self._later.forget()
        self._later.wait()
        self._for = (-1, 0)
        if self.busy:
            self._busy(False)

    def on_ended(self, found: object) -> None:
        assert isinstance(found, PlanFound)
        if self._shop.is_closed:
            return
        # A book that cannot be written to still has a plan; it is only not gone on from.
        writing(plans.keep_shown)(self._shop, found.shown)
        if found.first and self._hand is not None and not self._stop.is_set():
            self._later.start(self._work(self._hand, self.seconds, first=False))
        else:
            self._busy(False)
        self.last = replace(found, moved=self._moved_words(found.shown))
        self.found.emit(self.last)

    def _moved_words(self, shown: PlanShown) -> str:
        """What changed last. A better plan of one moment takes the place of the first one, and what
        was said of that; a later one in which nothing moves leaves the line, with its time."""
        if shown.changed or (self._moved and self._moved[0] == shown.at):
            self._moved = (shown.at, shown.changed)
        if self._moved is None or not self._moved[1]:
            return ""
        at, changed = self._moved
        return changed if at == shown.at else f"Since {time_of_day(at, shown.at)}: {changed}"

    def _work(self, hand: InHand, seconds: float, *, first: bool) -> LongWork:
        before, own, stop, evening = self._before, self._own, self._stop, self._evening
        told = self.progressed.emit

        def look() -> PlanFound:
            since = monotonic()

            def tell(_: float) -> None:
                told(min(1.0, (monotonic() - since) / seconds) if seconds else 0.0)

            shown = plans.planned(hand, seconds, 0, stop.is_set, tell, before)
            sure: tuple[str, ...] = ()
            if not first and shown.shop.stints and not stop.is_set():
                chances = plans.sure_of(shown, own, 0, stop.is_set)
                # Of a few runs nothing can be said 8 times of 10.
                sure = () if stop.is_set() else plans.sure_words(shown, chances)
            tonight = tonight_of(shown, evening) if evening else None
            return PlanFound(shown, cannot_be_kept(shown), sure, tonight, first)

        return look

    def _busy(self, busy: bool) -> None:
        self.busy = busy
        self.busy_changed.emit(busy)

    def _version(self) -> tuple[int, int]:
        """The newest record (what is taken back makes one too) and the time in steps."""
        newest = history(self._shop, limit=1)
        minute = int(self._shop.clock().timestamp() // 60)
        return (newest[0].id if newest else 0, minute // HOLDS_MINUTES)
