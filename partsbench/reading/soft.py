"""From a laid net to a code: how dark each module is, how sure that is, and which code fits best.

The known modules teach a small filter what dark and light look like in just this picture, through
its blur and shadow. The code is then sought among all that the symbol could hold: the surest bits
are taken as seen, up to four of them turned over, and the rest follows from the Reed-Solomon
bits (ordered statistics, from memory after Fossorier and Lin 1995). That uses how sure each bit is,
and so reads on where counting wrong bytes gives up.
"""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from partsbench.core.piece.codes import Code, parse_code
from partsbench.reading.fit import Net, sample
from partsbench.reading.found import SIDE
from partsbench.reading.search import Array
from partsbench.reading.symbol import (
    CODE_BITS,
    DATA_BITS,
    UNKNOWN,
    Bits,
    data_bits,
    fixed_bits,
    generator,
    known_signs,
    mask_bits,
    places,
    text_of,
)

# Standard deviations by which a code must agree better than chance. Of 1,500 symbols of mere noise
# 21 gave a text with the shape and the check of a code, the best of them with 7.2 deviations; from
# there on the chance falls as exp(-z²/2): about 3 in 100 million for a look at nothing.
CERTAIN = 8.5
# ... and by which it must stand out from the best other one that was tried.
CLEAR = 1.5
# Where around a module's middle the picture is looked at, in modules.
_REACH = (-0.8, -0.4, 0.0, 0.4, 0.8)
# Keeps the filter small where the known modules say little (ridge regression).
_CAUTION = 4.0
_BEST_TRIED = 60


@dataclass(frozen=True, slots=True)
class CodeReading:
    """The best code for what was seen: agreement and lead over the next one, in deviations."""

    text: str
    code: Code
    agreement: float
    lead: float

    @property
    def certain(self) -> bool:
        return self.agreement >= CERTAIN and self.lead >= CLEAR


@dataclass(frozen=True, slots=True)
class Guess:
    """The likeliest code of a book, its agreement and lead, and the chance that it is wrong."""

    code: Code
    agreement: float
    lead: float
    chance: float


def darkness(net: Net) -> Array:
    """How dark each of the 441 modules looks: about 1 for dark, -1 for light, 0 for no idea."""
    looks = _looks(net)
    signs = known_signs().ravel().astype(np.float64)
    known = signs != UNKNOWN
    taught = looks[known]
    square = taught.T @ taught + _CAUTION * np.eye(looks.shape[1])
    weights = np.linalg.solve(square, taught.T @ signs[known])
    return np.clip(looks @ weights, -1, 1).astype(np.float32)


def _looks(net: Net) -> NDArray[np.float64]:
    """What is seen at and around each module (441 × 26), shadow evened out, and a constant."""
    steps = np.arange(SIDE) + 0.5
    y, x = np.meshgrid(steps, steps, indexing="ij")
    middle = np.stack([x.ravel(), y.ravel()], axis=1)
    columns = [
        sample(net.window, net.at((middle + np.array([dx, dy])).astype(np.float32)))
        for dy in _REACH
        for dx in _REACH
    ]
    return np.stack([*columns, np.ones(len(middle))], axis=1)


def best_reading(dark: Array) -> CodeReading | None:
    """The code that agrees best with what is seen, out of those that are likely at all."""
    found: dict[str, tuple[float, Code]] = {}
    for score, data in _likely(_seen_bits(dark)):
        text = text_of(data)
        code = parse_code(text) if text else None
        if text and isinstance(code, Code) and str(code) == text:
            found.setdefault(text, (score / _deviation(dark), code))
            if len(found) == 2:
                break
    if not found:
        return None
    (text, (score, code)), *others = found.items()
    lead = score - others[0][1][0] if others else score
    return CodeReading(text, code, score, lead)


@dataclass(frozen=True, slots=True)
class KnownCodes:
    """The codes of a book, ready to be compared with what is seen."""

    codes: tuple[Code, ...]
    signs: NDArray[np.float64]

    @classmethod
    def of(cls, texts: Collection[str]) -> KnownCodes:
        """Those of the texts that are codes."""
        parsed = [(text, parse_code(text)) for text in texts]
        codes = tuple(code for text, code in parsed if isinstance(code, Code) and str(code) == text)
        value, _ = fixed_bits()
        data = np.array([data_bits(str(code)) for code in codes], np.uint8).reshape(-1, DATA_BITS)
        turned = (data ^ value).astype(np.float64) @ generator() % 2
        return cls(codes, 1.0 - 2.0 * turned)


