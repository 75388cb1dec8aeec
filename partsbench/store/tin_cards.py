"""Tin cards as rows: the user's own figures, one in use for each class of product."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from partsbench.core.finish.products import TinCard, TinWait
from partsbench.store.book import Book
from partsbench.store.journal import Change, time_text


def in_use(book: Book) -> dict[str, TinCard]:
    """The newest card in use of each product class."""
    return {
        r["product"]: _card(r)
        for r in book.rows("SELECT * FROM tin_card WHERE in_use = 1 ORDER BY id")
    }


def listed(book: Book) -> list[TinCard]:
    """All cards that are in use, the newest first."""
    return [_card(r) for r in book.rows("SELECT * FROM tin_card WHERE in_use = 1 ORDER BY id DESC")]


def put(change: Change, book: Book, card: TinCard, at: datetime, who: str, note: str) -> None:
    """A card of its name: altered where there is one, else new. It becomes the newest."""
    have = book.row(
        "SELECT id FROM tin_card WHERE name = ? COLLATE NOCASE AND in_use = 1", (card.name,)
    )
    if have:
        change.update("tin_card", have["id"], {"in_use": 0})
    change.insert("tin_card", {**_row(card), "note": note, "at": time_text(at), "who": who})


def retire(change: Change, book: Book, name: str) -> bool:
    """Takes a card out of use; False when there is none of that name."""
    have = book.row("SELECT id FROM tin_card WHERE name = ? COLLATE NOCASE AND in_use = 1", (name,))
    if have:
        change.update("tin_card", have["id"], {"in_use": 0})
    return have is not None


def _row(card: TinCard) -> dict[str, Any]:
    return {
        "name": card.name,
        "product": card.product,
        "waits": json.dumps({k: [_min(w.earliest), _min(w.latest)] for k, w in card.waits.items()}),
        "least_c": card.least_c,
        "most_c": card.most_c,
        "most_humidity": card.most_humidity,
        "over_dew_c": card.over_dew_c,
        "thin_most": card.thin_most,
        "pot_life_min": _min(card.pot_life),
        "over": json.dumps(sorted(card.over)),
        "under": json.dumps(sorted(card.under)),
        "in_use": 1,
    }


def _card(row: Any) -> TinCard:
    waits: Mapping[str, list[float | None]] = json.loads(row["waits"])
    return TinCard(
        row["name"],
        row["product"],
        {k: TinWait(_time(w[0]), _time(w[1])) for k, w in waits.items()},
        least_c=row["least_c"],
        most_c=row["most_c"],
        most_humidity=row["most_humidity"],
        over_dew_c=row["over_dew_c"],
        thin_most=row["thin_most"],
        pot_life=_time(row["pot_life_min"]),
        over=frozenset(json.loads(row["over"])),
        under=frozenset(json.loads(row["under"])),
    )


def _min(length: timedelta | None) -> float | None:
    return None if length is None else length.total_seconds() / 60


def _time(minutes: float | None) -> timedelta | None:
    return None if minutes is None else timedelta(minutes=minutes)
