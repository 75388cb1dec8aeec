"""The bench at work: events go through the one machine, and what it asks for is done here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from partsbench.core.bench.events import (
    Act,
    Answered,
    Event,
    Hit,
    Kind,
    OfTheWall,
    Passed,
    Push,
    Pushed,
    Scanned,
    Snapshot,
    Took,
    Touched,
    Turned,
    Undone,
    What,
)
from partsbench.core.bench.machine import happens
from partsbench.core.bench.state import Mode, State, Waits
from partsbench.core.finish.cups import StoredCup
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.codes import CodeFault, Family, parse_code
from partsbench.core.verbs import wall_code
from partsbench.services.acts import loads, returning, teardown
from partsbench.services.heard.doing import AtHand, cup_in_hand, do
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.store.mixes import StoredLoad

_FITTED = frozenset({Family.DRAWER, Family.DOOR})
_WISHES = frozenset({What.GO_TO, What.PROOF, What.OLD_FINISH_ASKED, What.CAMERA})
"""What the window does itself: it turns to a page, or opens a dialog."""
_SHOW = frozenset({What.SHOW, What.TELL, What.WHERE_HOME, What.HOME_WAITS})
"""What changes nothing in the book, and no more at the bench than what is in the hand."""


@dataclass
class Session:
    """The bench at work: feed it scans, keys and the passing of time.

    `here` is the tag of the piece at work. Warnings and cautions are said once; `heard` keeps them.
    `wishes` is what the window is asked to do, the oldest first.
    """

    shop: Shop
    tag: str = ""
    state: State = field(default_factory=State)
    heard: set[str] = field(default_factory=set)
    answers: list[Outcome] = field(default_factory=list)
    wishes: list[Act] = field(default_factory=list)
    watchers: list[Callable[[], None]] = field(default_factory=list)
    """Called after each event: what is in force may have changed."""
    guard: Callable[[Act], Outcome | None] | None = None
    """Asked before each act: what it gives is the answer, and the act is not done."""
    behind: timedelta = timedelta()
    """How long ago what comes in now happened: it was kept until it could be sent."""

    def __post_init__(self) -> None:
        self.state = replace(self.state, here=self.tag)
        self._known: dict[str, KnownLabel] = {}
        self._said_of, self._said_now = "", set[str]()

    @property
    def here(self) -> str:
        """The tag of the piece at work."""
        return self.state.here

    def scan(self, text: str, at: datetime | None = None, *, trigger: bool = True) -> list[Outcome]:
        """What a scan is answered with: mostly one outcome, two when a verb went off before it.

        `at` is when the work was done, for notes made late; without `trigger` it was typed or
        pressed, and cannot bounce.
        """
        if at:
            self.state = replace(self.state, at=at)
        wall = wall_code(text)
        said = self._happens(
            OfTheWall(wall) if wall else Scanned(trigger), text if not wall else ""
        )
        if at:
            self.state = replace(self.state, at=None)
        return said

    def see_again(self, text: str, at: datetime | None = None) -> list[Outcome]:
        """A label that a camera may have seen all the time: it is answered like a scan where that
        only shows; where it would record, tick or take back, nothing is done, and what is armed
        stays armed."""
        if wall_code(text):
            return []
        hand, self._known = self.state.hand, {}
        sees = self._sees(Scanned(False), text)
        mine = sees.hit is not None and sees.hit.code == hand.code
        _, acts = happens(self.state, Scanned(False), self._now(), sees)
        if (mine and hand.waits is not Waits.SHOWN) or any(a.what not in _SHOW for a in acts):
            return []
        return self.scan(text, at, trigger=False)

    def push(self, push: Push, text: str = "", *, label: str = "", at: datetime | None = None
             ) -> list[Outcome]:  # fmt: skip
        """What a key or button is answered with; `label` is the part that was pressed."""
        return self._happens(Pushed(push, text, at), label)

    def tick(self) -> Outcome | None:
        """The passing of time: the answer when a verb goes off by itself."""
        said = self._happens(Passed())
        return said[0] if said else None

    def turn(self, mode: Mode, tag: str) -> None:
        """Another page, or another piece, is in front."""
        self._happens(Turned(mode, tag))

    def undone(self) -> None:
        """A record was taken back or done again, by whichever way."""
        self._happens(Undone())

    def hear(self, what: What, outcome: Outcome) -> Outcome:
        """An answer about the part in hand that came from a question of the page."""
        act = Act(what, self.state.hand.code)
        self.state, _ = happens(self.state, Answered(act, outcome), self._now())
        return self.told(outcome)

    def take_wishes(self) -> list[Act]:
        """What the window is to do now; each once."""
        wishes, self.wishes = self.wishes, []
        return wishes

    def touched(self) -> None:
        """A scan went elsewhere: what is in force stays as long as after any other scan."""
        self._happens(Touched())

    def take(self, took: Took) -> None:
        """Something came into the hand by another way than a scan: a cup, a load."""
        self._happens(took)

    @property
    def verb(self) -> str:
        """The verb in force, for the screen; "" for none."""
        return self.state.says

    @property
    def expects(self) -> str:
        """What the next scan of a part does, while something is in force; "" when nothing is."""
        return self.state.expects

    @property
    def cup(self) -> StoredCup | None:
        """The mix in hand."""
        return cup_in_hand(self.shop, self.state)

    def told(self, outcome: Outcome) -> Outcome:
        """The outcome without what was heard in this session already of another label."""
        if outcome.code != self._said_of:
            self._said_of, self._said_now = outcome.code, set()
        fresh = tuple(w for w in outcome.warnings if self._is_new(outcome.tag, w))
        mind = tuple(c for c in outcome.cautions if self._is_new("", c))
        return replace(outcome, warnings=fresh, cautions=mind)

    # One event

    def _happens(self, event: Event, label: str = "") -> list[Outcome]:
        self._known = {}
        with self.shop.book.one_reading():
            now = self._now()
            self.state, acts = happens(self.state, event, now, self._sees(event, label))
            answers = [said for act in acts if (said := self._done(act)) is not None]
        for changed in self.watchers:
            changed()
        return answers

    def _done(self, act: Act) -> Outcome | None:
        """Do what the machine asks for, and let it hear the answer."""
        if act.what in _WISHES:
            self.wishes.append(act)
            if act.what is not What.GO_TO or not act.code:
                return None
        turned_away = self.guard(act) if self.guard else None
        told = turned_away or do(AtHand(self.shop, self.state, self._known), act)
        said, took = told if isinstance(told, tuple) else (told, Took())
        outcome = said if isinstance(said, Outcome) else _outcome(said)
        heard = Answered(act, outcome, took)
        self.state, _ = happens(self.state, heard, self._now())
        outcome = self.told(outcome)
        self.answers.append(outcome)
        return outcome

    def _now(self) -> datetime:
        return self.shop.clock() - self.behind

    def _is_new(self, tag: str, words: str) -> bool:
        """Never heard, or heard of the label that is still shown."""
        name = f"{tag} {words}"
        new = name not in self.heard or name in self._said_now
        self.heard.add(name)
        if new:
            self._said_now.add(name)
        return new

    # What the machine sees of the book

    def _sees(self, event: Event, label: str) -> Snapshot:
        if isinstance(event, Passed | Touched | Turned | Undone | Answered | OfTheWall | Took):
            return Snapshot()
        hit = self._hit(label) if label or isinstance(event, Scanned) else None
        carried, mismatch = frozenset[str](), self._mismatch(hit) if hit else ()
        hand = self.state.hand
        if hit and self.state.mode is Mode.RETURN and hand.ours and self._sits(hand.part, hit.part):
            carried = frozenset({hand.code})
        pull = self._to_pull() if isinstance(event, Pushed) else None
        complete = isinstance(event, Pushed) and event.push is Push.ENTER and self._complete()
        return Snapshot(self.shop.book.newest(), hit, carried, pull, complete, mismatch)

    def _hit(self, text: str) -> Hit:
        known = identify(self.shop, text, self.here)
        if isinstance(known, Outcome):
            kind = Kind.ELSEWHERE if known.answer is Answer.OTHER_JOB else Kind.STRANGE
            return Hit(kind, known.code or text, known.tag, known.part, known.home, says=known)
        piece, part = known.piece, known.part
        code = str(piece.code(part) if part else piece.home_code(known.home))
        self._known[code] = known
        if part is None:
            return Hit(Kind.HOME, code, piece.tag, "", known.home)
        host = self._host()
        on_it = host and self.state.mode is Mode.RETURN and self._sits(part.short, host)
        sits_on = frozenset({self.state.hand.host}) if on_it else frozenset[str]()
        in_load = self.state.mode is Mode.LOAD and part.short in self._load_parts()
        return Hit(Kind.PART, code, piece.tag, part.short, part.home.number, sits_on, in_load,
                   part.family in _FITTED)  # fmt: skip

    def _host(self) -> str:
        code = parse_code(self.state.hand.host) if self.state.hand.host else CodeFault.SHAPE
        return "" if isinstance(code, CodeFault) else code.short

    def _sits(self, short: str, host: str) -> bool:
        piece = self.shop.piece(self.here)
        part, other = (piece.part(short), piece.part(host)) if piece else (None, None)
        return bool(piece and part and other and returning.sits_on(piece, part, other))

    def _mismatch(self, hit: Hit) -> tuple[()] | tuple[str, str]:
        """The part in the hand and the drawer scanned now, or the other way round, where the part
        sits on another drawer."""
        hand = self.state.hand
        piece = self.shop.piece(self.here) if self.state.mode is Mode.RETURN and hand.ours else None
        held, scanned = (piece.part(hand.part), piece.part(hit.part)) if piece else (None, None)
        if piece is None or held is None or scanned is None or hit.kind is not Kind.PART:
            return ()
        if returning.sits_on_another(piece, held, scanned):
            return hand.code, hit.code
        if returning.sits_on_another(piece, scanned, held):
            return hit.code, hand.code
        return ()

    def _load_parts(self) -> set[str]:
        found = loads.find(self.shop, self.state.load) if self.state.load else None
        if not isinstance(found, StoredLoad) or found.tag != self.here:
            return set()
        return {spot.part for spot in found.faces}

    def _to_pull(self) -> Hit | None:
        piece = self.shop.piece(self.here) if self.state.mode is Mode.TEARDOWN else None
        following = teardown.teardown(piece_state(self.shop, piece)).next if piece else None
        return self._hit(following.short) if following else None

    def _complete(self) -> bool:
        piece = self.shop.piece(self.here) if self.state.mode is Mode.RETURN else None
        return piece is not None and not returning.missing(piece_state(self.shop, piece))


def _outcome(said: Done | Refused) -> Outcome:
    """A change or a refusal as the bench shows it."""
    if isinstance(said, Done):
        return Outcome(Answer.GO, Tone.RECORDED, said.sentence, tag=said.tag, recorded=True)
    return Outcome(Answer.STOP, Tone.REFUSED, said.sentence)
