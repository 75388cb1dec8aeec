"""The care sheet: dates from the real last coat of each face, not from the day of the sale."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from partsbench.core.finish.clocks import ReadyAt, readiness, said_source, standing_steps
from partsbench.core.finish.products import COATS, Ready
from partsbench.core.finish.steps import PathKind
from partsbench.core.naming import ALL, runs, together
from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family, parse_short
from partsbench.core.piece.parts import family_word
from partsbench.core.piece.spot import Spot
from partsbench.core.shown_times import month, short_month
from partsbench.core.sums.tipover import ADVICE
from partsbench.services.known.state import FaceState, piece_state
from partsbench.services.rules.answers import waits_of
from partsbench.services.shop import Shop
from partsbench.services.sums.ground import ground
from partsbench.services.sums.told import Told, once

CLEANING = (
    "Dust with a dry, soft cloth. Until the day of full use: no water, no polish, nothing "
    "laid on it, no cloth left lying.",
    "After that: a damp cloth, then a dry one. No ammonia, no silicone polish, no scouring.",
    "Wipe wet rings at once; use mats under cups and vases.",
)
ANTI_TIP = (
    "Fix it to the wall with the fixing that comes with it, and open one drawer at a time: a chest "
    "can tip. Local rules may ask for more."
)
CLOSING = "Keep drawers and doors that were painted a finger open until the day they may touch."
MOST_UNFINISHED = 8


@dataclass(frozen=True, slots=True)
class CareDates:
    """Faces with one last coat, and the days from which they may be handled, touched, used."""

    faces: tuple[Spot, ...]
    coated: date
    last_coat: str
    handle: date | None
    touch: date | None
    service: date | None
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Care:
    """What goes with a piece to its owner."""

    codename: str
    tag: str
    title: str
    dates: tuple[CareDates, ...]
    unfinished: tuple[Spot, ...]
    keys: tuple[str, ...]
    lacks: tuple[str, ...]
    sources: tuple[str, ...]
    advice: tuple[str, ...]
    made_on: date

    @property
    def full_use(self) -> date | None:
        """The day from which every face may be used; None while that cannot be told."""
        days = [d.service for d in self.dates]
        if not days or self.unfinished or None in days:
            return None
        return max(day for day in days if day is not None)

    @property
    def sentence(self) -> str:
        """`Full use from 21 December 2026.`"""
        if not self.dates:
            return "No face has a coat on yet, so there is nothing to say of its care."
        if self.unfinished:
            names = by_part(self.unfinished)
            return f"Not finished yet: {together(names, MOST_UNFINISHED)}."
        if self.full_use is None:
            return "When it may be used in full, the tin has to say."
        return f"Full use from {day_words(self.full_use)}."

    @property
    def to_client(self) -> str:
        """The same to the one whose piece it is."""
        if self.full_use is None:
            return self.sentence
        return f"From {day_words(self.full_use)} on you may use all of it."


def by_part(faces: Sequence[Spot]) -> list[Spot]:
    """`D1`, `D2 front`: a part by its number alone when several of its faces are meant."""
    counts = Counter(face.part for face in faces)
    return list(dict.fromkeys(f if counts[f.part] == 1 else Spot(f.part) for f in faces))


def brief_spots(dates: CareDates, every: Sequence[CareDates]) -> list[Spot]:
    """`D1, D5 front`: a part by its number alone when all its coated faces have these dates."""
    counts = Counter(face.part for d in every for face in d.faces)
    own = Counter(face.part for face in dates.faces)
    told = (Spot(f.part) if own[f.part] == counts[f.part] else f for f in dates.faces)
    return list(dict.fromkeys(told))


def client_words(spots: Sequence[Spot]) -> str:
    """`D1, L1 outside` to somebody who knows no numbers: `drawer D1, leg L1 outside`."""
    families = {str(spot): parse_short(spot.part) for spot in spots}
    return ", ".join(
        f"{family_word(short[0])} {words}" if (short := families.get(words)) else words
        for words in runs(spots)
    )


def day_words(day: date) -> str:
    """`21 December 2026`"""
    return f"{day.day} {month(day)}"


def care(shop: Shop, tag: str) -> Care | Refused:
    """Dates of each face's care, keys, and the advice that goes with the piece."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    now = shop.clock()
    waits = waits_of(shop, now)
    groups: dict[tuple[date | None, ...], list[tuple[Spot, str, tuple[ReadyAt, ...]]]] = {}
    unfinished: list[Spot] = []
    for state in piece_state(shop, on.piece).parts.values():
        if state.part.hidden:
            continue
        for face in state.faces:
            if not face.path.steps:
                continue
            name = state.part.spot(face.name)
            if not face.progress.finished:
                unfinished.append(name)
            coat = _last_coat(face)
            if coat is None:
                continue
            ready = readiness(face.progress, waits)
            days = tuple(_day(r.at) for r in ready if r.ready in _CARED)
            key = (_day(coat[0]), *days)
            groups.setdefault(key, []).append((name, coat[1], ready))
    dates = [_dates(key, rows) for key, rows in sorted(groups.items(), key=_first_day)]
    keys = [f"{p.short} {p.called}" for p in on.piece.present if p.family is Family.LOCK]
    paths = [shop.path(face.path) for p in on.piece.present for face in p.faces]
    painted = any(path.kind is PathKind.PAINT for path in paths)
    lacks = once(*(f"the tin's own day of full use for {', '.join(map(str, d.faces[:3]))}"
                   for d in dates if d.service is None))  # fmt: skip
    return Care(
        on.piece.codename, tag, on.piece.title, tuple(dates), tuple(unfinished), tuple(keys), lacks,
        once(*(x for d in dates for x in d.sources)),
        (*((CLOSING,) if painted else ()), *CLEANING, ANTI_TIP), now.astimezone().date(),
    )  # fmt: skip


