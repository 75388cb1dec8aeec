"""A whole evening at the bench by scanner alone: what each scan does, given the verb in force."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime

from partsbench.core import session as rules
from partsbench.core.finish.loads import SPRAYED
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.codes import CodeFault, parse_code
from partsbench.core.session import Act, State, What
from partsbench.core.verbs import WHOLE_PIECE, Key, wall_code
from partsbench.services import (
    bench,
    cups,
    history,
    loads,
    loops,
    masks,
    old_finish,
    people,
    places,
    returning,
    sending,
    teardown,
    tries,
)
from partsbench.services.identify import Known, identify
from partsbench.services.shop import Shop
from partsbench.services.sums import hours
from partsbench.store import mixes as mix_rows
from partsbench.store.mixes import StoredCup, StoredLoad

Said = Outcome | Done | Refused


@dataclass
class Session:
    """The bench at work: feed it what the scanner sends, and the passing of time.

    `here` is the tag of the piece at work. Warnings and cautions are said once; `heard` keeps them.
    """

    shop: Shop
    here: str = ""
    state: State = field(default_factory=State)
    heard: set[str] = field(default_factory=set)
    answers: list[Outcome] = field(default_factory=list)

    def scan(self, text: str, at: datetime | None = None) -> list[Outcome]:
        """What a scan is answered with: mostly one outcome, two when a verb went off before it.

        `at` is when the work was done, for notes made late.
        """
        now = self.shop.clock()
        meant = wall_code(text) or text
        self.state, acts = rules.scan(self.state, meant, now)
        return [self._told(act, at) for act in acts]

    def tick(self) -> Outcome | None:
        """The passing of time: the answer when a verb goes off by itself."""
        self.state, acts = rules.tick(self.state, self.shop.clock())
        return self._told(acts[0], None) if acts else None

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
        return mix_rows.cup(self.shop.book, self.state.cup) if self.state.cup else None

    def cup_for(self, act: Act) -> StoredCup | None:
        """The mix in hand, unless the verb names other work, as a touch-up with a brush."""
        other = act.verb and act.verb.operations and not act.verb.operations & SPRAYED
        return None if other else self.cup

    def _told(self, act: Act, at: datetime | None) -> Outcome:
        said = _DOES[act.what](self, act, at)
        outcome = said if isinstance(said, Outcome) else _outcome(said)
        if act.what in (What.RECORD, What.LOAD_DONE):
            self._follow(act, outcome)
        fresh = tuple(w for w in outcome.warnings if self._is_new(outcome.tag, w))
        mind = tuple(c for c in outcome.cautions if self._is_new("", c))
        outcome = replace(outcome, warnings=fresh, cautions=mind)
        self.answers.append(outcome)
        return outcome

    def _follow(self, act: Act, outcome: Outcome) -> None:
        """What was refused may be insisted upon; what was asked, confirmed."""
        if outcome.unconfirmed:
            self.state = rules.was_asked(self.state, act, self.shop.clock())
        elif outcome.held:
            self.state = rules.was_held(self.state, act, outcome.held)

    def _is_new(self, tag: str, words: str) -> bool:
        name = f"{tag} {words}"
        new = name not in self.heard
        self.heard.add(name)
        return new


def _show(s: Session, act: Act, at: datetime | None) -> Said:
    return bench.look(s.shop, act.code, here=s.here, at=at, face=act.face, cup=s.cup)


def _record(s: Session, act: Act, at: datetime | None) -> Said:
    insist = dict(act.insists)
    if act.code.startswith("load "):
        return loads.done(s.shop, act.code, act.codes, cup=s.cup, at=at, insist=insist,
                          confirmed=act.confirmed)  # fmt: skip
    return bench.record(
        s.shop,
        act.code,
        here=s.here,
        at=at,
        face=act.face,
        operations=act.verb.operations if act.verb else frozenset(),
        insist=insist,
        cup=s.cup_for(act),
        wet=act.verb is not None and act.verb.wet,
        confirmed=act.confirmed,
    )


def _skip(s: Session, act: Act, at: datetime | None) -> Said:
    return bench.record(s.shop, act.code, here=s.here, at=at, face=act.face, skip=True)


def _send_back(s: Session, act: Act, _: datetime | None) -> Said:
    assert act.reason is not None
    return sending.send_back_for(
        s.shop, act.code, act.reason.name, here=s.here, face=act.face, cup=s.cup
    )


def _load_done(s: Session, act: Act, at: datetime | None) -> Said:
    said = loads.done(s.shop, act.number, act.codes, cup=s.cup, at=at, insist=dict(act.insists),
                      confirmed=act.confirmed)  # fmt: skip
    if isinstance(said, Outcome) and said.recorded:
        s.state = rules.with_load(s.state, 0)
    return said


def _next_load(s: Session, _: Act, __: datetime | None) -> Said:
    if not s.here:
        return _NO_PIECE
    made = loads.start(s.shop, s.here, cup=s.cup)
    if isinstance(made, Refused):
        return made
    s.state = rules.with_load(s.state, made.number)
    sentence = f"Load {made.number}: {loads.words(s.shop, made)}."
    return Outcome(Answer.GO, Tone.ASK, sentence, because="Scan END when it is coated.",
                   tag=s.here, step=made.step, code=loads.code(made))  # fmt: skip


def _load(s: Session, act: Act, _: datetime | None) -> Said:
    found = loads.find(s.shop, act.number)
    if isinstance(found, Refused):
        s.state = rules.with_load(s.state, 0)
        return found
    s.here = found.tag
    ended = " It was recorded already." if found.ended_at else ""
    sentence = f"Load {found.number}: {loads.words(s.shop, found)}.{ended}"
    wrong = "" if found.ended_at else _not_for_this_load(s)
    if wrong:
        return Outcome(Answer.STOP, Tone.HOLD, wrong, tag=found.tag, step=found.step)
    return Outcome(Answer.GO, Tone.ASK, sentence, tag=found.tag, step=found.step)


def _out(s: Session, act: Act, at: datetime | None) -> Said:
    return teardown.take_out(s.shop, s.here, [act.code], at=at)


def _home(s: Session, act: Act, at: datetime | None) -> Said:
    return returning.bring_home(s.shop, s.here, act.code, at=at)


def _put(s: Session, act: Act, at: datetime | None) -> Said:
    found = people.place(s.shop, act.number)
    if found is None:
        return Refused("No place has that number.")
    return places.put(s.shop, found.name, [act.code], here=s.here, at=at)


def _no_mask(s: Session, act: Act, _: datetime | None) -> Said:
    """Every face of the part, or the one scanned before it, needs no cover on what it meets."""
    known = identify(s.shop, act.code, s.here)
    if isinstance(known, Outcome):
        return known
    if known.part is None:
        return Refused("That is the label of a home; scan the part.")
    seen = bench.look(s.shop, act.code, here=s.here, face=act.face)
    said: Said = Refused(f"{known.part.short} meets nothing that is taped.")
    for face in seen.faces:
        done = masks.not_needed(s.shop, known.piece.tag, f"{known.part.short} {face}")
        said = done if isinstance(done, Done) else said
    return said


def _old_finish(s: Session, act: Act, at: datetime | None) -> Said:
    """Said of the part, of the one face scanned before it, or of all of its piece."""
    known = identify(s.shop, act.code, s.here)
    if isinstance(known, Outcome):
        return known
    if known.part is None:
        return Refused("That is the label of a home; scan a part.")
    assert act.verb is not None
    short = known.part.short
    said = old_finish.Saying.of_verb(act.verb, short, s.shop.who, at or s.shop.clock())
    if isinstance(said, Refused):
        return said
    whole = act.face == WHOLE_PIECE
    names = [] if whole else [f"{short} {act.face}".strip()]
    return old_finish.say(s.shop, known.piece.tag, said, names)


def _tried(s: Session, act: Act, at: datetime | None) -> Said:
    """What was tried is what the next step asks of the film under it."""
    is_ready = act.verb is not None and act.verb.key is Key.TRIED_READY
    return tries.say_tried(s.shop, act.code, None, is_ready, here=s.here, face=act.face, at=at)


def _piece(s: Session, act: Act, _: datetime | None) -> Said:
    known = identify(s.shop, act.code)
    if not isinstance(known, Known):
        return known
    s.here = known.piece.tag
    name = f"{known.piece.codename} {known.piece.tag}"
    return Outcome(Answer.GO, Tone.VERB_ON, f"{name} is at work.", tag=s.here)


def _undo(s: Session, _: Act, __: datetime | None) -> Said:
    return history.undo_own(s.shop)


def _redo(s: Session, _: Act, __: datetime | None) -> Said:
    return history.redo_own(s.shop)


def _rags(s: Session, act: Act, _: datetime | None) -> Said:
    flat = act.verb is not None and act.verb.key is Key.RAGS_FLAT
    return loops.answer_rags(s.shop, loops.FLAT if flat else loops.WATER)


def _cup(s: Session, act: Act, _: datetime | None) -> Said:
    said = cups.shown(s.shop, act.number)
    if said.tone is Tone.UNKNOWN:
        s.state = replace(s.state, cup=0)
        return said
    wrong = _not_for_this_load(s)
    return replace(said, answer=Answer.STOP, tone=Tone.HOLD, sentence=wrong) if wrong else said


def _not_for_this_load(s: Session) -> str:
    """Before the trigger: why the cup in hand may not go onto the load in hand; "" when it may."""
    found = loads.find(s.shop, s.state.load) if s.state.load else None
    piece = s.shop.piece(found.tag) if isinstance(found, StoredLoad) else None
    if piece is None or not isinstance(found, StoredLoad):
        return ""
    return loads.cup_fault(s.shop, piece, [f"{p} {face}" for p, face in found.faces], s.cup)


def _strained(s: Session, act: Act, _: datetime | None) -> Said:
    return cups.strained(s.shop, act.number) if act.number else _NO_CUP


def _cup_empty(s: Session, act: Act, _: datetime | None) -> Said:
    s.state = replace(s.state, cup=0)
    return cups.empty(s.shop, act.number) if act.number else _NO_CUP


def _person(s: Session, act: Act, _: datetime | None) -> Said:
    found = people.person(s.shop, act.number)
    if found is None:
        return Refused("Nobody here has that number.")
    s.shop.who = found.name
    return Outcome(Answer.GO, Tone.VERB_ON, f"{found.name} is at the bench.")


def _place(s: Session, act: Act, _: datetime | None) -> Said:
    found = people.place(s.shop, act.number)
    if found is None:
        s.state = replace(s.state, place=0)
        return Refused("No place has that number.")
    return Outcome(Answer.GO, Tone.VERB_ON, f"{found.name}: scan what stands there.")


def _work_starts(s: Session, _: Act, __: datetime | None) -> Said:
    return hours.begin_work(s.shop, s.here, "at the bench") if s.here else _NO_PIECE


def _work_ends(s: Session, _: Act, __: datetime | None) -> Said:
    return hours.end_work(s.shop, s.here) if s.here else _NO_PIECE


def _verb_on(s: Session, _: Act, __: datetime | None) -> Said:
    return Outcome(Answer.GO, Tone.VERB_ON, s.expects)


def _verb_off(_: Session, act: Act, __: datetime | None) -> Said:
    name = act.verb.name if act.verb else "The verb"
    return Outcome(Answer.GO, Tone.VERB_OFF, f"{name} is off.")


def _say(s: Session, act: Act, _: datetime | None) -> Said:
    """A word in between; a part that is left out of a load is looked at, so that it is seen."""
    shown = parse_code(act.code) if act.code else CodeFault.SHAPE
    part = f"{shown.short}. " if not isinstance(shown, CodeFault) else ""
    on = act.face or act.verb
    answer, tone = (Answer.GO, Tone.VERB_ON) if on else (Answer.STOP, Tone.REFUSED)
    return Outcome(answer, tone, f"{part}{act.says}", tag=s.here, code=act.code)


def _outcome(said: Done | Refused) -> Outcome:
    """A change or a refusal as the bench shows it."""
    if isinstance(said, Done):
        return Outcome(Answer.GO, Tone.RECORDED, said.sentence, tag=said.tag, recorded=True)
    return Outcome(Answer.STOP, Tone.REFUSED, said.sentence)


_NO_PIECE = Refused("Scan THIS PIECE and a part first: no piece is at work.")
_NO_CUP = Refused("No cup is in hand: scan its code first.")
_DOES: dict[What, Callable[[Session, Act, datetime | None], Said]] = {
    What.SHOW: _show,
    What.RECORD: _record,
    What.SKIP: _skip,
    What.SEND_BACK: _send_back,
    What.LOAD_DONE: _load_done,
    What.NEXT_LOAD: _next_load,
    What.OUT: _out,
    What.HOME: _home,
    What.PUT: _put,
    What.NO_MASK: _no_mask,
    What.OLD_FINISH: _old_finish,
    What.TRIED: _tried,
    What.PIECE: _piece,
    What.UNDO: _undo,
    What.REDO: _redo,
    What.RAGS: _rags,
    What.CUP: _cup,
    What.LOAD: _load,
    What.PERSON: _person,
    What.PLACE: _place,
    What.STRAINED: _strained,
    What.CUP_EMPTY: _cup_empty,
    What.WORK_STARTS: _work_starts,
    What.WORK_ENDS: _work_ends,
    What.VERB_ON: _verb_on,
    What.VERB_OFF: _verb_off,
    What.SAY: _say,
}
