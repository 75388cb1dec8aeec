"""The sums on a sample, as lines to print: what fits, whose drawer, which pulls, what to ask."""

from __future__ import annotations

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.surfaces import opening_size
from partsbench.core.said_often import no_piece
from partsbench.services.shop import Shop
from partsbench.services.sums import choice, gap, habits, holes, measure, money, orphan
from partsbench.services.sums.ground import drawers

PLAY_MM = (2.6, 2.4, 1.4)
"""Play that the sample's drawers were measured with, in turn."""


def showcase(shop: Shop, tag: str) -> list[str] | Refused:
    """Measures a sample's drawers, asks each of the four sums, and gives their answers.

    Nothing it notes is taken back; run it on a book that is there to be shown.
    """
    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    lost = [d for d in drawers(piece) if _shown(piece, d)][-1:]
    for done in (*_noted(shop, piece, lost), *_bought(shop, piece)):
        if isinstance(done, Refused):
            return done
    answers = [
        ("Will it still fit", gap.forecast(shop, tag)),
        ("Whose drawer is this", orphan.whose(shop, tag) if lost else None),
        ("Which pulls", holes.choices(shop, tag)),
        ("The least to ask", money.floor_price(shop, tag)),
    ]
    lines = []
    for name, found in answers:
        if isinstance(found, Refused) or found is None:
            lines.append(f"{name}: {found.sentence if found else 'no drawer to ask about.'}")
            continue
        sentence = found.found.sentence if isinstance(found, orphan.Orphans) else found.sentence
        lines.append(f"{name}: {sentence}")
    return lines


def _noted(shop: Shop, piece: Piece, lost: list[Part]) -> list[Done | Refused]:
    done = [
        habits.set_habit(shop, "dry month", "20C 30%"),
        habits.set_habit(shop, "damp month", "22C 60%"),
        habits.set_habit(shop, "rate", "25"),
        measure.set_wood(shop, piece.tag, [], "walnut, black", "flat"),
    ]
    for place, drawer in enumerate(d for d in drawers(piece) if _shown(piece, d)):
        opening = piece.front.opening(drawer.home.number)
        assert opening is not None
        width, height = opening_size(piece, opening, {})
        play = PLAY_MM[place % len(PLAY_MM)]
        home = {"width": f"{width:.1f} mm", "height": f"{height:.1f} mm"}
        own = {"width": f"{width - play:.1f} mm", "height": f"{height - play - 2.5:.1f} mm"}
        measured = {
            f"H{drawer.home.number}": home,
            **({} if drawer in lost else {drawer.short: own}),
        }
        for name, sizes in measured.items():
            for what, mm in sizes.items():
                done.append(measure.measure(shop, piece.tag, name, what, mm))
        if drawer in lost:
            done.append(orphan.note_orphan(shop, piece.tag, "the one without a label", own))
    return done


def _bought(shop: Shop, piece: Piece) -> list[Done | Refused]:
    tag = piece.tag
    old = drawers(piece)[0]
    opening = piece.front.opening(old.home.number)
    assert opening is not None
    width, height = opening_size(piece, opening, {})
    middle, down = (width - PLAY_MM[0]) / 2, height / 2
    holes_there = f"{middle - 48:.1f},{down:.1f} {middle + 48:.1f},{down:.1f}"
    return [
        choice.note_holes(shop, tag, old.short, holes_there),
        choice.consider(shop, tag, "96 mm bow pull", "96 mm", foot="14 mm", thread="M4"),
        choice.consider(shop, tag, "128 mm bow pull", "128 mm", foot="14 mm", thread="M4"),
        money.note_money(shop, tag, "bought", "95"),
        money.note_money(shop, tag, "hardware", "48"),
        money.note_money(shop, tag, "delivery", "38"),
        money.note_money(shop, tag, "offer", "640"),
    ]


def _shown(piece: Piece, drawer: Part) -> bool:
    opening = piece.front.opening(drawer.home.number)
    return opening is not None and opening.behind is None
