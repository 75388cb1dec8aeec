"""Which small changes of a core module no test sees: python -m tests.bench.mutants finish/holds

Without a module, `--most` changes are drawn from all of core/, each as likely as any other.

Signs, comparisons, and/or, min/max, conditions and numbers are changed one at a time in a copy of
the tree. A change is first shown to the tests that name the module, then (`--wide`) to more.
"""

from __future__ import annotations

import argparse
import ast
import importlib
import os
import random
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
NAMED_IN = ("tests/core", "tests/outside")
HEAVY = ("hypothesis", "PySide6.QtWidgets", "PySide6.QtTest", "tomllib")
OPTIONS = ["-x", "-n", "0", "-q", "-p", "no:cacheprovider"]
OPTIONS += ["-W", "ignore::pytest.PytestAssertRewriteWarning"]
# A failure is enough: nobody reads the smallest example.
UNSHRUNK = """
from hypothesis import Phase
settings.register_profile(
    "mutants", derandomize=True, deadline=None, database=None,
    phases=(Phase.explicit, Phase.generate),
)
settings.load_profile("mutants")
"""
OTHERS: dict[type[ast.AST], tuple[type[ast.AST], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,),
    ast.Mult: (ast.Div,),
    ast.Div: (ast.Mult,),
    ast.FloorDiv: (ast.Div,),
    ast.Mod: (ast.Mult,),
    ast.And: (ast.Or,),
    ast.Or: (ast.And,),
    ast.USub: (ast.UAdd,),
}
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any", "ceil": "floor", "floor": "ceil"}


@dataclass(frozen=True)
class Change:
    """One changed module: the line, the statement before and after, and the whole text."""

    line: int
    before: str
    after: str
    text: str


def changes(source: str) -> Iterator[Change]:
    """Every change of one place, in the order of the lines."""
    tree = ast.parse(source)
    for statement in _statements(tree):
        for node in _own(statement):
            for put, old, new in _edits(node):
                before = _head(statement)
                put(new)
                after, text = _head(statement), ast.unparse(tree)
                put(old)
                if after != before:
                    yield Change(getattr(node, "lineno", statement.lineno), before, after, text)


def _statements(tree: ast.Module) -> Iterator[ast.stmt]:
    found = [n for n in ast.walk(tree) if isinstance(n, ast.stmt)]
    yield from sorted(found, key=lambda n: (n.lineno, n.col_offset))


def _own(statement: ast.stmt) -> Iterator[ast.AST]:
    """A statement's own expressions, without the statements in it, decorators and annotations."""
    yield statement
    left = [
        child
        for field, value in ast.iter_fields(statement)
        if field not in ("decorator_list", "annotation", "returns", "body", "orelse", "handlers")
        for child in (value if isinstance(value, list) else [value])
        if isinstance(child, ast.AST) and not isinstance(child, ast.stmt)
    ]
    while left:
        node = left.pop(0)
        if isinstance(node, ast.arg):
            continue
        yield node
        left[:0] = list(ast.iter_child_nodes(node))


def _edits(node: ast.AST) -> Iterator[tuple[Callable[[Any], None], Any, Any]]:
    """How a node can be changed: what puts a value in, the old value, and a new one."""
    if isinstance(node, ast.Compare):
        for place, op in enumerate(node.ops):
            for other in OTHERS[type(op)]:
                yield (lambda v, p=place: node.ops.__setitem__(p, v)), op, other()
    elif isinstance(node, ast.BinOp | ast.BoolOp | ast.UnaryOp | ast.AugAssign):
        for other in OTHERS.get(type(node.op), ()):
            yield _setter(node, "op"), node.op, other()
    elif isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        yield _setter(node, "value"), node.value, _other_number(node.value)
    elif isinstance(node, ast.Name) and node.id in NAMES:
        yield _setter(node, "id"), node.id, NAMES[node.id]
    for field in ("test", "operand") if not isinstance(node, ast.Assert) else ():
        test = getattr(node, field, None)
        negates = field == "test" or isinstance(getattr(node, "op", None), ast.Not)
        if test is not None and negates and not isinstance(test, ast.Compare | ast.BoolOp):
            yield _setter(node, field), test, ast.UnaryOp(ast.Not(), test)
    if isinstance(node, ast.comprehension):
        for place, test in enumerate(node.ifs):
            if not isinstance(test, ast.Compare | ast.BoolOp):
                put = lambda v, p=place: node.ifs.__setitem__(p, v)  # noqa: E731
                yield put, test, ast.UnaryOp(ast.Not(), test)


