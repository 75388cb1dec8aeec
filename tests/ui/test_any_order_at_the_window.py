"""Scans, keys, codes of the wall and waits in any order, in the real window: a record is about the
label that was scanned last and shown, there is one at most for each event, an undo restores, and
the bench alone records the same. A run that fails is cut down to the shortest that does.
"""

from __future__ import annotations

import re
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from partsbench.core.bench.state import Mode
from partsbench.core.verbs import REASONS
from partsbench.services.acts.history import history, last_change, undo
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.ui import asking
from partsbench.ui.main_window import MainWindow
from partsbench.ui.pages.teardown_page import TeardownPage
from partsbench.ui.settings import Settings
from partsbench.ui.theme import Theme
from tests.support.alone import KEYS, PAGES, PARTS, VERBS_ON, Alone, told
from tests.support.clock import SetClock
from tests.support.finishing import two_finishes
from tests.support.shops import code, quill, shop_at
from tests.support.wall import verb_named

SECONDS = (2, 5, 5, 0.4, 30, 70, 200)
ARMED_S, IDLE_S = 60, 180
"""So long a label in the hand stays armed, and a verb with nothing scanned in force."""
EXAMPLES, STEPS = 40, 20


class AnyOrder(RuleBasedStateMachine):
    """Knows of the hand only what a person does: which label was scanned last, and before it."""

    def __init__(self) -> None:
        super().__init__()
        self._folder = tempfile.TemporaryDirectory()
        folder = Path(self._folder.name)
        self.clock = SetClock()
        self.shop = shop_at(folder / "window.partsbench", self.clock, "Wren")
        self.alone = Alone(shop_at(folder / "alone.partsbench", self.clock, "Wren"))
        self.ours, self.other = two_finishes(self.shop), quill(self.shop)
        self.window = MainWindow(self.shop, Settings(folder / "window.ini"))
        self.window.resize(1280, 720)
        self.window.show()
        self.window.show_page("bench", self.ours.tag)
        self.stood = {0: self._stands()}
        self.last: list[str] = []
        """The labels scanned last, the newest first; empty once a stranger or Esc came."""
        self.stranger = False

    def teardown(self) -> None:
        self.window.close()
        self.window.deleteLater()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        self.shop.close()
        self.alone.shop.close()
        self._folder.cleanup()

    # What is done

    @rule(short=st.sampled_from(PARTS), seconds=st.sampled_from(SECONDS))
    def scan(self, short: str, seconds: float) -> None:
        before = self._begin(seconds)
        self.window.take_code(code(self.ours, short), trigger=True)
        self.alone.session.scan(self.alone.label(short))
        self.last, self.stranger = [short, *self.last[:1]], False
        at_once = self.mode in (Mode.BENCH, Mode.RETURN) and seconds > IDLE_S
        self._end(before, none=at_once and not short.startswith("H") and not self._home_waited)

    @rule(short=st.sampled_from(("D1", "D2", "D3")), seconds=st.sampled_from(SECONDS))
    def scan_of_another_job(self, short: str, seconds: float) -> None:
        before = self._begin(seconds)
        self.window.take_code(code(self.other, short), trigger=True)
        self.alone.session.scan(self.alone.label(short, foreign=True))
        self._nothing_in_hand(stranger=True)
        self._end(before, none=True)

    @rule(text=st.sampled_from(("hello there", "K7Q4-D05AK")), seconds=st.sampled_from(SECONDS))
    def scan_of_nothing_known(self, text: str, seconds: float) -> None:
        before = self._begin(seconds)
        self.window.take_code(text, trigger=True)
        self.alone.session.scan(text)
        self._nothing_in_hand(stranger=True)
        self._end(before, none=True)

    @rule(seconds=st.sampled_from(SECONDS))
    def enter(self, seconds: float) -> None:
        if self.window.page().hand.waits.value == "of another job":
            return  # the window would turn to a piece of another tag than the bench alone
        before = self._begin(seconds)
        page = self.window.page()
        pulls = page.at_hand if isinstance(page, TeardownPage) else ""
        self._press(Qt.Key.Key_Return)
        armed = self.mode is Mode.TEARDOWN or seconds <= ARMED_S
        self._end(before, none=not armed or self.stranger, or_about=pulls)

    @rule(seconds=st.sampled_from(SECONDS))
    def escape(self, seconds: float) -> None:
        before = self._begin(seconds)
        self._press(Qt.Key.Key_Escape)
        self._nothing_in_hand(stranger=False)
        self._end(before, none=True)

    @rule(
        short=st.sampled_from(("D1", "D2", "D3")),
        presses=st.integers(0, 2),
        by=st.sampled_from(("another job", "nothing known", "Esc", "a wait")),
    )
    def interrupted(self, short: str, presses: int, by: str) -> None:
        """A part is in the hand, and something comes between it and Enter."""
        self.scan(short=short, seconds=5)
        for _ in range(presses):
            self.enter(seconds=2)
        if by == "another job":
            self.scan_of_another_job(short=short, seconds=5)
        elif by == "nothing known":
            self.scan_of_nothing_known(text="hello there", seconds=5)
        elif by == "Esc":
            self.escape(seconds=2)
        self.enter(seconds=70 if by == "a wait" else 2)

    @rule(name=st.sampled_from(VERBS_ON), seconds=st.sampled_from(SECONDS))
    def verb(self, name: str, seconds: float) -> None:
        self._wall(verb_named(name).code, seconds)

    @rule(reason=st.sampled_from(REASONS[:8]), seconds=st.sampled_from(SECONDS))
    def reason(self, reason: object, seconds: float) -> None:
        self._wall(reason.code, seconds)  # type: ignore[attr-defined]

    @rule(page=st.sampled_from(tuple(PAGES)))
    def turn(self, page: str) -> None:
        before = self._begin(0)
        self.window.show_page(page, self.ours.tag)
        self.alone.mode = PAGES[page]
        self.alone.session.turn(self.alone.mode, self.alone.ours.tag)
        self.stranger = False
        self._end(before, none=True)

    @precondition(lambda self: self.alone.may_undo())
    @rule(by_the_wall=st.booleans())
    def undo(self, by_the_wall: bool) -> None:
        self._begin(2)
        top = last_change(self.shop)
        assert top is not None
        if by_the_wall:
            self.window.take_code(verb_named("UNDO").code, trigger=True)
            self.alone.session.scan(verb_named("UNDO").code)
        else:
            self.window.actions_by_key["undo"].trigger()
            undo(self.alone.shop)
            self.alone.session.undone()
        self._follow()
        assert self._stands() == self.stood[top.id], "an undo restores what stood before"

    # What must hold

    @invariant()
    def the_bench_alone_records_the_same(self) -> None:
        assert told(self.shop) == self.alone.told()
        assert self.window.page().hand.waits is self.alone.session.state.hand.waits

    @property
    def mode(self) -> Mode:
        """Whose rules a label follows now."""
        return self.window.page().at_bench.state.rules

    def _begin(self, seconds: float) -> int:
        self.clock.pass_time(seconds=seconds)
        self._before = self._stands()
        self._home_waited = self.window.page().hand.waits.value == "a home waits"
        return _newest(self.shop)

    def _end(self, before: int, *, none: bool, or_about: str = "") -> None:
        """What was recorded since then is about the label in the hand; nothing, where `none`."""
        self._follow()
        made = [e for e in history(self.shop, limit=20) if e.id > before]
        assert len(made) <= 1, "one event records one thing at most"
        for entry in made:
            self.stood[entry.id] = self._before
            assert not none, f"recorded, with {self.last} in the hand: {entry.sentence}"
            may_be = [*self.last[:1], or_about]
            if self.last and self.last[0].startswith("H"):
                may_be += self.last[1:]  # its home was shown, and then scanned
            found = re.findall(r"\b[DH]\d\b", entry.sentence)[:1]
            assert set(found) & set(may_be), f"{may_be} in the hand: {entry.sentence}"

    def _wall(self, wall: str, seconds: float) -> None:
        before = self._begin(seconds)
        self.window.take_code(wall, trigger=True)
        self.alone.session.scan(wall)
        self._end(before, none=self.stranger)

    def _press(self, key: Qt.Key) -> None:
        QTest.keyClick(self.window.page(), key)
        self.alone.session.push(KEYS[key])

    def _nothing_in_hand(self, *, stranger: bool) -> None:
        self.last, self.stranger = [], stranger

    def _follow(self) -> None:
        """What the window does itself when the bench wishes it, done for the bench alone."""
        for wish in self.alone.session.take_wishes():
            if wish.what.value == "go to its piece" and not wish.text:
                self.alone.mode = Mode.BENCH
                self.alone.session.turn(self.alone.mode, self.alone.ours.tag)
        assert self.window.page().mode is self.alone.mode

    def _stands(self) -> object:
        """How every part of the piece stands in the book."""
        parts = piece_state(self.shop, self.ours).parts
        return {
            short: (own.where, own.place, [[(m.step, m.at, m.kind) for m in f.marks]
                                           for f in own.faces])
            for short, own in parts.items()
        }  # fmt: skip


def _newest(shop: Shop) -> int:
    return history(shop, limit=1)[0].id


def test_no_order_of_events_records_what_is_not_in_the_hand(
    qapp: QApplication, theme: Theme, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(asking, "ask_new_file", lambda *_: "")
    run_state_machine_as_test(
        AnyOrder,
        settings=settings(
            max_examples=EXAMPLES,
            stateful_step_count=STEPS,
            derandomize=True,
            database=None,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
