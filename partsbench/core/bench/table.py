"""The table of the bench: on which page, with what in the hand, what happens, and what it does.

Read from the top; the first row that fits is the one. What has no row is told and changes nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from partsbench.core.bench import keys, labels, wall
from partsbench.core.bench.events import Push
from partsbench.core.bench.labels import BenchRule
from partsbench.core.bench.state import Mode, Waits


class Label(StrEnum):
    """A scanned label, seen from what is in the hand."""

    AGAIN = "the same label again"
    LAST_LEFT_OUT = "the last one left out, once more"
    PART = "a part"
    HOME = "a home"
    ELSEWHERE = "a label of another job"
    STRANGE = "no label of ours"


Happens = Label | Push


@dataclass(frozen=True, slots=True)
class Row:
    """`modes` and `hands` for which it holds, () for all; the rule's first line is what it does."""

    modes: tuple[Mode, ...]
    hands: tuple[Waits, ...]
    happens: tuple[Happens, ...]
    rule: BenchRule

    def fits(self, mode: Mode, hand: Waits, happens: Happens) -> bool:
        return (
            happens in self.happens
            and (not self.modes or mode in self.modes)
            and (not self.hands or hand in self.hands)
        )

    @property
    def does(self) -> str:
        return " ".join((self.rule.__doc__ or "").split())


_M, _W, _L, _P = Mode, Waits, Label, Push
_ANY = (_L.AGAIN, _L.PART)
_OURS = (_W.SHOWN, _W.ARMED, _W.HELD, _W.ASKED)
_NOT_OURS = (_W.ELSEWHERE, _W.STRANGE)
_OF_THE_HAND = tuple(p for p in Push if p not in (_P.CHOOSE, _P.TICK))
"""A press on a part in a drawing or a list is as good as a scan of it."""

ROWS: tuple[Row, ...] = (
    # Whatever is in the hand
    Row((), (), (_P.LEAVE,), keys.leave),
    Row((), (_W.ASKED,), (_L.LAST_LEFT_OUT,), wall.end_load),
    Row((_M.VERB,), (), (*_ANY, _L.LAST_LEFT_OUT, _L.HOME, _L.ELSEWHERE, _L.STRANGE, _P.CHOOSE),
        wall.under_verb),
    Row((), (), (_L.ELSEWHERE, _L.STRANGE), labels.tell),
    Row((), (), (_P.AT,), keys.at),
    Row((), (), (_P.KEEP,), keys.keep),
    Row((), (), (_P.IDLE,), keys.idle),
    Row((), (), (_P.TURN_TO,), keys.turn_to),
    # Not of this piece: only to go there, and Esc, are live
    Row((), (_W.ELSEWHERE,), (_P.ENTER,), keys.go_to),
    Row((), _NOT_OURS, _OF_THE_HAND, keys.not_now),
    Row((_M.VERB,), (_W.ASKED,), (_P.ENTER,), wall.confirm),
    Row((), (_W.ASKED,), (_P.ENTER,), labels.record),
    # Bench
    Row((_M.BENCH,), (_W.ARMED, _W.ASKED), (_L.AGAIN,), labels.record),
    Row((_M.BENCH,), (_W.ARMED,), (_P.ENTER,), labels.record),
    Row((_M.BENCH,), (_W.HELD,), (_L.AGAIN,), labels.refused_again),
    Row((_M.TEARDOWN, _M.RETURN), (_W.HELD,), (_P.ENTER,), labels.nothing),
    Row((_M.BENCH,), (_W.HELD,), (_P.ENTER,), keys.held_enter),
    Row((_M.BENCH, _M.VERB), (_W.SHOWN, _W.RECORDED), (_P.ENTER,), labels.look_again),
    Row((_M.BENCH, _M.OTHER), (), (*_ANY, _L.LAST_LEFT_OUT, _L.HOME), labels.show),
    Row((_M.BENCH, _M.VERB), _OURS, (_P.SKIP,), keys.skip),
    Row((_M.BENCH, _M.VERB), (_W.RECORDED,), (_P.SKIP,), labels.look_again),
    Row((_M.BENCH, _M.VERB, _M.LOAD), (_W.HELD,), (_P.REASON,), keys.insist),
    Row((_M.BENCH, _M.VERB), (*_OURS, _W.RECORDED), (_P.FACE,), keys.face),
    Row((_M.BENCH, _M.VERB), (*_OURS, _W.RECORDED), (_P.STEP,), keys.step),
    Row((_M.BENCH, _M.VERB), (), (_P.WET,), keys.wet),
    # Teardown
    Row((_M.TEARDOWN,), (), (*_ANY, _L.LAST_LEFT_OUT, _L.HOME), labels.take_out),
    Row((_M.TEARDOWN,), (), (_P.CHOOSE,), keys.choose),
    Row((_M.TEARDOWN,), (), (_P.ENTER,), keys.pull),
    Row((_M.TEARDOWN,), (), (_P.STAYS,), keys.stays),
    Row((_M.TEARDOWN,), (), (_P.REST,), keys.rest_stays),
    # Return
    Row((_M.RETURN,), (_W.ARMED,), (_L.AGAIN, _P.ENTER), labels.bring),
    Row((_M.RETURN,), (_W.ARMED, _W.SHOWN), (_L.HOME,), labels.bring_into),
    Row((_M.RETURN,), (), (_L.HOME,), labels.home_waits),
    Row((_M.RETURN,), (_W.HOME,), (_L.PART, _L.LAST_LEFT_OUT), labels.fill_home),
    Row((_M.RETURN,), (), (*_ANY, _L.LAST_LEFT_OUT), labels.bring_or_show),
    Row((_M.RETURN,), (_W.EMPTY, _W.RECORDED, _W.SHOWN), (_P.ENTER,), keys.prove),
    Row((_M.RETURN,), (_W.RECORDED,), (_P.FIT,), keys.fit),
    Row((_M.RETURN,), (), (_P.REST,), keys.eliminate),
    # Load
    Row((_M.LOAD,), (), (*_ANY, _L.LAST_LEFT_OUT, _P.TICK), labels.tick),
    Row((_M.LOAD,), (), (_L.HOME,), labels.show),
    Row((_M.LOAD,), (), (_P.ENTER,), keys.load),
)  # fmt: skip


def row_for(mode: Mode, hand: Waits, happens: Happens) -> Row | None:
    """The row that says what happens; None where none does."""
    return next((row for row in ROWS if row.fits(mode, hand, happens)), None)
