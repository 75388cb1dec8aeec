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
from partsbench.core.finish.sheets import full_name
from partsbench.core.finish.situation import Situation
from partsbench.core.finish.steps import Operation, Step
from partsbench.core.finish.waits import WaitFigures as Waits
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.piece import Piece
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
from partsbench.services.shop import Shop, find_short, writing
from partsbench.store import facts as rows
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.journal import Change, change

_UNMASKING = Step("unmask", "Take the mask off", "unmasked", Operation.UNMASK)
"""For tape on a face whose own path has no such step: paper on raw wood, say."""


@dataclass(frozen=True, slots=True)
class SeamLine:
    """A seam, its length, and what is known of the tape on it."""

    a: str
    b: str
    length_mm: float
    state: MaskState


@dataclass(frozen=True, slots=True)
class Spot:
    """One face of a piece, found by its full name, with what its answers stand on."""

    piece: Piece
    face: FaceState
    name: str
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
            full_name(part, f.name): facts.beside(shop, part, f.name, known, lines)
            for f in part.faces
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


def _seam_state(a: str, b: str, wanted: bool, masks: Sequence[Mask], now: datetime) -> MaskState:
    """What is known of the tape at a seam: a mask may cover either side."""
    open_ = frozenset() if wanted else frozenset({a, b})
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


def ways(shop: Shop, tag: str, face: str) -> tuple[Protection, ...] | Refused:
    """From stain to tape, with and without a seal coat: hours and risk."""
    spot = _spot(shop, tag, face, shop.clock())
    if isinstance(spot, Refused):
        return spot
    path = shop.path(next(f.path for f in spot.on.state.part.faces if f.name == spot.face.name))
    return ways_to_protect(path, spot.on.waits)


def lines(shop: Shop, tag: str, face: str) -> list[str] | Refused:
    """Brush line or reverse mask? The ways at each seam of a face that is too young for tape."""
    now = shop.clock()
    spot = _spot(shop, tag, face, now)
    if isinstance(spot, Refused):
        return spot
    return _line_words(shop, spot, (*spot.on.beside[spot.name], *_over(shop, spot)), now)


def _line_words(shop: Shop, spot: Spot, others: Sequence[str], now: datetime) -> list[str]:
    faces, waits = _faces_of(shop, spot, others), spot.on.waits
    ready = {other: _tape_at(faces[other], waits, now) for other in others if other in faces}
    own = _tape_at(spot.face.progress, waits, now)
    return [way.sentence(now) for way in line_ways(spot.name, own, ready, now)]


def _tape_at(at: Progress, waits: Waits, now: datetime) -> datetime | None:
    """When tape may go on a face; None when only its tin knows. A bare one bears it at once."""
    return _tape_ready(at, waits).at if films_on(at) else now


def _tape_ready(at: Progress, waits: Waits) -> ReadyAt:
    return next(r for r in readiness(at, waits) if r.ready is Ready.TAPE)


@writing
def put_on(
    shop: Shop,
    tag: str,
    covers: str,
    against: Sequence[str] = (),
    tape: Tape = NO_NAME,
    at: datetime | None = None,
    insist: Insist = "",
) -> Outcome | Refused:
    """Cover a face (`C1 top`) against others, by default against all that it meets.

    Held while what stands on it would come off with the tape, unless insisted with a reason.
    """
    now = shop.clock()
    when = at or now
    spot = _spot(shop, tag, covers, when)
    if isinstance(spot, Refused):
        return spot
    if when > now:
        return Refused(STILL_TO_COME)
    sides = _sides(shop, spot, against)
    if isinstance(sides, Refused):
        return sides
    held = _tape_too_soon(spot, when)
    left, lifted = still_held(held, insists(insist))
    if left:
        ways_on = " ".join(_line_words(shop, spot, sides, when))
        refused = replace(_held(spot, Answer.WAIT, left), until=_tape_at(spot.face.progress,
                          spot.on.waits, when))  # fmt: skip
        return replace(refused, because=f"{refused.because}. Brush line or reverse mask? {ways_on}")
    how = Doing(when, note=insisted_words(lifted), insisted=bool(held))
    with change(shop.book, "", now, shop.who, tag) as entry:
        key = piece_rows.piece_id(shop.book, tag)
        assert key is not None
        fix_numbers(shop, entry, spot.piece)
        made = Mask("", spot.name, sides, when, None, tape.rating, tape.name)
        rows.add_mask(entry, key, made, shop.who, how.note)
        entry.sentence = f"{spot.piece.codename} {spot.name} masked against {', '.join(sides)}"
        if any(side in spot.on.progress for side in sides):
            _mark_own(shop, entry, spot, Operation.MASK, how)
        settle(shop, entry, spot.on, Operation.MASK, how, frozenset({spot.name}))
    return _told(spot, f"{spot.name} is masked against {', '.join(sides)}.")


