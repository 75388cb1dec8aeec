"""The file of waiting changes (`-wal`) beside a book: whose it is, and what it still gives.

SQLite puts a `-wal` file onto whatever book lies beside it. After a window was cut off and a copy
was put over its book, that would mix the two. So a book bears a stamp, a number in its header that
is drawn anew before the first change goes into an empty `-wal`; each change takes the first page,
and the stamp on it, along. A `-wal` whose stamp is another one belongs to another file: it is put
aside under another name, neither used nor deleted.

(Form of both files: SQLite documentation, "Database File Format", sections 1.3 and 4, from memory.)
"""

from __future__ import annotations

import random
import struct
from dataclasses import dataclass
from pathlib import Path
from typing import Final

HEADER_BYTES: Final = 100
STAMP_AT: Final = 60
"""Where `user_version` stands in the header: 4 bytes, the highest first."""
FORM_BITS: Final = 8
"""The lowest bits of `user_version` say the book's form, those above are its stamp."""
_STAMP_BITS: Final = 23
_WAL_HEADER, _FRAME_HEADER = 32, 24
_NO_END: Final = bytes(4)
"""In the header of a frame that does not end a change."""
_MOST_TIMES: Final = 1 << 16
"""So many times has a file been written from its start at most, since it was made anew."""
_MAGIC: Final = 0x377F0682
"""Of a file whose sums are of words with the lowest byte first; one more: the highest first."""


def form_of(user_version: int) -> int:
    """How many migrations a book has had."""
    return user_version & ((1 << FORM_BITS) - 1)


def stamped_anew(user_version: int) -> int:
    """The same form under another stamp."""
    old = user_version >> FORM_BITS
    while (new := random.SystemRandom().getrandbits(_STAMP_BITS)) in (0, old):
        pass
    return new << FORM_BITS | form_of(user_version)


def wal_of(book: Path) -> Path:
    return book.with_name(f"{book.name}-wal")


def shm_of(book: Path) -> Path:
    return book.with_name(f"{book.name}-shm")


def in_header(header: bytes) -> int | None:
    """`user_version` in the first bytes of a book; None when they are too few."""
    if len(header) < STAMP_AT + 4:
        return None
    return int.from_bytes(header[STAMP_AT : STAMP_AT + 4], "big")


@dataclass(frozen=True, slots=True)
class Waiting:
    """What a `-wal` file holds. `stamps` are the `user_version`s on the first pages in it."""

    readable: bool
    page: int = 0
    stamps: frozenset[int] = frozenset()
    changes: int = 0
    """Changes that SQLite will find in it."""
    beyond: int = 0
    """Changes of the same time that it will not find, as they or others before them do not read.

    A program that is killed leaves none: it writes in order, the end of a change last.
    """

    def belongs_to(self, header: bytes) -> bool | None:
        """Whether it belongs to the book of that header; None when it does not say."""
        version = in_header(header)
        page = int.from_bytes(header[16:18], "big")
        if not self.readable or version is None or self.page != (65536 if page == 1 else page):
            return False
        return version in self.stamps if self.stamps else None


NOTHING_WAITS = Waiting(True)


def look_into(wal: Path) -> Waiting:
    """Reads a `-wal` file as SQLite does after a crash. OSError when it cannot be read."""
    with wal.open("rb") as file:
        head = file.read(_WAL_HEADER)
        magic, _, page, _ = struct.unpack(">4I", head[:16].ljust(16, b"\0"))
        order = {_MAGIC: "<", _MAGIC + 1: ">"}.get(magic)
        if not head:
            return NOTHING_WAITS
        frame = _FRAME_HEADER + page
        if order is None or not 512 <= page <= 65536 or len(head) < _WAL_HEADER:
            return _unreadable(file.seek(0, 2))
        total = _sum(order, (0, 0), head[:24])
        if struct.pack(">2I", *total) != head[24:]:
            return _unreadable(file.seek(0, 2))
        salt, stamps = head[16:24], set[int]()
        changes = 0
        while len(bytes_ := file.read(frame)) == frame and bytes_[8:16] == salt:
            total = _sum(order, _sum(order, total, bytes_[:8]), bytes_[_FRAME_HEADER:])
            if struct.pack(">2I", *total) != bytes_[16:24]:
                break
            changes += bytes_[4:8] != _NO_END
            if bytes_[:4] == b"\0\0\0\1":
                stamps.add(in_header(bytes_[_FRAME_HEADER:]) or 0)
        beyond = _ends(bytes_ + file.read(), salt) + _is_spoilt_end(bytes_, salt)
    return Waiting(True, page, frozenset(stamps), changes, beyond)


def _ends(data: bytes, salt: bytes) -> int:
    """How many changes of that time end in what SQLite does not read, wherever it lies."""
    found, at = 0, data.find(salt)
    while at >= 0:
        found += at >= 4 and data[at - 4 : at] != _NO_END
        at = data.find(salt, at + 1)
    return found


def _is_spoilt_end(frame: bytes, salt: bytes) -> bool:
    """Whether this frame, with which reading stops, ended a change of that time, its salt spoilt.

    What is left over from an earlier time bears a first salt that is lower, for it is counted up,
    and a second one that is another, for it is drawn; what was never written is nothing but zeros.
    """
    if len(frame) < _FRAME_HEADER or frame[8:16] in (salt, bytes(8)) or frame[4:8] == _NO_END:
        return False
    older = (int.from_bytes(salt[:4], "big") - int.from_bytes(frame[8:12], "big")) % 2**32
    return not 0 < older <= _MOST_TIMES or frame[12:16] == salt[4:]


def _unreadable(size: int) -> Waiting:
    """Less than one page of rubbish is a file that was cut off before it held anything."""
    return NOTHING_WAITS if size < _WAL_HEADER + _FRAME_HEADER + 512 else Waiting(False)


def _sum(order: str, so_far: tuple[int, int], data: bytes) -> tuple[int, int]:
    one, two = so_far
    for first, second in struct.iter_unpack(f"{order}2I", data):
        one = (one + first + two) & 0xFFFFFFFF
        two = (two + second + one) & 0xFFFFFFFF
    return one, two


def free_name(path: Path) -> Path:
    """That path, or the first of `name-2`, `name-3`… that nothing bears yet."""
    found, number = path, 1
    while found.exists() or found.is_symlink():
        number += 1
        found = path.with_name(f"{path.name}-{number}")
    return found


def put_aside(wal: Path) -> Path:
    """Gives a `-wal` file another name, which SQLite does not know. OSError when it cannot be."""
    aside = free_name(wal.with_name(f"{wal.name}-put-aside"))
    wal.rename(aside)
    return aside
