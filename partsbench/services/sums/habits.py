"""The shop's own settings for the sums, each kept as typed: units, rooms, rates, the printer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import timedelta

from partsbench.core.finish.durations import parse_duration
from partsbench.core.finish.hours import parse_span
from partsbench.core.outcomes import Done, Refused
from partsbench.core.plan.shop_words import parse_days, parse_helpers, parse_rooms
from partsbench.core.said_often import no_setting
from partsbench.core.sums import units
from partsbench.core.sums.drilling import scale
from partsbench.core.sums.mix import LEAST_CUP_ML, LEAST_STEP_ML
from partsbench.core.sums.refusal import amount, wrong
from partsbench.core.sums.units import Measures
from partsbench.core.sums.wood import Moisture, moisture
from partsbench.core.wording import within
from partsbench.services.known.measures import measures
from partsbench.services.shop import Shop, writing
from partsbench.services.sums import shipped
from partsbench.store import figures
from partsbench.store.journal import change

PAGES = ("a4", "letter")
MOST_OFFSET_MM = 10.0


@dataclass(frozen=True, slots=True)
class Habit:
    """One setting: its name, what it is, examples, and what reads it.

    `whole` gives a bare number its unit, so that it stays what it was when `units` change.
    """

    name: str
    about: str
    example: str
    read: Callable[[str], object]
    us: str = ""
    """The example where the shop reads US units; empty: the same."""
    whole: Callable[[str, Measures], str] = lambda text, _: text
    means: Callable[[str], str] | None = None
    """What a value of it is reckoned as, where that is open to doubt."""

    def shown(self, measures: Measures) -> str:
        """The example for this shop."""
        return self.us if self.us and measures is Measures.US else self.example


@dataclass(frozen=True, slots=True)
class Habits:
    """The settings as values; None where the shop has not said."""

    measures: Measures
    typed: Mapping[str, str]

    def value(self, name: str) -> object:
        """The value of a setting, None when it is not set."""
        typed = self.typed.get(name)
        found = None if typed is None else KNOWN[name].read(typed)
        return None if isinstance(found, Refused) else found

    def number(self, name: str, usual: float) -> float:
        """A setting that is a number, or what is usual."""
        found = self.value(name)
        return float(found) if isinstance(found, int | float) else usual

    def word(self, name: str, usual: str) -> str:
        found = self.value(name)
        return found if isinstance(found, str) else usual

    def air(self, name: str) -> Moisture | None:
        """The moisture that wood comes to in one of the shop's airs."""
        found = self.value(name)
        return found if isinstance(found, Moisture) else None


def _one_of(*words: str) -> Callable[[str], object]:
    def read(text: str) -> object:
        word = text.strip().lower()
        return word if word in words else wrong(text, f"is none of {', '.join(words)}")

    return read


def _number(what: str, most: float, *, whole: bool = False) -> Callable[[str], object]:
    def read(text: str) -> object:
        found = units.number(text.removesuffix("%").strip(), what)
        if isinstance(found, Refused):
            return found
        if whole and found != int(found):
            return wrong(what, f"{text!r} is no whole number")
        return amount(what, found, least=0, most=most) or found

    return read


def read_air(text: str, measures: Measures = Measures.METRIC) -> Moisture | Refused:
    """Wood's moisture in an air as typed: `20C 35%`, `70F 50`."""
    words = text.replace(",", " ").split()
    if len(words) != 2:
        return wrong("air", f"{text!r} is no temperature and humidity, as in 20C 50%")
    warm = units.temperature(words[0], measures)
    damp = units.percent(words[1], "humidity")
    if isinstance(warm, Refused):
        return warm
    return damp if isinstance(damp, Refused) else moisture(warm.value, damp.value)


def _with_unit(
    read: Callable[[str, Measures], units.TypedMeasure | Refused],
) -> Callable[[str, Measures], str]:
    def whole(text: str, measures: Measures) -> str:
        found = read(text, measures)
        bare = isinstance(units.number(text), float) and not isinstance(found, Refused)
        return f"{text} {found.unit}" if bare and isinstance(found, units.TypedMeasure) else text

    return whole


