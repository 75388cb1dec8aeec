"""Taking pieces in, and changing their fronts, parts and finish paths."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

from partsbench import files
from partsbench.core.key_words import part_word, word_of
from partsbench.core.naming import ALL, together
from partsbench.core.outcomes import Refused
from partsbench.core.piece.alike import set_alike
from partsbench.core.piece.codes import Family, new_tag
from partsbench.core.piece.describe import describe, with_paths
from partsbench.core.piece.fittings import set_fittings, set_legs, set_top
from partsbench.core.piece.front import Front, front_from_rows, parse_rows
from partsbench.core.piece.furnish import (
    add_part as with_added,
)
from partsbench.core.piece.furnish import (
    furnish,
    mirrored_piece,
    numbered_afresh,
    with_front,
    without_part,
)
from partsbench.core.piece.parts import Home, family_word
from partsbench.core.piece.piece import Numbering, Piece
from partsbench.core.piece.sound import faults, first_fault
from partsbench.core.piece.spot import Spot
from partsbench.core.said_often import no_finish_path, no_piece
from partsbench.core.toml_text import TomlFault, read_toml
from partsbench.core.wording import and_list
from partsbench.services.books import copies
from partsbench.services.known import facts
from partsbench.services.known.facts import DescribedFact, described_facts
from partsbench.services.shop import Shop, find_piece, find_short, writing
from partsbench.store import pieces as rows
from partsbench.store.journal import change
from partsbench.store.pieces import Listed

LARGEST_FILE = 2_000_000
"""Bytes of a description."""
LARGEST_EXPORT = 10_000_000
"""Bytes of an export: some 50,000 entries of history."""
NOTHING_KNOWN: Mapping[str, str] = MappingProxyType({})


def pieces(shop: Shop) -> list[Listed]:
    """All pieces of the book, the newest first."""
    return rows.listed(shop.book)


@writing
def lay_out(
    shop: Shop,
    codename: str,
    counts: str,
    *,
    title: str = "",
    width: float | None = None,
    height: float | None = None,
    legs: int = 0,
    equal_legs: bool = False,
    pulls: int = 0,
    top: bool = False,
    paths: Sequence[tuple[str, Sequence[str]]] = (),
    numbering: Numbering = Numbering.BY_ROW,
    known: Mapping[str, str] = NOTHING_KNOWN,
) -> Piece | Refused:
    """A piece from its drawers per row (`2 2 3`). Sizes in mm; `paths` are (path key, names);
    `known` what is known of all of it, by the key of the fact."""
    name = codename.strip()
    parsed = parse_rows(counts)
    if isinstance(parsed, Refused):
        return parsed
    heights = None if height is None else [height / len(parsed)] * len(parsed)
    front = (
        front_from_rows(parsed, heights=heights)
        if width is None
        else front_from_rows(parsed, width, heights)
    )
    if isinstance(front, Refused):
        return front
    piece = furnish(
        _fresh_tag(shop),
        name,
        front,
        legs=legs,
        equal_legs=equal_legs,
        pulls=pulls,
        top=top,
        numbering=numbering,
    )
    if isinstance(piece, Refused):
        return piece
    piece = replace(piece, title=title.strip())
    for path, names in paths:
        made = _with_known_path(shop, piece, path, names)
        if isinstance(made, Refused):
            return made
        piece = made
    said = described_facts(piece, [{"key": key, "value": known[key]} for key in known])
    taken = said if isinstance(said, Refused) else _taken_in(shop, [piece], said)
    return taken if isinstance(taken, Refused) else taken[0]


@writing
def take_in(shop: Shop, file: Path) -> list[Piece] | Refused:
    """The pieces that a file describes (TOML), or one that was exported (JSON)."""
    copies.before_large_change(shop)
    is_export = file.suffix.lower() == ".json"
    text = files.read_text(file, LARGEST_EXPORT if is_export else LARGEST_FILE)
    if isinstance(text, Refused):
        return text
    if is_export or text.lstrip().startswith("{"):
        from partsbench.services.books.exchange import take_in_export

        return take_in_export(shop, text, str(file))
    doc = read_toml(text)
    if isinstance(doc, TomlFault):
        if doc.line:
            return Refused(f"{file}: {doc.why} (line {doc.line}).")
        return Refused(f"{file}: {doc.why}.")
    made = _described(shop, doc)
    return made.at(str(file)) if isinstance(made, Refused) else made


@writing
def mirror(shop: Shop, asked: str, title: str = "") -> Piece | Refused:
    """The second piece of a pair, by reflection, under a tag of its own."""
    piece = find_piece(shop, asked)
    if isinstance(piece, Refused):
        return piece
    twin = mirrored_piece(piece, _fresh_tag(shop), title.strip())
    made = _taken_in(shop, [twin])
    return made if isinstance(made, Refused) else made[0]


@writing
def reshape(
    shop: Shop, tag: str, shape: Callable[[Front], Front | Refused], sentence: str
) -> Piece | Refused:
    """Another front for a piece. `shape` makes it from the present one, or says why not."""

    def shaped(piece: Piece) -> Piece | Refused:
        front = shape(piece.front)
        return front if isinstance(front, Refused) else with_front(piece, front)

    return _edited(shop, tag, shaped, sentence)


@writing
def start_over(shop: Shop, tag: str, counts: str) -> Piece | Refused:
    """Another front of the same size from its drawers per row; refused once labels are printed."""
    parsed = parse_rows(counts)
    if isinstance(parsed, Refused):
        return parsed
    copies.before_large_change(shop)

    def afresh(piece: Piece) -> Piece | Refused:
        if piece.numbers_fixed:
            return Refused("Labels are printed, so the front is changed opening by opening.")
        front = piece.front
        heights = [front.height / len(parsed)] * len(parsed)
        new = front_from_rows(parsed, front.width, heights)
        return new if isinstance(new, Refused) else with_front(piece, new)

    return _edited(shop, tag, afresh, f"Front of {' '.join(map(str, parsed))} drawers")


@writing
def give_path(shop: Shop, tag: str, path: str, names: Iterable[str]) -> Piece | Refused:
    """Give parts (`D1`, `top`, `legs`) or single faces (`D1 front`) a finish path."""
    wanted = list(names)
    if path not in shop.paths:
        return Refused(no_finish_path(path, shop.paths))
    return _edited(
        shop,
        tag,
        lambda piece: with_paths(piece, path, wanted),
        f"{together(map(Spot.of, wanted))}: {shop.path(path).name}",
    )


@writing
def edit_part(
    shop: Shop,
    tag: str,
    asked: str,
    *,
    name: str | None = None,
    old_mark: str | None = None,
    note: str | None = None,
    contents: str | None = None,
    fragile: bool | None = None,
    hidden: bool | None = None,
) -> Piece | Refused:
    """Words about a part: its name, the old mark on it, a note, what a bag holds."""
    given = {
        "name": name,
        "old_mark": old_mark,
        "note": note,
        "contents": contents,
        "fragile": fragile,
        "hidden": hidden,
    }
    values: dict[str, Any] = {k: v for k, v in given.items() if v is not None}

    def edited(piece: Piece) -> Piece | Refused:
        short = find_short(piece, asked)
        if isinstance(short, Refused):
            return short
        part = piece.part(short)
        assert part is not None
        return piece.with_part(replace(part, **values))

    words = ", ".join(_said(k, v) for k, v in values.items())
    return _edited(shop, tag, edited, f"{asked.upper()}: {words}")


@writing
def add_part(
    shop: Shop,
    tag: str,
    family: Family,
    home: Home,
    name: str = "",
    *,
    parent: str = "",
    contents: str = "",
    fragile: bool = False,
) -> Piece | Refused:
    """One more part; it gets the next number of its family and no other number moves."""

    def added(piece: Piece) -> Piece | Refused:
        return with_added(
            piece, family, home, name, parent=parent, contents=contents, fragile=fragile
        )

    return _edited(shop, tag, added, f"Added {part_word(name) or family_word(family)}")


@writing
def retire_part(shop: Shop, tag: str, short: str, reason: str) -> Piece | Refused:
    """A part that is no longer there, with why. Its number is not given again."""

    def retired(piece: Piece) -> Piece | Refused:
        part = piece.part(short)
        if part is None or part.retired:
            return Refused(f"{piece.codename} has no part “{short}”.")
        return without_part(piece, short, reason)

    return _edited(shop, tag, retired, f"{short} retired: {reason}")


@writing
def give_fittings(
    shop: Shop, tag: str, hosts: Sequence[str], count: int, name: str = "pull"
) -> Piece | Refused:
    """How many pulls, knobs, plates, locks, keys or runners some drawers or doors have each."""
    wanted = list(hosts)
    if not wanted:
        return Refused(f"Choose the drawers or doors that get a {name}.")
    sentence = f"{count} × {name} on {together(wanted)}"
    return _edited(shop, tag, lambda p: set_fittings(p, wanted, count, name), sentence)


@writing
def give_top(shop: Shop, tag: str, top: bool) -> Piece | Refused:
    """A top that comes off, or none."""
    sentence = "With a top" if top else "Without a top"
    return _edited(shop, tag, lambda p: set_top(p, top), sentence)


@writing
def give_legs(shop: Shop, tag: str, count: int, equal: bool) -> Piece | Refused:
    """How many legs a piece has, and whether any may stand at any corner."""
    kind = "interchangeable legs" if equal else "legs"
    return _edited(shop, tag, lambda p: set_legs(p, count, equal), f"{count} {kind}")


@writing
def make_alike(shop: Shop, tag: str, shorts: Sequence[str], alike: bool = True) -> Piece | Refused:
    """Parts of which each may go to any of their places, or each to its own again."""
    names = together(shorts, ALL)
    said = f"{names} are alike: any to any place" if alike else f"{names}: each to its own place"
    return _edited(shop, tag, lambda p: set_alike(p, shorts, alike), said)


@writing
def rename(shop: Shop, tag: str, title: str) -> Piece | Refused:
    """What a piece is called beside its codename."""
    return _edited(shop, tag, lambda p: replace(p, title=title.strip()), f"Called {title.strip()}")


@writing
def number_by(shop: Shop, tag: str, numbering: Numbering) -> Piece | Refused:
    """The order of the numbers; refused once labels are printed."""

    def numbered(piece: Piece) -> Piece | Refused:
        if piece.numbers_fixed:
            return Refused("Labels are printed, so the numbers stay as they are.")
        return numbered_afresh(replace(piece, numbering=numbering))

    return _edited(shop, tag, numbered, f"Numbered {word_of(numbering)}")


def _said(key: str, value: str | bool) -> str:
    """An edit of a part in words, for the history."""
    what = "kept off clients' papers" if key == "hidden" else key.replace("_", " ")
    if isinstance(value, bool):
        return what if value else f"no longer {what}"
    return f"{what} “{value}”" if value else f"no {what}"


def _described(shop: Shop, doc: dict[str, Any]) -> list[Piece] | Refused:
    described = describe(doc, _fresh_tag(shop))
    if isinstance(described, Refused):
        return described
    for part in described.piece.parts:
        for face in part.faces:
            if face.path not in shop.paths:
                return Refused(f"paths: there is no finish path “{face.path}”.")
    made = [described.piece]
    said = described_facts(described.piece, doc.get("fact", []))
    if isinstance(said, Refused):
        return said
    if described.twin:
        tag = _fresh_tag(shop, {described.piece.tag})
        made.append(mirrored_piece(described.piece, tag, described.twin))
    return _taken_in(shop, made, said)


def _with_known_path(shop: Shop, piece: Piece, path: str, names: Sequence[str]) -> Piece | Refused:
    if path not in shop.paths:
        return Refused(no_finish_path(path, shop.paths))
    return with_paths(piece, path, names)


def _taken_in(
    shop: Shop, made: list[Piece], said: Sequence[DescribedFact] = ()
) -> list[Piece] | Refused:
    """Put pieces into the book; what is known of the first is known of its mirrored twin too."""
    for piece in made:
        fault = first_fault(piece)
        if fault:
            return fault
    now = shop.clock()
    names = and_list(f"{p.codename} {p.tag}" for p in made)
    with change(shop.book, f"Took in {names}", now, shop.who, made[0].tag) as entry:
        for piece in made:
            rows.add(entry, shop.book, piece, now)
            for fact in said:
                facts.write(shop, entry, piece.tag, fact.places, fact.key, fact.value, fact.note)
    return made


def _edited(
    shop: Shop, tag: str, edit: Callable[[Piece], Piece | Refused], sentence: str
) -> Piece | Refused:
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        piece = shop.piece(tag)
        if piece is None:
            return Refused(no_piece(tag))
        edited = edit(piece)
        if isinstance(edited, Refused):
            return edited
        # What an older program let in does not hold up the rest.
        new = [f for f in faults(edited) if f not in faults(piece)]
        if new:
            return new[0]
        rows.save(entry, shop.book, edited)
    return edited


def _fresh_tag(shop: Shop, also: set[str] | None = None) -> str:
    return new_tag(rows.tags(shop.book) | (also or set()), random.SystemRandom().choice)
