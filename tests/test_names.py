"""One word, one meaning: no public class of the package has the name of another."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

PACKAGE = Path(__file__).parent.parent / "partsbench"


def used_twice(package: Path) -> dict[str, list[str]]:
    """Each public class name that stands more than once under a folder, with its files."""
    where: dict[str, list[str]] = defaultdict(list)
    for file in sorted(package.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                where[node.name].append(file.relative_to(package).as_posix())
    return {name: files for name, files in where.items() if len(files) > 1}


def test_no_public_class_name_is_used_twice() -> None:
    assert used_twice(PACKAGE) == {}


def test_a_name_used_twice_is_found_with_its_files(tmp_path: Path) -> None:
    (tmp_path / "a.py").write_text("class Cup: ...\nclass _Row: ...\nclass Tin: ...\n")
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "c.py").write_text("class Cup:\n    class Lid: ...\nclass _Row: ...\n")
    assert used_twice(tmp_path) == {"Cup": ["a.py", "b/c.py"]}
