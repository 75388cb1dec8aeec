"""What every use case works with: the book, the clock, who is at the bench, the finish paths."""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, ParamSpec, TypeVar

from partsbench import files
from partsbench.core.outcomes import BookDamagedError, Refused
from partsbench.core.piece.codes import parse_short
from partsbench.core.piece.parts import LEAVE
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.said_often import no_face, no_piece
from partsbench.store import pieces as rows
from partsbench.store.book import Book, BookWriteError, open_book
from partsbench.store.waiting import shm_of, wal_of

if TYPE_CHECKING:
    from partsbench.core.finish.path import FinishPath
    from partsbench.core.toml_text import TomlFault

P = ParamSpec("P")
R = TypeVar("R")


@functools.cache
def _shipped_paths() -> Mapping[str, FinishPath]:
    from partsbench import trade
    from partsbench.core.finish.path import parse_paths

    return parse_paths(trade.load_paths())


@functools.lru_cache(maxsize=64)
def read_path(text: str) -> FinishPath | tuple[TomlFault, ...]:
    """A path from the text of its file, or what is wrong with it."""
    from partsbench.core.finish.path import parse_path_text

    read = parse_path_text(text)
    return tuple(read) if isinstance(read, list) else read


def machine_clock() -> datetime:
    return datetime.now(UTC)


@dataclass
class Shop:
    """An open book at work. `clock` gives the present moment, aware."""

    book: Book
    clock: Callable[[], datetime] = machine_clock
    who: str = ""
    copies_folder: Path | None = None
    """Where copies of the book go as long as no other folder is chosen."""

    @property
    def paths(self) -> Mapping[str, FinishPath]:
        """The shipped finish paths and the shop's own, by key."""
        from partsbench.store import room

        read = map(read_path, room.own_paths(self.book).values())
        return {**_shipped_paths(), **{p.key: p for p in read if not isinstance(p, tuple)}}

    def path(self, key: str) -> FinishPath:
        """The finish path of that key; a path that is no longer known has no steps."""
        shipped = _shipped_paths()
        if key in shipped:
            return shipped[key]
        from partsbench.store import room

        text = room.own_path(self.book, key)
        own = read_path(text) if text else ()
        return shipped[LEAVE] if isinstance(own, tuple) else own

    @property
    def book_path(self) -> Path:
        """Where the book lies."""
        return self.book.path

    def piece(self, tag: str) -> Piece | None:
        try:
            piece = rows.load(self.book, tag)
            sizes = (piece.front.width, piece.front.height) if piece else (1.0,)
            if min(sizes) <= 0:
                raise ValueError("its front has no size")
            return piece
        except (ValueError, TypeError) as error:
            raise BookDamagedError(
                f"{self.book.path} is damaged: piece {tag} cannot be: {error}"
            ) from error

    @property
    def told(self) -> tuple[str, ...]:
        """What a person should know of how the book was opened."""
        return self.book.told

    def all_or_nothing(self) -> AbstractContextManager[None]:
        """What several use cases change inside stays only when nothing ends in an exception."""
        return self.book.together()

    def close(self) -> None:
        self.book.close()

    @property
    def is_closed(self) -> bool:
        """The book is closed: what still runs in the background has nobody to tell."""
        return self.book.closed


def open_shop(
    path: Path, clock: Callable[[], datetime] = machine_clock, who: str = ""
) -> Shop | Refused:
    """The shop whose book lies at `path`; made new when there is none."""
    book = open_book(path)
    return book if isinstance(book, Refused) else Shop(book, clock, who)


def files_of_book(path: Path) -> tuple[Path, ...]:
    """The book and what SQLite keeps beside it while it is open."""
    path = files.itself(path)
    return path, wal_of(path), shm_of(path)


def find_tag(shop: Shop, asked: str) -> str | Refused:
    """The tag of the piece meant by a tag, or by a codename that only one piece bears."""
    wanted = asked.strip()
    listed = rows.listed(shop.book)
    for piece in listed:
        if piece.tag == wanted.upper():
            return piece.tag
    named = [p for p in listed if p.codename.casefold() == wanted.casefold()]
    if len(named) == 1:
        return named[0].tag
    if named:
        tags = ", ".join(p.tag for p in named)
        return Refused(f"{named[0].codename} has several pieces: {tags}. Say which.")
    return Refused(no_piece(asked))


def find_piece(shop: Shop, asked: str) -> Piece | Refused:
    tag = find_tag(shop, asked)
    if isinstance(tag, Refused):
        return tag
    piece = shop.piece(tag)
    return piece if piece else Refused(no_piece(asked))


def find_short(piece: Piece, asked: str) -> str | Refused:
    """The short number of a present part that a person wrote: `d5` for D5."""
    short = parse_short(asked)
    part = piece.numbered(*short) if short else None
    if part is None or part.retired:
        return Refused(f"{piece.codename} has no part “{asked}”.")
    return part.short


def find_spot(piece: Piece, named: str | Spot) -> Spot | Refused:
    """A present part that a person named (`d5`), or a face of it (`D5 Front`)."""
    spot = Spot.of(named)
    short = find_short(piece, spot.part)
    if isinstance(short, Refused):
        return short
    part = piece.part(short)
    assert part is not None
    if spot.face and part.face(spot.face) is None:
        return Refused(no_face(short, spot.face, [f.name for f in part.faces]))
    return spot


def writing(use_case: Callable[P, R]) -> Callable[P, R | Refused]:
    """A use case that changes the book: when it cannot be written to, that is said, not raised."""

    @functools.wraps(use_case)
    def told(*args: P.args, **kwargs: P.kwargs) -> R | Refused:
        try:
            return use_case(*args, **kwargs)
        except BookWriteError as error:
            return Refused(f"Nothing was changed: {error}.")

    return told
