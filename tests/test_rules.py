"""Every rule has its row, every row its rule, and the test that a row names is there."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from partsbench.services.known.climate import checks
from tests.support.rule_table import ROWS, rules

ROOT = Path(__file__).parent.parent


def test_every_rule_has_its_row_and_every_row_its_rule() -> None:
    assert sorted(ROWS) == sorted(name for name, _ in rules())


def test_every_rule_has_a_source() -> None:
    assert [name for name, source in rules() if not source.text] == []


@pytest.mark.parametrize("rule", sorted(ROWS))
def test_what_goes_wrong_is_shown_by_a_test_that_speaks_of_it(rule: str) -> None:
    wrong, shown = ROWS[rule]
    file, _, name = shown.partition("::")
    tree = ast.parse((ROOT / file).read_text(encoding="utf-8"))
    assert name in {n.name for n in tree.body if isinstance(n, ast.FunctionDef)}, shown
    assert 3 <= len(wrong.split()) <= 14
    said, _, called = rule.partition(": ")
    if "three_pieces" in file or said != "check":
        golden = ROOT / file.replace("test_", "golden/").replace(".py", ".txt")
        told = golden if golden.is_file() else ROOT / file
        words = checks()[called].split("{")[0] if said == "check" else called
        assert words in told.read_text(encoding="utf-8"), f"{told.name} does not speak of it"
