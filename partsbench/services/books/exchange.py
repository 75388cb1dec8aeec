"""A piece out to a plain file and back without loss, and the whole book as a copy."""

from __future__ import annotations

import json
from functools import partial
from pathlib import Path

from partsbench.core.outcomes import BookDamagedError, Done, Refused
from partsbench.core.piece.codes import TAG_ALPHABET, TAG_LENGTH
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.sound import first_fault
from partsbench.core.said_often import cannot_be, copied_to, no_piece
from partsbench.core.verbs import is_reserved
from partsbench.core.wording import within
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.store import checking
from partsbench.store import exchange as rows
from partsbench.store import pieces as piece_rows
from partsbench.store.journal import change


def export(shop: Shop, tag: str) -> str | Refused:
    """Everything of a piece but its client, as JSON text."""
    if piece_rows.piece_id(shop.book, tag) is None:
        return Refused(no_piece(tag))
    return json.dumps(rows.export(shop.book, tag), ensure_ascii=False, indent=1) + "\n"


def take_in_export(shop: Shop, text: str, name: str) -> list[Piece] | Refused:
    """The piece that `text` (an export) holds, under its own tag, with its records."""
    try:
        doc = json.loads(text)
        tag = rows.check(doc)
    except (json.JSONDecodeError, RecursionError) as error:
        return Refused(f"{name}: not JSON: {error}.")
    except rows.ExchangeError as error:
        return Refused(f"{name}: {error}.")
    if len(tag) != TAG_LENGTH or not set(tag) <= set(TAG_ALPHABET) or is_reserved(tag):
        return Refused(f"{name}: “{tag}” is no tag.")
    if piece_rows.piece_id(shop.book, tag) is not None:
        return Refused(f"{name}: piece {tag} is in this book already.")
    try:
        with change(
            shop.book, f"Took in {doc['codename']} {tag}", shop.clock(), shop.who, tag
        ) as entry:
            rows.put(entry, shop.book, doc)
            piece = _sound(shop, tag)
    except rows.ExchangeError as error:
        return Refused(f"{name}: {error}.")
    return [piece]


def _sound(shop: Shop, tag: str) -> Piece:
    """The piece just put in; ExchangeError, which takes it out again, when it cannot be drawn."""
    try:
        piece = shop.piece(tag)
    except BookDamagedError as error:
        raise rows.ExchangeError(cannot_be(error)) from error
    assert piece is not None
    fault = first_fault(piece)
    if fault:
        raise rows.ExchangeError(within(fault.sentence))
    return piece


def save_copy(shop: Shop, target: Path) -> Done | Refused:
    """The whole book as one file, also while it is in use."""
    fault = shop.book.save_copy(target)
    return fault or Done(copied_to(target))


def check_book(shop: Shop) -> list[str]:
    """What a thorough check of the book finds; [] when it is sound."""
    found = checking.faults(shop.book)
    return found or [fault for fault in map(partial(_state_fault, shop), _tags(shop)) if fault]


def _tags(shop: Shop) -> list[str]:
    return [p.tag for p in piece_rows.listed(shop.book)]


def _state_fault(shop: Shop, tag: str) -> str:
    """Why nothing can be said of how a piece stands; empty when it can."""
    try:
        piece = shop.piece(tag)
        assert piece is not None
        wrong = first_fault(piece)
        if wrong is None:
            piece_state(shop, piece)
    except BookDamagedError as error:
        return str(error)
    except (LookupError, ValueError, TypeError, AssertionError) as error:
        return f"Piece {tag} cannot be: {error or type(error).__name__}"
    return f"Piece {tag}: {wrong.sentence}" if wrong else ""


def damage_behind(shop: Shop) -> str:
    """The sentence for a fault that comes from a damaged book; empty when the book is sound."""
    try:
        found = check_book(shop)
    except Exception as error:
        found = [str(error) or type(error).__name__]
    if not found:
        return ""
    more = len(found) - 1
    if not more:
        return f"{shop.book.path} is damaged: {found[0]}. Get a copy back."
    told = f"{found[0]}, and {more} more (check-book lists them)"
    return f"{shop.book.path} is damaged: {told}. Get a copy back."
