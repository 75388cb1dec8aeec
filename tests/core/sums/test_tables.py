from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from math import nan
from typing import Any

import pytest

from partsbench import trade
from partsbench.core.outcomes import Refused
from partsbench.core.sources import Status
from partsbench.core.sums import tables
from partsbench.core.sums.climate import Limits
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.film import Coating, Transfer
from partsbench.core.sums.fit import Play
from partsbench.core.sums.papers import Grit
from partsbench.core.sums.wood import Wood
from tests.core.sums.answers import answered, refused

SHIPPED: list[tuple[Callable[[Any], object], str]] = [
    (tables.woods, "woods"),
    (tables.regions, "woods"),
    (tables.coatings, "coatings"),
    (tables.transfers, "transfer"),
    (tables.grits, "grits"),
    (tables.spacings, "pulls"),
    (tables.threads, "pulls"),
    (tables.tipover_scope, "tipover"),
    (tables.climate_limits, "climate"),
    (tables.play, "fit"),
    (tables.laps, "masking"),
]
SINGLE = [
    ("woods", "start", "moisture"),
    ("pulls", "rules", "engaged_diameters"),
    ("pulls", "rules", "drift_most"),
]


def origins(entry: object) -> Iterator[tuple[object, object]]:
    """Source and status of every figure, wherever it stands."""
    if isinstance(entry, dict):
        if "value" in entry or "low" in entry:
            yield entry.get("source"), entry.get("status")
        for inner in entry.values():
            yield from origins(inner)
    elif isinstance(entry, list):
        for inner in entry:
            yield from origins(inner)


@pytest.mark.parametrize(("parse", "name"), SHIPPED)
def test_what_is_shipped_is_read(parse: Callable[[Any], object], name: str) -> None:
    found = parse(trade.load(name))
    assert not isinstance(found, Refused), found.sentence
    assert found


@pytest.mark.parametrize(("name", "table", "key"), SINGLE)
def test_single_figures(name: str, table: str, key: str) -> None:
    assert answered(Figure, tables.figure(trade.load(name), table, key)).source


@pytest.mark.parametrize("name", sorted({name for _, name in SHIPPED}))
def test_every_figure_has_a_source_that_is_used_and_a_status(name: str) -> None:
    data = trade.load(name)
    used = {source for source, _ in origins(data)}
    listed = {row.get("lengths_source") for row in data.get("thread", [])} - {None}
    assert used | listed == set(data["sources"])
    assert {status for _, status in origins(data)} <= set(Status)
    assert all(len(text) > 10 for text in data["sources"].values())


def test_some_values_as_printed() -> None:
    woods: dict[str, Wood] = answered(dict, tables.woods(trade.load("woods")))
    assert woods["walnut-black"].tangential.value == 0.00274
    assert woods["teak"].moves_below.value == 22
    tools: dict[str, Transfer] = answered(dict, tables.transfers(trade.load("transfer")))
    assert tools["hvlp"].share.value == 65
    assert tools["hvlp"].share.status is Status.FROM_MEMORY
    coats: dict[str, Coating] = answered(dict, tables.coatings(trade.load("coatings")))
    assert coats["varnish-alkyd"].solids_low is None
    limits = answered(Limits, tables.climate_limits(trade.load("climate")))
    assert limits.over_dew_point_c.value == 3
    assert answered(Play, tables.play(trade.load("fit"))).side.value == 0.8


@pytest.mark.parametrize("system", ["P", "CAMI"])
def test_grains_fall_as_numbers_rise(system: str) -> None:
    grits: dict[tuple[str, int], Grit] = answered(dict, tables.grits(trade.load("grits")))
    grains = [grits[key].micron.value for key in sorted(grits) if key[0] == system]
    assert grains == sorted(set(grains), reverse=True)


def test_the_two_grit_systems_agree_to_220_and_part_above() -> None:
    grits: dict[tuple[str, int], Grit] = answered(dict, tables.grits(trade.load("grits")))
    assert grits["P", 220].micron.value == grits["CAMI", 220].micron.value
    assert grits["P", 400].micron.value == pytest.approx(grits["CAMI", 320].micron.value)
    assert grits["P", 400].micron.value > 1.5 * grits["CAMI", 400].micron.value