def best_of(dark: Array, book: KnownCodes) -> Guess | None:
    """The code of the book that agrees best, if it leads the next one clearly.

    A code that has nothing to do with the symbol agrees by so many deviations as a sum of random
    signs would. The chance is that any code of the book does as well as the best one did: the
    book's size times the tail exp(-z²/2) (Hoeffding's bound).
    """
    if not book.codes:
        return None
    ranked = book.signs @ _seen_bits(dark) / _deviation(dark)
    order = np.argsort(-ranked)
    best = float(ranked[order[0]])
    lead = best - float(ranked[order[1]]) if len(order) > 1 else best
    if best <= 0 or lead < CLEAR:
        return None
    chance = min(1.0, len(book.codes) * math.exp(-(best**2) / 2))
    return Guess(book.codes[order[0]], best, lead, chance)


def _seen_bits(dark: Array) -> NDArray[np.float64]:
    """The 208 bits as they look, mask and fixed bits taken out: positive for 0; 0 if settled."""
    rows, columns = places()
    value, _ = fixed_bits()
    turned = (value @ generator()) % 2 ^ mask_bits()
    seen = -dark.reshape(SIDE, SIDE)[rows, columns].astype(np.float64)
    open_bits: NDArray[np.float64] = np.where(turned, -seen, seen) * _open()
    return open_bits


def _deviation(dark: Array) -> float:
    return float(np.sqrt((_seen_bits(dark) ** 2).sum()) + 1e-6)


@lru_cache(maxsize=1)
def _open() -> NDArray[np.float64]:
    """1 for the bits that depend on the code, 0 for the settled ones."""
    _, fixed = fixed_bits()
    return np.asarray(generator()[~fixed].any(axis=0), np.float64)


def _likely(seen: NDArray[np.float64]) -> list[tuple[float, NDArray[np.uint8]]]:
    """Sums of agreement and data bits of the likeliest symbols, best first."""
    sets, data, surest = _on_surest(np.abs(seen))
    first = (seen[surest] < 0).astype(np.uint8)
    left = (seen * (1.0 - 2.0 * (first @ sets % 2))).astype(np.float32)
    pairs, combined = _turns()
    signs = 1.0 - 2.0 * (pairs @ sets % 2).astype(np.float32)
    scores = ((signs * left) @ signs.T).ravel()[combined]
    best = np.argpartition(-scores, _BEST_TRIED)[:_BEST_TRIED]
    value, _ = fixed_bits()
    likely = []
    for index in best[np.argsort(-scores[best])]:
        one, two = divmod(int(combined[index]), len(pairs))
        turned = first ^ pairs[one] ^ pairs[two]
        likely.append((float(scores[index]), (turned @ data % 2).astype(np.uint8) ^ value))
    return likely


@lru_cache(maxsize=1)
def _turns() -> tuple[Bits, NDArray[np.intp]]:
    """Every choice of at most two of the free bits, and which two choices together make each
    choice of at most four just once (index of one times their count plus index of the other)."""
    free = int(np.count_nonzero(~fixed_bits()[1]))
    chosen = [c for size in (0, 1, 2) for c in combinations(range(free), size)]
    pairs = np.zeros((len(chosen), free), np.uint8)
    for row, bits in enumerate(chosen):
        pairs[row, list(bits)] = 1
    size = np.array([len(c) for c in chosen])
    low = np.array([min(c, default=free) for c in chosen])
    high = np.array([max(c, default=-1) for c in chosen])
    once = (size == 2)[:, None] & (high[:, None] < low) | (size == 0)
    return pairs, np.flatnonzero(once)


def _on_surest(sure: NDArray[np.float64]) -> tuple[Bits, Bits, NDArray[np.intp]]:
    """The free bits solved for the surest places that settle them.

    Rows of bits in the symbol and of data bits, one for each of these places, and the places.
    """
    _, fixed = fixed_bits()
    rows = np.concatenate([generator()[~fixed], np.eye(DATA_BITS, dtype=np.uint8)[~fixed]], axis=1)
    surest: list[int] = []
    for place in np.argsort(-sure):
        done = len(surest)
        standing = np.flatnonzero(rows[done:, place])
        if not standing.size:
            continue
        pivot = done + standing[0]
        rows[[done, pivot]] = rows[[pivot, done]]
        others = rows[:, place].astype(bool)
        others[done] = False
        rows[others] ^= rows[done]
        surest.append(int(place))
        if len(surest) == len(rows):
            break
    return rows[:, :CODE_BITS], rows[:, CODE_BITS:], np.array(surest)
