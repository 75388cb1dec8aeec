"""Scans, keys, codes of the wall and waits in any order: a record is about the label that was
scanned last and shown, there is one at most for each event, and an undo restores. The real window,
the bench alone, the command line and somebody with nothing but a scanner, each on a book of its
own, record the same and answer with the same large word. What fails is cut down to the shortest.
"""

from __future__ import annotations

import re
import tempfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import ClassVar, Protocol

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
from PySide6.QtWidgets import QApplication

from partsbench.core.bench.events import Push
from partsbench.core.bench.state import Mode, Waits
from partsbench.core.verbs import REASONS, Reason
from partsbench.services.acts.history import history, last_change
from partsbench.services.shop import Shop
from partsbench.ui import asking
from partsbench.ui.pages.teardown_page import TeardownPage
from partsbench.ui.theme import Theme
from tests.support.alone import PAGES, PARTS, VERBS_ON, Alone, Heard
from tests.support.by_commands import ByCommands
from tests.support.by_wall import ByWall
from tests.support.by_window import ByWindow
from tests.support.clock import SetClock
from tests.support.shops import shop_at
from tests.support.wall import verb_named

SECONDS = (2, 5, 5, 0.4, 30, 70, 200)
ARMED_S, IDLE_S = 60, 180
"""So long a label in the hand stays armed, and a verb with nothing scanned in force."""
EXAMPLES, STEPS, SEARCHING = 40, 20, 400
"""`SEARCHING` with the profile of that name: some minutes."""
SHRINKING_S = 900


class Door(Protocol):
    """A way into the shop, on a book of its own."""

    shop: Shop

    def label(self, short: str, *, foreign: bool = False) -> str: ...
    def scan(self, text: str) -> None: ...
    def push(self, push: Push) -> None: ...
    def turn(self, page: str) -> None: ...
    def undo(self, *, by_the_wall: bool) -> None: ...
    def told(self) -> list[str]: ...
    def stands(self) -> object: ...
    @property
    def waits(self) -> Waits: ...
    @property
    def heard(self) -> Heard: ...


