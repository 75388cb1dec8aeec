"""Random pieces for properties: fronts of every kind, furnished, marked and shaped."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import Front, OpeningKind, front_from_rows
from partsbench.core.piece.furnish import add_part, furnish, with_front, without_part
from partsbench.core.piece.parts import CLEAR, LEAVE, PAINT, RAW, STAIN, Home, HomeKind
from partsbench.core.piece.piece import Numbering, Piece
from partsbench.core.piece.shaping import Axis, merge, put_behind, remove, set_kind, split

KINDS = st.sampled_from(list(OpeningKind))
WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), max_size=12)
PATHS = st.sampled_from([PAINT, STAIN, CLEAR, RAW, LEAVE])


@st.composite
def fronts(draw: st.DrawFn) -> Front:
    """A front from its rows, then split, joined, cleared and given other kinds at random."""
    front = front_from_rows(draw(st.lists(st.integers(1, 4), min_size=1, max_size=4)))
    assert isinstance(front, Front)
    for _ in range(draw(st.integers(0, 4))):
        if not front.openings:
            break
        number = draw(st.sampled_from([o.number for o in front.openings]))
        made = _shaped(draw, front, number)
        front = front if isinstance(made, Refused) else made
    return front


def _shaped(draw: st.DrawFn, front: Front, number: int) -> Front | Refused:
    what = draw(st.sampled_from(["split", "kind", "behind", "remove", "merge"]))
    if what == "split":
        return split(front, number, draw(st.sampled_from(list(Axis))), draw(st.integers(2, 3)))
    if what == "kind":
        return set_kind(front, number, draw(KINDS))
    if what == "behind":
        door = set_kind(front, number, OpeningKind.DOOR)
        counts = draw(st.lists(st.integers(1, 2), min_size=1, max_size=2))
        return door if isinstance(door, Refused) else put_behind(door, number, counts)
    if what == "remove":
        return remove(front, number)
    return merge(front, draw(st.lists(st.sampled_from([o.number for o in front.openings]))))


@st.composite
def pieces(draw: st.DrawFn, tag: str = "K7Q4") -> Piece:
    """A piece as a shop may have it: legs, pulls, words in any script, parts added and retired."""
    piece = furnish(
        tag,
        draw(WORDS.filter(str.strip)).strip(),
        draw(fronts()),
        legs=draw(st.integers(0, 6)),
        equal_legs=draw(st.booleans()),
        pulls=draw(st.integers(0, 2)),
        top=draw(st.booleans()),
        numbering=draw(st.sampled_from(list(Numbering))),
    )
    assert isinstance(piece, Piece), piece
    for part in piece.parts:
        if draw(st.booleans()):
            piece = piece.with_part(
                replace(
                    part.with_path(draw(PATHS)),
                    old_mark=draw(WORDS),
                    note=draw(WORDS),
                    fragile=draw(st.booleans()),
                )
            )
    if draw(st.booleans()):
        piece = _grown(draw, replace(piece, numbers_fixed=True))
    return piece


def _grown(draw: st.DrawFn, piece: Piece) -> Piece:
    """The piece later in its life: numbers fixed, a part more, a part gone, another front."""
    home = Home(HomeKind.ON_PIECE, spot="loose")
    more = add_part(piece, Family.BAG, home, "bag", contents=draw(WORDS))
    assert isinstance(more, Piece)
    piece = without_part(more, draw(st.sampled_from([p.short for p in more.parts])), "broken")
    if piece.front.openings:
        number = draw(st.sampled_from([o.number for o in piece.front.openings]))
        front = _shaped(draw, piece.front, number)
        changed = piece if isinstance(front, Refused) else with_front(piece, front)
        piece = piece if isinstance(changed, Refused) else changed
    return piece
