"""One word, one meaning: no public class or type of the package has the name of another."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

PACKAGE = Path(__file__).parent.parent / "partsbench"


def used_twice(package: Path) -> dict[str, list[str]]:
    """Each public name of a class or type that stands more than once under a folder, with files."""
    where: dict[str, list[str]] = defaultdict(list)
    for file in sorted(package.rglob("*.py")):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        names = [n.name for n in ast.walk(tree) if isinstance(n, ast.ClassDef)]
        for name in names + [name for node in tree.body for name in types_in(node)]:
            if not name.startswith("_"):
                where[name].append(file.relative_to(package).as_posix())
    return {name: files for name, files in where.items() if len(files) > 1}


def types_in(node: ast.stmt) -> list[str]:
    """The name that a line of a module gives to a type: `Rows = Sequence[Row]`."""
    if not isinstance(node, ast.Assign) or not isinstance(node.targets[0], ast.Name):
        return []
    name, value = node.targets[0].id, node.value
    # A type variable is made by a call, and a constant is written in capitals.
    is_type = isinstance(value, ast.Subscript | ast.BinOp | ast.Name | ast.Attribute)
    return [name] if is_type and name[0].isupper() and name != name.upper() else []


def test_no_public_class_name_is_used_twice() -> None:
    assert used_twice(PACKAGE) == {}


def test_a_name_used_twice_is_found_with_its_files(tmp_path: Path) -> None:
    (tmp_path / "a.py").write_text(
        "class Cup: ...\nclass _Row: ...\nclass Tin: ...\nRack = list[Cup]\n"
    )
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "c.py").write_text("class Cup:\n    class Lid: ...\nclass _Row: ...\n")
    (tmp_path / "d.py").write_text("class Rack: ...\nT = TypeVar('T')\nMOST = _ROWS[0]\n")
    (tmp_path / "e.py").write_text("T = TypeVar('T')\nMOST = _ROWS[1]\n")
    assert used_twice(tmp_path) == {"Cup": ["a.py", "b/c.py"], "Rack": ["a.py", "d.py"]}