@writing
def take_off(
    shop: Shop, tag: str, covers: str, at: datetime | None = None, insist: Insist = ""
) -> Outcome | Refused:
    """Take the tape off a face. Held while a coat that it is on for is still to come, and until
    the last one has set."""
    now = shop.clock()
    when = at or now
    spot = _spot(shop, tag, covers, when)
    if isinstance(spot, Refused):
        return spot
    if when > now:
        return Refused(STILL_TO_COME)
    mine = [m for m in spot.on.masks if m.covers == spot.name]
    if not mine:
        return Refused(f"No tape is on {spot.name}.")
    held = _keeps_on(spot, mine, when)
    left, lifted = still_held(held, insists(insist))
    if left:
        return _held(spot, Answer.STOP, left)
    how = Doing(when, note=insisted_words(lifted), insisted=bool(held))
    with change(shop.book, "", now, shop.who, tag) as entry:
        fix_numbers(shop, entry, spot.piece)
        for mask in mine:
            rows.take_off(entry, mask, when)
        entry.sentence = f"{spot.piece.codename} {spot.name}: tape off"
        _mark_own(shop, entry, spot, Operation.UNMASK, how)
        settle(shop, entry, spot.on, Operation.UNMASK, how, frozenset({spot.name}))
    return _told(spot, f"The tape is off {spot.name}.")


@writing
def not_needed(shop: Shop, tag: str, face: str, others: Sequence[str] = ()) -> Done | Refused:
    """Say that what a face meets needs no cover (a brush line): all of it, or the named faces."""
    spot = _spot(shop, tag, face, shop.clock())
    if isinstance(spot, Refused):
        return spot
    meets = (*spot.on.beside[spot.name], *_over(shop, spot))
    named = [_full(o) for o in others]
    strange = [o for o in named if o not in meets]
    if strange or not (named or meets):
        if not meets:
            return Refused(f"{spot.name} meets nothing that is taped.")
        return Refused(f"{spot.name} meets {listed(meets)}.")
    part = spot.on.state.part
    now = shop.clock()
    chosen = named or list(meets)
    sentence = f"{spot.piece.codename} {spot.name}: no mask needed on {', '.join(chosen)}"
    with change(shop.book, sentence, now, shop.who, tag) as entry:
        key = piece_rows.piece_id(shop.book, tag)
        assert key is not None
        row = records.part_ids(shop.book, key)[part.short]
        for other in chosen:
            where = [(row, spot.face.name)]
            rows.add_facts(entry, key, where, NO_MASK + other, YES, now, shop.who)
    return Done(f"{sentence}.", tag)


def _spot(shop: Shop, tag: str, asked: str, when: datetime) -> Spot | Refused:
    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    first, _, rest = asked.strip().partition(" ")
    short = find_short(piece, first)
    if isinstance(short, Refused):
        return short
    part = piece.part(short)
    assert part is not None
    state = part_state(shop, piece, part)
    face = next((f for f in state.faces if f.name == " ".join(rest.lower().split())), None)
    if face is None:
        have = [f.name for f in part.faces]
        return Refused(no_face(short, rest, have))
    on = answers.ground(shop, piece, state, when)
    return Spot(piece, face, full_name(part, face.name), on)


