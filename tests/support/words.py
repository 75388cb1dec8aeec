"""What a translator would get, and what he could not translate: read from the source.

`python -m tests.support.words` prints the faults, by kind and place; with `--messages` every
message as it would be handed over: whole, with named parameters (`{part} needs {hours} h`).
"""

from __future__ import annotations

import ast
import re
import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from itertools import pairwise
from pathlib import Path

import partsbench

SOURCE = Path(partsbench.__file__).parent

SQL = re.compile(
    r"\s*\(?(?:SELECT|INSERT|UPDATE|DELETE|CREATE|ALTER|DROP|PRAGMA|WITH|BEGIN|COMMIT|ROLLBACK|FROM"
    r"|WHERE|ORDER|JOIN|LEFT|AND|ON|VALUES|SET|GROUP|UNION|SAVEPOINT|ATTACH|VACUUM|LIMIT|INTEGER"
    r"|TEXT|ANALYZE|UNION|CHECK|REFERENCES)\b"
    r"|.*\b(?:WHERE|FROM|ORDER BY|VALUES|IS NULL|LIMIT \?)|.* = \?",
    re.DOTALL,
)
STYLE = re.compile(
    r"[a-z-]+: ?[^;{}.]*(?:px|#[0-9a-f]{3}|pt|\}|transparent|none|bold|solid)[^;{}]*;"
)
PATTERN = re.compile(r"\(\?|\\[dwsb]|\[\^|\[[a-z]-[a-z]")
NAME = re.compile(r"\S*")
LABEL = re.compile(r"[A-Z][a-z]+[.…?!]?")
LETTERS = re.compile(r"[^\W\d_]{2}")
JOINT = re.compile(r"^[\s,;:.)]|[\s(]$")
ENDING = re.compile(r"^(?:e?s|ed|ly|ing|er|th)(?![\w])")
WORDS_CUT = frozenset({"capitalize", "title", "swapcase", "lower", "casefold", "upper"})
ENDS_CUT = frozenset({"removesuffix", "removeprefix", "rstrip", "partition", "rpartition", "split"})
MARKS = frozenset({".", ". ", ".: ", "…", ": ", ": confirm?", "s", "f"})
"""What is taken off the end of a text that is written already."""
OF_BUGS = frozenset({"AssertionError", "TypeError", "KeyError", "NotImplementedError"})
KEYED = frozenset(
    {"compile", "match", "fullmatch", "sub", "search", "getattr", "setObjectName", "strftime"}
    | {"execute", "executescript", "rows", "row", "scalar", "TypeVar", "setProperty", "property"}
)  # fmt: skip
"""Calls whose texts no person reads: patterns, SQL, names of things of Qt."""


NO_WORDS = frozenset({"paper/pen.py"})
"""Modules whose texts are operators of PDF."""


class Kind(StrEnum):
    """Why a text could not be translated."""

    FRAGMENT = "fragment"  # begins or ends where another text is to be glued on
    PLUS = "plus"  # sentences and words added to one another
    INSIDE = "inside"  # a word of its own, chosen or ended in the middle of a sentence
    JOINED = "joined"  # words between names: ` and `
    CUT = "cut"  # a text changed or read again after it was written
    TWICE = "twice"  # the same sentence in two modules
    DATE = "date"  # a name of a day or month outside the one place of times


@dataclass(frozen=True, slots=True)
class Message:
    """A text that a person can read, with named parameters; where it stands."""

    file: str
    line: int
    text: str


@dataclass(frozen=True, slots=True)
class WordFault:
    """What could not be translated, and where."""

    kind: Kind
    file: str
    line: int
    text: str

    @property
    def place(self) -> str:
        """What stays the same while lines move: `core/naming.py: and {rest} more`."""
        return f"{self.file}: {self.text}"

    def __str__(self) -> str:
        return f"{self.kind:9} {self.file}:{self.line}: {self.text}"


@dataclass(frozen=True, slots=True)
class Module:
    """A module with what stands over each node of it."""

    file: str
    tree: ast.Module
    over: dict[ast.AST, ast.AST]

    def above(self, node: ast.AST) -> Iterator[ast.AST]:
        while node in self.over:
            node = self.over[node]
            yield node


