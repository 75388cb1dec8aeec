"""What a piece earns: its costs as noted, an offer's hourly, the floor, the ceiling."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from partsbench.core.key_words import choice_word
from partsbench.core.outcomes import Done, Refused
from partsbench.core.said_often import NO_RATE
from partsbench.core.sums import money, units
from partsbench.core.sums.hours import HoursWorked
from partsbench.core.sums.money import (
    LEAST_HOURS,
    BadCase,
    Ceiling,
    Costs,
    Offer,
    PriceFloor,
    Sale,
)
from partsbench.core.sums.refusal import amount
from partsbench.core.sums.tins import Materials
from partsbench.core.wording import sentences
from partsbench.services.shop import Shop, writing
from partsbench.services.sums.ground import SumGround, ground
from partsbench.services.sums.habits import Habits
from partsbench.services.sums.hours import data_of, hours_of, rows_of, spent_words
from partsbench.services.sums.mixing import materials
from partsbench.services.sums.told import Told, once, told_of
from partsbench.store import figures
from partsbench.store.figures import Money
from partsbench.store.journal import change, time_text

COSTS = ("bought", "hardware", "materials", "delivery", "storage", "other")
KINDS = {
    "bought": "what was paid for the piece",
    "hardware": "pulls, hinges, screws",
    "materials": "materials beside the tins of the stock",
    "delivery": "van, fuel, carrier",
    "storage": "room taken, or rent for it",
    "other": "any other cost",
    "extra": "a change agreed with the client, and what it adds to the price",
    "agreed": "the price agreed for the work",
    "offer": "what somebody offered",
    "sold": "what it went for; the job is finished",
}


@dataclass(frozen=True, slots=True)
class Ledger:
    """Everything that a piece has cost and may bring."""

    piece: str
    hours: HoursWorked
    costs: Costs
    materials: Materials
    noted: tuple[Money, ...]
    rate: float | None
    fee: float
    floor: PriceFloor | None
    offers: tuple[Offer, ...]
    lacks: tuple[str, ...]
    sold: Sale | None = None

    @property
    def sentence(self) -> str:
        """`You have 14.5 h in it; at 640 you earn 29 an hour.` After the sale it is the sale's."""
        if self.sold:
            return self.sold.sentence
        said = self.hours.you_have
        if not self.offers:
            said = said if self.hours.total else "No work on it is noted yet"
            lowest = replace(self.floor, doubt="") if self.floor and self.floor.price else None
            return sentences(f"{said}.", lowest.sentence if lowest else "")
        last = self.offers[-1]
        return f"{said}; at {last.price:.0f} {earning(last)}."


def earning(offer: Offer) -> str:
    """`you earn 29 an hour`, or that it is a loss."""
    if offer.net < 0:
        return f"you lose {-offer.net:.0f}"
    return f"you earn {offer.per_hour:.0f} an hour"


@writing
def note_money(shop: Shop, tag: str, what: str, text: str, note: str = "") -> Done | Refused:
    """A cost, an offer, an agreed change or price, or what it sold for. The empty text takes it
    back. One sum stands for each kind and note."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    kind = what.strip().lower()
    if kind not in KINDS:
        return Refused(f"“{what}” is none of {', '.join(KINDS)}.")
    row = {"piece": on.key, "what": kind, "note": " ".join(note.split())}
    value = units.number(text, kind) if text.strip() else None
    if isinstance(value, Refused):
        return value
    bad = None if value is None else amount(kind, value, least=0, most=10_000_000)
    if bad:
        return bad
    what = f"{kind} ({row['note']})" if row["note"] else kind
    shown = "taken back" if value is None else f"{value:g}"
    sentence = f"{on.piece.codename}: {choice_word(what)} {shown}"
    now = shop.clock()
    with change(shop.book, sentence, now, shop.who, tag) as entry:
        if value is None:
            if not figures.drop(entry, "sum_of_money", row):
                return Refused(f"No {what} is noted for {on.piece.codename}.")
        else:
            figures.put(entry, "sum_of_money", row, {"amount": value, "at": time_text(now)})
    return Done(f"{sentence}.", tag)


def ledger(shop: Shop, tag: str) -> Ledger | Refused:
    """Hours, costs, offers and the floor price of a piece."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    worked = hours_of(shop, on.piece, on.key)
    if isinstance(worked, Refused):
        return worked
    used = materials(shop, on.key)
    if isinstance(used, Refused):
        return used
    noted = tuple(figures.money(shop.book, on.key))
    costs = costs_of(noted, used)
    rate, fee = _terms(on)
    hours, doubt = worked.total, worked.doubt
    floor = None if rate is None else money.floor_price(costs, hours, rate, fee, doubt)
    sold = _sale(noted, costs, worked, fee)
    for bad in (floor, sold):
        if isinstance(bad, Refused):
            return bad
    assert not isinstance(floor, Refused)
    assert not isinstance(sold, Refused)
    offers = [
        money.offer(m.amount, costs, hours, fee, doubt) for m in noted if m.what == "offer"
    ] if hours >= LEAST_HOURS else []  # fmt: skip
    rates = () if rate is not None else ("the rate an hour should earn",)
    lacks = once(*worked.lacks, *costs.unknown, *used.lacks, *rates)
    good = tuple(o for o in offers if isinstance(o, Offer))
    name = f"{on.piece.codename} {tag}"
    return Ledger(name, worked, costs, used, noted, rate, fee, floor, good, lacks, sold)