def _whole_air(text: str, measures: Measures) -> str:
    """`70 50` in a shop that reads °F is `70 °F 50`, written `70F 50`."""
    warm, _, damp = text.replace(",", " ").partition(" ")
    bare = isinstance(units.number(warm.lstrip("-")), float)
    return f"{warm}{'F' if measures is Measures.US else 'C'} {damp}" if bare else text


def _bar(text: str) -> object:
    """A printed bar as measured, mm."""
    found = units.length(text, what="bar")
    if isinstance(found, Refused):
        return found
    bad = scale(found.value)
    return bad if isinstance(bad, Refused) else found.value


def _offset(text: str) -> object:
    """How far everything is moved on a sheet, mm; below 0 is to the left, or up."""
    bare = text.strip().removesuffix("mm").strip()
    sign, size = (-1, bare[1:]) if bare.startswith("-") else (1, bare.removeprefix("+"))
    found = units.number(size, "offset")
    if isinstance(found, Refused):
        return found
    return amount("offset", found, least=0, most=MOST_OFFSET_MM, unit="mm") or sign * found


def _span(text: str) -> object:
    return parse_span(text) or wrong("hours", f"{text!r} is no span of hours, as in 8:00 to 21:00")


def _said_well(read: Callable[[str], object], what: str) -> Callable[[str], object]:
    """What a shop says of itself; the reader gives a sentence, or None, for what it cannot be."""

    def tell(text: str) -> object:
        found = read(text)
        if isinstance(found, str):
            return wrong(what, within(found))
        return found or wrong(what, f"{text!r} cannot be read")

    return tell


def _rack(text: str) -> object:
    found = units.area(text, what="rack")
    if isinstance(found, Refused):
        return found
    return amount("rack", found.value, above=0, most=500, unit="m²") or found.value


def _length(text: str) -> object:
    found = parse_duration(text)
    whole_day = timedelta(days=1)
    if found is None or not timedelta() <= found <= whole_day:
        return wrong("time", f"{text!r} is no length of time up to a day, as in 30 min")
    return found.total_seconds() / 60


def _volume(what: str, least: float, most: float) -> Callable[[str], object]:
    def read(text: str) -> object:
        found = units.volume(text, what=what)
        if isinstance(found, Refused):
            return found
        return amount(what, found.value, least=least, most=most, unit="ml") or found.value

    return read


def _lands(text: str) -> str:
    return shipped.transfers()[text.strip().lower()].sentence


