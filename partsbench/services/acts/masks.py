"""Masks: what covers which side of a seam, put on and taken off by record."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from partsbench.core.finish.answer import still_held
from partsbench.core.finish.clocks import ReadyAt, films_on, readiness, said_source
from partsbench.core.finish.facts import NO_MASK, YES
from partsbench.core.finish.findings import EXPERIENCE, Finding, Level
from partsbench.core.finish.holds import TAPE_OFF, TAPE_RULE, findings
from partsbench.core.finish.masks import (
    Mask,
    MaskState,
    Protection,
    line_ways,
    mask_state,
    overdue,
    ways_to_protect,
)
from partsbench.core.finish.products import Ready
from partsbench.core.finish.progress import Progress
from partsbench.core.finish.situation import Situation
from partsbench.core.finish.steps import Operation, Step
from partsbench.core.finish.waits import WaitFigures as Waits
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.piece.surfaces import Sizes, seams_of_part
from partsbench.core.said_often import STILL_TO_COME, no_face, no_piece
from partsbench.core.verbs import insisted_words, insists
from partsbench.core.wording import clauses, listed, plural
from partsbench.services.acts.bench import Insist
from partsbench.services.known import facts
from partsbench.services.known.sizes import mm_of
from partsbench.services.known.state import FaceState, part_state
from partsbench.services.rules import answers, neighbours
from partsbench.services.rules.answers import Ground
from partsbench.services.rules.marking import NO_NAME, Doing, Tape, fix_numbers, mark, settle
from partsbench.services.shop import Shop, find_spot, writing
from partsbench.store import facts as rows
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.journal import Change, change

_UNMASKING = Step("unmask", "Take the mask off", "unmasked", Operation.UNMASK)
"""For tape on a face whose own path has no such step: paper on raw wood, say."""


@dataclass(frozen=True, slots=True)
class SeamLine:
    """A seam, its length, and what is known of the tape on it."""

    a: Spot
    b: Spot
    length_mm: float
    state: MaskState


@dataclass(frozen=True, slots=True)
class _Side:
    """One face at a seam, with what its answers stand on."""

    piece: Piece
    face: FaceState
    spot: Spot
    on: Ground


def seams(shop: Shop, tag: str) -> list[SeamLine]:
    """The seams of a piece where one path meets another, with the tape that is on them."""
    piece = shop.piece(tag)
    key = piece_rows.piece_id(shop.book, tag)
    if piece is None or key is None:
        return []
    known, now = rows.facts(shop.book, key), shop.clock()
    sizes = mm_of(shop, piece, key, known)
    masks = rows.masks(shop.book, key, only_on=True)
    found = []
    for part in piece.present:
        lines = seams_of_part(piece, part, sizes)
        tape = {
            part.spot(f.name): facts.beside(shop, part, f.name, known, lines) for f in part.faces
        }
        for line in lines:
            wanted = line.b in tape[line.a] or line.a in tape[line.b]
            state = _seam_state(line.a, line.b, wanted, masks, now)
            found.append(SeamLine(line.a, line.b, line.length, state))
    return [*found, *_between_parts(shop, piece, known, sizes, masks, now)]


def _between_parts(
    shop: Shop,
    piece: Piece,
    known: rows.Facts,
    sizes: Sizes,
    masks: Sequence[Mask],
    now: datetime,
) -> list[SeamLine]:
    """Seams of two parts: tape is wanted there only while they are together."""
    found = []
    for each in neighbours.of_piece(shop, piece, known, sizes):
        a, b = each.meeting.a, each.meeting.b
        state = _seam_state(a, b, each.wants_tape, masks, now)
        found.append(SeamLine(a, b, each.meeting.length, state))
    return found


def _seam_state(a: Spot, b: Spot, wanted: bool, masks: Sequence[Mask], now: datetime) -> MaskState:
    """What is known of the tape at a seam: a mask may cover either side."""
    open_ = frozenset[Spot]() if wanted else frozenset({a, b})
    state = mask_state(a, b, masks, now, open_)
    return mask_state(b, a, masks, now, open_) if state is MaskState.UNKNOWN else state


def metres(lines: Sequence[SeamLine]) -> float:
    """Tape for these seams, in metres, without laps; those that need none left out."""
    wanted = [s for s in lines if s.state is not MaskState.NOT_NEEDED]
    return sum(s.length_mm for s in wanted) / 1000


def summary(lines: Sequence[SeamLine]) -> str:
    """`6 seams to tape, 4.8 m; 8 need no tape`: the same wherever seams are counted."""
    bare = sum(s.state is MaskState.NOT_NEEDED for s in lines)
    wanted = len(lines) - bare
    taped = f"{_seams(wanted)} to tape, {metres(lines):.1f} m"
    if not bare:
        return taped
    return (
        clauses([taped, plural(bare, "1 needs no tape", f"{bare} need no tape")])
        if wanted
        else f"{_seams(bare)}; no tape is needed"
    )


def _seams(count: int) -> str:
    return plural(count, "1 seam", f"{count} seams")


def on_now(shop: Shop, tag: str) -> list[Mask]:
    """The masks that are on a piece, those over their rating first."""
    key = piece_rows.piece_id(shop.book, tag)
    masks = rows.masks(shop.book, key, only_on=True) if key is not None else []
    late = overdue(masks, shop.clock())
    return [*late, *(m for m in masks if m not in late)]


def ways(shop: Shop, tag: str, face: str | Spot) -> tuple[Protection, ...] | Refused:
    """From stain to tape, with and without a seal coat: hours and risk."""
    side = _side(shop, tag, face, shop.clock())
    if isinstance(side, Refused):
        return side
    path = shop.path(next(f.path for f in side.on.state.part.faces if f.name == side.face.name))
    return ways_to_protect(path, side.on.waits)


def lines(shop: Shop, tag: str, face: str | Spot) -> list[str] | Refused:
    """Brush line or reverse mask? The ways at each seam of a face that is too young for tape."""
    now = shop.clock()
    side = _side(shop, tag, face, now)
    if isinstance(side, Refused):
        return side
    return _line_words(shop, side, (*side.on.beside[side.spot], *_over(shop, side)), now)


def _line_words(shop: Shop, side: _Side, others: Sequence[Spot], now: datetime) -> list[str]:
    faces, waits = _faces_of(shop, side, others), side.on.waits
    ready = {other: _tape_at(faces[other], waits, now) for other in others if other in faces}
    own = _tape_at(side.face.progress, waits, now)
    return [way.sentence(now) for way in line_ways(side.spot, own, ready, now)]


def _tape_at(at: Progress, waits: Waits, now: datetime) -> datetime | None:
    """When tape may go on a face; None when only its tin knows. A bare one bears it at once."""
    return _tape_ready(at, waits).at if films_on(at) else now


def _tape_ready(at: Progress, waits: Waits) -> ReadyAt:
    return next(r for r in readiness(at, waits) if r.ready is Ready.TAPE)


@writing
def put_on(
    shop: Shop,
    tag: str,
    covers: str | Spot,
    against: Sequence[str | Spot] = (),
    tape: Tape = NO_NAME,
    at: datetime | None = None,
    insist: Insist = "",
) -> Outcome | Refused:
    """Cover a face (`C1 top`) against others, by default against all that it meets.

    Held while what stands on it would come off with the tape, unless insisted with a reason.
    """
    now = shop.clock()
    when = at or now
    side = _side(shop, tag, covers, when)
    if isinstance(side, Refused):
        return side
    if when > now:
        return Refused(STILL_TO_COME)
    sides = _sides(shop, side, against)
    if isinstance(sides, Refused):
        return sides
    held = _tape_too_soon(side, when)
    left, lifted = still_held(held, insists(insist))
    if left:
        ways_on = " ".join(_line_words(shop, side, sides, when))
        refused = replace(_held(side, Answer.WAIT, left), until=_tape_at(side.face.progress,
                          side.on.waits, when))  # fmt: skip
        return replace(refused, because=f"{refused.because}. Brush line or reverse mask? {ways_on}")
    how = Doing(when, note=insisted_words(lifted), insisted=bool(held))
    told = f"masked against {', '.join(map(str, sides))}"
    with change(shop.book, "", now, shop.who, tag) as entry:
        key = piece_rows.piece_id(shop.book, tag)
        assert key is not None
        fix_numbers(shop, entry, side.piece)
        made = Mask("", side.spot, sides, when, None, tape.rating, tape.name)
        rows.add_mask(entry, key, made, shop.who, how.note)
        entry.sentence = f"{side.piece.codename} {side.spot} {told}"
        if any(s in side.on.progress for s in sides):
            _mark_own(shop, entry, side, Operation.MASK, how)
        settle(shop, entry, side.on, Operation.MASK, how, frozenset({side.spot}))
    return _told(side, f"{side.spot} is {told}.")


@writing
def take_off(
    shop: Shop, tag: str, covers: str | Spot, at: datetime | None = None, insist: Insist = ""
) -> Outcome | Refused:
    """Take the tape off a face. Held while a coat that it is on for is still to come, and until
    the last one has set."""
    now = shop.clock()
    when = at or now
    side = _side(shop, tag, covers, when)
    if isinstance(side, Refused):
        return side
    if when > now:
        return Refused(STILL_TO_COME)
    mine = [m for m in side.on.masks if m.covers == side.spot]
    if not mine:
        return Refused(f"No tape is on {side.spot}.")
    held = _keeps_on(side, mine, when)
    left, lifted = still_held(held, insists(insist))
    if left:
        return _held(side, Answer.STOP, left)
    how = Doing(when, note=insisted_words(lifted), insisted=bool(held))
    with change(shop.book, "", now, shop.who, tag) as entry:
        fix_numbers(shop, entry, side.piece)
        for mask in mine:
            rows.take_off(entry, mask, when)
        entry.sentence = f"{side.piece.codename} {side.spot}: tape off"
        _mark_own(shop, entry, side, Operation.UNMASK, how)
        settle(shop, entry, side.on, Operation.UNMASK, how, frozenset({side.spot}))
    return _told(side, f"The tape is off {side.spot}.")


@writing
def not_needed(
    shop: Shop, tag: str, face: str | Spot, others: Sequence[str | Spot] = ()
) -> Done | Refused:
    """Say that what a face meets needs no cover (a brush line): all of it, or the named faces."""
    side = _side(shop, tag, face, shop.clock())
    if isinstance(side, Refused):
        return side
    meets = (*side.on.beside[side.spot], *_over(shop, side))
    named = [Spot.of(o) for o in others]
    strange = [o for o in named if o not in meets]
    if strange or not (named or meets):
        if not meets:
            return Refused(f"{side.spot} meets nothing that is taped.")
        return Refused(f"{side.spot} meets {listed(meets)}.")
    part = side.on.state.part
    now = shop.clock()
    chosen = named or list(meets)
    sentence = f"{side.piece.codename} {side.spot}: no mask needed on {', '.join(map(str, chosen))}"
    with change(shop.book, sentence, now, shop.who, tag) as entry:
        key = piece_rows.piece_id(shop.book, tag)
        assert key is not None
        row = records.part_ids(shop.book, key)[part.short]
        for other in chosen:
            where = [(row, side.face.name)]
            rows.add_facts(entry, key, where, f"{NO_MASK}{other.key}", YES, now, shop.who)
    return Done(f"{sentence}.", tag)


def _side(shop: Shop, tag: str, asked: str | Spot, when: datetime) -> _Side | Refused:
    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    spot = find_spot(piece, asked)
    if isinstance(spot, Refused):
        return spot
    part = piece.part(spot.part)
    assert part is not None
    state = part_state(shop, piece, part)
    face = next((f for f in state.faces if f.name == spot.face), None)
    if face is None:
        have = [f.name for f in part.faces]
        return Refused(no_face(spot.part, spot.face, have))
    return _Side(piece, face, spot, answers.ground(shop, piece, state, when))


def _over(shop: Shop, side: _Side) -> tuple[Spot, ...]:
    """The faces of other parts that this one meets and that want tape."""
    met = neighbours.of_face(shop, side.piece, side.on.state, side.spot, side.on.facts)
    return tuple(n.meeting.other(side.spot) for n in met)


def _faces_of(shop: Shop, side: _Side, spots: Sequence[Spot]) -> dict[Spot, Progress]:
    """The faces of the part itself, and of the other parts that are named."""
    found = dict(side.on.progress)
    shorts = {spot.part for spot in spots if spot not in found}
    for short in shorts:
        part = side.piece.part(short)
        if part:
            state = part_state(shop, side.piece, part)
            found |= {part.spot(f.name): f.progress for f in state.faces}
    return found


def _sides(shop: Shop, side: _Side, against: Sequence[str | Spot]) -> tuple[Spot, ...] | Refused:
    over = _over(shop, side)
    if not against:
        meets = side.on.beside[side.spot] or tuple(
            name for name, sides in side.on.beside.items() if side.spot in sides
        )
        meets = (*meets, *over)
        return meets or Refused(f"{side.spot} meets no other finish: say against which face.")
    named = tuple(Spot.of(o) for o in against)
    strange = [o for o in named if o not in side.on.progress and o not in over]
    return Refused(f"There is no face “{strange[0]}” beside {side.spot}.") if strange else named


def _tape_too_soon(side: _Side, when: datetime) -> tuple[Finding, ...]:
    """The hold while the newest film would come off with the tape; () when it bears it."""
    tape = _tape_ready(side.face.progress, side.on.waits)
    if tape.at is None or when >= tape.at:
        return ()
    source = tape.source or EXPERIENCE
    return (Finding(Level.HOLD, TAPE_RULE, tape.because, source, str(side.spot)),)


def _keeps_on(side: _Side, masks: Sequence[Mask], when: datetime) -> tuple[Finding, ...]:
    """The holds while this tape has to stay on, as for the step of a path that takes it off."""
    on_tape = answers.taped(side.on, side.spot, masks)
    off = Situation(side.face.progress, _UNMASKING, when, side.on.waits,
                    masked_for=on_tape.masked_for, tape=on_tape.tape)  # fmt: skip
    return findings(off, TAPE_OFF)


def _held(side: _Side, word: Answer, left: Sequence[Finding]) -> Outcome:
    return Outcome(
        word,
        Tone.REFUSED,
        f"{side.piece.codename} {side.spot}: nothing was recorded.",
        because="; ".join(f.reason for f in left),
        source="; ".join(dict.fromkeys(said_source(f.source) for f in left)),
        tag=side.piece.tag,
        part=side.on.state.part.short,
        faces=(side.face.name,),
        holds=answers.holds_of(left),
    )


def _mark_own(shop: Shop, entry: Change, side: _Side, operation: Operation, how: Doing) -> None:
    due = next((s for s in side.face.progress.choices if s.operation is operation), None)
    if due:
        mark(shop, entry, side.piece, side.on.state.part, [side.face.name], due, how)


def _told(side: _Side, sentence: str) -> Outcome:
    return Outcome(
        Answer.GO,
        Tone.RECORDED,
        sentence,
        tag=side.piece.tag,
        part=side.on.state.part.short,
        faces=(side.face.name,),
        recorded=True,
    )
