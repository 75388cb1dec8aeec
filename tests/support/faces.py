"""Faces in a given state, for the tests of the finish rules."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from partsbench.core.finish.durations import parse_duration
from partsbench.core.finish.path import parse_paths
from partsbench.core.finish.products import parse_products
from partsbench.core.finish.progress import Mark, MarkKind, Progress, progress
from partsbench.core.finish.steps import FinishPath, Step
from partsbench.core.finish.waits import Air, WaitFigures
from partsbench.trade import load, load_paths

START = datetime(2031, 3, 3, 8, 0, tzinfo=UTC)
PATHS = parse_paths(load_paths())
PRODUCTS = parse_products(load("readiness"))
SHOP = WaitFigures(PRODUCTS)


def hours(length: str) -> timedelta:
    """A length of time as the tables write it; a test that writes it wrong is a bug."""
    found = parse_duration(length)
    assert found is not None, length
    return found


def at(length: str) -> datetime:
    """START and so much later."""
    return START + hours(length)


def path(key: str, *facts: str) -> FinishPath:
    """A shipped path given for a face with these facts."""
    return PATHS[key].given(frozenset(facts))


def face(on: FinishPath, *marks: tuple[str, str]) -> Progress:
    """A face with (step, time since START) done; "back step" sends it back."""
    made = []
    for word, when in marks:
        back, _, step = word.rpartition(" ")
        kind = MarkKind.SENT_BACK if back == "back" else MarkKind.DONE
        made.append(Mark(step, at(when), kind))
    now = progress(on, made)
    assert not now.ignored, now.ignored
    return now


def through(on: FinishPath, last: str, when: str = "0 h") -> Progress:
    """A face with every step up to `last` done; `last` at `when`, the rest a month before it."""
    keys = [s.key for s in on.steps if not s.optional or s.key == last]
    before = keys[: keys.index(last)]
    long_ago = at(when) - timedelta(days=30)
    marks = [Mark(k, long_ago + timedelta(days=i)) for i, k in enumerate(before)]
    return progress(on, [*marks, Mark(last, at(when))])


def step(on: FinishPath, key: str) -> Step:
    """The step of a path that the test knows to be there."""
    found = on.step(key)
    assert found is not None, key
    return found


def damp(factor: float) -> WaitFigures:
    """A shop in air that lengthens water-borne waits `factor` times."""
    return WaitFigures(PRODUCTS, {}, Air(factor, "damp"))


def words(found: Iterable[object]) -> list[str]:
    """Names of the rules that found something."""
    return [getattr(f, "rule", str(f)) for f in found]
