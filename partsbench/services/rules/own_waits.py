"""What all tries of the shop say of its products, and how its waits hear it."""

from __future__ import annotations

import functools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from partsbench.core.finish.clocks import films_on
from partsbench.core.finish.own_readiness import (
    OwnWait,
    ReadySpan,
    Try,
    figures,
    own_wait,
    sentence,
)
from partsbench.core.finish.products import Ready, TinCard
from partsbench.services.known import climate
from partsbench.services.known.state import FaceState
from partsbench.services.shop import Shop
from partsbench.store import tries as rows


@dataclass(frozen=True, slots=True)
class OwnFigure:
    """What the shop's tries say of one product and state; own: None while too few to tell."""

    product: str
    name: str
    tin: str
    ready: Ready
    films: int
    own: OwnWait | None

    @property
    def sentence(self) -> str:
        return sentence(self.tin or self.name, self.ready, self.films, self.own)

    @property
    def short(self) -> str:
        """`yours: 8 of 10 films ready by 31 h`, beside other figures."""
        if self.own is None:
            return f"yours: {self.films} tried, too few to tell"
        return f"yours: {self.own.said}"


def own_figures(shop: Shop) -> list[OwnFigure]:
    """What all tries of the shop say, by product, tin and state."""
    names = climate.products()
    return [
        OwnFigure(product, names[product].name if product in names else product, tin, ready,
                  len(spans), own_wait(spans))
        for (product, tin, ready), spans in _spans(rows.newest(shop.book)).items()
    ]  # fmt: skip


def own_waits(
    shop: Shop, tins: Mapping[str, TinCard]
) -> Mapping[tuple[str, Ready], OwnWait]:  # fmt: skip
    """The shop's own waits for the tins that are in use, and for classes without a tin card."""
    known = _own(rows.newest(shop.book))
    return {
        (product, ready): own
        for (product, tin, ready), own in known.items()
        if tin == (tins[product].name if product in tins else "")
    }


def held_by_try(shop: Shop, faces: Sequence[FaceState]) -> dict[Ready, Try]:
    """The states that were tried last on the newest film of these faces and were not ready."""
    tried = rows.of_marks(shop.book, [f.marks[-1].id for f in faces if f.marks])
    found: dict[Ready, Try] = {}
    for face in faces if tried else ():
        films = films_on(face.progress)
        if not films:
            continue
        mark, step = films[-1]
        for each in tried:
            if (each.product, each.film_at) == (step.product, mark.at):
                before = found.get(each.ready)
                found[each.ready] = each if before is None or each.at >= before.at else before
    return {ready: last for ready, last in found.items() if not last.is_ready}


@functools.lru_cache(maxsize=4)
def _spans(tries: tuple[Try, ...]) -> Mapping[tuple[str, str, Ready], list[ReadySpan]]:
    return figures(tries)


@functools.lru_cache(maxsize=4)
def _own(tries: tuple[Try, ...]) -> Mapping[tuple[str, str, Ready], OwnWait]:
    """Asked for in each answer, so it is reckoned once for the same tries."""
    told = {key: own_wait(spans) for key, spans in _spans(tries).items()}
    return {key: own for key, own in told.items() if own}
