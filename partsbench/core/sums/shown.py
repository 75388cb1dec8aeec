"""How a value is worded in the units that the shop has chosen: the one place that knows both.

Values come in our own units: mm, °C, ml, m², µm and kg.
"""

from __future__ import annotations

from enum import StrEnum
from math import ceil, floor, log10

MM_PER_INCH = 25.4
ML_PER_FLUID_OUNCE = 29.5735295625  # US: 231 in³ to the gallon, 128 fl oz to the gallon
ML_PER_GALLON = 128 * ML_PER_FLUID_OUNCE
ML_PER_QUART = ML_PER_GALLON / 4
M2_PER_FT2 = 0.3048**2
MICRON_PER_MIL = 25.4
GRAM_PER_POUND = 453.59237
DM3_PER_FT3 = 28.316846592
ABSOLUTE_ZERO_C = -273.15


class Measures(StrEnum):
    """The one switch: which units the shop reads and writes."""

    METRIC = "metric"
    US = "us"


class Worded:
    """An answer with measures in it: `say` words it in either units, `sentence` in metric ones."""

    __slots__ = ()

    def say(self, measures: Measures = Measures.METRIC) -> str:
        """The answer in one sentence, in the shop's units."""
        raise NotImplementedError

    @property
    def sentence(self) -> str:
        """The answer in metric units."""
        return self.say()


def celsius_of(fahrenheit: float) -> float:
    """°C from °F."""
    return (fahrenheit - 32) / 1.8


def fahrenheit_of(celsius: float) -> float:
    """°F from °C."""
    return celsius * 1.8 + 32


def inches_text(mm: float, per: int) -> str:
    """A size in inches and fractions, to the nearest 1/`per`: `34-1/2"`."""
    if per < 1:
        raise ValueError(f"1/{per} inch is no fraction")
    steps = floor(abs(mm) / MM_PER_INCH * per + 0.5)
    whole, over = divmod(steps, per)
    under = per
    while over and over % 2 == 0 and under % 2 == 0:
        over, under = over // 2, under // 2
    sign = "-" if mm < 0 and steps else ""
    fraction = f"{over}/{under}" if over else ""
    return f'{sign}{"-".join(p for p in (str(whole) if whole or not over else "", fraction) if p)}"'


def show_length(mm: float, measures: Measures = Measures.METRIC, places: int = 0) -> str:
    """A size for reading: mm with so many places, or inches to 1/16 (1/32 when places is 1+)."""
    if measures is Measures.US:
        return inches_text(mm, 32 if places else 16)
    return f"{_plain(mm, places)} mm"


def show_figure(mm: float, measures: Measures = Measures.METRIC) -> str:
    """A size where the unit is told beside it or has no room: `864`, `34"`."""
    if measures is Measures.US:
        return show_length(mm, measures)
    return _plain(mm, 0)


def show_across(width_mm: float, height_mm: float, measures: Measures = Measures.METRIC) -> str:
    """Width and height for reading: `864 × 600 mm`, `34" × 23-5/8"`."""
    return f"{show_figure(width_mm, measures)} × {show_length(height_mm, measures)}"


def show_gap(mm: float, measures: Measures = Measures.METRIC) -> str:
    """A small gap or change: 0.1 mm, or thousandths of an inch to 0.005."""
    if measures is Measures.US:
        return f"{_plain(round(mm / MM_PER_INCH / 0.005) * 0.005, 3)} in"
    return f"{_plain(mm, 1)} mm"


def is_gap(mm: float, measures: Measures = Measures.METRIC) -> bool:
    """Whether a gap or change, worded by `show_gap`, is more than nothing."""
    return show_gap(mm, measures) != show_gap(0, measures)


def show_fine(mm: float, measures: Measures = Measures.METRIC) -> str:
    """What is a matter of a screw's play: 0.01 mm, or thousandths of an inch."""
    if measures is Measures.US:
        return f"{_plain(mm / MM_PER_INCH, 3)} in"
    return f"{_plain(mm, 2)} mm"


def show_film(mm: float, measures: Measures = Measures.METRIC, places: int = 1) -> str:
    """A dry film, or films on one another: mm with so many places, or mil to two digits."""
    if measures is Measures.US:
        return f"{significant(mm * 1000 / MICRON_PER_MIL, 2)} mil"
    return f"{_plain(mm, places)} mm"


