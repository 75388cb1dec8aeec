"""Codes in files and pictures: what window and command line read besides a scanner."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from partsbench.core.piece.codes import Code, parse_code
from partsbench.reading.found import SIDE, Corners, Found, How, PagePoint, ReadingError
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.shop import Shop
from partsbench.store.codes import current_codes

if TYPE_CHECKING:
    from partsbench.reading.views import Views

PICTURES = (".png", ".jpg", ".jpeg", ".tif", ".tiff", ".bmp", ".gif", ".webp", ".pdf")
"""Endings of the files that are looked into; others may be tried too."""

MOST_COMPARED = 3000
"""Codes that a ruined label is compared with: some forty pieces, those last worked on.

The chance of a wrong guess grows with their number, and they are read in the window's thread.
"""
_RAREST = 1_000_000

_WAYS = {
    How.PLAIN: "Read by a plain look.",
    How.ENLARGED: "Read in the picture enlarged.",
    How.SHARPENED: "Read in the picture sharpened.",
    How.SMOOTHED: "Read in the picture smoothed.",
    How.LOCAL_THRESHOLD: "Read with the shadows taken out of the picture.",
    How.LOCAL_CONTRAST: "Read with the contrast evened out.",
    How.KNOWN_MODULES: "No decoder reads it: read by the modules that are the same on every label.",
    How.BOTH_SYMBOLS: "No decoder reads it: read from both symbols of the label together.",
    How.BOOK: "Too little is left to read: compared with the labels of this book.",
}
_LAST_RESORT = (How.KNOWN_MODULES, How.BOTH_SYMBOLS, How.BOOK)


@dataclass(frozen=True, slots=True)
class Symbol:
    """One symbol in a picture: its text, where it is and how it was read.

    `corners` are in pixels of the upright page, and so are the middles of the modules that were
    `repaired`. What is not `certain` has the `chance` that it is another label.
    """

    text: str
    corners: Corners
    page: int = 1
    how: How = How.PLAIN
    certain: bool = True
    chance: float = 0.0
    repaired: tuple[PagePoint, ...] = ()


@dataclass(frozen=True, slots=True)
class Glance:
    """What a picture shows before the book is asked; made without the book, in any thread.

    `data` is the picture where it is not in a file of that name.
    """

    file: str
    symbols: tuple[Symbol, ...] = ()
    fault: str = ""
    data: bytes = b""

    @property
    def texts(self) -> tuple[str, ...]:
        """The texts that were read for certain, each once."""
        return tuple(dict.fromkeys(symbol.text for symbol in self.symbols if symbol.certain))


@dataclass(frozen=True, slots=True)
class Probable:
    """A label that may be this one. Never a reading: a person has to confirm it."""

    code: str
    name: str
    chance: float

    @property
    def sentence(self) -> str:
        """`probably D5 of Heron: confirm?`"""
        return f"probably {self.name}: confirm?"


@dataclass(frozen=True, slots=True)
class Seen:
    """What a file holds: `codes` that this book has, and `strangers` that it has not.

    `probable` are labels of this book that it may hold, each to be confirmed by a person before
    it counts. `fault` says in a sentence why the file could not be looked at.
    """

    file: str
    codes: tuple[str, ...] = ()
    strangers: tuple[str, ...] = ()
    fault: str = ""
    probable: tuple[Probable, ...] = ()


def codes_in_use(shop: Shop) -> tuple[str, ...]:
    """The codes that a ruined label is compared with: for a worker, which asks no book."""
    return tuple(current_codes(shop.book, MOST_COMPARED))


def read_files(
    shop: Shop, paths: Iterable[Path], heard: Callable[[Path, int], None] | None = None
) -> list[Seen]:
    """The codes in pictures and PDF files, each told once a file, in the order they stand.

    `heard` is told each page of a PDF before it is looked at.
    """
    book = codes_in_use(shop)
    return [
        sort_out(shop, glance_at(path, book, partial(heard, path) if heard else None))
        for path in paths
    ]


def glance_at(
    path: Path, book: Collection[str] = (), heard: Callable[[int], None] | None = None
) -> Glance:
    """Look into one file. Takes a while, asks no book but for these codes: for a worker."""
    from partsbench.reading.pictures import read_file

    try:
        found = read_file(path, book, heard=heard) if heard else read_file(path, book)
        return Glance(str(path), symbols_of(found))
    except ReadingError as error:
        return Glance(str(path), fault=f"{error}.")


def glance_at_picture(data: bytes, name: str, book: Collection[str] = ()) -> Glance:
    """Look into a picture held in memory, such as one that was pasted."""
    from partsbench.reading.pictures import read_picture

    try:
        return Glance(name, symbols_of(read_picture(data, book)), data=data)
    except ReadingError as error:
        return Glance(name, fault=f"{name}: {error}.")


def glance_plainly(data: bytes, name: str) -> Glance:
    """What a decoder reads at once in a picture held in memory: for pictures that keep coming."""
    from partsbench.reading.pictures import read_plainly

    try:
        return Glance(name, symbols_of(read_plainly(data)))
    except ReadingError as error:
        return Glance(name, fault=f"{name}: {error}.")


def views_of(glance: Glance) -> Views:
    """Pictures of what was looked at, for a worker; none when the file is no longer there."""
    from partsbench.reading import views

    try:
        return views.views_of(glance.data or Path(glance.file), glance.symbols)
    except (OSError, EOFError, ValueError):
        return views.Views()


def sort_out(shop: Shop, glance: Glance) -> Seen:
    """Ask the book which of the texts are its own; the others are never given as readings."""
    codes: list[str] = []
    strangers: list[str] = []
    for text in glance.texts:
        known = identify(shop, text)
        ours = isinstance(known, KnownLabel) or bool(known.tag)
        (codes if ours else strangers).append(text)
    return Seen(
        glance.file,
        tuple(codes),
        tuple(strangers),
        glance.fault,
        _probable(shop, [s for s in glance.symbols if not s.certain and s.text not in codes]),
    )


def name_of(shop: Shop, text: str) -> str:
    """`D5 of Heron`; the text itself where this book has no such label in use."""
    known, code = identify(shop, text), parse_code(text)
    if not isinstance(known, KnownLabel) or not isinstance(code, Code):
        return text
    return f"{code.short} of {known.piece.codename}"


def was_read_plainly(glance: Glance) -> bool:
    """Whether a decoder read everything without our knowing what labels look like."""
    return all(symbol.how not in _LAST_RESORT for symbol in glance.symbols)


def counts_at_once(glance: Glance, seen: Seen) -> bool:
    """Whether there is just one label in it, and a decoder read that."""
    return len(seen.codes) == 1 and not seen.probable and was_read_plainly(glance)


def told(symbol: Symbol) -> tuple[str, ...]:
    """How a symbol was read and what was repaired, in sentences."""
    said = [_WAYS[symbol.how]]
    if symbol.repaired:
        whose = "were repaired" if symbol.certain else "look other than on that label"
        said.append(f"{len(symbol.repaired)} of {SIDE * SIDE} modules {whose}.")
    if not symbol.certain:
        said.append(f"A wrong label would fit as well by chance {chance_words(symbol.chance)}.")
    return tuple(said)


def chance_words(chance: float) -> str:
    """`at most once in 30,000`, one figure only and never better than a million."""
    if chance * _RAREST < 1:
        return f"less than once in {_RAREST:,}"
    times = int(1 / chance)
    step = 10 ** (len(str(times)) - 1)
    return f"at most once in {times // step * step:,}"


def _probable(shop: Shop, symbols: Sequence[Symbol]) -> tuple[Probable, ...]:
    """Guesses whose label is in use in this book, each once, the likeliest first."""
    likeliest: dict[str, Probable] = {}
    for symbol in sorted(symbols, key=lambda symbol: symbol.chance):
        if isinstance(identify(shop, symbol.text), KnownLabel):
            guess = Probable(symbol.text, name_of(shop, symbol.text), symbol.chance)
            likeliest.setdefault(symbol.text, guess)
    return tuple(likeliest.values())


def symbols_of(found: Iterable[Found]) -> tuple[Symbol, ...]:
    """What a picture told, without what only the reader needs."""
    return tuple(
        Symbol(f.text, f.corners, f.page, f.how, f.certain, f.chance, f.repaired) for f in found
    )
