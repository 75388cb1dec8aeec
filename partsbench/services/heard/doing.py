"""What the bench does for each act of the machine: one use case for each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime

from partsbench.core.bench.events import Act, Took, What
from partsbench.core.bench.labels import REFUSED_AGAIN
from partsbench.core.bench.state import Mode, State
from partsbench.core.finish.cups import StoredCup
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.loads import SPRAYED
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.codes import CodeFault, Family, parse_code, short_number
from partsbench.core.said_often import A_HOME_WAS_SCANNED, NOBODY_HAS_IT, at_work, load_words
from partsbench.core.verbs import WHOLE_PIECE, Key
from partsbench.core.wording import sentences
from partsbench.services.acts import (
    bench,
    history,
    loads,
    masks,
    places,
    returning,
    sending,
    teardown,
    tries,
)
from partsbench.services.known import old_finish, people
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.known.state import piece_state
from partsbench.services.rules import loops
from partsbench.services.rules.closing import too_soon
from partsbench.services.shop import Shop
from partsbench.services.sums import cups, hours
from partsbench.store import mixes as mix_rows
from partsbench.store.mixes import StoredLoad

Said = Outcome | Done | Refused
Carried = Said | tuple[Said, Took]
"""An answer, and what came into the hand with it."""


@dataclass(frozen=True, slots=True)
class AtHand:
    """What an act works with: the shop, the state of the bench, and what was read for the event."""

    shop: Shop
    state: State
    known: dict[str, KnownLabel]

    @property
    def here(self) -> str:
        return self.state.here

    @property
    def at(self) -> datetime | None:
        return self.state.at

    @property
    def cup(self) -> StoredCup | None:
        """The mix in hand."""
        return cup_in_hand(self.shop, self.state)

    def meant(self, code: str) -> str | KnownLabel:
        """What was read of that label for this event; the label itself when it was not."""
        return self.known.get(code, code)

    def cup_for(self, act: Act) -> StoredCup | None:
        """The mix in hand, unless the verb names other work, as a touch-up with a brush."""
        other = act.verb and act.verb.operations and not act.verb.operations & SPRAYED
        return None if other else self.cup


def cup_in_hand(shop: Shop, state: State) -> StoredCup | None:
    """The mix that was scanned last."""
    return mix_rows.cup(shop.book, state.cup) if state.cup else None


def do(work: AtHand, act: Act) -> Carried:
    """Do it, and say what came of it."""
    return _DOES[act.what](work, act)


def _show(s: AtHand, act: Act) -> Said:
    state = s.state
    seen = bench.look(s.shop, s.meant(act.code), here=s.here, at=state.at, face=act.face,
                      step=act.step, cup=s.cup, wet=state.wet)  # fmt: skip
    # A wait that is over by now is seen before a scan records it.
    return _record(s, act) if act.text == REFUSED_AGAIN and seen.held else seen


def _record(s: AtHand, act: Act) -> Said:
    verb = act.verb
    return bench.record(
        s.shop,
        s.meant(act.code),
        here=s.here,
        at=s.at,
        face=act.face,
        step=act.step,
        operations=verb.operations if verb else frozenset(),
        insist=dict(act.insists),
        cup=s.cup_for(act),
        wet=s.state.wet or (verb is not None and verb.wet),
        confirmed=act.confirmed,
    )


def _skip(s: AtHand, act: Act) -> Said:
    return bench.record(s.shop, s.meant(act.code), here=s.here, at=s.at, face=act.face,
                        step=act.step, skip=True)  # fmt: skip


def _send_back(s: AtHand, act: Act) -> Said:
    assert act.reason is not None
    return sending.send_back_for(
        s.shop, s.meant(act.code), act.reason.name, here=s.here, face=act.face, cup=s.cup
    )


def _load_done(s: AtHand, act: Act) -> Said:
    return loads.done(s.shop, act.number, act.codes, cup=s.cup, at=s.at,
                      insist=dict(act.insists),
                      confirmed=act.confirmed)  # fmt: skip


def _next_load(s: AtHand, _: Act) -> Carried:
    if not s.here:
        return _NO_PIECE
    made = loads.start(s.shop, s.here, cup=s.cup)
    if isinstance(made, Refused):
        return made
    sentence = load_words(made.number, loads.words(s.shop, made))
    said = Outcome(Answer.GO, Tone.ASK, sentence, because="Scan END when it is coated.",
                   tag=s.here, step=made.step, code=loads.code(made))  # fmt: skip
    return said, Took(load=made.number)


def _load(s: AtHand, act: Act) -> Carried:
    found = loads.find(s.shop, act.number)
    if isinstance(found, Refused):
        return found, Took(load=0)
    took = Took(here=found.tag)
    ended = "It was recorded already." if found.ended_at else ""
    sentence = sentences(load_words(found.number, loads.words(s.shop, found)), ended)
    wrong = "" if found.ended_at else _not_for_this_load(s)
    if wrong:
        return Outcome(Answer.STOP, Tone.HOLD, wrong, tag=found.tag, step=found.step), took
    return Outcome(Answer.GO, Tone.ASK, sentence, tag=found.tag, step=found.step), took


def _out(s: AtHand, act: Act) -> Said:
    return teardown.take_out(s.shop, s.here, [s.meant(act.code)], at=s.at)


def _home(s: AtHand, act: Act) -> Said:
    onto = s.meant(act.onto) if act.onto else ""
    return returning.bring_home(s.shop, s.here, s.meant(act.code), onto, at=s.at)


def _put(s: AtHand, act: Act) -> Said:
    found = people.place(s.shop, act.number)
    if found is None:
        return Refused("No place has that number.")
    return places.put(s.shop, found.name, [s.meant(act.code)], here=s.here, at=s.at)


def _no_mask(s: AtHand, act: Act) -> Said:
    """Every face of the part, or the one scanned before it, needs no cover on what it meets."""
    known = identify(s.shop, s.meant(act.code), s.here)
    if isinstance(known, Outcome):
        return known
    if known.part is None:
        return Refused(A_HOME_WAS_SCANNED)
    seen = bench.look(s.shop, known, here=s.here, face=act.face)
    said: Said = Refused(f"{known.part.short} meets nothing that is taped.")
    for face in seen.faces:
        done = masks.not_needed(s.shop, known.piece.tag, known.part.spot(face))
        said = done if isinstance(done, Done) else said
    return said


def _old_finish(s: AtHand, act: Act) -> Said:
    """Said of the part, of the one face scanned before it, or of all of its piece."""
    known = identify(s.shop, s.meant(act.code), s.here)
    if isinstance(known, Outcome):
        return known
    if known.part is None:
        return Refused("That is the label of a home; scan a part.")
    assert act.verb is not None
    short = known.part.short
    said = old_finish.Saying.of_verb(act.verb, short, s.shop.who, s.at or s.shop.clock())
    if isinstance(said, Refused):
        return said
    whole = act.face == WHOLE_PIECE
    names = [] if whole else [known.part.spot(act.face)]
    return old_finish.say(s.shop, known.piece.tag, said, names)


def _tried(s: AtHand, act: Act) -> Said:
    """What was tried is what the next step asks of the film under it."""
    is_ready = act.verb is not None and act.verb.key is Key.TRIED_READY
    return tries.say_tried(
        s.shop, s.meant(act.code), None, is_ready, here=s.here, face=act.face, at=s.at
    )


def _piece(s: AtHand, act: Act) -> Carried:
    return _at_work(s, act)


def _at_work(s: AtHand, act: Act) -> tuple[Said, Took]:
    known = identify(s.shop, act.code)
    if not isinstance(known, KnownLabel):
        return known, Took()
    piece = known.piece
    said = at_work(piece.codename, piece.tag)
    return Outcome(Answer.GO, Tone.VERB_ON, said, tag=piece.tag), Took(here=piece.tag)


def _undo(s: AtHand, _: Act) -> Said:
    return history.undo_own(s.shop)


def _redo(s: AtHand, _: Act) -> Said:
    return history.redo_own(s.shop)


def _rags(s: AtHand, act: Act) -> Said:
    flat = act.verb is not None and act.verb.key is Key.RAGS_FLAT
    return loops.answer_rags(s.shop, loops.FLAT if flat else loops.WATER)


def _cup(s: AtHand, act: Act) -> Carried:
    said = cups.shown(s.shop, act.number)
    if said.tone is Tone.UNKNOWN:
        return said, Took(cup=0)
    wrong = _not_for_this_load(s)
    if not wrong:
        return said
    return replace(said, answer=Answer.STOP, tone=Tone.HOLD, sentence=wrong, beside="")


def _not_for_this_load(s: AtHand) -> str:
    """Before the trigger: why the cup in hand may not go onto the load in hand; "" when it may."""
    found = loads.find(s.shop, s.state.load) if s.state.load else None
    piece = s.shop.piece(found.tag) if isinstance(found, StoredLoad) else None
    if piece is None or not isinstance(found, StoredLoad):
        return ""
    return loads.cup_fault(s.shop, piece, found.faces, s.cup)


def _strained(s: AtHand, act: Act) -> Said:
    return cups.strained(s.shop, act.number) if act.number else _NO_CUP


def _cup_empty(s: AtHand, act: Act) -> Carried:
    return (cups.empty(s.shop, act.number) if act.number else _NO_CUP), Took(cup=0)


def _person(s: AtHand, act: Act) -> Said:
    found = people.person(s.shop, act.number)
    if found is None:
        return Refused(NOBODY_HAS_IT)
    s.shop.who = found.name
    return Outcome(Answer.GO, Tone.VERB_ON, f"{found.name} is at the bench.")


def _place(s: AtHand, act: Act) -> Carried:
    found = people.place(s.shop, act.number)
    if found is None:
        return Refused("No place has that number."), Took(place=0)
    return Outcome(Answer.GO, Tone.VERB_ON, f"{found.name}: scan what stands there.")


def _work_starts(s: AtHand, _: Act) -> Said:
    return hours.begin_work(s.shop, s.here, "at the bench") if s.here else _NO_PIECE


def _work_ends(s: AtHand, _: Act) -> Said:
    return hours.end_work(s.shop, s.here) if s.here else _NO_PIECE


def _verb_on(s: AtHand, act: Act) -> Said:
    """What the next scan does; and of INSIST, which verb it put in the place of, and ended."""
    ended = f"{act.text} is off." if act.text else ""
    return Outcome(Answer.GO, Tone.VERB_ON, sentences(ended, s.state.expects))


def _verb_off(s: AtHand, act: Act) -> Said:
    name = act.verb.name if act.verb else "The verb"
    if act.text:
        idle = say_duration(s.state.idle)
        return Outcome(Answer.GO, Tone.VERB_OFF, f"{name} is off: nothing was scanned for {idle}.")
    return Outcome(Answer.GO, Tone.VERB_OFF, f"{name} is off.")


def _tell(_: AtHand, act: Act) -> Said:
    assert act.answer is not None
    return act.answer


def _say(s: AtHand, act: Act) -> Said:
    """A word in between; nothing was done."""
    on = act.face or act.verb or act.text
    answer, tone = (Answer.GO, Tone.VERB_ON) if on else (Answer.STOP, Tone.REFUSED)
    shown = parse_code(act.code) if act.code else CodeFault.SHAPE
    part = "" if isinstance(shown, CodeFault) else shown.short
    return Outcome(answer, tone, act.says, tag=s.here, part=part, code=act.code)


def _go_to(s: AtHand, act: Act) -> Said:
    """The piece of another job is at work; on the bench its part is shown."""
    if s.state.mode is Mode.BENCH:
        return _show(s, act)
    return _at_work(s, act)[0]


# Teardown and Return


def _stays(s: AtHand, act: Act) -> Said:
    return teardown.stays_in(s.shop, s.here, _short(s, act.code))


def _where_home(s: AtHand, act: Act) -> Said:
    """Where it lives; and, before it is carried there, whether it may be handled yet."""
    known = identify(s.shop, s.meant(act.code), s.here)
    if isinstance(known, Outcome) or known.part is None:
        return known if isinstance(known, Outcome) else Refused("Scan the part.")
    part = known.part
    said = Outcome(Answer.GO, Tone.ASK, returning.own_home(known), tag=s.here, part=part.short,
                   home=part.home.number, code=act.code)  # fmt: skip
    state = piece_state(s.shop, known.piece)
    wet = too_soon(s.shop, state, part, s.shop.clock()).told(said)
    return replace(wet, answer=Answer.WAIT) if wet.warnings else wet


def _home_waits(s: AtHand, act: Act) -> Said:
    home = _short(s, act.code)
    return Outcome(Answer.GO, Tone.ASK, f"{home} waits: scan what goes in.", tag=s.here,
                   home=s.state.hand.home, code=act.code)  # fmt: skip


def _fit(s: AtHand, act: Act) -> Said:
    result = next(r for r in returning.FitResult if act.text == r.value)
    return returning.record_fit(s.shop, s.here, _short(s, act.code), result)


def _rest(s: AtHand, act: Act) -> Said:
    """What is left: it stays in at teardown, and is home by elimination at the return."""
    if s.state.mode is Mode.RETURN:
        return returning.by_elimination(s.shop, s.here)
    piece = s.shop.piece(s.here)
    left = teardown.left_in(piece_state(s.shop, piece)) if piece else ()
    return teardown.stays_in(s.shop, s.here, *left) if left else Refused("Nothing is left.")


def _short(s: AtHand, code: str) -> str:
    """`D4` for a label of the piece at work."""
    known = s.meant(code)
    if isinstance(known, KnownLabel):
        return known.part.short if known.part else short_number(Family.HOME, known.home)
    read = parse_code(known)
    return known if isinstance(read, CodeFault) else read.short


_NO_PIECE = Refused("Scan THIS PIECE and a part first: no piece is at work.")
_NO_CUP = Refused("No cup is in hand: scan its code first.")
_DOES: dict[What, Callable[[AtHand, Act], Carried]] = {
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
    What.STAYS: _stays,
    What.WHERE_HOME: _where_home,
    What.HOME_WAITS: _home_waits,
    What.FIT: _fit,
    What.REST: _rest,
    What.GO_TO: _go_to,
    What.TELL: _tell,
    What.VERB_ON: _verb_on,
    What.VERB_OFF: _verb_off,
    What.SAY: _say,
}
