"""Somebody with nothing but a scanner: labels and the codes of the wall, and hardly a key."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

from partsbench.core.bench.events import Push
from partsbench.core.bench.state import Mode, Waits
from partsbench.services.acts import teardown
from partsbench.services.known.state import piece_state
from tests.support.alone import Alone
from tests.support.shops import code
from tests.support.wall import verb_named

_OFF = verb_named("VERB OFF").code
_SHOWN = (Waits.ARMED, Waits.ASKED, Waits.HELD, Waits.SHOWN, Waits.RECORDED)


class ByWall(Alone):
    """A scan in place of each key; whoever walks by turns the page.

    A scan that stands for a key leaves the memory of the trigger alone: a key neither bounces nor
    keeps a verb in force, and only in that the two differ.
    """

    def push(self, push: Push) -> None:
        self.session.tick()
        self.session.answers.clear()
        with self._instead_of_a_key():
            self._put_down() if push is Push.LEAVE else self._enter()
        self.follow()

    def undo(self, *, by_the_wall: bool) -> None:
        if by_the_wall:
            super().undo(by_the_wall=True)
            return
        with self._instead_of_a_key():
            super().undo(by_the_wall=True)
        self.session.state = replace(self.session.state, last_code="")

    def _enter(self) -> None:
        """The same label once more; at teardown that of the next to pull."""
        state = self.session.state
        if state.rules is Mode.TEARDOWN:
            self._pull_next()
        elif state.hand.waits in {
            Mode.BENCH: _SHOWN,
            Mode.VERB: (Waits.ASKED,),
            Mode.RETURN: (Waits.ARMED,),
        }.get(state.rules, ()):
            self.session.scan(state.hand.code, trigger=False)
        elif state.rules is Mode.VERB and state.hand.waits in (Waits.SHOWN, Waits.RECORDED):
            # A scan would record: only a key looks again while a verb is in force.
            self.session.push(Push.ENTER)

    def _pull_next(self) -> None:
        if self.session.state.hand.waits in (Waits.ELSEWHERE, Waits.STRANGE):
            return
        following = teardown.teardown(piece_state(self.shop, self.ours)).next
        if following is None:
            self.turn("bench")
        else:
            self.session.scan(code(self.ours, following.short), trigger=False)

    def _put_down(self) -> None:
        """No code empties the hand alone: the verb goes off, and comes on again with its reason."""
        verb, reason = self.session.state.verb, self.session.state.reason
        for text in (_OFF, verb.code if verb else "", reason.code if reason else ""):
            if text:
                self.session.scan(text)
        self.session.answers.clear()

    @contextmanager
    def _instead_of_a_key(self) -> Iterator[None]:
        before = self.session.state
        yield
        self.session.state = replace(
            self.session.state, last=before.last, last_code=before.last_code
        )