def _setter(node: ast.AST, field: str) -> Callable[[Any], None]:
    return lambda value: setattr(node, field, value)


def _other_number(value: float) -> float:
    if isinstance(value, bool):
        return not value
    if isinstance(value, int) or value == 0:
        return value + 1
    return value * 1.02


def _head(statement: ast.stmt) -> str:
    """A statement without the block under it."""
    text = ast.unparse(statement)
    if not hasattr(statement, "body"):
        return text
    under = getattr(statement, "decorator_list", [])
    return text.splitlines()[len(under)]


def _in_short(change: Change, around: int = 40) -> str:
    """What differs, with a few words before and after it."""
    old, new = change.before, change.after
    begin = _shared(old, new)
    same = _shared(old[begin:][::-1], new[begin:][::-1])
    start, end = max(0, begin - around), len(old) - same
    shown = f"{old[start:begin]}[{old[begin:end]} -> {new[begin : len(new) - same]}]"
    return " ".join(f"{shown}{old[end : end + around]}".split())


def _shared(one: str, other: str) -> int:
    """How many letters two texts begin with alike."""
    pairs = enumerate(zip(one, other, strict=False))
    return next((at for at, (a, b) in pairs if a != b), min(len(one), len(other)))


class Copy:
    """The tree in a folder of its own, where one module may be broken."""

    def __init__(self, folder: Path, module: str) -> None:
        self.root = folder / "tree"
        skip = shutil.ignore_patterns(".git", ".venv", "__pycache__", ".*_cache", ".hypothesis")
        shutil.copytree(ROOT, self.root, ignore=skip)
        with (self.root / "tests/conftest.py").open("a") as conftest:
            conftest.write(UNSHRUNK)
        self.path = self.root / "partsbench/core" / f"{module}.py"
        self.source = self.path.read_text()
        self.module = module

    def tests(self) -> list[str]:
        """Tests that name the module; its own first."""
        room, _, name = self.module.rpartition("/")
        dotted = f"partsbench.core.{room.replace('/', '.')}".rstrip(".")
        own = self.root / "tests/core" / room / f"test_{name}.py"
        found = [
            path
            for folder in NAMED_IN
            for path in sorted((self.root / folder).rglob("test_*.py"))
            if path != own and _names(path.read_text(), dotted, name)
        ]
        return [str(p.relative_to(self.root)) for p in ([own] if own.exists() else []) + found]

    def passes(self, tests: Sequence[str], text: str, most: float) -> bool:
        """Whether the tests pass on this text of the module; too slow is a failure."""
        self.path.write_text(text)
        for stale in self.path.parent.glob(f"__pycache__/{self.path.stem}.*"):
            stale.unlink()
        try:
            return _run(self.root, tests, most, keep=text == self.source)
        finally:
            self.path.write_text(self.source)


def _names(text: str, dotted: str, name: str) -> bool:
    if f"{dotted}.{name} import" in text:
        return True
    lines = [line for line in text.splitlines() if line.startswith(f"from {dotted} import")]
    return any(name in line.partition("import")[2].replace(",", " ").split() for line in lines)


