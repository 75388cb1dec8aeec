"""One line for "it was answered, with this kind of answer"."""

from __future__ import annotations

from typing import TypeVar

from partsbench.core.outcomes import Refused

T = TypeVar("T")


def answered(kind: type[T], value: object) -> T:
    """The answer, when it is one of that kind; the test fails with the refusal otherwise."""
    assert isinstance(value, kind), value
    return value


def refused(value: object) -> str:
    """The sentence of a refusal; the test fails when there was an answer."""
    assert isinstance(value, Refused), value
    return value.sentence
