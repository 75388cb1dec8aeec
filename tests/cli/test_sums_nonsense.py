"""Every sum is given what people and other programs may type: no traceback, no NaN, one line."""

from __future__ import annotations

import json
from collections.abc import Iterator
from random import Random
from typing import Any

import pytest

from partsbench.cli.sum_names import SUMS
from tests.cli.conftest import Call

ODD = (
    "", "  ", "0", "-1", "-0", "1e400", "nan", "inf", "-inf", "∞", "1/0", "0/1", "1/3", "5 7/4",
    "9" * 39, "9" * 400, "0." + "0" * 30 + "1", "0.001", "34 1/2 in", '34-1/2"', "2' 3\"", "５",
    "½", "1½", "12 parsecs", "x" * 300, "1,5", "1.500,5", "1,500", "−3", "10%", "101%", "70F",
    "-500C", "-459.67F", "'; DROP TABLE piece; --", "🪑", "\n", "\t5", "D1", "H1", "C1", "Z9",
    "2026-12-04", "0001-01-01", "9999-12-31", "in 99999 days", "4 mil", "100 um", "10 mm", "5 ft",
    "5 gal", "300 ml", "38 kg", "84 lb", "840 g", "hvlp", "flat", "walnut, black", "oak",
    "20C 50%", "20C", "24C 99%", "paint", "102,90 198,90", "1,2,3", "120 x 40", "8-32",
    "26 clear, 3 colour, 1 water", "1 a, 0.0000001 b", "1000000 ml", "us", "=1+1", "2", "7",
    "14.5", "217", "23", "95", "180", "50",
)  # fmt: skip
SETTINGS = ("units", "air now", "damp month", "rate", "fee", "tool", "cup", "cup step", "bar down")
NEGATIVE = frozenset(
    {"change_mm", "change_in", "net", "per_hour", "dew_point_c", "side_mm", "top_mm", "swell_mm",
     "likely", "bad"}
)  # fmt: skip
"""Figures that may be less than nothing."""

Odd = tuple[list[str], list[str]]


def words_of(tag: str) -> dict[str, Odd]:
    """For each command: its first words (`?` is anything), and options that take anything."""
    parts = "?part"
    return {
        "moisture": (["--temp", "?", "--rh", "?"], []),
        "dew-point": (["--temp", "?", "--rh", "?"], []),
        "movement": (["--species", "?", "--size", "?", "--from", "?", "--to", "?"], ["--cut"]),
        "coverage": (["--solids", "?", "--film", "?"], ["--transfer"]),
        "grit": (["?"], []),
        "offer": (["--price", "?", "--costs", "?", "--hours", "?"], ["--fee"]),
        "ceiling": (
            ["--price", "?", "--hours", "?"],
            ["--costs", "--rate", "--fault", "--more-hours", "--more-costs"],
        ),
        "mix-again": (["?", "?"], []),
        "setting": (["?setting", "?"], []),
        "measure": ([tag, parts, "width", "?"], []),
        "wood": ([tag, "?", parts], ["--cut"]),
        "gap": ([tag, parts], ["--wet", "--solids"]),
        "orphan": ([tag, "?"], ["--width", "--top", "--left", "--depth", "--mark", "--wear"]),
        "swaps": ([tag], []),
        "census": ([tag, parts, "?", "?"], ["--spacing", "--thread", "--screw"]),
        "order": ([tag, "--lead", "5"], ["--needed"]),
        "allot": ([tag], ["--kind", "--price", "--veto"]),
        "holes": ([tag, parts, "?"], []),
        "pulls": ([tag, "?", "--spacing", "?"], ["--plate", "--foot", "--depth", "--price"]),
        "screw": ([tag, parts, "?", "?", "?"], []),
        "drill-sheet": ([tag, parts, "--out", "/no/such/folder/x.pdf"], ["--spacing", "--pull"]),
        "drill-check": (["?", "?"], []),
        "mix": ([tag, "?"], ["--only", "--wet"]),
        "tins": (["?", "?"], ["--price", "--empty"]),
        "use-tin": ([tag, "?", "--left", "?"], ["--before"]),
        "mask-paper": ([tag], []),
        "level": ([tag], ["--rock", "--rock-at"]),
        "symmetry": ([tag], ["--wanted", "--unwanted"]),
        "tip-over": ([tag], ["--mass"]),
        "work": ([tag, "?"], []),
        "hours": ([tag], ["--step", "--minutes", "--day"]),
        "money": ([tag, "offer", "?"], ["--note"]),
        "ledger": ([tag], []),
        "floor-price": ([tag], ["--rate"]),
        "quote": ([], ["--rate"]),
        "care-sheet": ([tag, "--out", "/no/such/folder/x.pdf"], []),
    }


def typed(chance: Random, first: list[str], options: list[str]) -> list[str]:
    """One way of filling the blanks, with some of the options."""
    blanks = {"?": ODD, "?part": ("D1", "H1", "C1", "L1", *ODD[:8]), "?setting": SETTINGS}
    words = [chance.choice(blanks[w]) if w in blanks else w for w in first]
    for option in options:
        if chance.random() < 0.5:
            words += [option, chance.choice(ODD)]
    return words


def figures(data: Any, key: str = "") -> Iterator[tuple[str, float]]:
    """Every number of an answer, with the key it stands under."""
    if isinstance(data, dict):
        for name, value in data.items():
            yield from figures(value, name)
    elif isinstance(data, list):
        for value in data:
            yield from figures(value, key)
    elif isinstance(data, int | float) and not isinstance(data, bool):
        yield key, data


def no_constant(name: str) -> None:
    raise ValueError(f"{name} is no JSON")


def test_no_sum_is_left_out() -> None:
    assert words_of("").keys() == SUMS.keys()


@pytest.mark.parametrize("command", SUMS)
def test_whatever_is_typed_there_is_an_answer_or_one_line(
    call: Call, good: Call, command: str
) -> None:
    tag = good(
        "lay-out", "Heron", "--rows", "2 1", "--pulls", "2", "--legs", "4", "--paint", "drawers"
    ).last
    for size in ("D1 width 398", "H1 width 402", "D1 height 176", "H1 height 180"):
        good("measure", tag, *size.split())
    chance = Random(command)
    for _ in range(25):
        words = [command, *typed(chance, *words_of(tag)[command]), "--json"]
        ran = call(*words)
        assert ran.code in (0, 1, 2), words
        if ran.code == 2:
            assert len(ran.err.strip().splitlines()) == 1, words
            continue
        for key, figure in figures(json.loads(ran.out, parse_constant=no_constant)):
            assert figure >= 0 or key in NEGATIVE, (words, key)
            assert abs(figure) < 1e9, (words, key)