WOOD = (
    {"key": "k", "name": "n"}
    | {
        part: {"value": 0.002, "source": "s", "status": "published"}
        for part in ("radial", "tangential")
    }
    | {"moves_below": {"value": 30, "source": "s", "status": "published"}}
)
GOOD: dict[str, Any] = {"sources": {"s": "a handbook"}, "wood": [WOOD]}


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        (["sources"], None, "sources: is missing."),
        (["sources"], 3, "sources: is no table."),
        (["sources", "s"], "", "sources.s: is no text."),
        (["wood"], None, "wood: has no entries."),
        (["wood"], [], "wood: has no entries."),
        (["wood", 0], 7, "wood 1: is no table."),
        (["wood", 0, "name"], None, "wood k.name: is missing."),
        (["wood", 0, "radial"], None, "wood k.radial: is missing."),
        (["wood", 0, "radial"], 0.002, "wood k.radial: needs value, source and status."),
        (["wood", 0, "radial", "value"], None, "wood k.radial.value: is missing."),
        (["wood", 0, "radial", "value"], "x", "wood k.radial.value: 'x' is no finite number."),
        (["wood", 0, "radial", "value"], nan, "wood k.radial.value: nan is no finite number."),
        (
            ["wood", 0, "radial", "value"],
            -0.002,
            "wood k.radial.value: -0.002 is not over 0 and up to 0.01.",
        ),
        (
            ["wood", 0, "radial", "value"],
            0.2,
            "wood k.radial.value: 0.2 is not over 0 and up to 0.01.",
        ),
        (
            ["wood", 0, "radial", "source"],
            "q",
            "wood k.radial.source: 'q' is not among the sources.",
        ),
        (["wood", 0, "radial", "status"], None, "wood k.radial.status: is missing."),
    ],
)
def test_bad_data_is_refused_by_key_and_reason(path: list[Any], value: Any, said: str) -> None:
    data = copy.deepcopy(GOOD)
    at: Any = data
    for step in path[:-1]:
        at = at[step]
    if value is None:
        del at[path[-1]]
    else:
        at[path[-1]] = value
    assert refused(tables.woods(data)) == said


def test_a_status_of_ones_own_and_a_key_twice() -> None:
    data = copy.deepcopy(GOOD)
    data["wood"][0]["radial"]["status"] = "certain"
    assert "'certain' is none of published, published, read in a copy" in refused(
        tables.woods(data)
    )
    assert refused(tables.woods({**GOOD, "wood": [WOOD, WOOD]})) == "wood k: stands there twice."


def test_other_kinds_of_bad_data() -> None:
    coat = copy.deepcopy(trade.load("coatings"))
    coat["coating"][0]["solids"]["low"] = 90
    assert "low 90 is over high 45" in refused(tables.coatings(coat))
    for left_out in ("wet", "dry"):  # of a class without solids
        coat = copy.deepcopy(trade.load("coatings"))
        (bare,) = [row for row in coat["coating"] if "solids" not in row]
        del bare[left_out]
        assert "wet and dry film are not both given" in refused(tables.coatings(coat))
    screws = copy.deepcopy(trade.load("pulls"))
    screws["thread"][0]["lengths"] = []
    assert refused(tables.threads(screws)) == "thread 8-32.lengths: is no list of lengths."
    screws["thread"][0]["lengths"] = [25, "long"]
    assert "thread 8-32.lengths 2.mm: 'long' is no finite number" in refused(tables.threads(screws))
    paper = copy.deepcopy(trade.load("masking"))
    paper["rules"]["lap"]["value"] = -1
    assert "rules.lap.value" in refused(tables.laps(paper))
    paper["rules"]["lap"]["value"] = 0
    assert not isinstance(tables.laps(paper), Refused)


def test_a_range_has_both_its_ends() -> None:
    films = {"sources": {"label": "labels"}, "stain": {"wet": {"value": 1}}}
    end = {"low": 12, "high": 15, "source": "label", "status": "from memory"}
    assert refused(tables.span(films, "stain", "spread")) == "stain.spread: is missing."
    assert refused(tables.span(films, "dye", "spread")) == "dye: is missing."
    found = tables.span({**films, "stain": {"spread": end}}, "stain", "spread")
    assert [figure.value for figure in answered(tuple, found)] == [12, 15]


