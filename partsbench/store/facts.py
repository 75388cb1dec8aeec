"""Facts and masks as rows: what is known of a face, and what covers it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

from partsbench.core.finish.masks import Mask
from partsbench.core.finish.old_finish import FOUND, LEAD, fold
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.spot import Spot
from partsbench.store.book import Book
from partsbench.store.journal import Change, text_time, time_text


@dataclass(frozen=True, slots=True)
class StoredFact:
    """One thing said: of a face, of a part (face ""), or of a piece (part "" as well)."""

    part: str
    face: str
    key: str
    value: str
    at: datetime
    who: str
    note: str


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known of a piece, the latest word of each."""

    said: tuple[StoredFact, ...] = ()
    _by_place: dict[tuple[str, str], dict[str, str]] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )

    def __post_init__(self) -> None:
        for fact in self.said:
            fold(self._by_place.setdefault((fact.part, fact.face), {}), fact.key, fact.value)

    def of(self, part: str, face: str = "") -> dict[str, str]:
        """Key → answer for a face; one said of it wins over its part's, and that over its piece's.

        Among equals the latest wins.
        """
        found: dict[str, str] = {}
        for place in (("", ""), (part, ""), (part, face)):
            found.update(self._by_place.get(place, {}))
        return found

    @property
    def lead_found(self) -> bool:
        """Lead was found somewhere on the piece, now or earlier."""
        return any(f.key == LEAD and f.value == FOUND for f in self.said)


NOTHING = Facts()


def facts(book: Book, piece: int) -> Facts:
    """Everything said of a piece, in order."""
    return Facts(
        tuple(
            StoredFact(
                short_number(Family(r["family"]), r["number"]) if r["family"] else "",
                r["face"],
                r["key"],
                r["value"],
                text_time(r["at"]),
                r["who"],
                r["note"],
            )
            for r in book.rows(
                "SELECT fact.*, family, number FROM fact LEFT JOIN part ON part.id = fact.part "
                "WHERE fact.piece = ? ORDER BY fact.id",
                (piece,),
            )
        )
    )


def add_facts(
    change: Change,
    piece: int,
    places: Sequence[tuple[int | None, str]],
    key: str,
    value: str,
    at: datetime,
    who: str,
    note: str = "",
) -> None:
    """Says one thing of each of the places: (row id of a part or None, name of a face or "")."""
    change.insert_all(
        "fact",
        [
            {
                "piece": piece,
                "part": part,
                "face": face,
                "key": key,
                "value": value,
                "at": time_text(at),
                "who": who,
                "note": note,
            }
            for part, face in places
        ],
    )


def masks(book: Book, piece: int, only_on: bool = False) -> list[Mask]:
    """The masks of a piece, oldest first; a mask's key is its row id."""
    where = " AND off_at IS NULL" if only_on else ""
    return [
        _mask(r)
        for r in book.rows(f"SELECT * FROM mask WHERE piece = ?{where} ORDER BY id", (piece,))
    ]


def add_mask(change: Change, piece: int, mask: Mask, who: str, note: str = "") -> int:
    return change.insert(
        "mask",
        {
            "piece": piece,
            "covers": mask.covers.key,
            "against": json.dumps([spot.key for spot in mask.against]),
            "tape": mask.tape,
            "rating_min": mask.rating.total_seconds() / 60 if mask.rating else None,
            "on_at": time_text(mask.on),
            "who": who,
            "note": note,
        },
    )


def take_off(change: Change, mask: Mask, at: datetime) -> None:
    change.update("mask", int(mask.key), {"off_at": time_text(at)})


def _mask(row: Any) -> Mask:
    rating = row["rating_min"]
    return Mask(
        str(row["id"]),
        Spot.of(row["covers"]),
        tuple(map(Spot.of, json.loads(row["against"]))),
        text_time(row["on_at"]),
        text_time(row["off_at"]) if row["off_at"] else None,
        timedelta(minutes=rating) if rating is not None else None,
        row["tape"],
    )
