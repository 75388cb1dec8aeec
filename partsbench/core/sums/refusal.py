"""What a sum answers when its inputs cannot be worked with, and the shape of every other answer."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite
from typing import Protocol


@dataclass(frozen=True, slots=True)
class Refusal:
    """No answer: what was wrong and why. Anything typed in may lead to one; it is no exception."""

    what: str
    why: str

    @property
    def sentence(self) -> str:
        """`humidity: 140 % is more than 100 %.`"""
        return f"{self.what}: {self.why}."


class Answer(Protocol):
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


def first(*checks: Refusal | None) -> Refusal | None:
    """The first refusal among the checks; None when all passed."""
    return next((check for check in checks if check is not None), None)


def amount(
    what: str,
    value: object,
    *,
    above: float | None = None,
    least: float | None = None,
    most: float | None = None,
    unit: str = "",
) -> Refusal | None:
    """Whether `value` is a finite number within the bounds; the refusal when it is not."""
    why = _not_a_number(value)
    if why is None and isinstance(value, (int, float)):
        why = _out_of_bounds(value, above, least, most, unit)
    return Refusal(what, why) if why else None


def _not_a_number(value: object) -> str | None:
    if value is None:
        return "is missing"
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return f"{value!r} is no number"
    return None if isfinite(value) else f"{value} is no finite number"


def _out_of_bounds(
    value: float, above: float | None, least: float | None, most: float | None, unit: str
) -> str | None:
    shown = f"{value:g} {unit}".strip()
    if above is not None and value <= above:
        return f"{shown} must be more than {above:g} {unit}".strip()
    if least is not None and value < least:
        return f"{shown} is less than {least:g} {unit}".strip()
    if most is not None and value > most:
        return f"{shown} is more than {most:g} {unit}".strip()
    return None
