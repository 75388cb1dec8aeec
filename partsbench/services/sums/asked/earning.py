"""How much to mix, tins, hours, and money."""

from __future__ import annotations

from partsbench.core.naming import spread
from partsbench.core.outcomes import Done, Refused
from partsbench.core.sums.money import BadCase
from partsbench.services.shop import Shop
from partsbench.services.sums import hours, litres, mixing, money, quoting
from partsbench.services.sums.asked.description import (
    AtBench,
    Misfilled,
    SumEntry,
    SumField,
    SumQuestion,
    Values,
    Word,
    amount_in,
    keeps,
    tells,
    told,
    whole_in,
)
from partsbench.services.sums.asked.settings import TOOL, setting, settings
from partsbench.services.sums.asked.sizes import CARCASE
from partsbench.services.sums.habits import Habits
from partsbench.services.sums.ordering import day_in
from partsbench.services.sums.told import Told

RATE = SumField("rate", word=Word("--rate", "What an hour should earn; else as set."))


# What is noted


def _note_money(shop: Shop, tag: str, typed: Values) -> Done | Refused:
    what, amount = typed["what"], typed["amount"]
    # The command has a word of its own to take a sum back; in the window the empty field does.
    if not amount and typed.get("take_back") == "":
        return Refused(f"{what}: is missing; say how much.")
    return money.note_money(
        shop, tag, what, "" if typed.get("take_back") else amount, typed["note"]
    )


def _correct_hours(shop: Shop, tag: str, typed: Values) -> Done | Refused:
    if not typed["step"]:
        return Misfilled("is missing; say which step took so long.", ("step",))
    day = day_in(shop, typed["day"])
    if isinstance(day, Refused):
        return day
    return hours.correct_hours(shop, tag, typed["step"], typed["minutes"], day)


def _stock_tin(shop: Shop, _: str, typed: Values) -> Done | Refused:
    if not typed["holds"]:
        return Refused("Say what the full tin holds: 750 ml, or 1.2 kg with what it weighs empty.")
    price = amount_in(typed["price"], "price")
    if isinstance(price, Refused):
        return price
    return mixing.stock_tin(shop, typed["tin"], typed["holds"], price=price, empty=typed["empty"])


def _work(shop: Shop, tag: str, typed: Values) -> Done | Refused:
    if typed["end"]:
        return hours.end_work(shop, tag)
    return hours.begin_work(shop, tag, typed["step"], redo=bool(typed["again"]))


# What is answered


def _mixed(shop: Shop, tag: str, typed: Values) -> Told | Refused:
    only = [each for name in typed["only"].split(",") if name.strip() for each in spread(name)]
    found = litres.to_mix(
        shop, tag, typed["path"], only=only, wet=typed["wet"], coats=whole_in(typed["coats"])
    )
    return told(found, litres.tell_mixing)


def _mixed_again(own: Habits, typed: Values) -> Told | Refused:
    ratio = mixing.read_recipe(typed["recipe"])
    if isinstance(ratio, Refused):
        return ratio
    found = mixing.mix_again(own, ratio, typed["volume"])
    return told(found, lambda good: mixing.tell_recipe(good, own.measures))


def _floor(shop: Shop, tag: str, typed: Values) -> Told | Refused:
    found = money.ledger(shop, tag)
    if isinstance(found, Refused):
        return found
    return told(money.floor_at(found, typed["rate"]), lambda good: money.tell_floor(found, good))


def _ceiling(own: Habits, typed: Values) -> Told | Refused:
    bad = None
    if typed["fault"]:
        longer = amount_in(typed["more_hours"], "more hours")
        dearer = amount_in(typed["more_costs"], "more costs")
        if isinstance(longer, Refused):
            return longer
        if isinstance(dearer, Refused):
            return dearer
        bad = BadCase(typed["fault"], longer or 0.0, dearer or 0.0)
    found = money.ceiling(own, typed["price"], typed["hours"], typed["costs"], typed["rate"], bad)
    return told(found, money.tell_ceiling)


def _quoted(shop: Shop, _: str, typed: Values) -> Told | Refused:
    return told(quoting.quote(shop, typed["rate"], typed["kind"]), quoting.tell_quote)


# The entries

