"""Codes in files and pictures: what window and command line read besides a scanner."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from partsbench.services.identify import Known, identify
from partsbench.services.shop import Shop

PICTURES = (".png", ".jpg", ".jpeg", ".tif", ".tiff", ".bmp", ".gif", ".webp", ".pdf")
"""Endings of the files that are looked into; others may be tried too."""


@dataclass(frozen=True, slots=True)
class Seen:
    """What a file holds: `codes` that this book has, and `strangers` that it has not.

    `fault` says in a sentence why the file could not be looked at.
    """

    file: str
    codes: tuple[str, ...] = ()
    strangers: tuple[str, ...] = ()
    fault: str = ""


@dataclass(frozen=True, slots=True)
class Glance:
    """The texts in a picture before the book is asked; made without the book, in any thread."""

    file: str
    texts: tuple[str, ...] = ()
    fault: str = ""


def read_files(shop: Shop, paths: Iterable[Path]) -> list[Seen]:
    """The codes in pictures and PDF files, each told once a file, in the order they stand."""
    return [sort_out(shop, glance_at(path)) for path in paths]


def glance_at(path: Path) -> Glance:
    """Look into one file. Takes a while, asks no book: for a worker."""
    from partsbench.reading.found import ReadingError
    from partsbench.reading.pictures import read_file

    try:
        return _glance(str(path), [found.text for found in read_file(path)])
    except ReadingError as error:
        return Glance(str(path), fault=f"{error}.")


def glance_at_picture(data: bytes, name: str) -> Glance:
    """Look into a picture held in memory, such as one that was pasted."""
    from partsbench.reading.found import ReadingError
    from partsbench.reading.pictures import read_picture

    try:
        return _glance(name, [found.text for found in read_picture(data)])
    except ReadingError as error:
        return Glance(name, fault=f"{name}: {error}.")


def sort_out(shop: Shop, glance: Glance) -> Seen:
    """Ask the book which of the texts are its own; the others are never given as readings."""
    codes: list[str] = []
    strangers: list[str] = []
    for text in glance.texts:
        known = identify(shop, text)
        ours = isinstance(known, Known) or bool(known.tag)
        (codes if ours else strangers).append(text)
    return Seen(glance.file, tuple(codes), tuple(strangers), glance.fault)


def _glance(name: str, texts: Iterable[str]) -> Glance:
    return Glance(name, tuple(dict.fromkeys(texts)))
