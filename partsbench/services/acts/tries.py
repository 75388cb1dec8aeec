"""What was tried at the bench, ready or not: written down with the film that it speaks of."""

from __future__ import annotations

from datetime import datetime

from partsbench.core.finish.clocks import films_on
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.own_readiness import BEFORE, Try
from partsbench.core.finish.products import Ready, readiness_for
from partsbench.core.finish.progress import Mark
from partsbench.core.finish.steps import Step
from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.said_often import STILL_TO_COME, no_face
from partsbench.core.wording import sentences
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.known.state import FaceState, PartState, part_state
from partsbench.services.rules.marking import fix_numbers
from partsbench.services.rules.own_waits import own_figures
from partsbench.services.shop import Shop, writing
from partsbench.store import pieces as piece_rows
from partsbench.store import tin_cards
from partsbench.store import tries as rows
from partsbench.store.journal import change


@writing
def say_tried(
    shop: Shop,
    text: str | KnownLabel,
    ready: Ready | None,
    is_ready: bool,
    *,
    here: str = "",
    face: str = "",
    at: datetime | None = None,
    note: str = "",
) -> Done | Refused:
    """Write down that the newest film of a part, or of one face, was tried for a state.

    Without a state it is the one that the next step asks for, touching when every step is done.
    It never makes a wait shorter. Not ready, it holds what needs that state until tried again.
    """
    known = identify(shop, text, here)
    if isinstance(known, Outcome):
        return Refused(" ".join(filter(None, (known.sentence, known.because))))
    if known.part is None:
        return Refused("That is the label of a home; scan the part that was tried.")
    now = shop.clock()
    when = at or now
    if when > now:
        return Refused(STILL_TO_COME)
    piece, part = known.piece, known.part
    found = _newest_film(part_state(shop, piece, part), face)
    if isinstance(found, Refused):
        return found
    on, mark, step = found
    state = ready or _asked_next(on)
    if state is None:
        return Refused(f"{part.spot(on.name)}: its next step asks for no dry film; say the state.")
    if when < mark.at:
        return Refused(f"{part.spot(on.name)} got {step.name} after that; nothing was recorded.")
    card = tin_cards.in_use(shop.book).get(step.product)
    tin = card.name if card else ""
    tried = Try(part.short, state, is_ready, step.product, tin, mark.at, when)
    word = f"ready {BEFORE[state]}" if is_ready else f"not ready {BEFORE[state]}"
    said = f"{part.spot(on.name)} tried {say_duration(when - mark.at)} after {step.name}: {word}"
    with change(shop.book, f"{piece.codename} {said}", now, shop.who, piece.tag) as entry:
        fix_numbers(shop, entry, piece)
        key = piece_rows.part_id(shop.book, piece.tag, part.family, part.number)
        assert key is not None
        face_row = piece_rows.face_ids(shop.book, piece.tag, key)[on.name]
        rows.add_try(entry, face_row, tried, shop.who, note.strip())
    own = next(
        (f for f in own_figures(shop) if (f.product, f.tin, f.ready) == (step.product, tin, state)),
        None,
    )
    return Done(sentences(f"{said}.", own.sentence if own else ""), piece.tag)


def _asked_next(face: FaceState) -> Ready | None:
    """What the next step of a face asks of its film."""
    due = face.progress.next
    return Ready.TOUCH if due is None else readiness_for(due.operation)


def _newest_film(state: PartState, face: str) -> tuple[FaceState, Mark, Step] | Refused:
    """The face, mark and step of what was put on last."""
    wanted = " ".join(face.lower().split())
    named = [f for f in state.faces if wanted in ("", f.name)]
    if not named:
        have = [f.name for f in state.faces]
        return Refused(no_face(state.part.short, face, have))
    films = [
        (mark.at, place, f, mark, step)
        for f in named
        for place, (mark, step) in enumerate(films_on(f.progress))
        if step.product
    ]
    if not films:
        return Refused(f"Nothing on {state.part.short} has to dry.")
    return max(films, key=_when)[2:]


def _when(film: tuple[datetime, int, FaceState, Mark, Step]) -> tuple[datetime, int]:
    """Of coats recorded at one moment the later on the path lies on top."""
    return film[0], film[1]
