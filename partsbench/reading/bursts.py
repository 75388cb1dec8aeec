"""Tells a scanner that types from a person who types, by timing alone.

Every character is held back for a moment. If the next one comes no faster than fingers can, it
was typing and is replayed; a fast run of some length is a scan and never reaches a field. The
window feeds keys and owns the timer: after each answer it sets the timer to `deadline` and calls
`expire` when it fires.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from partsbench.core.piece.codes import CODE_LENGTH, TAG_LENGTH, Code, CodeFault, parse_code

# Scanners send a character every 1-30 ms, a quick typist one every 60 ms or more (common
# practice). A single rolled pair of keys can be faster, so speed needs length as well.
FAST_GAP = 0.045
# Six keys in a row faster than FAST_GAP are more than 22 a second: no hands do that.
SHORTEST_SCAN = 6
# A busy computer can hold up a scanner in mid-code. Nobody types four characters of a code at
# scanner speed, so from there on the rest of the code is waited for.
SURE_LENGTH = 4
PATIENT_GAP = 0.120
# A scanner's Enter may come late, or twice (CR LF): within this time after a scan it is the
# scanner's and must not press a button. Nobody answers a scan that quickly.
SUFFIX_GRACE = 0.150
# A held-down key repeats about every 30 ms. No tag is made of four equal characters.
HELD_KEY_RUN = 4
# Keys that a person may strike within FAST_GAP before or after a scan. More is not typing.
STRAY_KEYS = 2

SUFFIXES = frozenset("\r\n\t")

# Some scanners put an identifier of the symbology before the text: `]Q1` for a QR code
# (ISO/IEC 15424, from memory).
_SYMBOLOGY = re.compile(r"^\]Q\d")
_LIKE_A_CODE = re.compile(r"[0-9A-Z]{0,4}|[0-9A-Z]{4}[^0-9A-Z][0-9A-Z]{0,4}", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class KeyStroke:
    """One key: its character, when it was struck (seconds, monotonic), and the window's own event.

    `at` should be the time stamp of the event, not of its handling: a busy window must not make
    a scan look slow.
    """

    character: str
    at: float
    event: object = None


@dataclass(frozen=True, slots=True)
class Scan:
    """What a scanner sent: the text, and the code that it is or why it is none."""

    text: str
    code: Code | CodeFault


@dataclass(frozen=True, slots=True)
class KeysHeard:
    """What to do now: first `replay` these keys as typing, then act on `scans`.

    `taken` says that the key just fed must not go on to the field or button with the focus.
    """

    replay: tuple[KeyStroke, ...] = ()
    scans: tuple[Scan, ...] = ()
    taken: bool = False


def parse_scan(text: str) -> Code | CodeFault:
    """The code that a scanner sent, whatever its keyboard layout makes of the hyphen."""
    text = _SYMBOLOGY.sub("", text)
    if len(text) == CODE_LENGTH and not _is_plain(text[TAG_LENGTH]):
        text = text[:TAG_LENGTH] + text[TAG_LENGTH + 1 :]
    return parse_code(text)


@dataclass(slots=True)
class BurstReader:
    """Fed with every key that gives a character, and Enter and Tab; see the module's text.

    Before any other key (arrows, shortcuts) or a change of window the caller uses `settle`.
    """

    _held: list[KeyStroke] = field(default_factory=list)
    _repeating: KeyStroke | None = None
    _scan_ended: float | None = None

    @property
    def deadline(self) -> float | None:
        """When the held keys are due (same clock as the keys); None while nothing is held."""
        return self._held[-1].at + self._patience() if self._held else None

    def feed(self, key: KeyStroke) -> KeysHeard:
        """Take in one key."""
        before = self.expire(key.at)
        if key.character in SUFFIXES:
            return self._suffix(key, before)
        self._scan_ended = None
        if self._is_held_down(key):
            self._repeating = key
            return KeysHeard(before.replay, before.scans)
        self._repeating = None
        self._held.append(key)
        if len(self._held) == HELD_KEY_RUN and len({k.character for k in self._held}) == 1:
            self._repeating, replay = key, tuple(self._held)
            self._held.clear()
            return KeysHeard(before.replay + replay, before.scans, taken=True)
        return KeysHeard(before.replay, before.scans, taken=True)

    def expire(self, now: float) -> KeysHeard:
        """Give out what is due at `now`."""
        due = self.deadline
        return self.settle() if due is not None and now > due else KeysHeard()

    def settle(self) -> KeysHeard:
        """Give out whatever is held, without waiting."""
        run, self._held = self._held, []
        if not run:
            return KeysHeard()
        replay, scans = _sort_out(run)
        if scans and run[-1] not in replay[-1:]:
            self._scan_ended = run[-1].at
        return KeysHeard(tuple(replay), tuple(scans))

    def _suffix(self, key: KeyStroke, before: KeysHeard) -> KeysHeard:
        self._repeating = None
        now = self.settle()
        late = self._scan_ended is not None and key.at - self._scan_ended <= SUFFIX_GRACE
        if not late:
            self._scan_ended = None
        return KeysHeard(before.replay + now.replay, before.scans + now.scans, taken=late)

    def _is_held_down(self, key: KeyStroke) -> bool:
        last = self._repeating
        return (
            last is not None
            and last.character == key.character
            and key.at - last.at <= FAST_GAP
            and not self._held
        )

    def _patience(self) -> float:
        if len(self._held) < SURE_LENGTH:
            return FAST_GAP
        text = _SYMBOLOGY.sub("", "".join(k.character for k in self._held))
        return PATIENT_GAP if _LIKE_A_CODE.fullmatch(text) else FAST_GAP


def _sort_out(run: list[KeyStroke]) -> tuple[list[KeyStroke], list[Scan]]:
    """A fast run as the keys that a person typed and the scans among them."""
    if len(run) < SHORTEST_SCAN:
        return run, []
    stray, scans = _codes_in(run)
    if scans and len(stray) <= STRAY_KEYS * len(scans):
        return stray, scans
    text = "".join(k.character for k in run)
    return [], [Scan(text, parse_scan(text))]


def _codes_in(run: list[KeyStroke]) -> tuple[list[KeyStroke], list[Scan]]:
    """Whole codes in a run, left to right, and the keys that belong to none."""
    text = "".join(k.character for k in run)
    if _SYMBOLOGY.match(text):
        return [], [Scan(text, parse_scan(text))]
    stray: list[KeyStroke] = []
    scans: list[Scan] = []
    place = 0
    while place < len(run):
        piece = text[place : place + CODE_LENGTH]
        code = parse_scan(piece) if _has_layout(piece) else CodeFault.SHAPE
        if isinstance(code, Code):
            scans.append(Scan(piece, code))
            place += CODE_LENGTH
        else:
            stray.append(run[place])
            place += 1
    return stray, scans


def _has_layout(piece: str) -> bool:
    """Ten characters with something other than a letter or digit after the tag."""
    return len(piece) == CODE_LENGTH and not _is_plain(piece[TAG_LENGTH])


def _is_plain(character: str) -> bool:
    return character.isascii() and character.isalnum()