def show_volume(ml: float, measures: Measures = Measures.METRIC) -> str:
    """A volume to mix: whole ml, litres from 2 l on; fluid ounces to the half, less
    than that to one digit, quarts from 2 qt on."""
    if measures is Measures.US:
        ounces, quarts = ml / ML_PER_FLUID_OUNCE, ml / ML_PER_QUART
        if quarts >= 2:
            return f"{_plain(quarts, 1)} qt"
        if 0 < ounces < 0.5:
            return f"{significant(ounces, 1)} fl oz"
        return f"{_plain(round(ounces * 2) / 2, 1)} fl oz"
    return f"{_plain(ml / 1000, 1)} l" if ml >= 2000 else f"{_plain(ml, 0)} ml"


def show_at_least(ml: float, measures: Measures = Measures.METRIC) -> str:
    """A volume to have at hand, never rounded down: to 10 ml and 0.1 l, half a fluid ounce and
    0.1 qt."""
    small, large, from_ = 10.0, 100.0, 2000.0
    if measures is Measures.US:
        small, large, from_ = ML_PER_FLUID_OUNCE / 2, ML_PER_QUART / 10, 2 * ML_PER_QUART
    step = large if ml >= from_ else small
    return show_volume(ceil(round(ml / step, 6)) * step, measures)


def show_area(m2: float, measures: Measures = Measures.METRIC) -> str:
    """An area to 0.1 m², or whole ft²; a small one to one digit, as none is nothing."""
    shown, unit, places = (m2 / M2_PER_FT2, "ft²", 0) if measures is Measures.US else (m2, "m²", 1)
    if 0 < shown < 10**-places:
        return f"{significant(shown, 1)} {unit}"
    return f"{_plain(shown, places)} {unit}"


def show_temperature(celsius: float, measures: Measures = Measures.METRIC) -> str:
    """A temperature to 0.1 °C, or whole °F."""
    if measures is Measures.US:
        return f"{_plain(fahrenheit_of(celsius), 0)} °F"
    return f"{_plain(celsius, 1).removesuffix('.0')} °C"


def show_mass(kg: float, measures: Measures = Measures.METRIC) -> str:
    """A mass to 0.1 kg, or to 0.1 lb where it is no whole number of them."""
    if measures is Measures.US:
        return f"{kg * 1000 / GRAM_PER_POUND:.1f} lb".replace(".0 ", " ")
    return f"{kg:.1f} kg"


def show_room(dm3: float, measures: Measures = Measures.METRIC) -> str:
    """A space to 0.1 dm³ or 0.1 ft³."""
    return f"{dm3 / DM3_PER_FT3:.1f} ft³" if measures is Measures.US else f"{dm3:.1f} dm³"


def show_run(mm: float, measures: Measures = Measures.METRIC) -> str:
    """A long run, as of tape: metres to 0.1, or feet to two digits."""
    if measures is Measures.US:
        return f"{significant(mm / MM_PER_INCH / 12, 2)} ft"
    return f"{mm / 1000:.1f} m"


def show_limit(value: float, unit: str, measures: Measures = Measures.METRIC) -> str:
    """A bound, or what is outside it, as exact as it is metric; else sizes to 1/32 in, all other
    measures to three digits. `unit` is one that we keep values in, or any other."""
    if measures is Measures.US:
        if unit == "mm":
            return inches_text(value, 32)
        if unit == "°C":
            return f"{fahrenheit_of(value):.4g} °F"
        if unit in _IN_US:
            size, name = _IN_US[unit]
            return f"{float(significant(value / size, 3)):.10g} {name}"
    return f"{value:g} {unit}".strip()


_IN_US = {
    "µm": (MICRON_PER_MIL, "mil"),
    "ml": (ML_PER_FLUID_OUNCE, "fl oz"),
    "m²": (M2_PER_FT2, "ft²"),
    "kg": (GRAM_PER_POUND / 1000, "lb"),
    "dm³": (DM3_PER_FT3, "ft³"),
}


def significant(value: float, digits: int) -> str:
    """A number with so many significant digits and no exponent: `significant(166.8, 2)` is 170."""
    if value == 0:
        return "0"
    rounded = round(value, digits - 1 - floor(log10(abs(value))))  # 9.96 becomes 10: one place less
    return _plain(rounded, max(digits - 1 - floor(log10(abs(rounded))), 0))


def _plain(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    return text.lstrip("-") if float(text) == 0 else text
