"""How the tiles look on the Layout page: each says its finish path by pattern and word."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from partsbench.core.finish.path import FinishPath, PathKind
from partsbench.core.key_words import face_word, path_word, place_word, word_of
from partsbench.core.piece.codes import Family, parse_short
from partsbench.core.piece.front import Opening, OpeningKind
from partsbench.core.piece.parts import NO_FINISH, SHOWN, Face, HomeKind, Part
from partsbench.core.piece.piece import Piece, home_words, opening_words
from partsbench.ui.piece_view import Pattern, TileLook
from partsbench.ui.piece_view.keys import home_number, keys_of, part_of

PATTERNS = {
    PathKind.PAINT: Pattern.FILLED,
    PathKind.STAIN: Pattern.HATCHED,
    PathKind.CLEAR: Pattern.DOTTED,
}
FILLS = {PathKind.PAINT: "paint", PathKind.STAIN: "stain", PathKind.CLEAR: "clear"}
NARROW = (Family.LEG, Family.TOP)
BARE = {OpeningKind.SHELF: "shelf", OpeningKind.EMPTY: "empty"}


def looks_of(
    piece: Piece, paths: Mapping[str, FinishPath], show_hidden: bool = False
) -> dict[str, TileLook]:
    """A look for each tile of the piece. A door gives its room to what it hides when that shows."""
    looks = {}
    for key in keys_of(piece):
        part = part_of(piece, key)
        number = home_number(key)
        opening = piece.front.opening(number) if number else None
        look = _part_look(piece, part, opening, paths) if part else _bare_look(piece, opening)
        if show_hidden and opening and piece.front.behind(number):
            look = replace(look, number="", words="", description=key_words(piece, key))
        looks[key] = look
    return looks


def path_words(part: Part, face: Face | None) -> str:
    """The path of the face that shows, for a tile; a leg or top left as found says nothing."""
    if face is None or (part.family in NARROW and face.path in NO_FINISH):
        return ""
    return path_word(face.path)


def part_words(piece: Piece, part: Part) -> str:
    """A part in words: `drawer, row 2, left`."""
    spot = place_word(part.home.spot)
    if part.home.kind is HomeKind.CORNER and not part.group and spot in part.called:
        return part.called
    return f"{part.called}, {home_words(piece, part)}"


def key_words(piece: Piece, key: str) -> str:
    """A tile in words, with its number: `D5, drawer, row 2, left`."""
    part = part_of(piece, key)
    if part:
        return f"{part.short}, {part_words(piece, part)}"
    opening = piece.front.opening(home_number(key))
    if opening:
        return f"{word_of(opening.kind)}, {opening_words(piece.front, opening)}"
    return key if parse_short(key) else ""


def _part_look(
    piece: Piece, part: Part, opening: Opening | None, paths: Mapping[str, FinishPath]
) -> TileLook:
    shown = next((f for f in part.faces if f.name in SHOWN[part.family]), None)
    path = paths.get(shown.path) if shown else None
    kind = path.kind if path else PathKind.LEAVE
    pattern = PATTERNS.get(kind, Pattern.PLAIN)
    if opening and opening.behind is not None and pattern is Pattern.PLAIN:
        pattern = Pattern.HIDDEN
    told = [part_words(piece, part)]
    if shown and path:
        told.append(f"{face_word(shown.name)}: {path.name}")
    if any(f.path != shown.path for f in part.faces if shown and f.name in SHOWN[part.family]):
        told.append("other faces differ")
    return TileLook(
        part.short,
        path_words(part, shown),
        pattern,
        "; ".join(told),
        FILLS.get(kind, ""),
    )


def _bare_look(piece: Piece, opening: Opening | None) -> TileLook:
    if opening is None:
        return TileLook("", "", Pattern.EMPTY, "corner without a leg")
    words = f"{word_of(opening.kind)}, {opening_words(piece.front, opening)}"
    return TileLook(BARE.get(opening.kind, ""), "", Pattern.EMPTY, words)
