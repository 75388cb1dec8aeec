"""Somebody with nothing but the command line, who goes by the pages of help: each scan, key and
code of the wall is a command that is typed, or none. What is in the hand, how long ago it was
scanned and which verb is in force is kept in mind here, without the machine of the bench.
"""

from __future__ import annotations

import contextlib
import io
import json
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from partsbench.cli.group import run
from partsbench.core.bench.events import Push
from partsbench.core.bench.state import Waits
from partsbench.core.finish.steps import Operation
from partsbench.core.verbs import Key, Reason, Verb, reason_numbered, verb_numbered, wall_code
from partsbench.services.acts import teardown
from partsbench.services.acts.sending import back_to
from partsbench.services.known.state import FaceState, piece_state
from partsbench.services.shop import Shop
from tests.support.alone import Heard, stands, told
from tests.support.clock import SetClock
from tests.support.finishing import two_finishes
from tests.support.shops import code, quill
from tests.support.wall import verb_named

BOUNCE, ARMED, IDLE = timedelta(seconds=1.5), timedelta(seconds=60), timedelta(minutes=3)


@dataclass(frozen=True)
class InHand:
    """The label that was scanned last. `home_shown`: it was shown where it lives."""

    label: str = ""
    waits: Waits = Waits.EMPTY
    since: datetime | None = None
    holds: tuple[str, ...] = ()
    lifted: tuple[tuple[str, str], ...] = ()
    home_shown: bool = False


@dataclass
class Typed:
    """What a command gave; `row` is its JSON, {} where it was bad input."""

    exit: int
    row: Any = field(default_factory=dict)

    @property
    def recorded(self) -> bool:
        return bool(self.row.get("recorded"))


