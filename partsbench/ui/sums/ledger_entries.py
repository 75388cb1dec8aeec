"""What is noted on the ledger: sums of money, hours put right, tins, and the shop's own terms."""

from __future__ import annotations

from partsbench.core.outcomes import Done, Refused
from partsbench.services.shop import Shop
from partsbench.services.sums import hours, mixing, money
from partsbench.services.sums.ordering import day_of
from partsbench.ui.sums.answers import habits_now, note_habits
from partsbench.ui.sums.decisions import SumEntry, SumField, Values

KINDS = tuple(kind for kind in money.KINDS if kind != "offer")


def note_money(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return money.note_money(shop, tag, values["what"], values["amount"], values["note"])


def correct_hours(shop: Shop, tag: str, values: Values) -> Done | Refused:
    today = shop.clock().astimezone().date()
    day = day_of(values["day"], today) if values["day"] else None
    if isinstance(day, Refused):
        return day
    return hours.correct_hours(shop, tag, values["step"], values["minutes"], day)


def use_tin(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return mixing.use_tin(shop, tag, values["tin"], values["left"], values["before"])


def stock_tin(shop: Shop, _: str, values: Values) -> Done | Refused:
    from partsbench.core.sums.units import number

    price = number(values["price"], "price") if values["price"] else None
    if isinstance(price, Refused):
        return price
    return mixing.stock_tin(
        shop, values["tin"], values["holds"], price=price, empty=values["empty"]
    )


ENTRIES = (
    SumEntry(
        "Money",
        (SumField("what", "What", choices=KINDS), SumField("amount", "How much", "95"),
         SumField("note", "Note", "van, pulls…")),
        note_money,
    ),
    SumEntry(
        "Your terms",
        (SumField("rate", "An hour should earn", "25"),
         SumField("fee", "Fee of the price", "10 %")),
        note_habits, habits_now,
    ),
    SumEntry(
        "Hours put right",
        (SumField("step", "Work", "sanding"), SumField("minutes", "Minutes", "95"),
         SumField("day", "Day", "its latest")),
        correct_hours,
    ),
    SumEntry(
        "Out of a tin",
        (SumField("tin", "Tin", "blue"), SumField("left", "Holds now", "400 ml", us="14 fl oz"),
         SumField("before", "Held before", "as last left")),
        use_tin,
    ),
    SumEntry(
        "A tin of the stock",
        (SumField("tin", "Tin", "blue"),
         SumField("holds", "Full", "750 ml, 1.2 kg", us="1 qt, 2.6 lb"),
         SumField("price", "Price", "24"), SumField("empty", "Empty tin", "200 g", us="7 oz")),
        stock_tin,
    ),
)  # fmt: skip
