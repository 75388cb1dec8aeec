"""Sizes, temperatures, volumes, areas and films as people type them.

Inside, every value is in one unit: mm, °C, ml, m², µm (films) and g. What was typed is kept.
What is shown is worded in `shown`; its names are reached from here too: `units.show_gap`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite
from types import MappingProxyType

from partsbench.core.outcomes import Refused
from partsbench.core.sums.refusal import wrong
from partsbench.core.sums.shown import (
    ABSOLUTE_ZERO_C,
    GRAM_PER_POUND,
    M2_PER_FT2,
    MICRON_PER_MIL,
    ML_PER_FLUID_OUNCE,
    ML_PER_GALLON,
    MM_PER_INCH,
    Measures,
    Worded,
    celsius_of,
    fahrenheit_of,
    inches_text,
    is_gap,
    show_area,
    show_at_least,
    show_figure,
    show_film,
    show_fine,
    show_gap,
    show_length,
    show_limit,
    show_mass,
    show_room,
    show_run,
    show_temperature,
    show_volume,
    significant,
)

__all__ = [
    "ABSOLUTE_ZERO_C",
    "GRAM_PER_POUND",
    "M2_PER_FT2",
    "MICRON_PER_MIL",
    "ML_PER_FLUID_OUNCE",
    "ML_PER_GALLON",
    "MM_PER_INCH",
    "Measures",
    "TypedMeasure",
    "Worded",
    "area",
    "celsius_of",
    "fahrenheit_of",
    "film",
    "inches_text",
    "is_gap",
    "length",
    "number",
    "percent",
    "show_area",
    "show_at_least",
    "show_figure",
    "show_film",
    "show_fine",
    "show_gap",
    "show_length",
    "show_limit",
    "show_mass",
    "show_room",
    "show_run",
    "show_temperature",
    "show_volume",
    "significant",
    "temperature",
    "volume",
    "weight",
]  # fmt: skip

LONGEST = 40
"""More characters than this are no measure."""


@dataclass(frozen=True, slots=True)
class TypedMeasure:
    """A measure as typed: the text, the unit it was in, and its value in our own unit."""

    typed: str
    unit: str
    value: float


_LENGTHS = MappingProxyType(
    {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH, "ft": 12 * MM_PER_INCH}
)
_VOLUMES = MappingProxyType(
    {
        "ml": 1.0,
        "cl": 10.0,
        "l": 1000.0,
        "fl oz": ML_PER_FLUID_OUNCE,
        "qt": ML_PER_GALLON / 4,
        "gal": ML_PER_GALLON,
    }
)
_AREAS = MappingProxyType({"m²": 1.0, "cm²": 1e-4, "ft²": M2_PER_FT2, "in²": M2_PER_FT2 / 144})
_FILMS = MappingProxyType({"µm": 1.0, "mil": MICRON_PER_MIL, "mm": 1000.0})
_WEIGHTS = MappingProxyType(
    {"g": 1.0, "kg": 1000.0, "lb": GRAM_PER_POUND, "oz": GRAM_PER_POUND / 16}
)

_EXAMPLES = (
    (_LENGTHS, "876, 87.6 cm or 34 1/2 in"),
    (_VOLUMES, "570, 0.57 l or 19 fl oz"),
    (_AREAS, "3.4, 3.4 m2 or 36 sq ft"),
    (_FILMS, "38, 38 um or 1.5 mil"),
    (_WEIGHTS, "840, 1.2 kg or 30 lb"),
)

_SPELLINGS = MappingProxyType(
    {
        '"': "in", "''": "in", "inch": "in", "inches": "in", "'": "ft", "foot": "ft", "feet": "ft",
        "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
        "litre": "l", "litres": "l", "liter": "l", "liters": "l",
        "floz": "fl oz", "fl.oz": "fl oz", "fl. oz": "fl oz", "fl.oz.": "fl oz", "fl. oz.": "fl oz",
        "oz": "oz", "gallon": "gal", "gallons": "gal", "quart": "qt", "quarts": "qt",
        "m2": "m²", "m^2": "m²", "sqm": "m²", "cm2": "cm²", "in2": "in²", "sqin": "in²",
        "ft2": "ft²", "ft^2": "ft²", "sqft": "ft²", "sq ft": "ft²", "sq. ft.": "ft²",
        "um": "µm", "μm": "µm", "micron": "µm", "microns": "µm", "mils": "mil",
        "lbs": "lb", "pounds": "lb", "grams": "g",
    }
)  # fmt: skip

_SINGLE_MARKS = re.compile("[’′‘]")
_DOUBLE_MARKS = re.compile("[”″“]")
_VULGAR = MappingProxyType(
    {
        "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
        "⅓": "1/3", "⅔": "2/3",
    }
)  # fmt: skip
_NUMBER = re.compile(
    r"(?P<whole>\d+)(?:\s+|\s*-\s*)(?P<over>\d+)\s*/\s*(?P<under>\d+)"
    r"|(?P<top>\d+)\s*/\s*(?P<bottom>\d+)"
    r"|(?P<plain>\d+(?:[.,]\d+)?|[.,]\d+)"
)
_FEET_AND_INCHES = re.compile(
    r"(?P<feet>.+?)\s*(?:'(?!')|ft\b|foot\b|feet\b)\s*-?\s*(?P<rest>\S.*)"
)


def length(
    text: str, measures: Measures = Measures.METRIC, what: str = "length"
) -> TypedMeasure | Refused:
    """A size in mm: `876 mm`, `34 1/2`, `34-1/2"`, `2' 10-1/2"`, `87.6 cm`.

    A bare number is mm or inches by the switch; a bare fraction is always inches.
    """
    tidy = _tidy(text)
    compound = _FEET_AND_INCHES.fullmatch(tidy)
    if compound:
        feet = _measure(f"{compound['feet']} ft", "ft", _LENGTHS, what)
        inches = _measure(compound["rest"], "in", _LENGTHS, what)
        if isinstance(feet, Refused):
            return feet
        if isinstance(inches, Refused):
            return inches
        return _bounded(TypedMeasure(text, "in", feet.value + inches.value), what)
    bare = "in" if measures is Measures.US or "/" in tidy else "mm"
    return _kept(_measure(tidy, bare, _LENGTHS, what), text, what)


def volume(
    text: str, measures: Measures = Measures.METRIC, what: str = "volume"
) -> TypedMeasure | Refused:
    """A volume in ml: `570 ml`, `0.57 l`, `19 fl oz`. Ounces are US fluid ounces."""
    tidy = re.sub(r"(?<![a-z. ])\s*oz$", " fl oz", _tidy(text))
    bare = "fl oz" if measures is Measures.US else "ml"
    return _kept(_measure(tidy, bare, _VOLUMES, what), text, what)


def area(
    text: str, measures: Measures = Measures.METRIC, what: str = "area"
) -> TypedMeasure | Refused:
    """An area in m²: `3.4 m2`, `36 sq ft`."""
    bare = "ft²" if measures is Measures.US else "m²"
    return _kept(_measure(_tidy(text), bare, _AREAS, what), text, what)


def film(
    text: str, measures: Measures = Measures.METRIC, what: str = "film"
) -> TypedMeasure | Refused:
    """A film thickness in µm: `38 µm`, `1.5 mil`."""
    bare = "mil" if measures is Measures.US else "µm"
    return _kept(_measure(_tidy(text), bare, _FILMS, what), text, what)


def weight(
    text: str, measures: Measures = Measures.METRIC, what: str = "weight"
) -> TypedMeasure | Refused:
    """A weight in g: `840 g`, `1.2 kg`, `30 lb`."""
    bare = "lb" if measures is Measures.US else "g"
    return _kept(_measure(_tidy(text), bare, _WEIGHTS, what), text, what)


def temperature(
    text: str, measures: Measures = Measures.METRIC, what: str = "temperature"
) -> TypedMeasure | Refused:
    """A temperature in °C: `20C`, `70 °F`, `-5`. A bare number is °C or °F by the switch."""
    found = re.fullmatch(
        r"(?P<sign>[-+]?)\s*(?P<size>[^a-z°]+?)\s*°?\s*(?P<unit>[cf]?)", _tidy(text)
    )
    if not found:
        return wrong(what, f"{text!r} cannot be read as a temperature")
    size = _number(found["size"], what)
    if isinstance(size, Refused):
        return size
    signed = -size if found["sign"] == "-" else size
    unit = found["unit"] or ("f" if measures is Measures.US else "c")
    celsius = signed if unit == "c" else celsius_of(signed)
    if not isfinite(celsius) or celsius < ABSOLUTE_ZERO_C:
        return wrong(what, f"{text!r} is below absolute zero or no finite number")
    return TypedMeasure(text, f"°{unit.upper()}", celsius)


def percent(text: str, what: str = "share") -> TypedMeasure | Refused:
    """A share from 0 to 100: `52`, `52 %`."""
    value = _number(_tidy(text).removesuffix("%").strip(), what)
    if isinstance(value, Refused):
        return value
    if value > 100:
        return wrong(what, f"{text!r} is more than 100 %")
    return TypedMeasure(text, "%", value)


def number(text: str, what: str = "number") -> float | Refused:
    """A plain number, not negative: `14.5`, `14,5`, `3 1/2`."""
    return _number(_tidy(text), what)


def _tidy(text: str) -> str:
    tidy = _DOUBLE_MARKS.sub('"', _SINGLE_MARKS.sub("'", text.strip().replace("−", "-")))
    for sign, spelled in _VULGAR.items():
        tidy = tidy.replace(sign, f" {spelled}")
    return re.sub(r"\s+", " ", tidy.replace("\u2044", "/").replace("''", '"')).strip().lower()


def _measure(tidy: str, bare: str, units: Mapping[str, float], what: str) -> TypedMeasure | Refused:
    found = _NUMBER.match(tidy)
    if not found or len(tidy) > LONGEST:
        return _unreadable(tidy, what)
    rest = tidy[found.end() :].strip().lstrip("-").strip() or bare
    unit = _SPELLINGS.get(rest, rest)
    if unit not in units:
        at = found.end() + tidy[found.end() :].index(rest) + 1
        return wrong(what, f"“{rest}” at character {at} of “{tidy}” is no unit; {_example(units)}")
    value = _number(found[0], what)
    return value if isinstance(value, Refused) else TypedMeasure(tidy, unit, value * units[unit])


def _example(units: Mapping[str, float]) -> str:
    """What can be written instead: `write 876, 87.6 cm or 34 1/2 in`."""
    return f"write {next(said for known, said in _EXAMPLES if known is units)}"


def _number(tidy: str, what: str) -> float | Refused:
    found = _NUMBER.fullmatch(tidy)
    if not found or len(tidy) > LONGEST:
        return _unreadable(tidy, what)
    if found["plain"]:
        if re.fullmatch(r"\d{1,3},\d{3}", tidy):
            return wrong(what, f"{tidy!r} can be read in two ways: write a point, or no comma")
        value = float(tidy.replace(",", "."))
        return value if isfinite(value) else wrong(what, "is no finite number")
    over, under = int(found["over"] or found["top"]), int(found["under"] or found["bottom"])
    if under == 0:
        return wrong(what, f"{tidy!r} divides by nothing")
    if found["whole"] and over >= under:
        return wrong(what, f"{over}/{under} in {tidy!r} is no fraction of one")
    return int(found["whole"] or 0) + over / under


def _unreadable(tidy: str, what: str) -> Refused:
    if not tidy:
        return wrong(what, "is missing")
    if len(tidy) > LONGEST:
        return wrong(what, f"{tidy[:LONGEST]!r}... is too long for a measure")
    if tidy.startswith("-"):
        return wrong(what, f"{tidy!r} is negative")
    found = _NUMBER.match(tidy)
    at = (found.end() if found else 0) + 1
    return wrong(what, f"{tidy!r} cannot be read from character {at} on")


def _kept(entry: TypedMeasure | Refused, typed: str, what: str) -> TypedMeasure | Refused:
    if isinstance(entry, Refused):
        return entry
    return _bounded(TypedMeasure(typed, entry.unit, entry.value), what)


def _bounded(entry: TypedMeasure, what: str) -> TypedMeasure | Refused:
    if not isfinite(entry.value):
        return wrong(what, f"{entry.typed[:20]!r} is no finite number")
    return entry
