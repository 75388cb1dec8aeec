"""Imports run one way: no two modules need one another, not even for their types."""

from __future__ import annotations

import ast
from collections.abc import Collection
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1] / "partsbench"


def test_no_module_comes_back_to_itself_by_its_imports() -> None:
    names = {_name(file): file for file in ROOT.rglob("*.py")}
    needs = {name: _needed(file, names.keys()) - {name} for name, file in names.items()}
    assert len(needs) > 200
    while True:
        # What needs nothing that is left, or is needed by nothing left, is no part of a circle.
        wanted = set().union(*needs.values())
        free = {name for name in needs if not needs[name] & needs.keys() or name not in wanted}
        if not free:
            break
        needs = {name: needed for name, needed in needs.items() if name not in free}
    left = {name: sorted(needed & needs.keys()) for name, needed in needs.items()}
    assert left == {}


def _name(file: Path) -> str:
    parts = ("partsbench", *file.relative_to(ROOT).with_suffix("").parts)
    return ".".join(parts).removesuffix(".__init__")


def _needed(file: Path, names: Collection[str]) -> set[str]:
    """All modules of ours that a file imports anywhere in it."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            inner = {f"{node.module}.{alias.name}" for alias in node.names}
            found |= {name for name in inner if name in names} or {node.module}
    return {name for name in found if name in names}
