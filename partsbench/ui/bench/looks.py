"""How the tiles of a piece look on the Teardown, Bench and Return pages, told from its state."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from partsbench.core.key_words import fit_word, word_of
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece, home_words
from partsbench.core.wording import listed
from partsbench.services.acts.returning import ELIMINATION, homes_left
from partsbench.services.acts.teardown import STAYS_IN
from partsbench.services.known.state import SEATED, PartState, PieceState, Where
from partsbench.ui.piece_view import Pattern, TileLook
from partsbench.ui.piece_view.keys import PLAIN_TILES, part_of, tile_key


def named(piece: Piece, part: Part) -> str:
    """A part for a screen reader: `drawer, row 2, left`."""
    return f"{part.called}, {home_words(piece, part)}"


def is_tile_of_its_own(part: Part) -> bool:
    return part.family in SEATED or part.family in PLAIN_TILES or part.home.kind is HomeKind.STAYS


def teardown_looks(state: PieceState, following: Part | None, chosen: str) -> dict[str, TileLook]:
    """What is out is hatched, what stays has a check mark, the next one a thick outline."""
    looks = {}
    outlined = chosen or (following.short if following else "")
    for part in state.piece.present:
        if not is_tile_of_its_own(part):
            continue
        pattern, words = _torn_down(state.of(part.short))
        if part.short == outlined:
            pattern = Pattern.NEXT
        told = f"{named(state.piece, part)}, {words or 'still in the piece'}"
        looks[tile_key(state.piece, part)] = TileLook(part.short, words, pattern, told)
    return _pointing_at_host(state.piece, following, chosen, looks)


def _torn_down(own: PartState) -> tuple[Pattern, str]:
    if own.where is Where.STAYS:
        return Pattern.PLAIN, ""
    if own.moved is not None and own.moved.how == STAYS_IN:
        return Pattern.DONE, "stays in"
    if own.where is Where.OUT:
        return Pattern.HATCHED, own.place or word_of(Where.OUT)
    if own.where is Where.WRONG:
        return Pattern.WRONG, word_of(Where.WRONG)
    if own.was_out:
        return Pattern.DONE, "home again"
    return Pattern.PLAIN, ""


def _pointing_at_host(
    piece: Piece, following: Part | None, chosen: str, looks: dict[str, TileLook]
) -> dict[str, TileLook]:
    """For a pull or key, which has no tile, the tile of what it sits on has the outline."""
    part = piece.part(chosen) if chosen else following
    if part is None or is_tile_of_its_own(part):
        return looks
    key = tile_key(piece, part)
    if key in looks:
        look = looks[key]
        words = f"{part.short} {part.called}" if part.name else part.short
        looks[key] = TileLook(look.number, words, Pattern.NEXT, f"{look.description}; {words}")
    return looks


def open_doors(piece: Piece, looks: dict[str, TileLook]) -> dict[str, TileLook]:
    """The looks when what doors hide is shown over them: a door's number would lie behind it."""
    hiding = {o.behind for o in piece.front.openings if o.behind is not None}
    for number in hiding:
        key = short_number(Family.HOME, number) if number else ""
        look = looks.get(key)
        if look:
            looks[key] = replace(look, number="", words=f"{look.number} {look.words}".strip())
    return looks


def bench_looks(piece: Piece, part: Part | None) -> dict[str, TileLook]:
    """A small drawing with one part filled."""
    looks = {}
    for other in piece.present:
        if is_tile_of_its_own(other):
            description = named(piece, other)
            looks[tile_key(piece, other)] = TileLook(other.short, description=description)
    key = tile_key(piece, part) if part else ""
    if part and key in looks:
        short = looks[key].number
        text = f"{named(piece, part)}, at work"
        looks[key] = TileLook(short, "", Pattern.FILLED, text)
    return looks


def return_looks(state: PieceState, waiting: int, lit: str) -> dict[str, TileLook]:
    """Empty homes fill up; `waiting` is the home that was scanned, `lit` a part shown its home."""
    piece = state.piece
    seated = state.seated()
    left = homes_left(state)
    looks = {}
    for part in piece.present:
        if not is_tile_of_its_own(part):
            continue
        number = part.home.number
        sitting = state.of(seated[number]) if number in seated else None
        looks[tile_key(piece, part)] = _home_look(state, part, sitting, number in left)
    key = ""
    if waiting:
        key = short_number(Family.HOME, waiting)
    elif lit:
        part_lit = piece.part(lit)
        key = tile_key(piece, part_lit) if part_lit else ""
    if key in looks:
        looks[key] = _lit(looks[key], waiting, lit)
    return looks


def _lit(look: TileLook, waiting: int, lit: str) -> TileLook:
    words = "scan what goes in" if waiting else f"{lit} goes here"
    number = short_number(Family.HOME, waiting) if waiting else look.number
    return TileLook(number, words, Pattern.NEXT, f"{look.description}, {words}")


def _home_look(state: PieceState, part: Part, sitting: PartState | None, is_left: bool) -> TileLook:
    piece = state.piece
    own = state.of(part.short)
    place = named(piece, part)
    if part.family not in SEATED:
        return _loose_look(own, place)
    if sitting is None and not is_left:
        return TileLook(part.short, "", Pattern.PLAIN, f"{place}, was not taken out")
    if sitting is None:
        words = "was never scanned" if own.moved is None else own.place or "to fill"
        return TileLook(part.short, "", Pattern.EMPTY, f"{place}, empty: {words}")
    if sitting.where is Where.WRONG:
        lives = short_number(Family.HOME, sitting.part.home.number)
        words = f"lives in {lives}"
        return TileLook(sitting.part.short, words, Pattern.WRONG, f"{place}, wrong: {words}")
    words = ELIMINATION if sitting.moved and sitting.moved.how == ELIMINATION else ""
    fit = fit_word(sitting.fit.result) if sitting.fit else ""
    told = listed((place, word_of(Where.HOME), words, fit))
    return TileLook(sitting.part.short, words or fit, Pattern.DONE, told)


def _loose_look(own: PartState, place: str) -> TileLook:
    patterns: Mapping[Where, Pattern] = {
        Where.OUT: Pattern.EMPTY,
        Where.WRONG: Pattern.WRONG,
        Where.HOME: Pattern.DONE,
    }
    pattern = patterns.get(own.where, Pattern.PLAIN)
    return TileLook(own.part.short, "", pattern, f"{place}, {word_of(own.where)}")


def tile_part(piece: Piece, key: str) -> str:
    """The number of the part that a tile stands for, empty when nothing lives there."""
    part = part_of(piece, key)
    return part.short if part else ""
