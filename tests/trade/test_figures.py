"""Every figure that is shipped: its one status, what its source names, which end of a range it is.

The rule of the files: a wait starts at the longer end of what was said, a window closes at the
shorter one. `said` holds what was said: first what the figure is taken from, after a semicolon what
others say. "between 5 and 15 min" is one window with both its ends. Where the other end of a range
is taken, `said` gives the reason after "because".
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta
from typing import Any, NamedTuple

import pytest

from partsbench import trade
from partsbench.core.finish.advice import WARNINGS
from partsbench.core.finish.durations import parse_duration
from partsbench.core.finish.holds import HOLDS
from partsbench.core.finish.loops import PAIRS
from partsbench.core.finish.review import RULES
from partsbench.core.sources import Source, Status
from partsbench.core.sums import climate, film, fit, wood

TABLES = ("climate", "coatings", "films", "fit", "grits", "masking", "pulls", "tipover", "transfer",
          "woods")  # fmt: skip
PUBLISHERS = re.compile(
    "USDA Forest Products Laboratory|US EPA|US Consumer Product Safety Commission|ASTM|"
    "Zeitschrift für Meteorologie"
)
YEAR = re.compile(r"\b(19|20)\d\d\b|-\d\d,")
PLACE = re.compile(
    r"\b(Table|eq\.|ch\.|chapter|section|Fig\.|pp\.|subpart|annex|definition)(?=\s|,|$)"
)
SITE = re.compile(r"\b[\w-]+(\.[\w-]+)*\.(com|net|biz|ai|ca|pro|app|au|uk)\b")
READ = re.compile(r"read (2026-11-28|before 2026-11)\b")
PURPOSE = re.compile(r"\b(before|after|until|dwell|within|between|only)\b")
BETWEEN = re.compile(r"between (\d+) and (\d+) (min|h|d)\b")
RANGE = re.compile(r"(?:(\d+) to )?(\d+) (min|h|d|days?)\b")


class Shipped(NamedTuple):
    """One figure as it stands in a file."""

    where: str
    name: str
    value: object
    source: str
    status: str
    said: str


def shipped() -> Iterator[Shipped]:
    for name in TABLES:
        doc = trade.load(name)
        yield from _found(doc, name, doc["sources"])
    yield from _found(trade.load("readiness"), "readiness", {})
    for name, stock in trade.load("stocks").items():
        for key, value in stock.items():
            if isinstance(value, int | float) and not isinstance(value, bool):
                yield Shipped(f"stocks {name}", key, value, stock["source"], stock["status"], "")
    for name, doc in trade.load_paths().items():
        yield from _found(doc, name, {})


def _found(table: Any, where: str, cited: dict[str, str]) -> Iterator[Shipped]:
    if isinstance(table, list):
        for at, inner in enumerate(table):
            label = inner.get("key", at) if isinstance(inner, dict) else at
            yield from _found(inner, f"{where} {label}", cited)
        return
    if not isinstance(table, dict):
        return
    for name, inner in table.items():
        if isinstance(inner, dict) and ("value" in inner or "low" in inner):
            source = inner.get("source", "")
            yield Shipped(where, name, inner.get("value"), cited.get(source, source),
                          inner.get("status", ""), inner.get("said", ""))  # fmt: skip
            if "latest" in inner:
                said = next(part for part in inner["said"].split(";") if "within" in part)
                yield Shipped(where, "latest", inner["latest"], source, inner["status"], said)
        elif name != "sources":
            yield from _found(inner, f"{where} {name}", cited)
    if "lengths_source" in table:
        yield Shipped(where, "lengths", table["lengths"], cited[table["lengths_source"]],
                      table["lengths_status"], "")  # fmt: skip


FIGURES = tuple(shipped())
WAITS = tuple(
    f for f in FIGURES
    if isinstance(f.value, str) and parse_duration(f.value) is not None
)  # fmt: skip
IN_CODE = (
    *(r.source for r in (*HOLDS, *WARNINGS, *RULES)),
    *(p.source for p in PAIRS),
)


def unnamed(source: str, status: str) -> str:
    """What a source of this status fails to name; "" when nothing."""
    if status in (Status.PUBLISHED, Status.READ_IN_A_COPY):
        for what, asked in (("publisher", PUBLISHERS), ("year", YEAR), ("place in it", PLACE)):
            if not asked.search(source):
                return what
    if status == Status.TRADE_PRESS and not SITE.search(source):
        return "site"
    if status == Status.MAKERS_SHEET and not re.search("maker's|supplier's|retailer's", source):
        return "whose sheet"
    parts = source.split(";")
    return "day it was read" if any(SITE.search(p) and not READ.search(p) for p in parts) else ""


def minutes(number: str, unit: str) -> float:
    return float(number) * {"min": 1, "h": 60, "d": 1440}.get(unit, 1440)


def wrong_end(figure: Shipped) -> str:
    """What the rule of the longer and the shorter end has against a figure; "" when nothing."""
    length = parse_duration(str(figure.value)) or timedelta()
    mine, closes = length.total_seconds() / 60, figure.name == "latest"
    said = figure.said.split(";")[0]
    whole = BETWEEN.search(said)
    if whole:
        wanted = minutes(whole[2] if closes else whole[1], whole[3])
        return "" if mine == wanted else f"the window ends at {wanted:g} min"
    ends = [
        minutes(end, m[3]) for m in RANGE.finditer(said) for end in (m[1], m[2]) if end
    ]  # fmt: skip
    if not ends or "because" in said:
        return ""
    if closes:
        return "" if mine <= min(ends) else f"closes after the shorter end, {min(ends):g} min"
    return "" if mine >= max(ends) else f"starts before the longer end, {max(ends):g} min"


def test_there_are_as_many_as_there_should_be():
    assert len(FIGURES) > 300
    assert len(WAITS) > 100
    assert {f.where.split()[0] for f in FIGURES} >= {
        *TABLES,
        "readiness",
        "stocks",
        "paint",
        "stain",
    }


def test_every_figure_has_one_status_of_ours():
    ours = {s.value for s in Status if not s.is_the_users}
    assert [f for f in FIGURES if f.status not in ours or not f.source.strip()] == []


def test_every_source_names_what_its_status_promises():
    assert [(f.where, f.name, w) for f in FIGURES if (w := unnamed(f.source, f.status))] == []
    assert [(s.text, w) for s in IN_CODE if (w := unnamed(s.text, s.status))] == []


@pytest.mark.parametrize(
    ("source", "status", "lacks"),
    [
        ("a handbook, chapter 16", "published", "publisher"),
        ("USDA Forest Products Laboratory, chapter 16", "published, read in a copy", "year"),
        ("USDA Forest Products Laboratory (2010)", "published, read in a copy", "place in it"),
        ("a how-to guide", "trade press", "site"),
        ("some-site.com, 'How to'", "trade press", "day it was read"),
        ("one.com, read 2026-11-28; two.com, 4 h", "trade press", "day it was read"),
        ("a data sheet", "maker's sheet", "whose sheet"),
        ("trade experience", "from memory", ""),
    ],
)
def test_what_a_source_does_not_name_is_noticed(source, status, lacks):
    assert unnamed(source, status) == lacks


def test_what_was_read_of_a_wait_says_what_it_bounds():
    read = {Status.PUBLISHED, Status.READ_IN_A_COPY, Status.MAKERS_SHEET, Status.TRADE_PRESS}
    assert [f for f in WAITS if f.status in read and not PURPOSE.search(f.said)] == []
    assert sum(f.status in read for f in WAITS) > 30


def test_waits_start_at_the_longer_end_and_windows_close_at_the_shorter():
    assert [(f.where, f.name, w) for f in WAITS if (w := wrong_end(f))] == []


def test_the_other_end_is_taken_only_with_a_reason():
    taken = {(f.where.split()[0], f.where.split()[-1], f.name) for f in WAITS
             if "because" in f.said.split(";")[0]}  # fmt: skip
    assert taken == {("stain", "condition_water", "latest")}


@pytest.mark.parametrize(
    ("name", "value", "said", "wrong"),
    [
        ("earliest", "15 min", "15 to 20 min", True),
        ("earliest", "20 min", "15 to 20 min; 30 min on a second page", False),
        ("latest", "30 min", "30 min to 2 h", False),
        ("latest", "2 h", "30 min to 2 h", True),
        ("latest", "3 d", "1 to 3 days", True),
        ("earliest", "5 min", "between 5 and 15 min", False),
        ("latest", "10 min", "between 5 and 15 min", True),
        ("earliest", "5 min", "5 to 15 min, the shorter because the window is short", False),
        ("sand", "24 h", "overnight", False),
    ],
)
def test_the_wrong_end_of_a_range_is_noticed(name, value, said, wrong):
    assert bool(wrong_end(Shipped("x", name, value, "", "", said))) is wrong


def test_what_the_sums_are_reckoned_by_says_its_status():
    """The equations of the sums are figures too: the moisture of wood, its movement, dew, films."""
    words = (wood.EMC_SOURCE, wood.LINEAR_SOURCE, wood.SHRINKAGE_SOURCE, climate.MAGNUS_SOURCE,
             climate.DEFICIT_SOURCE, film.COVERAGE_SOURCE, film.FILM_SOURCE,
             fit.CASE_SOURCE)  # fmt: skip
    for text in words:
        status = text.rpartition("(")[2].rstrip(")")
        assert status in {s.value for s in Status}, text
        assert unnamed(text, status) == "", text


def test_a_source_is_shown_with_its_status_but_for_the_users_own_words():
    assert Source("a page", Status.TRADE_PRESS, "", "2 h").cited == "2 h: a page (trade press)"
    assert Source("your tin card for blue: 1 h", Status.TIN).cited == "your tin card for blue: 1 h"
