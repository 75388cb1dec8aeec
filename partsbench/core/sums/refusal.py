"""What a sum answers when its inputs cannot be worked with, and the shape of every other answer."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite
from typing import Protocol

from partsbench.core.outcomes import Refused
from partsbench.core.said_often import no_finite_number, no_number
from partsbench.core.sums.shown import Measures, show_limit


def wrong(what: str, why: str) -> Refused:
    """`humidity: 140 % is more than 100 %.` Anything typed in may lead to one: a value, no bug."""
    return Refused(f"{what}: {why}.", about=what)


class SumAnswer(Protocol):
    """What every sum answers with, beside its own figures."""

    @property
    def lacks(self) -> tuple[str, ...]:
        """What would answer better, in words."""

    @property
    def sources(self) -> tuple[str, ...]:
        """Where the figures and the method come from."""

    @property
    def sentence(self) -> str:
        """The answer in one plain sentence."""


def first(*checks: Refused | None) -> Refused | None:
    """The first refusal among the checks; None when all passed."""
    return next((check for check in checks if check is not None), None)


def because(what: str, why: Callable[[Measures], str]) -> Refused:
    """A refusal whose reason has measures in it: `why` words it in given units."""
    metric, us = (f"{what}: {why(measures)}." for measures in (Measures.METRIC, Measures.US))
    return Refused(metric, about=what, us=us)


def amount(
    what: str,
    value: object,
    *,
    above: float | None = None,
    least: float | None = None,
    most: float | None = None,
    unit: str = "",
) -> Refused | None:
    """Whether `value` is a finite number within the bounds; the refusal when it is not."""
    why = _not_a_number(value)
    if why:
        return wrong(what, why)
    assert isinstance(value, (int, float))
    bounds = above, least, most
    if _out_of_bounds(value, *bounds, unit, Measures.METRIC) is None:
        return None
    return because(what, lambda shown: _out_of_bounds(value, *bounds, unit, shown) or "")


def _not_a_number(value: object) -> str | None:
    if value is None:
        return "is missing"
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return no_number(repr(value))
    return None if isfinite(value) else no_finite_number(value)


def _out_of_bounds(
    value: float,
    above: float | None,
    least: float | None,
    most: float | None,
    unit: str,
    measures: Measures,
) -> str | None:
    def show(size: float) -> str:
        return show_limit(size, unit, measures)

    if above is not None and value <= above:
        return f"{show(value)} must be more than {show(above)}"
    if least is not None and value < least:
        return f"{show(value)} is less than {show(least)}"
    if most is not None and value > most:
        return f"{show(value)} is more than {show(most)}"
    return None