def _run(root: Path, tests: Sequence[str], most: float, keep: bool) -> bool:
    """Run tests in a forked child, which has the plugins loaded already."""
    child = os.fork()
    if not child:
        _be_the_child(root, tests, keep)
    until = time.monotonic() + most
    while True:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            return os.waitstatus_to_exitcode(status) == 0
        if time.monotonic() > until:
            os.killpg(child, signal.SIGKILL)
            os.waitpid(child, 0)
            return False
        time.sleep(0.01)


def _be_the_child(root: Path, tests: Sequence[str], keep: bool) -> None:
    code = 3
    try:
        os.setsid()
        os.chdir(root)
        os.environ["PYTHONPATH"] = str(root)
        sys.path[:] = [str(root), *(p for p in sys.path if p not in ("", str(ROOT)))]
        for loaded in [m for m in sys.modules if m.split(".")[0] in ("tests", "partsbench")]:
            del sys.modules[loaded]
        # Bytecode is told by its second and size: a change could be taken for the one before.
        sys.dont_write_bytecode = not keep
        quiet = os.open(root / "said.txt", os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        code = int(pytest.main([*tests, *OPTIONS]))
    except BaseException:
        traceback.print_exc()
    finally:
        os._exit(code)


def drawn(most: int, seed: int) -> dict[str, list[int]]:
    """So many changes of all of core: module → which of its changes, by their place in order."""
    core = ROOT / "partsbench/core"
    every = [
        (str(path.relative_to(core).with_suffix("")), place)
        for path in sorted(core.rglob("*.py"))
        for place, _ in enumerate(changes(path.read_text()))
    ]
    found: dict[str, list[int]] = {}
    for module, place in sorted(random.Random(seed).sample(every, most)):
        found.setdefault(module, []).append(place)
    return found


def look(
    module: str, asked: argparse.Namespace, only: Sequence[int] | None = None
) -> tuple[int, int]:
    """Try the changes of one module and print those that no test saw: tried, survived."""
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
        copy = Copy(Path(folder), module)
        near = copy.tests() or list(NAMED_IN)
        made = list(changes(copy.source))
        if only is not None:
            made = [made[place] for place in only]
        if asked.lines:
            made = [c for c in made if c.line in asked.lines]
        if len(made) > asked.most:
            chosen = random.Random(asked.seed).sample(range(len(made)), asked.most)
            made = [made[i] for i in sorted(chosen)]
        rounds = []
        for tests in (near, asked.wide):
            begun = time.monotonic()
            if tests and not copy.passes(tests, copy.source, 600):
                sys.exit(f"{' '.join(tests)}: fails before anything is changed")
            rounds.append((tests, 20 + 4 * (time.monotonic() - begun)))
        left = 0
        for change in made:
            if all(copy.passes(tests, change.text, most) for tests, most in rounds if tests):
                left += 1
                print(f"{module}:{change.line}  {_in_short(change)}", flush=True)
    print(f"{module}: {len(made)} changes, {len(made) - left} seen, {left} not seen", flush=True)
    return len(made), left


def main() -> None:
    """Print what was not seen; nothing is judged here."""
    say = argparse.ArgumentParser(description=__doc__)
    say.add_argument("modules", nargs="*", help="such as finish/holds, below partsbench/core")
    say.add_argument("--most", type=int, default=400, help="changes of a module, drawn by the seed")
    say.add_argument("--seed", type=int, default=7)
    say.add_argument("--lines", type=int, nargs="*", help="only these lines")
    say.add_argument("--wide", nargs="*", default=[], help="more tests, for what is left")
    asked = say.parse_args()
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    for plugin in HEAVY:
        importlib.import_module(plugin)
    if asked.modules:
        counts = [look(module, asked) for module in asked.modules]
    else:
        counts = [look(m, asked, only) for m, only in drawn(asked.most, asked.seed).items()]
    print(f"in all {sum(t for t, _ in counts)} changes, {sum(s for _, s in counts)} not seen")


if __name__ == "__main__":
    main()
