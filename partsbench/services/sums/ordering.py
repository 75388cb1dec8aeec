"""What hardware to buy, and by when: the day is as typed, or the one that the plan tells."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from partsbench.core.finish.progress import Progress
from partsbench.core.key_words import choice_word
from partsbench.core.naming import together
from partsbench.core.outcomes import Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.shown_times import weekday_and_date
from partsbench.core.sums import pulls
from partsbench.core.sums.census import Census, kinds, say_counts
from partsbench.core.sums.pulls import Order, OrderBy
from partsbench.core.sums.refusal import amount, first
from partsbench.core.sums.shown import Measures
from partsbench.core.sums.spacings import say_spacing
from partsbench.core.wording import listed, sentences
from partsbench.services.known.state import FaceState, PartState, piece_state
from partsbench.services.rules.ends import at_best
from partsbench.services.shop import Shop
from partsbench.services.sums import shipped
from partsbench.services.sums.census import COUNT, counts_data, expected, mind, taken
from partsbench.services.sums.ground import ground
from partsbench.services.sums.told import Told

LONGEST_DAYS = 3 * 365
TYPED = "the day as typed"


@dataclass(frozen=True, slots=True)
class Needed:
    """The day hardware is needed on and where it is from; or, without one, what is missing."""

    day: date | None
    source: str = ""
    lack: str = ""


@dataclass(frozen=True, slots=True)
class Ordering:
    """What to buy, for which day, and by when; `by` is None while that cannot be said."""

    orders: tuple[Order, ...]
    needed: Needed
    by: OrderBy | None
    lacks: tuple[str, ...]
    census: Census

    @property
    def what(self) -> str:
        """`2 pulls and 1 spare, 1 knob and 1 spare`."""
        return listed(f"{kinds(o.needed, o.kind)} and {o.spare} spare" for o in self.orders)

    @property
    def sentence(self) -> str:
        """`Buy 2 pulls and 1 spare. Order by … It takes 6 pulls: 4 usable, …`"""
        return f"{self._buy} {say_counts(self.census.counts)}"

    @property
    def _buy(self) -> str:
        if not self.orders:
            return "Nothing is missing: nothing to order."
        buy = f"Buy {self.what}." if self.census.counted else f"For a new set buy {self.what}."
        if self.by:
            return f"{buy} {self.by.sentence}"
        day = self.needed.day
        return sentences(buy, f"Needed on {_words(day)}." if day else "")


def order(
    shop: Shop, tag: str, *, needed_on: date | None = None, lead_days: int | None = None
) -> Ordering | Refused:
    """What the census says is needed, with spares, and the last day to order it.

    Without a day typed it is the soonest that the plan has the fronts done.
    """
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    today = shop.clock().astimezone().date()
    bad = _bad_days(today, needed_on, lead_days)
    counted = taken(shop, on)
    if bad:
        return bad
    if isinstance(counted, Refused):
        return counted
    census = counted[0]
    orders = pulls.order_list(census, int(on.habits.number("spare pulls", 1)))
    if isinstance(orders, Refused):
        return orders
    if not orders:
        return Ordering((), Needed(None), None, (), census)
    needed = (
        Needed(needed_on, TYPED) if needed_on else due(shop, on.piece, {o.kind for o in orders})
    )
    count = () if census.counted else (COUNT,)
    if needed.day is None or lead_days is None:
        lead = () if lead_days is not None else ("the supplier's lead time",)
        lacks = tuple(filter(None, (*count, needed.lack, *lead)))
        return Ordering(orders, needed, None, lacks, census)
    by = pulls.order_by(today, needed.day, lead_days, int(on.habits.number("margin days", 2)))
    if isinstance(by, Refused):
        return by
    return Ordering(orders, needed, by, (*count, *by.lacks), census)


def _bad_days(today: date, needed_on: date | None, lead_days: int | None) -> Refused | None:
    """Days that nobody can mean; a day that has gone by is one that is late."""
    ahead = None if needed_on is None else (needed_on - today).days
    far = LONGEST_DAYS
    return first(
        amount("days until they are needed", ahead or 0, least=-far, most=far),
        amount("lead time", lead_days or 0, least=0, most=730, unit="days"),
    )


def due(shop: Shop, piece: Piece, kinds: set[str]) -> Needed:
    """When hardware of these kinds is wanted at the soonest: its fronts are done as planned."""
    taking = [front for front, own in expected(piece).items() if kinds & own.keys()]
    state = piece_state(shop, piece)
    faces = [(state.of(s), face) for s in taking for face in state.of(s).faces if face.path.steps]
    if not faces:
        return Needed(None, lack="the day they are needed: no finish path is chosen for the fronts")
    now = shop.clock()
    today = now.astimezone().date()
    left = [(part, face) for part, face in faces if face.progress.next]
    if not left:
        return Needed(today, "the records: the fronts that take them are done")
    end = _ends(shop, _distinct(left), now)
    if end is None:
        return Needed(None, lack="the day they are needed: the plan of the fronts cannot be met")
    fronts = together(dict.fromkeys(part.part.short for part, _ in left), 4)
    source = f"the plan: {fronts} could be done on {_words(end)} at the soonest; hands not counted"
    return Needed(max(end, today), source)


def tell_order(found: Ordering, measures: Measures = Measures.METRIC) -> Told:
    """One row for each kind to buy, with what it is reckoned from."""
    census = found.census
    rows = []
    for o in found.orders:
        own = census.of(o.kind)
        counted = (own.wanted, own.serving, own.broken, own.missing, o.needed, o.spare, o.count)
        spacing = say_spacing(shipped.spacings(), o.spacing, measures)
        rows.append((choice_word(o.kind), spacing, o.thread, *(str(number) for number in counted)))
    by, day = found.by, found.needed.day
    data = {
        "orders": [
            {"kind": o.kind, "spacing_mm": o.spacing, "thread": o.thread, "needed": o.needed,
             "spare": o.spare, "count": o.count}
            for o in found.orders
        ],
        "needed_on": day.isoformat() if day else None,
        "needed_from": found.needed.source or None,
        "order_by": by.day.isoformat() if by else None,
        "late_days": by.late_days if by else None,
        "counts": counts_data(census.counts),
    }  # fmt: skip
    spares = "spares of each kind that is bought, by your setting “spare pulls” (else 1)"
    sources = tuple(filter(
        None, ("the count", spares, found.needed.source, by.sources[0] if by else "")
    ))  # fmt: skip
    head = ("kind", "spacing", "thread", "takes", "serve", "broken", "missing", "needed", "spare",
            "to buy")  # fmt: skip
    caution = mind(census.counts, measures)
    return Told(found.sentence, head, tuple(rows), found.lacks, sources, caution, data=data)


def day_of(text: str, today: date) -> date | Refused:
    """A day as typed: `2026-12-04`, or `in 10 days`."""
    words = text.lower().split()
    soon = len(words) == 3 and words[0] == "in" and words[2] in ("days", "day")
    if soon and words[1].isdecimal() and len(words[1]) <= 4:
        return today + timedelta(days=int(words[1]))
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        return Refused(f"“{text}” is no day: write 2026-12-04, or in 10 days.")


def day_in(shop: Shop, text: str) -> date | Refused | None:
    """The day that was typed, from the shop's today; None when none was."""
    return day_of(text, shop.clock().astimezone().date()) if text else None


def _distinct(faces: Sequence[tuple[PartState, FaceState]]) -> dict[Spot, Progress]:
    """One face for each state that faces are in: those alike end together."""
    found: dict[tuple[object, ...], tuple[Spot, Progress]] = {}
    for part, face in faces:
        marks = tuple((m.step, m.at) for m in face.progress.done)
        key = (face.path.key, face.progress.place, marks)
        found.setdefault(key, (part.part.spot(face.name), face.progress))
    return dict(found.values())


def _ends(shop: Shop, faces: Mapping[Spot, Progress], now: datetime) -> date | None:
    end = at_best(shop, now).of(faces, now)
    return end.astimezone().date() if end else None


def _words(day: date | None) -> str:
    return weekday_and_date(day) if day else ""
