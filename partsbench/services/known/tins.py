"""Tin cards: the user's own figures for what stands on the shelf. They win over ours."""

from __future__ import annotations

from collections.abc import Mapping

from partsbench.core.finish.durations import parse_duration
from partsbench.core.finish.products import Product, TinCard, TinWait, tin_faults
from partsbench.core.outcomes import Done, Refused
from partsbench.services.known import climate
from partsbench.services.shop import Shop, writing
from partsbench.store import tin_cards as rows
from partsbench.store.journal import change


def cards(shop: Shop) -> list[TinCard]:
    """The cards in use, the newest first; of two for one class of product the newest counts."""
    return rows.listed(shop.book)


def classes() -> Mapping[str, Product]:
    """The classes of product that a card may stand for."""
    return climate.products()


def wait(earliest: str, latest: str = "") -> TinWait | Refused:
    """One line of a card as typed: no sooner than, no later than (`4 h`, `10 min`, `3 d`)."""
    both = []
    for text in (earliest, latest):
        length = parse_duration(text) if text.strip() else None
        if text.strip() and length is None:
            return Refused(f"“{text}” is no length of time; write 10 min, 4 h or 1 d 12 h.")
        both.append(length)
    return TinWait(both[0], both[1])


@writing
def put(shop: Shop, card: TinCard, note: str = "") -> Done | Refused:
    """Keep a card; one of the same name takes the place of the older."""
    faults = tin_faults(card, climate.products())
    if faults:
        return Refused(" ".join(faults))
    now = shop.clock()
    with change(shop.book, f"Tin card: {card.name}", now, shop.who) as entry:
        rows.put(entry, shop.book, card, now, shop.who, note.strip())
    return Done(f"The tin card of {card.name} counts from now on.")


@writing
def retire(shop: Shop, name: str) -> Done | Refused:
    """The tin is used up: its card no longer counts, and stays in the history."""
    with change(shop.book, f"Tin used up: {name}", shop.clock(), shop.who) as entry:
        if not rows.retire(entry, shop.book, name):
            return Refused(f"There is no tin card “{name}”.")
    return Done(f"The tin card of {name} no longer counts.")
