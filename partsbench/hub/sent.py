"""What a device sends: one act, with its number, checked before anything is done with it."""

from __future__ import annotations

import json
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from partsbench.core.bench.events import Push
from partsbench.core.bench.state import Mode
from partsbench.core.outcomes import Refused

LONGEST_TEXT = 200
LONGEST_NOTE = 1000
LONGEST_MARK = 64
MOST = 2**53
"""The largest whole number that a page's script counts to without a gap."""


class Deed(StrEnum):
    """What kind of act it is."""

    SCAN = "scan"
    PUSH = "push"
    TURN = "turn"
    PUT = "put"
    NOTE = "note"
    OLD = "old finish"


PUSHES = frozenset(
    {Push.ENTER, Push.LEAVE, Push.SKIP, Push.REASON, Push.FACE, Push.STEP, Push.WET, Push.STAYS,
     Push.FIT, Push.REST, Push.TICK, Push.TURN_TO, Push.CHOOSE}
)  # fmt: skip
"""The keys and buttons that the page has."""
MODES = frozenset({Mode.BENCH, Mode.TEARDOWN, Mode.RETURN, Mode.LOAD})


@dataclass(frozen=True, slots=True)
class Sent:
    """number: of the act, one more than that of the act before. mark: the act's own, by chance: an
    act with a mark that was taken is the same act, whatever its number.

    age_ms: how long ago it was made, by the device. seen: the newest entry of the journal that the
    device had heard of by then.
    """

    number: int
    mark: str
    doing: Deed
    age_ms: int = 0
    seen: int = 0
    text: str = ""
    label: str = ""
    push: Push = Push.ENTER
    mode: Mode = Mode.BENCH
    tag: str = ""
    typed: bool = False
    whole: bool = False
    """Said of the whole piece."""
    again: bool = False
    """A camera may have seen the label all the time: it is shown, and records nothing."""


def parse_sent(body: bytes) -> Sent | Refused:
    """The act in a body of JSON; why it is none."""
    data = _object(body)
    if data is None:
        return _WRONG
    doing, push, mode = (
        _text(data.get(k, ""), LONGEST_TEXT) or "" for k in ("doing", "push", "mode")
    )
    numbers = [_number(data.get(k, 0)) for k in ("number", "age_ms", "seen")]
    words = [_text(data.get("text", ""), LONGEST_NOTE if doing == Deed.NOTE else LONGEST_TEXT)]
    words += [_text(data.get(k, ""), LONGEST_TEXT) for k in ("label", "tag")]
    mark = _text(data.get("mark"), LONGEST_MARK)
    known = (
        doing in set(Deed)
        and (doing != Deed.PUSH or push in PUSHES)
        and (doing != Deed.TURN or mode in MODES)
    )
    if not known or None in numbers or None in words or not numbers[0] or not mark:
        return _WRONG
    return Sent(
        numbers[0] or 0,
        mark,
        Deed(doing),
        numbers[1] or 0,
        numbers[2] or 0,
        words[0] or "",
        words[1] or "",
        Push(push) if doing == Deed.PUSH else Push.ENTER,
        Mode(mode) if doing == Deed.TURN else Mode.BENCH,
        words[2] or "",
        typed=data.get("typed") is True,
        whole=data.get("whole") is True,
        again=data.get("again") is True,
    )


def parse_words(body: bytes, *names: str) -> tuple[str, ...] | None:
    """Texts of these names out of a body of JSON; None where one is none."""
    data = _object(body)
    found = [_text(data.get(n, ""), LONGEST_TEXT) for n in names] if data is not None else [None]
    return None if None in found else tuple(w or "" for w in found)


def _object(body: bytes) -> dict[str, Any] | None:
    try:
        data = json.loads(body)
    except (ValueError, RecursionError):
        return None
    return data if isinstance(data, dict) else None


def _number(value: object) -> int | None:
    whole = isinstance(value, int) and not isinstance(value, bool)
    return int(str(value)) if whole and 0 <= int(str(value)) < MOST else None


def _text(value: object, most: int) -> str | None:
    """None for what is no text, too long, or holds what cannot be written down."""
    if not isinstance(value, str) or len(value) > most or "\0" in value:
        return None
    try:
        value.encode()
    except UnicodeEncodeError:
        return None
    return value


_WRONG = Refused("That is no act of the bench.")
