"""The last resort: symbols that no general decoder reads, read by what we know of them."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from partsbench.core.piece.codes import Code
from partsbench.reading import soft
from partsbench.reading.fit import Net, lay_net, lay_plane
from partsbench.reading.found import SIDE, Corners, Found, How, PagePoint
from partsbench.reading.search import Array, Square, poses, squares
from partsbench.reading.symbol import modules_of

if TYPE_CHECKING:
    from PIL.Image import Image

# How much is looked at: this bounds the time.
MOST_SQUARES = 14
MOST_DOUBTFUL = 6
MOST_PAIRS = 3
# Agreement of a flat net with the known modules. Wood, cloth and text reach 0.6 at most; symbols
# of severity 2 have 0.7 in the middle, and what is not clear is only tried later.
CLEARLY_A_SYMBOL = 0.6
WORTH_READING = 0.4
# Modules of 3 to 6 pixels are looked for, then 6 to 12 and 12 to 24 in smaller copies.
SHRUNK = (1, 2, 4)
SMALLEST_COPY = 100
# A guess from the book with a greater chance of being wrong is not worth a question.
WORTH_ASKING = 1e-3


@dataclass(frozen=True, slots=True)
class Sight:
    """A symbol, or two that are taken for the same code, and how dark each module looks."""

    nets: tuple[Net, ...]
    dark: Array


def read_ruined(grey: Image, book: Collection[str] = (), page: int = 1) -> list[Found]:
    """The code of a ruined label in a grey picture (mode L); looks no further than the first.

    What the symbols themselves prove is certain. Where they prove nothing, the likeliest code of
    `book` is given with its chance of being wrong, to be confirmed by a person.
    """
    sights: list[Sight] = []
    for net in _nets(grey):
        sight = Sight((net,), soft.darkness(net))
        for seen in (sight, *_pairs(sight, sights)):
            reading = soft.best_reading(seen.dark)
            if reading and reading.certain:
                how = How.KNOWN_MODULES if seen is sight else How.BOTH_SYMBOLS
                return [_found(seen, net, reading.code, how, page) for net in seen.nets]
        sights.append(sight)
    pairs = [pair for n, sight in enumerate(sights) for pair in _pairs(sight, sights[:n])]
    return _against_book([*sights, *pairs], soft.KnownCodes.of(book), page) if book else []


def _nets(grey: Image) -> Iterator[Net]:
    """Places that agree with the known modules: clear ones at once, then doubtful ones by order."""
    tried: list[Net] = []
    doubtful: list[Net] = []
    for copy, shrink, square in _squares(grey):
        lain = [lay_plane(grey, pose.enlarged(shrink)) for pose in poses(copy, square)]
        plane = max(lain, key=lambda net: net.agreement)
        if plane.agreement < CLEARLY_A_SYMBOL:
            doubtful.append(plane)
        elif _is_new(plane, tried):
            tried.append(lay_net(plane))
            yield tried[-1]
    doubtful.sort(key=lambda net: -net.agreement)
    for plane in doubtful[:MOST_DOUBTFUL]:
        if _is_new(plane, tried):
            tried.append(lay_net(plane))
            if tried[-1].agreement >= WORTH_READING:
                yield tried[-1]


def _squares(grey: Image) -> list[tuple[Image, int, Square]]:
    """Squares at all sizes, best first, each with the smaller copy that it was found in."""
    seen: list[tuple[Image, int, Square]] = []
    for shrink in SHRUNK:
        copy = grey if shrink == 1 else grey.reduce(shrink)
        if min(copy.size) >= SMALLEST_COPY:
            seen += [(copy, shrink, square) for square in squares(copy, MOST_SQUARES)]
    seen.sort(key=lambda entry: -entry[2].score)
    return seen[:MOST_SQUARES]


def _is_new(net: Net, tried: list[Net]) -> bool:
    return all(_gap(other, net) > SIDE / 3 for other in tried)


def _pairs(sight: Sight, others: list[Sight]) -> Iterator[Sight]:
    """Two symbols of about the same size that do not touch may be the two of one label."""
    for other in others[:MOST_PAIRS]:
        one, two = sight.nets[0], other.nets[0]
        if 0.6 < one.module / two.module < 1.6 and _gap(one, two) > SIDE:
            yield Sight((one, two), sight.dark + other.dark)


def _gap(one: Net, other: Net) -> float:
    """Distance of two symbols' centres in modules of the first."""
    centre = np.array([[SIDE / 2, SIDE / 2]], np.float32)
    away = one.in_picture(centre) - other.in_picture(centre)
    return float(np.hypot(*away[0])) / one.module


def _against_book(sights: list[Sight], book: soft.KnownCodes, page: int) -> list[Found]:
    """The code of the book that agrees best with any sight, if it stands out clearly."""
    best: tuple[float, Sight, Code] | None = None
    for sight in sights:
        guess = soft.best_of(sight.dark, book)
        chance = min(1.0, guess.chance * len(sights)) if guess else 1.0
        if guess and chance <= WORTH_ASKING and (best is None or chance < best[0]):
            best = chance, sight, guess.code
    if best is None:
        return []
    chance, sight, code = best
    return [_found(sight, sight.nets[0], code, How.BOOK, page, chance)]


def _found(
    sight: Sight, net: Net, code: Code, how: How, page: int, chance: float | None = None
) -> Found:
    wrong = (sight.dark > 0) != modules_of(str(code)).ravel()
    return Found(
        str(code),
        code,
        _corners(net),
        page,
        how,
        certain=chance is None,
        chance=chance or 0.0,
        repaired=_middles(net, np.flatnonzero(wrong)),
    )


def _middles(net: Net, modules: NDArray[np.intp]) -> tuple[PagePoint, ...]:
    """Where modules, counted row by row, have their middles in the picture."""
    row, column = np.divmod(modules, SIDE)
    places = net.in_picture(np.stack([column, row], axis=1).astype(np.float32) + 0.5)
    return tuple((float(x), float(y)) for x, y in places)


def _corners(net: Net) -> Corners:
    corners = np.array([[0, 0], [SIDE, 0], [SIDE, SIDE], [0, SIDE]], np.float32)
    first, second, third, fourth = ((float(x), float(y)) for x, y in net.in_picture(corners))
    return first, second, third, fourth
