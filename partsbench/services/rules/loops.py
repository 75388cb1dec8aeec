"""Open loops: what was begun and not ended stands at the top until it is closed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta

from partsbench.core.finish.loops import RAGS, Loop, open_loops
from partsbench.core.finish.masks import in_doubt, overdue
from partsbench.core.naming import ALL, together
from partsbench.core.outcomes import Done
from partsbench.services.known.clock_doubt import masks_with_doubts
from partsbench.services.known.state import PieceState
from partsbench.services.shop import Shop, writing
from partsbench.store import facts as fact_rows
from partsbench.store import lately
from partsbench.store import pieces as piece_rows
from partsbench.store import room as rows
from partsbench.store.journal import change

OILY = "oily_rags"
RAG_QUESTION = "oily rags"
LONGEST_ASKED = timedelta(days=60)
FLAT, WATER = "spread flat to dry", "under water in a lidded metal can"


def rags(shop: Shop, now: datetime) -> Loop | None:
    """The question about oily rags, from the newest oily work until it is answered."""
    answered = rows.answers(shop.book, RAG_QUESTION)
    since = max([*answered, now - LONGEST_ASKED])
    newest = lately.newest_of(shop.book, _oily_steps(shop), since, now)
    if newest is None or any(at >= newest for at in answered):
        return None
    return Loop("", newest, RAGS, None)


@writing
def answer_rags(shop: Shop, said: str) -> Done:
    """What was done with the oily rags; the question is closed until there is oily work again."""
    now = shop.clock()
    with change(shop.book, f"Oily rags: {said}", now, shop.who) as entry:
        rows.answer(entry, RAG_QUESTION, said, now, shop.who)
    return Done(f"Oily rags: {said}.")


def of_pieces(shop: Shop, states: Iterable[PieceState], now: datetime) -> list[Loop]:
    """All open loops, rags first, then what keeps coats off, then the oldest.

    What is alike on several parts of a piece is said once, with all of them.
    """
    found: list[Loop] = []
    for state in states:
        alike: dict[str, tuple[list[str], Loop]] = {}
        for short, part in state.parts.items():
            for loop in (x for f in part.faces for x in open_loops("", f.progress)):
                names, first = alike.setdefault(loop.say, ([], loop))
                if short not in names:
                    names.append(short)
                alike[loop.say] = (names, min(first, loop, key=_since))
        for names, loop in alike.values():
            where = f"{state.piece.codename} {together(names, ALL)}"
            found.append(replace(loop, where=where, tag=state.piece.tag, parts=tuple(names)))
        found += _old_tape(shop, state, now)
    ordered = sorted(found, key=lambda x: (not x.holds, x.since))
    asked = rags(shop, now)
    return [asked, *ordered] if asked else ordered


def _old_tape(shop: Shop, state: PieceState, now: datetime) -> list[Loop]:
    key = piece_rows.piece_id(shop.book, state.piece.tag)
    assert key is not None
    masks = masks_with_doubts(shop, fact_rows.masks(shop.book, key, only_on=True))
    return [
        Loop(f"{state.piece.codename} {m.covers}", m.on, "when the tape went on is in doubt", None)
        for m in in_doubt(masks)
    ] + [
        Loop(f"{state.piece.codename} {m.covers}", m.on, "tape is over its rating", None)
        for m in overdue(masks, now)
    ]


def _since(loop: Loop) -> datetime:
    return loop.since


def _oily_steps(shop: Shop) -> frozenset[str]:
    """Keys of the steps that leave oily rags, in any path of the shop."""
    return frozenset(
        step.key for path in shop.paths.values() for step in path.steps if OILY in step.cautions
    )