MONEY = SumEntry(
    "Money",
    (SumField("what", "What", choices=tuple(money.KINDS),
              word=Word("what", required=True, strict=True)),
     SumField("amount", "How much", "95", Word("amount")),
     SumField("note", "Note", "van, pulls…",
              Word("--note", "What tells it from another sum of its kind.")),
     SumField("take_back", word=Word("--take-back", "It was no such sum.", flag=True))),
    _note_money,
    command="money",
    about="Note a cost, an offer, an agreed price or change, or what a piece sold for.",
)  # fmt: skip
HOURS = SumEntry(
    "Hours put right",
    (SumField("step", "Work", "sanding", Word("--step", "Correct this step …")),
     SumField("minutes", "Minutes", "95", Word("--minutes", "… to so many minutes …")),
     SumField("day", "Day", "its latest", Word("--day", "… on that day; else its latest."))),
    _correct_hours,
)  # fmt: skip
USED = SumEntry(
    "Out of a tin",
    (SumField("tin", "Tin", "blue", Word("name", required=True)),
     SumField("left", "Holds now", "400 ml",
              Word("--left", "What the tin measures now.", required=True), us="14 fl oz"),
     SumField("before", "Held before", "as last left",
              Word("--before", "What it measured before; else as it was last left."))),
    keeps(mixing.use_tin, "tin", "left", "before"),
    command="use-tin",
    about="Note what a piece took out of a part-used tin; it is never free of charge.",
)  # fmt: skip
TIN = SumEntry(
    "A tin of the stock",
    (SumField("tin", "Tin", "blue", Word("name")),
     SumField("holds", "Full", "750 ml, 1.2 kg", Word("holds"), us="1 qt, 2.6 lb"),
     SumField("price", "Price", "24", Word("--price", "What the full tin costs.")),
     SumField("empty", "Empty tin", "200 g",
              Word("--empty", "By weight: what the empty tin weighs."), us="7 oz")),
    _stock_tin,
)  # fmt: skip
WORK = SumEntry(
    "",
    (SumField("step", word=Word("step")),
     SumField("again", word=Word("--again", "It is work done again.", flag=True)),
     SumField("end", word=Word("--end", "Stop the clock.", flag=True))),
    _work,
    command="work", about="Start the clock on a piece (`work K7Q4 sanding`), or stop it.",
)  # fmt: skip
"""In the window it is the clock of the ledger."""

TERMS = settings(
    "Your terms", setting("rate", "An hour should earn"), setting("fee", "Fee of the price")
)
ENTRIES = (MONEY, TERMS, HOURS, USED, TIN)
"""What is noted on the ledger."""


# The questions

MIX = SumQuestion(
    "mix", "How much to mix", "What does each product take, and when is a cup empty?", _mixed,
    (SumField("path", "Finish path", "paint", Word("path")),
     SumField("only", "Only these", "D1, D3 front",
              Word("--only", "Only these: D1,D3 front.", metavar="NAMES")),
     SumField("wet", "Wet film", "100 µm",
              Word("--wet", "Wet film you lay: “4 mil”, 100 µm."), us="4 mil"),
     SumField("coats", "Coats of each", "3",
              Word("--coats", "Coats of each product; else the path's."), whole=(1, 20))),
    (settings("Your gun or brush", TOOL, setting("cup", "Cup")), CARCASE),
    command="mix",
    about="How much of each product to mix for the faces on a finish path, split into cups.",
)  # fmt: skip
AGAIN = SumQuestion(
    "again", "The same mix again", "What is the recipe at another volume?", AtBench(_mixed_again),
    (SumField("recipe", "Recipe", "26 clear, 3 colour, 1 water", Word("recipe", required=True)),
     SumField("volume", "Volume", "60 ml", Word("volume", required=True), us="2 fl oz")),
    (settings("Your mixing cup", setting("cup step", "Finest step")),),
    of_piece=False,
    command="mix-again",
    about="The same mix at another volume, its ratio kept within 1 %: “26 clear, 3 colour” 60ml.",
)  # fmt: skip
TINS = SumQuestion(
    "tins", "", "", lambda shop, *_: mixing.tell_tins(shop), of_piece=False,
    command="tins", notes=TIN,
    about="The stock of tins; with NAME and HOLDS (“750 ml”, “1.2 kg”) one more is noted.",
)  # fmt: skip
WORKED = SumQuestion(
    "hours", "", "", tells(hours.hours_in, hours.tell_hours),
    command="hours", notes=HOURS,
    about="Hours at work, without waiting; with --step and --minutes one day is put right.",
)  # fmt: skip
FLOOR = SumQuestion(
    "floor", "", "", _floor, (RATE,),
    command="floor-price", about="The lowest price that still pays the wanted hourly rate.",
)  # fmt: skip
CEILING = SumQuestion(
    "ceiling", "", "", AtBench(_ceiling),
    (SumField("price", word=Word("--price", "What it will likely sell for.", required=True)),
     SumField("hours", word=Word("--hours", "Hours that it will take.", required=True)),
     SumField("costs", word=Word("--costs", "All costs but the piece itself."), usual="0"),
     RATE,
     SumField("fault", word=Word("--fault", "What may go wrong: “the side veneer lifts”.")),
     SumField("more_hours", word=Word("--more-hours", "Hours that this would take."), usual="0"),
     SumField("more_costs", word=Word("--more-costs", "Costs that this would bring."), usual="0")),
    of_piece=False,
    command="ceiling",
    about="The most to pay for a piece not yet bought, and the most in the bad case.",
)  # fmt: skip
QUOTE = SumQuestion(
    "quote", "", "", _quoted,
    (RATE,
     SumField("kind",
              word=Word("--kind", "Of pieces of this kind, as said by " "`fact TAG kind`."))),
    of_piece=False,
    command="quote",
    about="A likely and a bad-case sum from the shop's own sold pieces, and how many they are.",
)  # fmt: skip

COMMANDED = (MIX, AGAIN, TINS, USED, MONEY, WORK, WORKED, FLOOR, CEILING, QUOTE)
