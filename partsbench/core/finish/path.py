"""Finish paths read from tables: what a file must say, and what is wrong with one that does not.

A figure is a table `{ value = "4 h", said = "2 to 4 h", source = "…", status = "…" }`. A bare value
(`earliest = "4 h"`) is the user's own figure. Where a range was said, ours starts a wait at its
longer end and closes a window at its shorter end, and `said` keeps the range.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import timedelta
from enum import StrEnum
from typing import Any, TypeVar

from partsbench.core.finish.durations import parse_duration
from partsbench.core.finish.steps import (
    LEAVE,
    NO_STEP_PATHS,
    RAW,
    After,
    FinishPath,
    Missed,
    Operation,
    PathKind,
    Step,
)
from partsbench.core.sources import Source, Status
from partsbench.core.toml_text import TomlFault, read_toml
from partsbench.core.wording import clauses, notes

__all__ = [
    "LEAVE",
    "NO_STEP_PATHS",
    "RAW",
    "After",
    "FinishPath",
    "Missed",
    "Operation",
    "PathKind",
    "Step",
    "parse_path",
    "parse_path_text",
    "parse_paths",
]

T = TypeVar("T")
E = TypeVar("E", bound=StrEnum)

OWN_FIGURE = "your own figure"
_WORDS = ("key", "name", "did", "product", "only_when", "thickness", "sheen", "filler", "note")
_KEYS = ("needs", "cautions", "on_tin", "takes")
_MINUTES = ("minutes_per_part", "minutes_per_face", "minutes_per_m2", "minutes_per_batch")
_FIGURES = ("grit", *_MINUTES, "earliest", "latest")
_STEP_WORDS = {*_WORDS, *_KEYS, *_FIGURES, "operation", "missed", "after", "optional", "tinted"}
_PATH_WORDS = {"key", "name", "kind", "about", "step"}
_AFTER_WORDS = {"step", "earliest", "latest", "missed", "only_when"}
_FIGURE_WORDS = {"value", "said", "source", "status"}
_SHAPE = re.compile(r"[a-z][a-z0-9_]*")


def parse_path_text(text: str) -> FinishPath | list[TomlFault]:
    """A path from the text of its file; faults carry the line."""
    doc = read_toml(text)
    if isinstance(doc, TomlFault):
        return [replace(doc, why=f"not TOML: {doc.why}")]
    read = parse_path(doc)
    if isinstance(read, FinishPath):
        return read
    return [replace(f, line=_line_of(text, f.where)) for f in read]


def parse_path(doc: Mapping[str, Any]) -> FinishPath | list[TomlFault]:
    """A path from its table; every fault found, not only the first."""
    faults: list[TomlFault] = []
    top = _Table(doc, "the path", faults)
    top.only(_PATH_WORDS)
    key = top.word("key", needed=True)
    if key and not _SHAPE.fullmatch(key):
        top.fault("key", "use small letters, digits and _ only")
    if key in NO_STEP_PATHS:
        top.fault("key", f"'{key}' is kept for faces that get no finish")
    kind = top.choice("kind", PathKind)
    steps = tuple(_step(t) for t in top.tables("step"))
    if not steps:
        top.fault("step", "a path needs at least one [[step]]")
    _check_links(steps, faults)
    if faults or kind is None:
        return faults
    return FinishPath(key, top.word("name", needed=True), kind, steps, top.word("about"))


def parse_paths(docs: Mapping[str, Mapping[str, Any]]) -> dict[str, FinishPath]:
    """The shipped paths by key, with `raw` and `leave`. ValueError: what we ship must be whole."""
    paths = dict(NO_STEP_PATHS)
    for name, doc in docs.items():
        read = parse_path(doc)
        if not isinstance(read, FinishPath):
            raise ValueError(f"{name}: {clauses(map(str, read))}")
        paths[read.key] = read
    return paths


@dataclass(slots=True)
class _Table:
    """One TOML table being read; what is wrong with it is collected in `faults`."""

    doc: Mapping[str, Any]
    where: str
    faults: list[TomlFault]
    sources: list[Source] = field(default_factory=list)

    def fault(self, key: str, why: str) -> None:
        where = f"{self.where}, {key}" if key else self.where
        self.faults.append(TomlFault(why, where=where))

    def only(self, known: set[str]) -> None:
        for key in self.doc:
            if key not in known:
                self.fault(key, f"unknown word; known are {', '.join(sorted(known))}")

    def value(self, key: str, kind: type[T], default: T) -> T:
        found = self.doc.get(key, default)
        if isinstance(found, kind) and not (kind is int and isinstance(found, bool)):
            return found
        self.fault(key, f"should be {_SAID[kind]}, is {found!r}")
        return default

    def word(self, key: str, needed: bool = False) -> str:
        text = self.value(key, str, "").strip()
        if needed and not text:
            self.fault(key, "is missing")
        return text

    def words(self, key: str) -> tuple[str, ...]:
        found = self.value(key, list, [])
        if all(isinstance(w, str) for w in found):
            return tuple(found)
        self.fault(key, "should be a list of words")
        return ()

    def choice(self, key: str, kind: type[E]) -> E | None:
        text = self.word(key, needed=True)
        known = [m.value for m in kind]
        if text in known:
            return kind(text)
        if text:
            self.fault(key, f"'{text}' is none of: {', '.join(known)}")
        return None

    def tables(self, key: str) -> list[_Table]:
        found = self.value(key, list, [])
        inner = []
        for number, doc in enumerate(found, 1):
            if isinstance(doc, Mapping):
                inner.append(_Table(doc, notes(self.prefix, f"{key} {number}"), self.faults))
            else:
                self.fault(key, "should be tables")
        return inner

    @property
    def prefix(self) -> str:
        return "" if self.where == "the path" else self.where

    def figure(self, key: str, read: Callable[[Any], T | None], like: str) -> T | None:
        """The figure `key`, its source noted; a fault when it is not written `like` that."""
        raw = self.doc.get(key)
        if raw is None:
            return None
        value = read(raw.get("value") if isinstance(raw, Mapping) else raw)
        if value is None:
            self.fault(key, f"should be written like {like}")
        elif isinstance(raw, Mapping):
            self._note_source(key, raw)
        else:
            self.sources.append(Source(OWN_FIGURE, Status.OWN, key))
        return value

    def _note_source(self, key: str, raw: Mapping[str, Any]) -> None:
        inner = _Table(raw, f"{self.where}, {key}", self.faults)
        inner.only(_FIGURE_WORDS)
        text = inner.word("source") or OWN_FIGURE
        status = inner.choice("status", Status) if "source" in raw else Status.OWN
        if status is not None:
            self.sources.append(Source(text, status, key, inner.word("said")))

    def missed(self) -> Missed | None:
        raw = self.doc.get("missed")
        if raw is None:
            return None
        if not isinstance(raw, Mapping):
            self.fault("missed", "should name a step and say what to do")
            return None
        inner = _Table(raw, f"{self.where}, missed", self.faults)
        inner.only({"step", "say"})
        return Missed(inner.word("step", needed=True), inner.word("say", needed=True))

    def window(self) -> tuple[timedelta | None, timedelta | None, Missed | None]:
        earliest = self.figure("earliest", _time, '"2 h" or "1 d 12 h"')
        latest = self.figure("latest", _time, '"10 min" or "3 d"')
        missed = self.missed()
        if earliest is not None and latest is not None and latest < earliest:
            self.fault("latest", "the window closes before it opens")
        if latest is not None and missed is None:
            self.fault("missed", "a window that closes must say what to do when it is missed")
        return earliest, latest, missed


def _step(t: _Table) -> Step:
    t.only(_STEP_WORDS)
    words: dict[str, Any] = {k: t.word(k, needed=k in ("key", "name", "did")) for k in _WORDS}
    if words["key"]:
        t.where = f"{t.where} ({words['key']})"
    lists: dict[str, Any] = {key: t.words(key) for key in _KEYS}
    grit = t.figure("grit", _grit, "220")
    minutes: dict[str, Any] = {key: t.figure(key, _minutes, "5") for key in _MINUTES}
    earliest, latest, missed = t.window()
    after = tuple(_after(inner) for inner in t.tables("after"))
    operation = t.choice("operation", Operation) or Operation.WASH
    return Step(
        operation=operation,
        grit=grit,
        earliest=earliest,
        latest=latest,
        missed=missed,
        after=after,
        sources=tuple(t.sources),
        optional=t.value("optional", bool, False) or bool(words["only_when"]),
        tinted=t.value("tinted", bool, False),
        **words,
        **lists,
        **minutes,
    )


def _after(t: _Table) -> After:
    t.only(_AFTER_WORDS)
    step = t.word("step", needed=True)
    earliest, latest, missed = t.window()
    return After(step, earliest, latest, missed, tuple(t.sources), t.word("only_when"))


def _check_links(steps: tuple[Step, ...], faults: list[TomlFault]) -> None:
    """Keys are unique, and every step that is referred to exists and comes where it may."""
    keys = [s.key for s in steps]
    for index, step in enumerate(steps):
        where = f"step {index + 1} ({step.key})"
        if step.key and step.key in keys[:index]:
            faults.append(TomlFault("another step has this key already", where=f"{where}, key"))
        for number, after in enumerate(step.after, 1):
            if after.step and after.step not in keys[:index]:
                why = f"there is no earlier step '{after.step}'"
                faults.append(TomlFault(why, where=f"{where}, after {number}"))
        aims = [m.step for m in (step.missed, *(a.missed for a in step.after)) if m and m.step]
        faults += [
            TomlFault(f"there is no step '{aim}'", where=f"{where}, missed")
            for aim in aims
            if aim not in keys
        ]


def _time(raw: object) -> timedelta | None:
    return parse_duration(raw) if isinstance(raw, str) else None


def _grit(raw: object) -> int | None:
    whole = isinstance(raw, int) and not isinstance(raw, bool)
    return raw if whole and 16 <= raw <= 5000 else None  # type: ignore[operator,return-value]


def _minutes(raw: object) -> float | None:
    number = isinstance(raw, int | float) and not isinstance(raw, bool)
    return float(raw) if number and raw > 0 else None  # type: ignore[arg-type,operator]


_SAID: Mapping[type, str] = {str: "words in quotes", list: "a list", bool: "true or false"}


def _line_of(text: str, where: str) -> int:
    """The line that a fault's `where` speaks of: the step's heading, or the word inside it."""
    lines = text.splitlines()
    start, end = 0, len(lines)
    step = re.match(r"step (\d+)", where)
    headings = [i for i, line in enumerate(lines) if re.match(r"\s*\[\[\s*step\s*\]\]", line)]
    if step and int(step[1]) <= len(headings):
        start = headings[int(step[1]) - 1]
        end = [*headings, len(lines)][int(step[1])]
    elif headings and not step:
        end = headings[0]
    for word in reversed(where.split(", ")[1:]):
        name = re.escape(word.split(" ")[0])
        for i in range(start, end):
            if re.match(rf"\s*(\[\[\s*step\.)?{name}\b", lines[i]):
                return i + 1
    return start + 1 if lines else 0
