"""One device at the bench: its acts in order, each once, through the one machine of the bench."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Any

from partsbench.core.bench.events import Act, Push, What
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.piece import Piece
from partsbench.core.verbs import WHOLE_PIECE, Key, Sort, verb_numbered, wall_code
from partsbench.hub import shown
from partsbench.hub.sent import Deed, Sent
from partsbench.services.acts import places
from partsbench.services.books import pieces
from partsbench.services.heard import devices
from partsbench.services.heard.devices import Device
from partsbench.services.heard.doing import AtHand, do
from partsbench.services.heard.session import Session
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.shop import Shop, find_tag

KEPT_ANSWERS = 200
OLDEST = timedelta(hours=12)
"""What was kept for longer than that is refused: nobody knows any more what it stood on."""
KEPT = timedelta(seconds=20)
"""An act older than that was kept while the hub was gone: it is of the time when it was made."""


@dataclass(frozen=True, slots=True)
class OutOfTurn:
    """An act came before the one that has to come first; nothing was done."""

    expects: int


@dataclass
class DeviceHand:
    """A device and its state at the bench. Used by the thread that has the book."""

    shop: Shop
    device: Device
    session: Session = field(init=False)
    expects: int = 0
    """The number that has to come next; 0 while any newer one may."""

    def __post_init__(self) -> None:
        self.shop = replace(self.shop, who=self.device.person)
        self.session = Session(self.shop)
        self._taken = devices.last_act(self.shop, self.device)
        self._answers: OrderedDict[str, dict[str, Any]] = OrderedDict()
        self._last: datetime | None = None

    @property
    def last(self) -> int:
        """The number of the latest act that was taken."""
        return max(self._taken, self.expects - 1)

    def act(self, sent: Sent) -> dict[str, Any] | OutOfTurn:
        """Take an act, or answer one again that was taken; out of its turn it is not taken."""
        again = self._again(sent)
        if again:
            return again
        if sent.number <= self.last or (self.expects and sent.number > self.expects):
            return OutOfTurn(self.last + 1)
        before = self.session.state
        try:
            said = self._take(sent)
        except BaseException:
            self.session.state = before  # it is not taken, and may be sent again
            raise
        self.expects = sent.number + 1
        reply = self._reply(sent.number, said)
        self._answers[sent.mark] = reply
        while len(self._answers) > KEPT_ANSWERS:
            self._answers.popitem(last=False)
        return reply

    def stands(self) -> dict[str, Any]:
        """How things stand, for a page that was just opened."""
        return self._reply(self.last, [])

    def _again(self, sent: Sent) -> dict[str, Any] | None:
        """The answer to an act that was taken: it is known by its mark."""
        kept = self._answers.get(sent.mark)
        if kept is not None:
            return kept
        taken = devices.taken_already(self.shop, self.device, sent.mark)
        return self._reply(sent.number, [taken]) if taken else None

    def _reply(self, number: int, said: list[Outcome]) -> dict[str, Any]:
        wishes = [_AT_THE_WINDOW[w.what] for w in self.session.take_wishes()
                  if w.what in _AT_THE_WINDOW]  # fmt: skip
        return {
            "number": number,
            "seen": self.shop.book.newest(),
            "outcomes": [shown.outcome(each) for each in said],
            "bench": shown.bench(self.shop, self.session),
            "wishes": wishes,
        }

    # Taking it

    def _take(self, sent: Sent) -> list[Outcome]:
        now = self.shop.clock()
        age = timedelta(milliseconds=sent.age_ms)
        if age > OLDEST:
            return [_TOO_OLD]
        # What a device says of its time only counts between the act before and now.
        when = max(now - age, min(self._last or now - age, now))
        self._last = when
        self.session.behind = now - when
        self.session.guard = self._guard(sent.seen)
        try:
            with devices.one_act(self.shop, self.device, sent.number, sent.mark):
                return self._does(sent, when if now - when > KEPT else None)
        finally:
            self.session.behind, self.session.guard = timedelta(), None

    def _guard(self, seen: int) -> Callable[[Act], Outcome | None]:
        return devices.guard(self.shop, self.device, self.session, seen)

    def _does(self, sent: Sent, at: datetime | None) -> list[Outcome]:
        session = self.session
        if sent.doing is Deed.SCAN:
            self._take_its_piece(sent.text)
            if sent.again:
                return session.see_again(sent.text, at)
            return session.scan(sent.text, at, trigger=not sent.typed)
        if sent.doing is Deed.PUSH:
            if at:
                session.push(Push.AT, at=at)
            return session.push(sent.push, sent.text, label=sent.label)
        if sent.doing is Deed.TURN:
            tag = find_tag(self.shop, sent.tag) if sent.tag else ""
            if isinstance(tag, Refused):
                return [_told(tag)]
            session.turn(sent.mode, tag)
            return []
        if sent.doing is Deed.PUT:
            return [self._put(sent, at)]
        return [self._note(sent)] if sent.doing is Deed.NOTE else self._old_finish(sent)

    def _take_its_piece(self, text: str) -> None:
        """As long as no piece is at work, the piece of the first label is."""
        known = identify(self.shop, text) if not self.session.here else None
        if isinstance(known, KnownLabel):
            self.session.turn(self.session.state.mode, known.piece.tag)

    def _put(self, sent: Sent, at: datetime | None) -> Outcome:
        turned_away = self._guard(sent.seen)(Act(What.PUT, sent.label))
        return turned_away or _told(
            places.put(self.shop, sent.text, [sent.label], here=self.session.here, at=at)
        )

    def _old_finish(self, sent: Sent) -> list[Outcome]:
        """Answer what is on the part, or on all of its piece; then look at it again."""
        wall = wall_code(sent.text)
        verb = verb_numbered(wall.number) if wall and wall.sort is Sort.VERB else None
        if verb is None or verb.key is not Key.OLD_FINISH:
            return [_told(Refused("That is no answer to what is on it."))]
        face = WHOLE_PIECE if sent.whole else self.session.state.hand.face
        act = Act(What.OLD_FINISH, sent.label, verb, face=face)
        said = do(AtHand(self.shop, self.session.state, {}), act)
        told = _told(said[0] if isinstance(said, tuple) else said)
        return [told, *(self.session.scan(sent.label, trigger=False) if told.recorded else ())]

    def _note(self, sent: Sent) -> Outcome:
        """A note is added to what is noted of the part already."""
        known = identify(self.shop, sent.label, self.session.here)
        if isinstance(known, Outcome):
            return known
        words = " ".join(sent.text.split())
        if known.part is None or not words:
            return _told(Refused("Scan the part, then write the note."))
        note = "; ".join(filter(None, (known.part.note, words)))
        said = pieces.edit_part(self.shop, known.piece.tag, known.part.short, note=note)
        if isinstance(said, Refused):
            return _told(said)
        done = Done(f"{known.part.short}: noted.", known.piece.tag)
        return replace(_told(done), part=known.part.short)


def _told(said: Piece | Outcome | Done | Refused) -> Outcome:
    """A change or a refusal as the bench shows it."""
    if isinstance(said, Outcome):
        return said
    if isinstance(said, Done):
        return Outcome(Answer.GO, Tone.RECORDED, said.sentence, tag=said.tag, recorded=True)
    assert isinstance(said, Refused)
    return Outcome(Answer.STOP, Tone.REFUSED, said.sentence)


_TOO_OLD = Outcome(
    Answer.STOP,
    Tone.REFUSED,
    "Nothing was recorded: that was kept for more than 12 hours.",
    because="Nobody knows any more what it stood on. Look at the part, and scan it again.",
)
_AT_THE_WINDOW = {
    What.PROOF: "Everything is home. Proof shows what was recorded; it is printed at the window.",
    What.OLD_FINISH_ASKED: "Say what is on it.",
    What.CAMERA: "The camera of the window is switched at the window; here press Camera.",
}