def tell_care(found: Care) -> Told:
    """One row for each group of faces with equal dates."""
    rows = tuple(
        (
            together(brief_spots(d, found.dates), ALL),
            _shown(d.coated),
            *(_shown(x) for x in (d.handle, d.touch, d.service)),
        )
        for d in found.dates
    )
    data = {
        "full_use": found.full_use.isoformat() if found.full_use else None,
        "unfinished": [spot.key for spot in found.unfinished],
        "faces": {
            name.key: {
                "coated": d.coated.isoformat(),
                "handle": d.handle.isoformat() if d.handle else None,
                "touch": d.touch.isoformat() if d.touch else None,
                "service": d.service.isoformat() if d.service else None,
            }
            for d in found.dates
            for name in d.faces
        },
        "keys": list(found.keys),
    }
    head = ("faces", "last coat", "handle from", "may touch from", "full use from")
    return Told(found.sentence, head, rows, found.lacks, found.sources, ADVICE, data=data)


def care_sheet(found: Care, paper: str = "a4") -> bytes | Refused:
    """The care sheet as PDF; nothing of the client, no price."""
    from partsbench.paper.care import CareContent, CareRow, care_pdf

    rows = tuple(
        CareRow(
            client_words(brief_spots(d, found.dates)),
            d.last_coat,
            *(_shown(x) for x in (d.coated, d.handle, d.touch, d.service)),
        )
        for d in found.dates
    )
    content = CareContent(
        found.codename, found.tag, found.title, found.to_client, rows, found.advice, found.keys,
        found.sources, day_words(found.made_on),
    )  # fmt: skip
    return care_pdf(content, paper)


_CARED = (Ready.HANDLE, Ready.TOUCH, Ready.SERVICE)


def _last_coat(face: FaceState) -> tuple[datetime, str] | None:
    """When the last coat that stands went on, and which."""
    coats = [(m, s) for m, s in standing_steps(face.progress) if s.operation in COATS and s.product]
    return (coats[-1][0].at, coats[-1][1].name) if coats else None


def _dates(
    key: tuple[date | None, ...], rows: Sequence[tuple[Spot, str, tuple[ReadyAt, ...]]]
) -> CareDates:
    coated, handle, touch, service = key
    assert coated is not None
    used = [r for _, _, ready in rows for r in ready if r.ready in _CARED and r.at]
    sources = once(*(said_source(r.source) for r in used))
    names = tuple(name for name, _, _ in rows)
    return CareDates(names, coated, rows[0][1], handle, touch, service, sources)


def _first_day(group: tuple[tuple[date | None, ...], object]) -> date:
    coated = group[0][0]
    assert coated is not None
    return coated


def _day(at: datetime | None) -> date | None:
    return at.astimezone().date() if at else None


def _shown(day: date | None) -> str:
    return f"{day.day} {short_month(day)}" if day else "ask the tin"