KNOWN = {
    habit.name: habit
    for habit in (
        Habit("units", "what a bare number is in, and how sizes are shown", "metric or us",
              _one_of(*Measures)),
        Habit("air now", "air of the shop when sizes are taken", "20C 50%", read_air, "68F 50%",
              _whole_air),
        Habit("dry month", "air where the piece will stand, at its driest", "20C 30%", read_air,
              "68F 30%", _whole_air),
        Habit("damp month", "air where the piece will stand, at its dampest", "24C 75%", read_air,
              "75F 75%", _whole_air),
        Habit("rate", "what an hour should earn", "25", _number("rate", 10_000)),
        Habit("fee", "share of the price that goes to whoever sells", "10 %", _number("fee", 95)),
        Habit("tool", "what the coats go on with", "hvlp", _one_of(*shipped.transfers()),
              means=_lands),
        Habit("cup", "what the gun's cup or the pot holds", "300 ml",
              _volume("cup", LEAST_CUP_ML, 20_000), "10 fl oz", _with_unit(units.volume)),
        Habit("cup step", "the finest step of the mixing cup", "2 ml",
              _volume("step", LEAST_STEP_ML, 1_000), "0.25 fl oz", _with_unit(units.volume)),
        Habit("spare pulls", "pulls to buy over what is missing", "1",
              _number("spares", 100, whole=True)),
        Habit("margin days", "days that an order should come too early", "2",
              _number("margin", 365, whole=True)),
        Habit("work hours", "from when to when is worked, for the plan of the day", "8:00 to 21:00",
              _span),
        Habit("quiet hours", "from when to when gun and sander are silent", "20:00 to 7:00", _span),
        Habit("working days", "the days of the week that are worked", "Mon to Sat",
              _said_well(parse_days, "days")),
        Habit("helpers", "who helps, when, and with what only",
              "Wren: Sat 9:00 to 13:00 only sand, wash", _said_well(parse_helpers, "helpers")),
        Habit("rooms", "where it is sanded, stripped and sprayed, if not all in one room",
              "sand: shed, spray: booth", _said_well(parse_rooms, "rooms")),
        Habit("dust settles", "from the last sanding until the gun may be used", "60 min", _length),
        Habit("rack", "what lies on rack and bench at once", "4.5 m2", _rack, "48 sq ft",
              _with_unit(units.area)),
        Habit("gun setup", "to set the gun up for a cup", "10 min", _length),
        Habit("gun cleaning", "to clean it after a cup", "15 min", _length),
        Habit("turning", "two of you, to turn a carcase over", "5 min", _length),
        Habit("paper", "what sheets are printed on", "a4 or letter", _one_of(*PAGES)),
        Habit("offset right", "how far right labels are moved on this printer", "0.5 mm", _offset),
        Habit("offset down", "how far down labels are moved on this printer", "-1 mm", _offset),
        Habit("bar across", "the bar across an uncorrected drilling sheet, as measured", "98.8 mm",
              _bar, "3.89 in", _with_unit(units.length)),
        Habit("bar down", "the bar down an uncorrected drilling sheet, as measured", "99 mm",
              _bar, "3.9 in", _with_unit(units.length)),
    )
}  # fmt: skip


NONE_SET = Habits(Measures.METRIC, {})
"""The settings of a shop that has said nothing."""


def habits(shop: Shop) -> Habits:
    """The shop's settings as the book has them."""
    typed = {k: v for k, v in figures.habits(shop.book).items() if k in KNOWN}
    return Habits(measures(shop), typed)


def understood(name: str, text: str, measures: Measures) -> tuple[Habit, str] | Refused:
    """The setting of that name and what is kept of it, a bare number with its unit, when that
    can be read; the empty text can."""
    habit = KNOWN.get(name.strip().lower().replace("-", " "))
    if habit is None:
        return Refused(no_setting(name, KNOWN))
    whole = habit.whole(text.strip(), measures)
    found = habit.read(whole) if whole else None
    if isinstance(found, Refused):
        return Refused(f"{found.say(measures)} Write it as in {habit.shown(measures)}.")
    return habit, whole


@writing
def set_habit(shop: Shop, name: str, text: str) -> Done | Refused:
    """Keep one setting as typed, a bare number with its unit; the empty text forgets it."""
    found = understood(name, text, habits(shop).measures)
    if isinstance(found, Refused):
        return found
    habit, text = found
    sentence = f"{habit.name}: {text or 'not set'}"
    with change(shop.book, sentence, shop.clock(), shop.who) as entry:
        if text:
            figures.put(entry, "habit", {"name": habit.name}, {"typed": text})
        else:
            figures.drop(entry, "habit", {"name": habit.name})
    means = habit.means(text) if habit.means and text else ""
    return Done(f"{sentence}. {means}".rstrip())


def follow_typed(shop: Shop, *typed: str) -> Done | Refused | None:
    """The first sizes that a shop types decide: inches mean US units and US Letter paper.

    None when nothing is to be kept: the shop has said it before, or no size has a unit.
    """
    known = habits(shop).typed
    if "units" in known:
        return None
    read = [units.length(text) for text in typed if text.strip()]
    kept = {entry.unit for entry in read if isinstance(entry, units.TypedMeasure)}
    if not kept & {"in", "ft"}:
        return None
    done = set_habit(shop, "units", Measures.US.value)
    if isinstance(done, Done) and "paper" not in known:
        return set_habit(shop, "paper", "letter")
    return done