class ByCommands:
    """`shop` is the book that the commands work in, open here to be read."""

    def __init__(self, shop: Shop, book: Path, clock: SetClock) -> None:
        self.shop, self.clock = shop, clock
        self._start = ["--book", str(book), "--who", shop.who]
        self.ours, self.other = two_finishes(shop), quill(shop)
        self.page = "bench"
        self.hand = InHand()
        self.verb: Verb | None = None
        self.reason: Reason | None = None
        self.heard: Heard = None
        self._last: datetime | None = None
        self._last_text = ""

    # What is done

    def label(self, short: str, *, foreign: bool = False) -> str:
        return code(self.other if foreign else self.ours, short)

    def scan(self, text: str) -> None:
        now = self._time_passes()
        if text == self._last_text and self._last and now - self._last < BOUNCE:
            return
        self._last, self._last_text = now, text
        if wall_code(text):
            self._of_the_wall(text)
        elif self.verb:
            self._under_verb(text)
        elif self._is_ours(text):
            {"bench": self._at_the_bench, "teardown": self._out, "return": self._at_return}[
                self.page
            ](text)
        else:
            self._tell(text, self._at_page(text))

    def push(self, push: Push) -> None:
        now = self._time_passes()
        if push is Push.LEAVE:
            self.hand = InHand()
        elif self.hand.waits not in (Waits.STRANGE, Waits.ELSEWHERE):
            self._enter(now)

    def turn(self, page: str) -> None:
        self.heard = None
        if page != self.page:
            self._put_down()
            self.page = page

    def undo(self, *, by_the_wall: bool) -> None:
        if by_the_wall:
            self.scan(verb_named("UNDO").code)
        else:
            self.heard = None
            self._undo()

    def told(self) -> list[str]:
        return told(self.shop)

    def stands(self) -> object:
        return stands(self.shop, self.ours.tag)

    @property
    def waits(self) -> Waits:
        return self.hand.waits

    # What time does

    def _time_passes(self) -> datetime:
        self.heard, now = None, self.clock()
        hand = self.hand
        age = now - hand.since if hand.since else timedelta()
        slow = hand.waits in (Waits.HELD, Waits.HOME) and age >= IDLE
        if slow or (hand.waits in (Waits.ARMED, Waits.ASKED) and age >= ARMED):
            self._disarm()
        if self.verb and self._last and now - self._last >= IDLE:
            self._verb_off()
        return now

    def _disarm(self) -> None:
        if self.hand.waits is Waits.HOME:
            self.hand = InHand()
        elif self.hand.waits in (Waits.ARMED, Waits.HELD, Waits.ASKED):
            self.hand = replace(self.hand, waits=Waits.SHOWN, holds=(), lifted=())

    def _put_down(self) -> None:
        self._disarm()
        done = self.hand.waits is Waits.RECORDED
        waits = Waits.SHOWN if done else self.hand.waits
        self.hand = replace(self.hand, waits=waits, home_shown=False)

    def _verb_off(self) -> None:
        self.verb = self.reason = None
        self.hand = InHand()

    # Labels with no verb in force

    def _at_the_bench(self, text: str) -> None:
        hand = self.hand
        again = text == hand.label
        if again and hand.waits in (Waits.ARMED, Waits.ASKED):
            self._record(text, hand.lifted, sure=True)
        elif again and hand.waits is Waits.HELD:
            self._look_again()
            if self.hand.waits is Waits.HELD:
                self._record(text)
        else:
            self._take(text)
            self._look()

    def _out(self, text: str) -> None:
        self._take(text)
        self._answered(self._type("out", self.ours.tag, text))

    def _at_return(self, text: str) -> None:
        hand = self.hand
        if self._is_home(text):
            if hand.home_shown and hand.waits in (Waits.ARMED, Waits.SHOWN):
                self._home(hand.label, text)
            else:
                self._take(text, Waits.HOME)
        elif hand.waits is Waits.HOME:
            self._take(text, home_shown=True)
            self._home(text, hand.label)
        elif hand.waits is Waits.ARMED and text == hand.label:
            self._home(text)
        else:
            self._take(text, Waits.ARMED, home_shown=True)
            seen = self._type("scan", text, "--piece", self.ours.tag)
            assert not seen.recorded

    def _at_page(self, text: str) -> Typed:
        """What is typed on this page for a label, before it is known whose it is."""
        if self.page == "teardown":
            return self._type("out", self.ours.tag, text)
        if self.page == "return" and self.hand.waits is Waits.HOME:
            return self._type_home(text, self.hand.label)
        return self._type("scan", text, "--piece", self.ours.tag)

    def _enter(self, now: datetime) -> None:
        hand = self.hand
        if self.verb:
            if hand.waits is Waits.ASKED:
                self._under_verb(hand.label)
            elif hand.waits in (Waits.SHOWN, Waits.RECORDED):
                self._look_again()
        elif hand.waits is Waits.ASKED or (hand.waits is Waits.ARMED and self.page == "bench"):
            self._record(hand.label, hand.lifted, sure=True)
        elif self.page == "bench":
            if hand.waits in (Waits.HELD, Waits.SHOWN, Waits.RECORDED):
                self._look_again()
        elif self.page == "teardown" and self._is_home(hand.label):
            self.hand = InHand()
        elif self.page == "teardown" and hand.waits is not Waits.HELD:
            following = teardown.teardown(piece_state(self.shop, self.ours)).next
            if following:
                self._out(code(self.ours, following.short))
            else:
                self.turn("bench")
        elif self.page == "return" and hand.waits is Waits.ARMED:
            self._home(hand.label)

    # Codes of the wall

    def _of_the_wall(self, text: str) -> None:
        if self.hand.waits is Waits.ARMED:
            self._disarm()
        wall = wall_code(text)
        assert wall is not None
        if wall.sort.value == "WHYS":
            reason = reason_numbered(wall.number)
            assert reason is not None
            self._why(reason)
            return
        verb = verb_numbered(wall.number)
        assert verb is not None
        if verb.key is Key.UNDO:
            self._undo()
            return
        kept = self.hand if verb.key is Key.INSIST else InHand()
        self._verb_off()
        self.hand, self.verb = kept, verb if verb.key is not Key.OFF else None

    def _why(self, reason: Reason) -> None:
        if self.verb is None or self.verb.key is not reason.key:
            return
        if reason.key is Key.INSIST and self.hand.waits is Waits.HELD:
            hand = self.hand
            self._verb_off()
            self.hand = hand
            self._record(hand.label, (*hand.lifted, (hand.holds[0], reason.name)))
        else:
            self.reason = reason

    def _under_verb(self, text: str) -> None:
        verb, reason, hand = self.verb, self.reason, self.hand
        assert verb is not None
        asks_why = verb.key in (Key.INSIST, Key.SEND_BACK) and reason is None
        if not self._is_ours(text):
            self._tell(text, self._at_page(text) if asks_why else self._says(verb, text))
            return
        if asks_why:
            if text != hand.label:
                self._take(text)
            return
        if verb.key is Key.HOME and self._is_home(text):
            self._take(text, Waits.HOME)
            return
        if verb.key is Key.HOME and hand.waits is Waits.HOME:
            self._take(text, home_shown=True)
            self._home(text, hand.label)
            return
        sure = hand.waits is Waits.ASKED and hand.label == text
        self._take(text)
        if verb.key is Key.INSIST:
            kept = self.hand
            self._verb_off()
            self.hand = kept
            assert reason is not None
            self._record(text, (("", reason.name),), sure=sure)
        elif verb.key is Key.DO:
            self._do(verb, text, hand.lifted if sure else (), sure=sure)
        else:
            said = self._says(verb, text, reason)
            if said is not None:
                self._answered(said)

    def _do(
        self, verb: Verb, text: str, lifted: tuple[tuple[str, str], ...], *, sure: bool
    ) -> None:
        """A verb that names its work is about that step alone; else nothing is typed but a look."""
        step = self._step_of(text, verb.operations) if verb.operations else ""
        if verb.operations and not step:
            self._type("scan", text, "--piece", self.ours.tag)
            self.heard = None
        else:
            self._record(text, lifted, sure=sure, step=step)

    def _says(self, verb: Verb, text: str, reason: Reason | None = None) -> Typed | None:
        """What is typed for a label under a verb."""
        if verb.key is Key.OUT:
            return self._type("out", self.ours.tag, text)
        if verb.key is Key.HOME:
            return self._type_home(text)
        if verb.key is Key.SEND_BACK:
            why = reason or self.reason
            step = self._step_back(text, why) if why and self._is_ours(text) else "wash"
            at = ("--piece", self.ours.tag)
            return self._type("send-back", text, step, "--reason", why.name, *at) if step else None
        why = self.reason.name if self.reason else "the tin says so"
        insist = ("--insist", why) if verb.key is Key.INSIST else ()
        return self._type("scan", text, "--record", *insist, "--piece", self.ours.tag)

    # Commands

    def _look(self) -> None:
        text = self.hand.label
        seen = self._type("scan", text, "--piece", self.ours.tag)
        assert not seen.recorded
        self._answered(seen, looked=True)

    def _look_again(self) -> None:
        if self._is_ours(self.hand.label):
            self._take(self.hand.label, home_shown=self.hand.home_shown)
            self._look()

    def _record(self, text: str, lifted: tuple[tuple[str, str], ...] = (), *,
                sure: bool = False, step: str = "") -> None:  # fmt: skip
        words = ["scan", text, "--record", "--piece", self.ours.tag]
        words += ["--confirm"] if sure else []
        words += ["--step", step] if step else []
        for rule, why in lifted:
            words += ["--insist", f"{rule}: {why}" if rule else why]
        self._answered(self._type(*words), lifted=lifted)

    def _home(self, part: str, home: str = "") -> None:
        self._answered(self._type_home(part, home))

    def _type_home(self, part: str, home: str = "") -> Typed:
        before = self._newest()
        typed = self._type("return", self.ours.tag, "-", stdin=f"{home} {part}\n")
        if not typed.row:
            return typed
        (pair,) = typed.row["pairs"]
        self.heard = (pair["answer"], pair["part"])
        return replace(typed, row={**pair, "recorded": self._newest() > before})

    def _undo(self) -> None:
        self._put_down()
        said = self._type("undo")
        assert said.exit == 0, said
        self.heard = None
        self._last_text = ""

    def _type(self, *words: str, stdin: str = "") -> Typed:
        out, err, piped = io.StringIO(), io.StringIO(), sys.stdin
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err), _piped(stdin):
            done = run([*self._start, *words, "--json"], self.clock)
        assert sys.stdin is piped
        if done == 2:
            assert err.getvalue().startswith("partsbench: "), err.getvalue()
            self.heard = None
            return Typed(done)
        row = json.loads(out.getvalue())
        self.heard = (row["answer"], row["part"]) if "answer" in row else None
        return Typed(done, row)

    # What is in the hand

    def _take(self, text: str, waits: Waits = Waits.SHOWN, *, home_shown: bool = False) -> None:
        self.hand = InHand(text, waits, self.clock(), home_shown=home_shown)

    def _answered(
        self, said: Typed, *, looked: bool = False, lifted: tuple[tuple[str, str], ...] = ()
    ) -> None:
        """How the label in the hand stands after a command about it."""
        row = said.row
        holds = tuple(row.get("held", ()))
        asked = not looked and "Is this so?" in row.get("sentence", "")
        right = row.get("answer") == "GO"
        waits = Waits.SHOWN
        if said.recorded:
            waits, holds = Waits.RECORDED, ()
        elif asked:
            waits = Waits.ASKED
        elif holds:
            waits = Waits.HELD
        elif looked and right and row["step"] and not self.verb and self.page == "bench":
            waits = Waits.ARMED
        home_shown = self.hand.home_shown and row.get("answer") not in (None, "STOP")
        # A reason that names no hold is not typed again once it lifted none.
        still = lifted if asked else tuple(pair for pair in lifted if pair[0] and holds)
        self.hand = InHand(self.hand.label, waits, self.clock(), holds, still, home_shown)

    def _tell(self, text: str, said: Typed | None) -> None:
        """A label of another job, or none of ours: whatever was typed, nothing was done."""
        assert said is not None and not said.recorded and said.exit in (1, 2), (text, said)
        self._take(text, Waits.ELSEWHERE if said.exit == 1 else Waits.STRANGE)

    def _is_ours(self, text: str) -> bool:
        return text.startswith(f"{self.ours.tag}-")

    def _is_home(self, text: str) -> bool:
        return text in (self.label("H1"), self.label("H2"))

    # What is read off the paths

    def _faces(self, text: str) -> list[FaceState]:
        parts = piece_state(self.shop, self.ours).parts
        found = [own for short, own in parts.items() if self.label(short) == text]
        return [f for own in found for f in own.faces if f.path.steps]

    def _step_of(self, text: str, operations: frozenset[Operation]) -> str:
        """The step of that work that may be done on a part now, of those that must be first."""
        choices = [s for f in self._faces(text) for s in f.progress.choices]
        offered = sorted((s for s in choices if s.operation in operations),
                         key=lambda s: s.optional)  # fmt: skip
        return offered[0].key if offered else ""

    def _step_back(self, text: str, reason: Reason) -> str:
        """Where a face goes back to for that reason; "" when nothing on the part can."""
        steps = [s for f in self._faces(text) if (s := back_to(f.progress, reason))]
        return steps[0].key if steps else ""

    def _newest(self) -> int:
        return self.shop.book.newest()


@contextlib.contextmanager
def _piped(text: str) -> Iterator[None]:
    usual: Callable[[], Any] | Any = sys.stdin
    sys.stdin = io.StringIO(text)
    try:
        yield
    finally:
        sys.stdin = usual
