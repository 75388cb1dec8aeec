from __future__ import annotations

import re

import pytest

from partsbench.core.finish.path import parse_path_text, parse_paths
from partsbench.core.finish.steps import FinishPath, PathKind
from partsbench.core.sources import Status
from partsbench.trade import load, load_paths, path_texts

MINUTES = {f"minutes_per_{per}" for per in ("part", "face", "m2", "batch")}
FIGURES = {"grit", *MINUTES, "earliest", "latest"}
PATHS = sorted(load_paths())


@pytest.fixture(scope="module")
def paths() -> dict[str, FinishPath]:
    return parse_paths(load_paths())


def figures(table: object) -> list[tuple[str, object]]:
    """Every figure anywhere in a table, with its name."""
    found: list[tuple[str, object]] = []
    if isinstance(table, dict):
        for key, value in table.items():
            found += [(key, value)] if key in FIGURES else figures(value)
    elif isinstance(table, list):
        for value in table:
            found += figures(value)
    return found


def sourceless(doc: object) -> list[str]:
    return [
        key
        for key, value in figures(doc)
        if not isinstance(value, dict)
        or not value.get("source", "").strip()
        or value.get("status") not in {s.value for s in Status}
        or value.get("status") in {Status.OWN.value, Status.TIN.value}
    ]


@pytest.mark.parametrize("name", PATHS)
def test_each_shipped_figure_has_a_source_that_is_not_the_users(name):
    doc = load_paths()[name]
    assert len(figures(doc)) > 10
    assert sourceless(doc) == []


def test_a_figure_without_a_source_is_noticed():
    assert sourceless({"step": [{"earliest": "4 h"}]}) == ["earliest"]
    assert sourceless({"step": [{"after": [{"latest": {"value": "4 h"}}]}]}) == ["latest"]


@pytest.mark.parametrize("name", PATHS)
def test_each_path_file_is_whole_and_named_by_its_key(name):
    read = parse_path_text(path_texts()[name])
    assert isinstance(read, FinishPath), read
    assert read.key == name


def test_the_main_paths_and_four_more_are_shipped(paths):
    assert {"paint", "stain", "clear", "dye_stain", "chalk_wax", "shellac_paint"} <= set(paths)
    assert {paths[k].kind for k in ("paint", "stain", "clear")} == set(PathKind) - {
        PathKind.RAW,
        PathKind.LEAVE,
    }


def test_each_caution_and_check_named_by_a_step_has_its_words(paths):
    cautions, checks = load("cautions"), load("checks.toml")
    for path in paths.values():
        for step in path.steps:
            assert set(step.cautions) <= set(cautions), step.key
            assert set(step.needs) <= set(checks), step.key


def test_the_hazards_are_told_at_their_steps(paths):
    for path in paths.values():
        for step in path.steps:
            if step.operation.value in ("stain", "wipe stain"):
                assert "oily_rags" in step.cautions, (path.key, step.key)
            if step.operation.value == "strip":
                assert {"stripper", "fire", "ventilation"} <= set(step.cautions)
            if step.operation.value == "sand":
                assert "dust" in step.cautions, (path.key, step.key)
            if step.operation.value == "wash":
                assert "alkaline_cleaner" in step.cautions


def test_a_caution_is_short():
    for text in load("cautions").values():
        assert len(text) < 260
        assert len(re.findall(r"[.!?](?:\s|$)", text)) <= 3


@pytest.mark.parametrize("name", ["cautions", "checks"])
def test_nothing_is_ever_called_safe(name):
    texts = [*load(name).values(), *path_texts().values()]
    assert not [t for t in texts if re.search(r"\b(un)?safe", t, re.IGNORECASE)]


def test_an_unknown_table_is_told_by_name():
    with pytest.raises(FileNotFoundError):
        load("no_such_table")