@cache
def modules() -> tuple[Module, ...]:
    """All modules of the program."""
    return tuple(
        parsed(path.read_text(encoding="utf-8"), str(path.relative_to(SOURCE)))
        for path in sorted(SOURCE.rglob("*.py"))
    )


def parsed(source: str, file: str) -> Module:
    tree = ast.parse(source)
    over = {below: node for node in ast.walk(tree) for below in ast.iter_child_nodes(node)}
    return Module(file, tree, over)


def messages(module: Module) -> Iterator[tuple[ast.expr, Message]]:
    """Every text of a module that a person can read, with its node."""
    for node in ast.walk(module.tree) if module.file not in NO_WORDS else ():
        if is_text(node) and not _part_of_another(module, node):
            said = written(node)
            if readable(said) and not hidden(module, node):
                yield node, Message(module.file, node.lineno, said)


def is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.JoinedStr) or (
        isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


def written(node: ast.AST) -> str:
    """A text with names for what is put into it."""
    if isinstance(node, ast.Constant):
        return str(node.value)
    assert isinstance(node, ast.JoinedStr)
    return "".join(
        str(part.value) if isinstance(part, ast.Constant) else f"{{{_parameter(part)}}}"
        for part in node.values
    )


def _parameter(part: ast.AST) -> str:
    """`found.step.name` → `step name`: what a translator is told about what is put in."""
    assert isinstance(part, ast.FormattedValue)
    names = [
        each.attr if isinstance(each, ast.Attribute) else each.id
        for each in ast.walk(part.value)
        if isinstance(each, ast.Attribute | ast.Name)
    ]
    return names[0].strip("_") if names else "value"


def readable(text: str) -> bool:
    """Whether a text holds words for a person: no key, SQL, style, pattern or name of a file."""
    own = re.sub(r"\{[^{}]*\}", "", text)
    if SQL.match(text) or STYLE.search(text) or PATTERN.search(text):
        return False
    if not LETTERS.search(own):
        return False
    if NAME.fullmatch(own.strip()) and own == own.strip():
        return bool(LABEL.fullmatch(text))
    return True


def hidden(module: Module, node: ast.AST) -> bool:
    """Whether no person reads it: a docstring, a key, what is asked of a text, a bug."""
    first = module.over[node]
    if isinstance(first, ast.Expr | ast.Subscript | ast.Compare | ast.MatchValue):
        return True
    if isinstance(first, ast.Dict) and node in first.keys:
        return True
    for over in module.above(node):
        if isinstance(over, ast.Assert | ast.AnnAssign) and not isinstance(over, ast.AnnAssign):
            return True
        if isinstance(over, ast.Call):
            name = called(over)
            if name in KEYED or name in OF_BUGS:
                return True
        if isinstance(over, ast.stmt):
            return False
    return False


def called(call: ast.Call) -> str:
    if isinstance(call.func, ast.Attribute):
        return call.func.attr
    return call.func.id if isinstance(call.func, ast.Name) else ""


def _part_of_another(module: Module, node: ast.AST) -> bool:
    over = module.over.get(node)
    return isinstance(over, ast.JoinedStr) or (
        isinstance(over, ast.FormattedValue) and over.format_spec is node
    )


def faults(module: Module) -> Iterator[WordFault]:
    """What could not be translated in one module, each once."""

    def fault(kind: Kind, node: ast.expr | ast.stmt, text: str) -> WordFault:
        return WordFault(kind, module.file, node.lineno, text)

    for node, message in messages(module):
        if _added(module, node):
            yield fault(Kind.PLUS, node, message.text)
        elif called_join(module.over[node]):
            yield fault(Kind.JOINED, node, message.text)
        elif JOINT.search(message.text) and not _takes_apart(module, node):
            yield fault(Kind.FRAGMENT, node, message.text)
        elif isinstance(node, ast.JoinedStr) and _word_inside(module, node):
            yield fault(Kind.INSIDE, node, message.text)
    for node in ast.walk(module.tree):
        if isinstance(node, ast.FormattedValue) and _names_a_day(node):
            yield fault(Kind.DATE, node, ast.unparse(node))
        elif isinstance(node, ast.Call) and _cuts(module, node):
            yield fault(Kind.CUT, node, ast.unparse(node))


def twice() -> list[WordFault]:
    """Sentences that stand in two modules or more, at the second place and those after it."""
    found: dict[str, list[Message]] = defaultdict(list)
    for module in modules():
        for _, message in messages(module):
            if " " in message.text.strip() and len(message.text) >= 12:
                found[message.text].append(message)
    return [
        WordFault(Kind.TWICE, again.file, again.line, text)
        for text, places in found.items()
        for again in {m.file: m for m in places if m.file != places[0].file}.values()
    ]


def all_faults() -> list[WordFault]:
    return [*(f for module in modules() for f in faults(module)), *twice()]


def _added(module: Module, node: ast.AST) -> bool:
    for over in module.above(node):
        if isinstance(over, ast.BinOp):
            return isinstance(over.op, ast.Add)
        if isinstance(over, ast.AugAssign):
            return isinstance(over.op, ast.Add)
        if not isinstance(over, ast.IfExp):
            return False
    return False


def called_join(over: ast.AST) -> bool:
    """Whether the text above which this stands is the one between others: `" and ".join(…)`."""
    return isinstance(over, ast.Attribute) and over.attr == "join"


def _takes_apart(module: Module, node: ast.AST) -> bool:
    """What is looked for in a text that came in (`split`, `startswith`) is not said."""
    over = module.over[node]
    return isinstance(over, ast.Call) and called(over) in ENDS_CUT | {
        "startswith", "endswith", "replace", "strip", "lstrip", "count", "find",
    }  # fmt: skip


def _word_inside(module: Module, text: ast.JoinedStr) -> bool:
    """A word chosen (`{'s' if n > 1 else ''}`) or ended (`{word}s`) in the middle."""
    ended = any(
        isinstance(before, ast.FormattedValue)
        and isinstance(after, ast.Constant)
        and ENDING.match(str(after.value))
        for before, after in pairwise(text.values)
    )
    return ended or any(
        _chosen(module, each, text)
        for value in text.values
        if isinstance(value, ast.FormattedValue)
        for each in ast.walk(value.value)
        if is_text(each) and re.search(r"[^\W\d_]", written(each))
    )


def _chosen(module: Module, word: ast.AST, text: ast.JoinedStr) -> bool:
    """Whether a word goes into the text as it is: by a choice, an `or`, or a text of its own."""
    for over in module.above(word):
        if over is text:
            return True
        if isinstance(over, ast.Call | ast.Subscript | ast.Compare | ast.JoinedStr):
            return False
    return False


def _names_a_day(value: ast.FormattedValue) -> bool:
    spec = value.format_spec
    return isinstance(spec, ast.JoinedStr) and bool(re.search(r"%[aAbBp]", written(spec)))


def _cuts(module: Module, call: ast.Call) -> bool:
    """Whether a text that was written for a person is changed or taken apart."""
    if not isinstance(call.func, ast.Attribute):
        return False
    name, of = call.func.attr, call.func.value
    if name in {"capitalize", "swapcase"}:
        return True
    if name == "title" and not call.args and isinstance(of, ast.Attribute | ast.Call):
        return isinstance(of, ast.Call)
    if name in {"lower", "casefold", "upper"}:
        return any(isinstance(o, ast.JoinedStr) for o in module.above(call)) or _first_letter(of)
    if name in {"rstrip", "removesuffix", "removeprefix"} and call.args:
        return isinstance(call.args[0], ast.Constant) and call.args[0].value in MARKS
    return False


def _first_letter(of: ast.expr) -> bool:
    """`text[:1].upper()`."""
    return isinstance(of, ast.Subscript) and ast.unparse(of.slice) in {":1", "0"}


def main(words: Sequence[str]) -> int:
    if "--messages" in words:
        for module in modules():
            for _, message in messages(module):
                print(f"{message.file}:{message.line}: {message.text}")
        return 0
    found = all_faults()
    for each in found:
        print(each)
    print(sum(1 for m in modules() for _ in messages(m)), "messages")
    for kind in Kind:
        print(f"{kind}: {sum(f.kind is kind for f in found)}")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