class AnyOrder(RuleBasedStateMachine):
    """Knows of the hand only what a person does: which label was scanned last, and before it."""

    compared: ClassVar[Counter[str]] = Counter()
    """Of all runs: how often an answer of each door was held against that of the window."""

    def __init__(self) -> None:
        super().__init__()
        self._folder = tempfile.TemporaryDirectory()
        self.clock = SetClock()
        self.window = ByWindow(self._book("window"), Path(self._folder.name) / "window.ini")
        self.alone = Alone(self._book("alone"))
        self.others: dict[str, Door] = {
            "the bench alone": self.alone,
            "a scanner alone": ByWall(self._book("wall")),
            "the command line": ByCommands(
                self._book("commands"), self._path("commands"), self.clock
            ),
        }
        self.shop = self.window.shop
        self.stood = {0: self.window.stands()}
        self.last: list[str] = []
        """The labels scanned last, the newest first; empty once a stranger or Esc came."""
        self.stranger = False

    def teardown(self) -> None:
        self.window.close()
        for door in self.others.values():
            door.shop.close()
        self._folder.cleanup()

    # What is done

    @rule(short=st.sampled_from(PARTS), seconds=st.sampled_from(SECONDS))
    def scan(self, short: str, seconds: float) -> None:
        before = self._begin(seconds)
        self._all(lambda door: door.scan(door.label(short)))
        self.last, self.stranger = [short, *self.last[:1]], False
        at_once = self.window.rules in (Mode.BENCH, Mode.RETURN) and seconds > IDLE_S
        self._end(before, none=at_once and not short.startswith("H") and not self._home_waited)

    @rule(short=st.sampled_from(("D1", "D2", "D3")), seconds=st.sampled_from(SECONDS))
    def scan_of_another_job(self, short: str, seconds: float) -> None:
        before = self._begin(seconds)
        self._all(lambda door: door.scan(door.label(short, foreign=True)))
        self._nothing_in_hand(stranger=True)
        self._end(before, none=True)

    @rule(text=st.sampled_from(("hello there", "K7Q4-D05AK")), seconds=st.sampled_from(SECONDS))
    def scan_of_nothing_known(self, text: str, seconds: float) -> None:
        before = self._begin(seconds)
        self._all(lambda door: door.scan(text))
        self._nothing_in_hand(stranger=True)
        self._end(before, none=True)

    @rule(seconds=st.sampled_from(SECONDS))
    def enter(self, seconds: float) -> None:
        if self.window.waits is Waits.ELSEWHERE:
            return  # the window would turn to a piece of another tag than the others
        before = self._begin(seconds)
        page = self.window.window.page()
        pulls = page.at_hand if isinstance(page, TeardownPage) else ""
        self._all(lambda door: door.push(Push.ENTER))
        armed = self.window.rules is Mode.TEARDOWN or seconds <= ARMED_S
        self._end(before, none=not armed or self.stranger, or_about=pulls)

    @rule(seconds=st.sampled_from(SECONDS))
    def escape(self, seconds: float) -> None:
        before = self._begin(seconds)
        self._all(lambda door: door.push(Push.LEAVE))
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

    @rule(
        name=st.sampled_from(VERBS_ON),
        reason=st.sampled_from(REASONS[:8]),
        short=st.sampled_from(("D1", "D2", "D3")),
        seconds=st.sampled_from((2, 70, 200)),
        foreign=st.booleans(),
    )
    def verb_and_part(
        self, name: str, reason: Reason, short: str, seconds: float, foreign: bool
    ) -> None:
        """What a verb is for: the code of the wall, why where it asks that, and the part."""
        self.verb(name=name, seconds=2)
        if name in ("INSIST", "SENT BACK"):
            self.reason(reason=reason, seconds=2)
        if foreign:
            self.scan_of_another_job(short=short, seconds=2)
        self.scan(short=short, seconds=seconds)

    @rule(short=st.sampled_from(("D1", "D2", "D3")), reason=st.sampled_from(REASONS[:3]))
    def insisted(self, short: str, reason: Reason) -> None:
        """A part is refused, and recorded with a reason."""
        self.verb_and_part(name="DONE", reason=reason, short=short, seconds=2, foreign=False)
        self.verb(name="INSIST", seconds=2)
        self.reason(reason=reason, seconds=2)

    @rule(
        home=st.sampled_from(("H1", "H2")),
        short=st.sampled_from(("D1", "D2", "D3")),
        twice=st.booleans(),
    )
    def put(self, home: str, short: str, twice: bool) -> None:
        """On the page of the return: a home and what goes in."""
        self.turn(page="return")
        for _ in range(1 + twice):
            self.scan(short=home, seconds=2)
        self.scan(short=short, seconds=2)

    @rule(reason=st.sampled_from(REASONS[:8]), seconds=st.sampled_from(SECONDS))
    def reason(self, reason: Reason, seconds: float) -> None:
        self._wall(reason.code, seconds)

    @rule(page=st.sampled_from(tuple(PAGES)))
    def turn(self, page: str) -> None:
        before = self._begin(0)
        self._all(lambda door: door.turn(page))
        self.stranger = False
        self._end(before, none=True)

    @precondition(lambda self: self.alone.may_undo())
    @rule(by_the_wall=st.booleans())
    def undo(self, by_the_wall: bool) -> None:
        self._begin(2)
        top = last_change(self.shop)
        assert top is not None
        self._all(lambda door: door.undo(by_the_wall=by_the_wall))
        assert self.window.stands() == self.stood[top.id], "an undo restores what stood before"

    # What must hold

    @invariant()
    def every_door_records_and_answers_the_same(self) -> None:
        told, stands = self.window.told(), self.window.stands()
        waits, heard = self.window.waits, self.window.heard
        assert (self.window.mode, waits) == (self.alone.mode, self.alone.waits)
        for name, door in self.others.items():
            assert door.told() == told, f"{name}: {door.told()[-2:]}, the window {told[-2:]}"
            assert door.stands() == stands, name
            assert _next(door.waits) is _next(waits), f"{name}: {door.waits}, the window {waits}"
            if heard and door.heard:
                self.compared[name] += 1
                assert door.heard == heard, f"{name}: {door.heard}, the window {heard}"

    def _all(self, act: Callable[[Door], None]) -> None:
        for door in (self.window, *self.others.values()):
            act(door)

    def _begin(self, seconds: float) -> int:
        self.clock.pass_time(seconds=seconds)
        self._before = self.window.stands()
        self._home_waited = self.window.waits is Waits.HOME
        return _newest(self.shop)

    def _end(self, before: int, *, none: bool, or_about: str = "") -> None:
        """What was recorded since then is about the label in the hand; nothing, where `none`."""
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
        self._all(lambda door: door.scan(wall))
        self._end(before, none=self.stranger)

    def _nothing_in_hand(self, *, stranger: bool) -> None:
        self.last, self.stranger = [], stranger

    def _path(self, name: str) -> Path:
        return Path(self._folder.name) / f"{name}.partsbench"

    def _book(self, name: str) -> Shop:
        return shop_at(self._path(name), self.clock, "Wren")


def _next(waits: Waits) -> Waits:
    """What the label in hand still waits for: what was recorded is no more than shown."""
    return Waits.SHOWN if waits is Waits.RECORDED else waits


def _newest(shop: Shop) -> int:
    return history(shop, limit=1)[0].id


@pytest.mark.timeout(SHRINKING_S)
def test_no_order_of_events_records_what_is_not_in_the_hand(
    qapp: QApplication, theme: Theme, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(asking, "ask_new_file", lambda *_: "")
    AnyOrder.compared.clear()
    run_state_machine_as_test(
        AnyOrder,
        settings=settings(
            max_examples=EXAMPLES if settings().derandomize else SEARCHING,
            stateful_step_count=STEPS,
            suppress_health_check=list(HealthCheck),
        ),
    )
    for name in ("the bench alone", "a scanner alone", "the command line"):
        assert AnyOrder.compared[name] > 100, "hardly an answer was held against the window's"