LIMITS: list[tuple[Callable[[Any], object], str, tuple[str | int, ...], float, float]] = [
    (tables.woods, "woods", ("wood", 0, "radial", "value"), 0, 0.01),
    (tables.woods, "woods", ("wood", 0, "tangential", "value"), 0, 0.01),
    (tables.woods, "woods", ("wood", 0, "moves_below", "value"), 10, 40),
    (tables.woods, "woods", ("wood", 0, "shrinkage_radial", "value"), 0, 30),
    (tables.woods, "woods", ("wood", 0, "shrinkage_tangential", "value"), 0, 30),
    (tables.woods, "woods", ("board", 0, "moves", "value"), 0, 0.01),
    (tables.regions, "woods", ("region", 0, "moisture", "value"), 0, 30),
    (tables.coatings, "coatings", ("coating", 0, "solids", "high"), 0, 100),
    (tables.coatings, "coatings", ("coating", 0, "dry", "value"), 0, 2000),
    (tables.transfers, "transfer", ("tool", 0, "share", "value"), 0, 100),
    (tables.grits, "grits", ("grit", 0, "number"), 1, 10_000),
    (tables.grits, "grits", ("grit", 0, "micron", "value"), 0, 3000),
    (tables.spacings, "pulls", ("spacing", 0, "mm", "value"), 0, 1000),
    (tables.threads, "pulls", ("thread", 0, "lengths", 0), 0, 500),
    (tables.threads, "pulls", ("thread", 0, "diameter", "value"), 0, 20),
    (tables.tipover_scope, "tipover", ("scope", "height_mm", "value"), 0, 5000),
    (tables.tipover_scope, "tipover", ("scope", "mass_kg", "value"), 0, 1000),
    (tables.tipover_scope, "tipover", ("scope", "volume_dm3", "value"), 0, 10_000),
    (tables.tipover_scope, "tipover", ("scope", "shelf_share", "value"), 0, 1),
    (tables.tipover_scope, "tipover", ("scope", "drawer_inset_mm", "value"), 0, 100),
    (tables.climate_limits, "climate", ("limits", "over_dew_point_c", "value"), 0, 30),
    (tables.climate_limits, "climate", ("limits", "humidity_most", "value"), 0, 100),
    (tables.climate_limits, "climate", ("limits", "water_borne_least_c", "value"), -30, 50),
    (tables.climate_limits, "climate", ("limits", "oil_least_c", "value"), -30, 50),
    (tables.climate_limits, "climate", ("label", "temperature_c", "value"), -30, 60),
    (tables.climate_limits, "climate", ("label", "humidity", "value"), 0, 100),
    (tables.play, "fit", ("play", "side", "value"), 0, 20),
    (tables.play, "fit", ("play", "top", "value"), 0, 20),
    (tables.laps, "masking", ("rules", "lap", "value"), 0, 500),
    (tables.laps, "masking", ("rules", "turn_in", "value"), 0, 500),
]
MAY_BE_NOTHING = {"drawer_inset_mm", "lap", "turn_in"}


def with_value(name: str, at: tuple[str | int, ...], value: float) -> object:
    """A shipped table with another value in one place; of a range the low end is made to fit."""
    data = copy.deepcopy(dict(trade.load(name)))
    inner: Any = data
    for step in at[:-1]:
        inner = inner[step]
    inner[at[-1]] = value
    if at[-1] == "high":
        inner["low"] = min(inner["low"], value)
    return data


@pytest.mark.parametrize(("parse", "name", "at", "above", "most"), LIMITS)
def test_a_figure_is_read_up_to_its_limit_and_over_the_other_one(
    parse: Callable[[Any], object], name: str, at: tuple[str | int, ...], above: float, most: float
) -> None:
    hair = 1e-6 * max(most, 1.0)
    least = above + min(0.5, (most - above) / 2)
    for value, read in ((least, True), (most, True), (most + hair, False), (above - hair, False)):
        assert isinstance(parse(with_value(name, at, value)), Refused) is not read, value
    nothing = bool(MAY_BE_NOTHING & set(at))
    assert isinstance(parse(with_value(name, at, above)), Refused) is not nothing


@pytest.mark.parametrize(("low", "high", "read"), [(5, 5, True), (5, 6, True), (6, 5, False)])
def test_a_range_may_be_one_figure_and_does_not_run_backwards(
    low: float, high: float, read: bool
) -> None:
    entry = {"low": low, "high": high, "source": "here", "status": "own"}
    data = {"sources": {"here": "a source of our own"}, "rules": {"band": entry}}
    found = tables.span(data, "rules", "band")
    assert isinstance(found, Refused) is not read
    if not isinstance(found, Refused):
        assert [figure.value for figure in found] == [low, high]


@pytest.mark.parametrize(
    ("value", "read"), [(0, False), (0.5, True), (1e6, True), (1e6 + 1, False)]
)
def test_a_single_figure_is_over_nothing_and_up_to_a_million(value: float, read: bool) -> None:
    entry = {"value": value, "source": "here", "status": "own"}
    data = {"sources": {"here": "a source of our own"}, "rules": {"one": entry}}
    assert isinstance(tables.figure(data, "rules", "one"), Figure) is read
