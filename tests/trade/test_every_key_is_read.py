"""Data without a reader is a lie: every key of the trade's files is asked for by the program."""

from __future__ import annotations

import ast
import itertools
from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

import partsbench
from partsbench import trade
from partsbench.core.finish.answer import minds
from partsbench.core.finish.checks import RIGHT_CUP, checks
from partsbench.core.finish.old_finish import Lead, OldFinish
from partsbench.core.finish.path import parse_paths
from partsbench.core.finish.products import COATS, parse_products
from partsbench.core.finish.progress import progress
from partsbench.core.finish.situation import FaceFacts, Situation
from partsbench.core.finish.steps import Step
from partsbench.core.finish.waits import WaitFigures as Waits
from partsbench.core.piece.front import Front, front_from_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.piece import Piece
from partsbench.paper import sheets
from partsbench.services.acts import teardown
from partsbench.services.known import cautions, climate
from partsbench.services.sums import shipped

NOW = datetime(2026, 11, 28, tzinfo=UTC)
NOTES = {"sources", "source", "status", "said"}
"""Kept beside a figure; `test_figures` holds what stands there."""


class Asked(dict[str, Any]):
    """A table that notes which of its keys were asked for."""

    def __init__(self, table: dict[str, Any]) -> None:
        super().__init__({key: noted(value) for key, value in table.items()})
        self.keys_read: set[str] = set()

    def __getitem__(self, key: str) -> Any:
        self.keys_read.add(key)
        return super().__getitem__(key)

    def get(self, key: str, default: Any = None) -> Any:
        self.keys_read.add(key)
        return super().get(key, default)

    def items(self) -> Any:
        self.keys_read |= set(self)
        return super().items()


def noted(value: Any) -> Any:
    if isinstance(value, dict):
        return Asked(value)
    return [noted(v) for v in value] if isinstance(value, list) else value


def unread(table: Any, where: str) -> Iterator[str]:
    if isinstance(table, list):
        for number, inner in enumerate(table, 1):
            yield from unread(inner, f"{where} {number}")
    if isinstance(table, Asked):
        for key in table:
            inner = dict.__getitem__(table, key)
            if key in NOTES or key.endswith(("_source", "_status")):
                continue
            if key not in table.keys_read:
                yield f"{where}, {key}"
            else:
                yield from unread(inner, f"{where}, {key}")


def sums_of(table: str) -> list[Callable[[], object]]:
    """What the sums read of a table; whatever stands in `shipped` has a use case over it."""
    return {
        "woods": [shipped.woods, shipped.start_moisture, shipped.regions],
        "coatings": [shipped.coatings], "grits": [shipped.papers],
        "fit": [shipped.season_span, shipped.play],
        "films": [shipped.coats], "transfer": [shipped.transfers], "masking": [shipped.laps],
        "pulls": [shipped.spacings, shipped.threads, shipped.engaged_diameters,
                  shipped.old_holes],
        "tipover": [shipped.scope], "climate": [climate.limits],
    }[table]  # fmt: skip


SUMS = ("woods", "fit", "films", "transfer", "masking", "pulls", "tipover", "climate", "coatings",
        "grits")  # fmt: skip


@pytest.mark.parametrize("table", SUMS)
def test_the_sums_read_every_figure(table: str, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = Asked(trade.load(table))
    monkeypatch.setattr(shipped, "_table", lambda _: asked)
    monkeypatch.setattr(trade, "load", lambda _: asked)
    for read in sums_of(table):
        read.__wrapped__()  # type: ignore[attr-defined]
    assert list(unread(asked, table)) == []


def test_paths_and_products_are_read_to_the_last_key() -> None:
    docs = {name: Asked(doc) for name, doc in trade.load_paths().items()}
    parse_paths(docs)
    classes = Asked(trade.load("readiness"))
    parse_products(classes)
    left = [fault for name, doc in docs.items() for fault in unread(doc, name)]
    assert [*left, *unread(classes, "readiness")] == []


def test_every_table_has_a_reader_in_the_program() -> None:
    here = Path(trade.__file__).parent
    tables = {file.stem for file in here.glob("*.toml")}
    words = {
        node.value
        for file in Path(partsbench.__file__).parent.rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        for node in node.args
        if isinstance(node, ast.Constant)
    }
    assert tables - words == set()


def test_every_caution_is_said_at_a_step_or_while_a_piece_comes_apart(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked = Asked(trade.load("cautions"))
    monkeypatch.setattr(cautions, "texts", lambda: asked)
    waits = Waits(products=parse_products(trade.load("readiness")))
    for path in parse_paths(trade.load_paths()).values():
        for step, lead in itertools.product(path.steps, Lead):
            facts = FaceFacts(old=OldFinish(lead))
            said = minds(Situation(progress(path, []), step, NOW, waits, facts))
            assert len(cautions.words(said)) == len(step.cautions), step.key
    front = front_from_rows((1,))
    assert isinstance(front, Front)
    piece = furnish("K7Q4", "Heron", front, legs=4, top=True)
    assert isinstance(piece, Piece)
    for part in piece.present:
        teardown.mind_words(piece, part)
        teardown.mind_words(piece, replace(part, fragile=True))
    assert list(unread(asked, "cautions")) == []


def test_every_check_is_asked_before_some_step() -> None:
    asked = Asked(trade.load("checks"))
    waits = Waits(products=parse_products(trade.load("readiness")), checks=asked)
    for path in parse_paths(trade.load_paths()).values():
        for step in path.steps:
            told = checks(Situation(progress(path, []), step, NOW, waits, sanded=NOW))
            assert len(told) == len({*step.needs} - answered(step)), step.key
    assert list(unread(asked, "checks")) == []


def answered(step: Step) -> set[str]:
    """What is asked of coats only."""
    return set() if step.operation in COATS else {RIGHT_CUP}


def test_every_figure_of_a_label_stock_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = Asked(trade.load("stocks"))
    monkeypatch.setattr(sheets, "load", lambda _: asked)
    found = sheets.stocks.__wrapped__()
    assert list(unread(asked, "stocks")) == []
    assert all(stock.cited.endswith("(common practice)") for stock in found.values())


def test_every_word_of_a_step_is_read_by_the_rules() -> None:
    read = {
        node.attr
        for file in Path(partsbench.__file__).parent.rglob("*.py")
        if file.name not in ("path.py", "steps.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Attribute)
    }
    assert [f.name for f in fields(Step) if f.name not in read] == []