def _sale(
    noted: Sequence[Money], costs: Costs, worked: HoursWorked, fee: float
) -> Sale | Refused | None:  # fmt: skip
    """What all of it went for, where any was sold."""
    prices = [m.amount for m in noted if m.what == "sold"]
    if not prices:
        return None
    return money.sale(sum(prices), costs, worked.total, fee, worked.doubt)


def answer_offer(found: Ledger, price: str) -> Offer | Refused:
    """The same from a ledger at hand, as fast as one types."""
    asked = units.number(price, "price")
    if isinstance(asked, Refused):
        return asked
    if found.hours.total < LEAST_HOURS:
        return Refused("Hardly any hours are recorded, so no hourly rate can be told.")
    hours = found.hours
    return money.offer(asked, found.costs, hours.total, found.fee, hours.doubt)


def floor_price(shop: Shop, tag: str, rate: str = "") -> PriceFloor | Refused:
    """The lowest price that still pays the wanted rate after fees and costs."""
    found = ledger(shop, tag)
    return found if isinstance(found, Refused) else floor_at(found, rate)


def floor_at(found: Ledger, rate: str = "") -> PriceFloor | Refused:
    """The same from a ledger at hand."""
    wanted = units.number(rate, "rate") if rate.strip() else found.rate
    if isinstance(wanted, Refused):
        return wanted
    if wanted is None:
        return Refused(NO_RATE)
    hours = found.hours
    return money.floor_price(found.costs, hours.total, wanted, found.fee, hours.doubt)


def ceiling(
    own: Habits, price: str, hours: str, costs: str, rate: str = "", bad: BadCase | None = None
) -> Ceiling | Refused:
    """The most to pay for a piece not yet bought, and the most if the bad case comes true.

    Of the shop only its rate and its fee are asked.
    """
    read: dict[str, float] = {}
    for what, text in (("likely price", price), ("hours", hours), ("costs", costs)):
        found = units.number(text, what)
        if isinstance(found, Refused):
            return found
        read[what] = found
    wanted = units.number(rate, "rate") if rate.strip() else own.value("rate")
    if isinstance(wanted, Refused):
        return wanted
    if not isinstance(wanted, int | float):
        return Refused(NO_RATE)
    return money.ceiling(
        read["likely price"],
        Costs(other=read["costs"]),
        read["hours"],
        float(wanted),
        own.number("fee", 0),
        bad,
    )


