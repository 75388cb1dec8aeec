"""What the page shows, as plain values for JSON. Nothing here knows who a job is for."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from partsbench.core.bench.state import Mode, State, Waits
from partsbench.core.finish.holds import OLD_FINISH_RULE
from partsbench.core.key_words import word_of
from partsbench.core.outcomes import Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import load_words, next_out, still_missing
from partsbench.core.shown_times import moment
from partsbench.core.verbs import GROUPS, REASONS, VERBS, Key, reasons_for, verb_numbered
from partsbench.core.wording import notes
from partsbench.services.acts import loads, places, returning, teardown
from partsbench.services.books.watching import all_pieces
from partsbench.services.heard.session import Session
from partsbench.services.known.cautions import words as caution_words
from partsbench.services.known.state import part_state, piece_state
from partsbench.services.shop import Shop
from partsbench.services.shown.day import Day
from partsbench.services.shown.progress_map import PartProgress, ProgressMap

Shown = dict[str, Any]
MOST_LINES = 60
OLD_ANSWERS = tuple(v for v in VERBS if v.key is Key.OLD_FINISH)
"""What may be said of an old finish with one press."""


def outcome(said: Outcome) -> Shown:
    """An answer as the large number, the word, the sentence and what belongs to it."""
    return {
        "answer": said.answer.value,
        "tone": said.tone.value,
        "sentence": said.sentence,
        "because": said.because,
        "source": said.source,
        "until": _iso(said.until),
        "tag": said.tag,
        "part": said.part,
        "step": said.step_name,
        "cautions": list(caution_words(said.cautions)),
        "warnings": list(said.warnings),
        "checks": list(said.checks),
        "holds": [{"rule": h.rule, "because": h.because} for h in said.holds],
        "note": said.note,
        "recorded": said.recorded,
        "then": said.then.value if said.then else "",
    }


def bench(shop: Shop, session: Session) -> Shown:
    """What is at work, in the hand and in force, and what the page in front says of the piece."""
    state = session.state
    piece = shop.piece(state.here) if state.here else None
    return {
        "mode": state.mode.value,
        "tag": state.here,
        "codename": piece.codename if piece else "",
        "title": piece.title if piece else "",
        "hand": _hand(state) | _chosen(shop, state, piece),
        "verb": session.verb,
        "expects": session.expects,
        "who": shop.who,
        "load": state.load,
        "left_out": len(state.left_out),
        "board": _board(shop, state, piece) if piece else [],
    }


def _hand(state: State) -> Shown:
    hand = state.hand
    return {
        "waits": hand.waits.value,
        "code": hand.code,
        "part": hand.part,
        "face": hand.face,
        "due": hand.due,
        "holds": list(hand.holds),
        "fits": hand.fits,
        "ours": hand.ours,
    }


def _chosen(shop: Shop, state: State, piece: Piece | None) -> Shown:
    """The faces and steps to choose from, where there are several, and what is chosen of each."""
    hand = state.hand
    asked = hand.waits is Waits.HELD and OLD_FINISH_RULE in hand.holds
    asks = [{"code": v.code, "name": v.name, "says": v.says} for v in OLD_ANSWERS if asked]
    part = piece.part(hand.part) if piece and hand.ours else None
    if piece is None or part is None or state.mode is not Mode.BENCH:
        return {"faces": [], "steps": [], "step": "", "asks": asks}
    own = part_state(shop, piece, part)
    faces = [f.name for f in own.faces if f.path.steps]
    steps = [{"key": s.key, "name": s.name} for s in own.options(hand.face)]
    return {
        "faces": faces if len(faces) > 1 else [],
        "steps": steps if len(steps) > 1 else [],
        "step": hand.step or (steps[-1]["key"] if steps else ""),
        "asks": asks,
    }


def _board(shop: Shop, state: State, piece: Piece) -> list[str]:
    """Lines about the piece: what is next to pull, what is still missing, what the load holds."""
    if state.mode is Mode.TEARDOWN:
        plan = teardown.teardown(piece_state(shop, piece))
        counts = ", ".join(f"{teardown.count_word(c.name)} {c.out} of {c.of}" for c in plan.counts)
        following = next_out(plan.next.short if plan.next else "")
        return list(filter(None, (following, plan.hint, plan.stick, counts)))
    if state.mode is Mode.RETURN:
        standing = piece_state(shop, piece)
        left = returning.missing(standing)
        said = still_missing(len(left))
        lines = [said, returning.moves_sentence(standing), *(m.sentence for m in left)]
        return list(filter(None, lines))[:MOST_LINES]
    if state.mode is Mode.LOAD:
        return _load(shop, state)
    return []


def _load(shop: Shop, state: State) -> list[str]:
    found = loads.find(shop, state.load) if state.load else None
    if found is None or isinstance(found, Refused):
        return [loads.propose(shop, state.here).sentence]
    out = f"{len(state.left_out)} left out." if state.left_out else "All of it."
    return [load_words(found.number, loads.words(shop, found)), out]


def choices() -> Shown:
    """What the page offers to press: verbs of the wall, reasons, how a drawer runs."""
    named = [(name, [v for n in numbers if (v := verb_numbered(n))]) for name, numbers in GROUPS]
    return {
        "verbs": [
            {"group": name, "verbs": [{"code": v.code, "name": v.name, "says": v.says} for v in vs]}
            for name, vs in named
        ],
        "reasons": [r.name for r in reasons_for(Key.INSIST)],
        "back": [{"code": r.code, "name": r.name} for r in REASONS if r.key is Key.SEND_BACK],
        "fits": [f.value for f in returning.FitResult],
    }


def piece_lines(shop: Shop) -> list[Shown]:
    """The pieces of the book, the newest first."""
    return [{"tag": p.tag, "codename": p.codename, "title": p.title} for p in all_pieces(shop)]


def progress(found: ProgressMap) -> Shown:
    """The map: each opening as a box in per cent of the front, and each part with how far it is."""
    front = found.piece.front
    boxes = []
    for opening in front.openings:
        x, y, width, height = front.box(opening.span)
        seated = found.piece.occupant(opening.number)
        boxes.append(
            {
                "part": seated.short if seated else "",
                "x": 100 * x / front.width,
                "y": 100 * y / front.height,
                "width": 100 * width / front.width,
                "height": 100 * height / front.height,
                "behind": opening.behind is not None,
            }
        )
    parts = [_part(each, found.at) for each in found.parts.values()]
    return {
        "sentence": found.sentence,
        "ratio": front.height / front.width,
        "boxes": boxes,
        "parts": parts,
    }


def _part(each: PartProgress, now: datetime) -> Shown:
    until = moment(each.until, now) if each.until else ""
    where = each.place or word_of(each.where)
    return {
        "part": each.part.short,
        "stand": each.stand.value,
        "steps": each.steps,
        "share": each.share if each.of else 0.0,
        "step": each.step,
        "behind": each.behind,
        "words": " · ".join(filter(None, (each.step and notes(each.step, until), where))),
    }


def the_day(today: Day) -> Shown:
    return {
        "sentence": today.sentence,
        "because": today.because,
        "said": [*today.said, *today.notes],
        "tasks": [t.sentence for t in today.tasks][:MOST_LINES],
        "waits": [
            f"{g.where}: {g.step.name}, {moment(g.said.until, today.at)}"
            for g in today.clocks
            if g.said.until
        ][:MOST_LINES],
        "open": [loop.sentence for loop in today.loops][:MOST_LINES],
    }


def sightings(found: list[places.Sighting]) -> list[str]:
    return [s.sentence for s in found][:MOST_LINES]


def _iso(at: datetime | None) -> str:
    return at.isoformat(timespec="seconds") if at else ""
