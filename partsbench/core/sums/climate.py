"""Dew point, and how much longer a water-borne film needs in cold or damp air.

Saturation pressure and dew point after Magnus with the constants of WMO-No. 8, Guide to
Instruments and Methods of Observation, annex 4.B: over water, -45 to 60 °C.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, exp, log

from partsbench.core.outcomes import Refused
from partsbench.core.sources import Status, cite
from partsbench.core.sums import units
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import amount, first, wrong

MAGNUS_SOURCE = cite(
    "Magnus formula, constants of Sonntag, Zeitschrift für Meteorologie 70 (1990), pp. 340-344, "
    "as in WMO-No. 8, annex 4.B",
    Status.READ_IN_A_COPY,
)
DEFICIT_SOURCE = cite(
    "ratio of vapour pressure deficits, our estimate, water-borne products only", Status.CALCULATED
)
_A, _B = 17.62, 243.12


@dataclass(frozen=True, slots=True)
class Limits:
    """What air and surface must keep to; the tin wins."""

    over_dew_point_c: Figure
    humidity_most: Figure
    water_borne_least_c: Figure
    oil_least_c: Figure
    label_temperature_c: Figure
    label_humidity: Figure


@dataclass(frozen=True, slots=True)
class DewPoint(units.Worded):
    """The temperature at which this air wets a surface."""

    celsius: float
    temperature_c: float
    humidity: float
    lacks: tuple[str, ...] = ()
    sources: tuple[str, ...] = (MAGNUS_SOURCE,)

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`Dew forms on anything colder than 9.6 °C.`"""
        return (
            f"Dew forms on anything colder than {units.show_temperature(self.celsius, measures)}."
        )


@dataclass(frozen=True, slots=True)
class DewCheck:
    """Whether a surface is far enough from dew to be coated."""

    fit_to_coat: bool
    least_c: float
    why: str
    lacks: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """`Do not coat: the surface must be over 12.6 °C.`"""
        return self.why


@dataclass(frozen=True, slots=True)
class Stretch(units.Worded):
    """How many times its label time a water-borne film may take in this air; never under 1."""

    factor: float
    temperature_c: float
    humidity: float
    least_surface_c: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...]

    def stretched(self, tin_hours: float) -> float:
        """The longer of the tin's time and the estimate, in hours."""
        return tin_hours * self.factor

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`14.0 °C and 75 %: water-borne may need up to 4 times the tin's time; ...`"""
        air = f"{units.show_temperature(self.temperature_c, measures)} and {self.humidity:.0f} %"
        times = ceil(self.factor * 2 - 0.1) / 2
        if times <= 1:
            return f"{air}: no longer than the tin says."
        surface = units.show_temperature(self.least_surface_c, measures)
        return (
            f"{air}: water-borne may need up to {times:g} times the tin's time; "
            f"the surface must be over {surface}."
        )


def saturation_hpa(celsius: float) -> float:
    """Pressure of water vapour at saturation over water, hPa."""
    return 6.112 * exp(_A * celsius / (_B + celsius))


def deficit_hpa(celsius: float, humidity: float) -> float:
    """How much more vapour the air could take up, hPa, at °C and %."""
    return saturation_hpa(celsius) * (1 - humidity / 100)


def dew_point(temperature_c: float, humidity: float) -> DewPoint | Refused:
    """Dew point of air at °C and % relative humidity."""
    bad = _bad_air(temperature_c, humidity)
    if bad:
        return bad
    dew = _dew_point(temperature_c, humidity)
    lacks = ("below freezing frost forms a little earlier",) if dew < 0 else ()
    outside = ("the formula ends at -45 °C",) if dew < -45 else ()
    return DewPoint(dew, temperature_c, humidity, (*lacks, *outside))


def surface(
    limits: Limits, temperature_c: float, humidity: float, surface_c: float | None = None
) -> DewCheck | Refused:
    """Whether to coat a surface of `surface_c` (the air's temperature when not measured)."""
    bad = first(
        _bad_air(temperature_c, humidity),
        None
        if surface_c is None
        else amount("surface temperature", surface_c, least=-45, most=60, unit="°C"),
    )
    if bad:
        return bad
    least = _dew_point(temperature_c, humidity) + limits.over_dew_point_c.value
    actual = temperature_c if surface_c is None else surface_c
    most = limits.humidity_most.value
    if humidity > most:
        fit, why = False, f"Do not coat: the air is over {most:g} % humid."
    elif actual < least:
        fit, why = False, f"Do not coat: the surface must be over {least:.1f} °C."
    else:
        fit, why = True, f"The surface is clear of dew: it must stay over {least:.1f} °C."
    lacks = ("the temperature of the surface itself",) if surface_c is None else ()
    return DewCheck(fit, least, why, lacks, (MAGNUS_SOURCE, limits.over_dew_point_c.cited))


def stretch(limits: Limits, temperature_c: float, humidity: float) -> Stretch | Refused:
    """How much longer than on the label a water-borne film takes; never shorter."""
    bad = _bad_air(temperature_c, humidity)
    if bad:
        return bad
    here = deficit_hpa(temperature_c, humidity)
    if here <= 0:
        return wrong("humidity", "air at 100 % takes up no water: nothing dries in it")
    label = deficit_hpa(limits.label_temperature_c.value, limits.label_humidity.value)
    least = _dew_point(temperature_c, humidity) + limits.over_dew_point_c.value
    sources = (DEFICIT_SOURCE, MAGNUS_SOURCE, limits.label_humidity.cited)
    lacks = ("how this product behaves here: log when it was tried and ready",)
    return Stretch(max(1.0, label / here), temperature_c, humidity, least, lacks, sources)


def _dew_point(temperature_c: float, humidity: float) -> float:
    gamma = log(humidity / 100) + _A * temperature_c / (_B + temperature_c)
    return _B * gamma / (_A - gamma)


def _bad_air(temperature_c: float, humidity: float) -> Refused | None:
    return first(
        amount("temperature", temperature_c, least=-45, most=60, unit="°C"),
        amount("humidity", humidity, least=1, most=100, unit="%"),
    )