def _full(name: str) -> str:
    """`c1 Top` as `C1 top`."""
    first, _, rest = name.strip().partition(" ")
    return f"{first.upper()} {' '.join(rest.lower().split())}"


def _over(shop: Shop, spot: Spot) -> tuple[str, ...]:
    """The faces of other parts that this one meets and that want tape."""
    met = neighbours.of_face(shop, spot.piece, spot.on.state, spot.name, spot.on.facts)
    return tuple(n.meeting.other(spot.name) for n in met)


def _faces_of(shop: Shop, spot: Spot, names: Sequence[str]) -> dict[str, Progress]:
    """The faces of the part itself, and of the other parts that are named."""
    found = dict(spot.on.progress)
    shorts = {name.partition(" ")[0] for name in names if name not in found}
    for short in shorts:
        part = spot.piece.part(short)
        if part:
            state = part_state(shop, spot.piece, part)
            found |= {full_name(part, f.name): f.progress for f in state.faces}
    return found


def _sides(shop: Shop, spot: Spot, against: Sequence[str]) -> tuple[str, ...] | Refused:
    over = _over(shop, spot)
    if not against:
        meets = spot.on.beside[spot.name] or tuple(
            name for name, sides in spot.on.beside.items() if spot.name in sides
        )
        meets = (*meets, *over)
        return meets or Refused(f"{spot.name} meets no other finish: say against which face.")
    named = tuple(_full(o) for o in against)
    strange = [o for o in named if o not in spot.on.progress and o not in over]
    return Refused(f"There is no face “{strange[0]}” beside {spot.name}.") if strange else named


def _tape_too_soon(spot: Spot, when: datetime) -> tuple[Finding, ...]:
    """The hold while the newest film would come off with the tape; () when it bears it."""
    tape = _tape_ready(spot.face.progress, spot.on.waits)
    if tape.at is None or when >= tape.at:
        return ()
    source = tape.source or EXPERIENCE
    return (Finding(Level.HOLD, TAPE_RULE, tape.because, source, spot.name),)


def _keeps_on(spot: Spot, masks: Sequence[Mask], when: datetime) -> tuple[Finding, ...]:
    """The holds while this tape has to stay on, as for the step of a path that takes it off."""
    on_tape = answers.taped(spot.on, spot.name, masks)
    off = Situation(spot.face.progress, _UNMASKING, when, spot.on.waits,
                    masked_for=on_tape.masked_for, tape=on_tape.tape)  # fmt: skip
    return findings(off, TAPE_OFF)


def _held(spot: Spot, word: Answer, left: Sequence[Finding]) -> Outcome:
    return Outcome(
        word,
        Tone.REFUSED,
        f"{spot.piece.codename} {spot.name}: nothing was recorded.",
        because="; ".join(f.reason for f in left),
        source="; ".join(dict.fromkeys(said_source(f.source) for f in left)),
        tag=spot.piece.tag,
        part=spot.on.state.part.short,
        faces=(spot.face.name,),
        holds=answers.holds_of(left),
    )


def _mark_own(shop: Shop, entry: Change, spot: Spot, operation: Operation, how: Doing) -> None:
    due = next((s for s in spot.face.progress.choices if s.operation is operation), None)
    if due:
        mark(shop, entry, spot.piece, spot.on.state.part, [spot.face.name], due, how)


def _told(spot: Spot, sentence: str) -> Outcome:
    return Outcome(
        Answer.GO,
        Tone.RECORDED,
        sentence,
        tag=spot.piece.tag,
        part=spot.on.state.part.short,
        faces=(spot.face.name,),
        recorded=True,
    )
