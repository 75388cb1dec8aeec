"""What a description says of single parts: fittings, bags, old marks, notes, what is fragile."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family, parse_short
from partsbench.core.piece.fittings import FITTINGS, set_fittings
from partsbench.core.piece.furnish import add_part
from partsbench.core.piece.parts import Home, HomeKind, Part
from partsbench.core.piece.piece import Piece

_BAG_WORDS = {"name", "contents", "on"}


def add_described(piece: Piece, doc: Mapping[str, Any]) -> Piece | Refused:
    """The piece with all that `doc` says of its parts; the first thing wrong otherwise."""
    for step in (_fitted, _with_bags, _with_words, _flagged):
        made = step(piece, doc)
        if isinstance(made, Refused):
            return made
        piece = made
    return piece


def _fitted(piece: Piece, doc: Mapping[str, Any]) -> Piece | Refused:
    for name, table in doc.get("fittings", {}).items():
        if name not in FITTINGS or not isinstance(table, Mapping):
            return Refused(
                f"fittings.{name}: write a table of counts for one of {', '.join(FITTINGS)}."
            )
        for host, count in table.items():
            where = f"fittings.{name}.{host}"
            part = _part(piece, host)
            if part is None or part.family not in (Family.DRAWER, Family.DOOR):
                return Refused(f"{where}: there is no such drawer or door.")
            if not isinstance(count, int) or isinstance(count, bool):
                return Refused(f"{where}: write how many there are.")
            made = set_fittings(piece, [part.short], count, name)
            if isinstance(made, Refused):
                return made.at(where)
            piece = made
    return piece


def _with_bags(piece: Piece, doc: Mapping[str, Any]) -> Piece | Refused:
    bags = doc.get("bag", [])
    if not isinstance(bags, list) or not all(isinstance(b, Mapping) for b in bags):
        return Refused("bag: write each as a [[bag]] of its own.")
    for place, bag in enumerate(bags, 1):
        unknown = set(bag) - _BAG_WORDS
        if unknown or not all(isinstance(v, str) for v in bag.values()):
            return Refused(f"bag {place}: it has a name, contents and on, each in quotes.")
        host = _part(piece, bag["on"]) if "on" in bag else None
        if "on" in bag and host is None:
            return Refused(f"bag {place}: there is no part {bag['on']}.")
        made = add_part(
            piece,
            Family.BAG,
            Home(HomeKind.ON_PART if host else HomeKind.ON_PIECE),
            bag.get("name", ""),
            parent=host.short if host else "",
            contents=bag.get("contents", ""),
        )
        if isinstance(made, Refused):
            return made.at(f"bag {place}")
        piece = made
    return piece


def _with_words(piece: Piece, doc: Mapping[str, Any]) -> Piece | Refused:
    for key in ("old_marks", "notes"):
        for name, words in doc.get(key, {}).items():
            part = _part(piece, name)
            if part is None:
                return Refused(f"{key}.{name}: there is no such part.")
            if isinstance(words, bool) or not isinstance(words, str | int):
                return Refused(f"{key}.{name}: write it in quotes.")
            text = str(words)
            noted = replace(part, old_mark=text) if key == "old_marks" else replace(part, note=text)
            piece = piece.with_part(noted)
    return piece


def _flagged(piece: Piece, doc: Mapping[str, Any]) -> Piece | Refused:
    """The parts listed as fragile, and those to be left off papers that a client may see."""
    for key in ("fragile", "secret"):
        names = doc.get(key, [])
        if not isinstance(names, list):
            return Refused(f"{key}: write a list of parts.")
        for name in names:
            part = _part(piece, name)
            if part is None:
                return Refused(f"{key}: there is no part {name}.")
            fragile = part.fragile or key == "fragile"
            hidden = part.hidden or key == "secret"
            piece = piece.with_part(replace(part, fragile=fragile, hidden=hidden))
    return piece


def _part(piece: Piece, name: object) -> Part | None:
    short = parse_short(name) if isinstance(name, str) else None
    part = piece.numbered(*short) if short else None
    return None if part is None or part.retired else part
