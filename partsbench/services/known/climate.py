"""The air of the shop: readings, what they do to waits, and power cuts."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from datetime import datetime, timedelta

from partsbench import trade
from partsbench.core.finish.clocks import air
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.products import Product, parse_products
from partsbench.core.finish.situation import Room
from partsbench.core.finish.waits import Air
from partsbench.core.outcomes import Done, Refused
from partsbench.core.said_often import STILL_TO_COME
from partsbench.core.sums.climate import Limits, dew_point
from partsbench.core.sums.shown import Measures, show_limit
from partsbench.core.wording import notes
from partsbench.services.known.measures import measures
from partsbench.services.shop import Shop, writing
from partsbench.store import room as rows
from partsbench.store.journal import change
from partsbench.store.room import PowerCut, Reading

READING_HOLDS = timedelta(hours=12)
"""A reading of the air speaks for so long; then waits are as on the tin until the next one."""


@functools.cache
def products() -> Mapping[str, Product]:
    """The shipped classes of product."""
    return parse_products(trade.load("readiness"))


@functools.cache
def checks() -> Mapping[str, str]:
    """What is asked before a step, by the key that a path names it with."""
    return trade.load("checks")


@functools.cache
def limits() -> Limits:
    from partsbench.core.sums.tables import climate_limits

    found = climate_limits(trade.load("climate"))
    assert isinstance(found, Limits), found
    return found


@writing
def note(
    shop: Shop,
    temperature_c: float,
    humidity: float,
    surface_c: float | None = None,
    place: str = "",
    at: datetime | None = None,
) -> Done | Refused:
    """Write down the air (°C, %) and, where it was measured, the surface."""
    now = shop.clock()
    when = at or now
    if when > now:
        return Refused(STILL_TO_COME)
    show = measures(shop)
    found = dew_point(temperature_c, humidity)
    if isinstance(found, Refused):
        return Refused(found.say(show))
    stretched = air(limits(), temperature_c, humidity, show)
    if isinstance(stretched, Refused):
        return Refused(stretched.say(show))
    surface = "" if surface_c is None else f"surface {show_limit(surface_c, '°C', show)}"
    sentence = notes(f"The air: {air_words(temperature_c, humidity, show)}", surface)
    with change(shop.book, sentence, now, shop.who) as entry:
        reading = Reading(when, temperature_c, humidity, surface_c, place.strip())
        rows.add_reading(entry, reading, shop.who)
    return Done(f"{sentence}. {stretched.said} {found.say(show)}")


def reading(shop: Shop, now: datetime) -> Reading | None:
    """The reading that still speaks for the air at `now`."""
    found = rows.reading(shop.book, now)
    return found if found and now - found.at <= READING_HOLDS else None


def air_words(temperature_c: float, humidity: float, show: Measures) -> str:
    """`21 °C, 50 %`, or `69.8 °F, 50 %`"""
    return f"{show_limit(temperature_c, '°C', show)}, {humidity:g} %"


def room(found: Reading | None, show: Measures = Measures.METRIC) -> Room | None:
    """The reading as the rules read it; `show` is what they tell temperatures in."""
    if found is None:
        return None
    dew = dew_point(found.temperature_c, found.humidity)
    if isinstance(dew, Refused):
        return None
    return Room(found.temperature_c, found.humidity, dew.celsius, found.surface_c,
                measures=show)  # fmt: skip


def stretch(found: Reading | None, show: Measures = Measures.METRIC) -> Air:
    """How much longer water-borne films take in that air."""
    if found is None:
        return Air()
    longer = air(limits(), found.temperature_c, found.humidity, show)
    return Air() if isinstance(longer, Refused) else longer


@writing
def note_power_cut(
    shop: Shop, start: datetime, end: datetime, heating: bool, words: str = ""
) -> Done | Refused:
    """Note that the power was off; with heater or fan off too, waits running then grow longer."""
    now = shop.clock()
    if not start < end <= now:
        return Refused("A power cut ends after it began, and not in the time to come.")
    length = say_duration(end - start)
    sentence = f"Power was off for {length}"
    if heating:
        sentence = f"Power was off for {length}; waits running then are lengthened by it"
    with change(shop.book, sentence, now, shop.who) as entry:
        rows.add_power_cut(entry, PowerCut(start, end, heating, words.strip()), shop.who)
    return Done(f"{sentence}.")