def tell_ledger(found: Ledger) -> Told:
    """Where the hours went, what was spent, and what came in. After the sale no offer counts."""
    hours = choice_word("hours")
    rows = [(hours, step, f"{time}, {known}") for step, time, known in rows_of(found.hours)]
    if found.hours.redo:
        rows.append((hours, "done again, of these", spent_words(found.hours.redo)))
    paid = choice_word("cost")
    rows += [(paid, choice_word(n), f"{cost:.2f}") for n, cost in found.costs.items() if cost]
    rows += [
        (choice_word(m.what), m.note, f"{m.amount:.2f}")
        for m in found.noted
        if m.what not in COSTS and m.what != "offer"
    ]
    if not found.sold:
        rows += [(choice_word("offer"), f"{o.price:.0f}", o.sentence) for o in found.offers]
    if found.floor and not found.sold:
        rows.append((choice_word("floor"), f"{found.rate:g} an hour", f"{found.floor.price:.2f}"))
    sold = found.sold
    if sold and sold.per_hour is not None:
        rows.append((choice_word("sale"), "an hour earned", f"{sold.per_hour:.2f}"))
    data = {
        **data_of(found.hours),
        "costs": dict(found.costs.items()),
        "cost_total": found.costs.total,
        "fee": found.fee,
        "rate": found.rate,
        "floor_price": found.floor.price if found.floor else None,
        "sold": {"price": sold.price, "net": sold.net, "per_hour": sold.per_hour} if sold else None,
        "offers": [{"price": o.price, "net": o.net, "per_hour": o.per_hour} for o in found.offers],
        "noted": [{"what": m.what, "note": m.note, "amount": m.amount} for m in found.noted],
    }
    sources = once(*found.hours.sources, *found.materials.sources, *money.ARITHMETIC)
    head = ("", "what", "how much")
    return Told(found.sentence, head, tuple(rows), found.lacks, sources, data=data)


def tell_floor(on: Ledger, found: PriceFloor) -> Told:
    hours = {k: v for k, v in data_of(on.hours).items() if isinstance(v, float)}
    data = {"floor_price": found.price, "rate": found.rate, **hours}
    return told_of(found, sources=on.hours.sources, data=data)


def tell_ceiling(found: Ceiling) -> Told:
    return told_of(found, data={"likely": found.likely, "bad": found.bad, "fault": found.fault})


def invoice_csv(shop: Shop, tag: str) -> str | Refused:
    """The ledger as a table for an invoice: one line for each item, amounts with two decimals.

    Costs and agreed changes bear the day on which they were noted.
    """
    found = ledger(shop, tag)
    if isinstance(found, Refused):
        return found
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\r\n")
    table.writerow(["piece", "day", "kind", "item", "quantity", "unit", "unit price", "amount",
                    "hours known"])  # fmt: skip
    rate = found.rate
    price = "" if rate is None else f"{rate:.2f}"
    for step, by in found.hours.by.items():
        for known, time in by.items():
            total = "" if rate is None else f"{time * rate:.2f}"
            row = [found.piece, "", "work", _cell(step), f"{time:.2f}", "h", price, total]
            table.writerow([*row, known.value])
    for name, cost in found.materials.by_tin:
        table.writerow(_line(found, "", "material", name, cost))
    for sum_of in found.noted:
        if sum_of.what in COSTS or sum_of.what == "extra":
            name = sum_of.note or sum_of.what
            day = sum_of.at.astimezone().date().isoformat()
            table.writerow(_line(found, day, sum_of.what, name, sum_of.amount))
    return out.getvalue()


def _line(found: Ledger, day: str, kind: str, name: str, cost: float) -> list[str]:
    return [found.piece, day, kind, _cell(name), "1", "", f"{cost:.2f}", f"{cost:.2f}", ""]


def _cell(words: str) -> str:
    """Words that a spreadsheet does not take for a formula."""
    return f"'{words}" if words[:1] in ("=", "+", "-", "@", "\t") else words


def costs_of(noted: tuple[Money, ...], used: Materials) -> Costs:
    """Sums by kind; what nobody has noted is not known, and never nothing."""
    sums: Mapping[str, float | None] = {
        kind: sum(m.amount for m in noted if m.what == kind)
        if any(m.what == kind for m in noted)
        else None
        for kind in COSTS
    }
    stock = used.cost if used.by_tin else None
    parts = [x for x in (sums["materials"], stock) if x is not None]
    return Costs(
        sums["bought"],
        sums["hardware"],
        sum(parts) if parts else None,
        sums["delivery"],
        sums["storage"],
        sums["other"] or 0.0,
    )


def _terms(on: SumGround) -> tuple[float | None, float]:
    rate = on.habits.value("rate")
    return (float(rate) if isinstance(rate, int | float) else None), on.habits.number("fee", 0.0)
