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
    r"[a-z-]+: ?[^;{}.\n]*(?:px|#[0-9a-f]{3}|pt|\}|transparent|none|bold|solid)[^;{}]*;"
)
PATTERN = re.compile(r"0123456789|\(\?|\\[dwsb]|\[\^|\[[a-z]-[a-z]")
NAME = re.compile(r"\S*")
LABEL = re.compile(r"&?[A-Z][a-z&-]+[.…?!]?")
LETTERS = re.compile(r"[^\W\d_]{2}")
JOINT = re.compile(r"^(?: (?! )|[,;:.)])|(?<![ \n])[ (]$")
"""Where a text begins or ends so that another one is to stand there; two blanks are layout."""
FALLS_INTO = re.compile(r"\}\{")
ENDING = re.compile(r"^(?:e?s|ed|ly|ing|er|th)(?![\w])")
LOOKS_FOR = frozenset(
    {"startswith", "endswith", "replace", "strip", "lstrip", "rstrip", "count", "find", "split"}
    | {"removesuffix", "removeprefix", "partition", "rpartition", "splitlines", "index"}
)
"""Calls that take a text apart: what is given to them is looked for, not said."""
BEHIND = frozenset({"setSuffix", "setPrefix"})
"""Qt puts such a text beside a number by itself."""
CASED = frozenset({"lower", "upper", "casefold", "capitalize", "swapcase", "title"})
SAID = frozenset(
    {"sentence", "because", "caution", "say", "title", "name", "words", "told", "face"}
)
"""Names of what was written for a person."""
WHOLE_SAID = frozenset({"sentence", "because", "caution"})
PATTERNED = frozenset({"sub", "search", "match", "fullmatch", "findall", "finditer"})
MARKS = frozenset({".", ". ", ".: ", "…", ": ", "?", "s"})
"""What is taken off the end of a text that is written already."""
AT_HOME = {"core/shown_times.py": "date", "core/wording.py": "cut"}
"""The one place of a language's rule, where its fault is none."""
OF_BUGS = frozenset({"AssertionError", "TypeError", "KeyError", "NotImplementedError"})
KEYED = frozenset(
    {"compile", "match", "fullmatch", "sub", "search", "getattr", "setObjectName", "strftime"}
    | {"execute", "executescript", "rows", "row", "scalar", "TypeVar", "setProperty", "property"}
    | {"setStyleSheet"}
)  # fmt: skip
"""Calls whose texts no person reads: patterns, SQL, names of things of Qt."""


WORD_TABLES = frozenset({"core/key_words.py"})
"""Modules whose tables give the word for a key: there each value is a message of its own."""
NO_WORDS = frozenset({"paper/pen.py", "ui/theme.py"})
"""Modules whose texts are operators of PDF, or names of fonts."""


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


@dataclass(frozen=True, eq=False)
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


@cache
def messages(module: Module) -> tuple[tuple[ast.expr, Message], ...]:
    """Every text of a module that a person can read, with its node."""
    return tuple(_messages(module)) if module.file not in NO_WORDS else ()


def _messages(module: Module) -> Iterator[tuple[ast.expr, Message]]:
    for node in ast.walk(module.tree):
        if is_text(node) and not _part_of_another(module, node):
            said = written(node)
            shown = readable(said) and (_is_help(module, node) or not hidden(module, node))
            if shown or (LETTERS.search(said) and is_table_word(module, node)):
                assert isinstance(node, ast.expr)
                yield node, Message(module.file, node.lineno, said)


def is_table_word(module: Module, node: ast.AST) -> bool:
    """A value of a table of words, or one of several beside a key of it; a head of a table."""
    over = module.over[node]
    if isinstance(over, ast.Tuple):
        node, over = over, module.over[over]
    if isinstance(over, ast.keyword):
        return over.arg == "head"
    if isinstance(over, ast.Assign):
        return ast.unparse(over.targets[0]) == "head"
    return module.file in WORD_TABLES and isinstance(over, ast.Dict) and node in over.values


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
    if _is_code(text) or not LETTERS.search(own):
        return False
    if NAME.fullmatch(own.strip()) and own == own.strip():
        return bool(LABEL.fullmatch(text))
    return True


def _is_help(module: Module, node: ast.AST) -> bool:
    """The words under a command are its help."""
    over = module.over[node]
    function = module.over.get(over)
    return (
        isinstance(over, ast.Expr)
        and isinstance(function, ast.FunctionDef)
        and function.body[0] is over
        and any(
            isinstance(by, ast.Call) and called(by) in {"command", "group"}
            for by in function.decorator_list
        )
    )


def _is_code(text: str) -> bool:
    return bool(SQL.match(text) or STYLE.search(text) or PATTERN.search(text))


def hidden(module: Module, node: ast.AST) -> bool:
    """Whether no person reads it: a docstring, a key, what is asked of a text, a bug."""
    first = module.over[node]
    if isinstance(first, ast.Expr | ast.Subscript | ast.Compare | ast.MatchValue):
        return True
    if isinstance(first, ast.Dict) and node in first.keys:
        return True
    for over in module.above(node):
        if isinstance(over, ast.Assert):
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
    """What could not be translated in one module."""
    for node in ast.walk(module.tree):
        kind = _kind(module, node)
        if kind and AT_HOME.get(module.file) != kind:
            assert isinstance(node, ast.expr)
            text = written(node) if is_text(node) else ast.unparse(node)
            yield WordFault(kind, module.file, node.lineno, text)


def _kind(module: Module, node: ast.AST) -> Kind | None:
    if isinstance(node, ast.Call):
        return Kind.CUT if module.file not in NO_WORDS and _cuts(module, node) else None
    if isinstance(node, ast.FormattedValue):
        return Kind.DATE if _names_a_day(node) else None
    if isinstance(node, ast.IfExp):
        return Kind.INSIDE if _chooses_a_word(module, node) else None
    if not is_text(node) or _part_of_another(module, node) or hidden(module, node):
        return None
    said, whole = written(node), isinstance(node, ast.JoinedStr)
    if module.file in NO_WORDS or _is_code(said) or not (readable(said) or whole):
        return None
    if called_join(module.over[node]):
        return Kind.JOINED if LETTERS.search(said) else None
    if readable(said) and _added(module, node):
        return Kind.PLUS
    if JOINT.search(said) and " " in said and not _beside(module, node):
        return Kind.FRAGMENT
    if not readable(said):
        return None
    if isinstance(node, ast.JoinedStr) and (_word_inside(module, node) or _runs_together(said)):
        return Kind.INSIDE
    return None


def twice() -> list[WordFault]:
    """Sentences that stand in two modules or more, at the second place and those after it."""
    found: dict[str, list[Message]] = defaultdict(list)
    for module in modules():
        for _, message in messages(module):
            if _is_sentence(message.text):
                found[message.text].append(message)
    return [
        WordFault(Kind.TWICE, again.file, again.line, text)
        for text, places in found.items()
        for again in {m.file: m for m in places if m.file != places[0].file}.values()
    ]


def _is_sentence(text: str) -> bool:
    """Whether a text says something by itself; a label may stand in two places, as a word does."""
    own = re.sub(r"\{[^{}]*\}", "", text)
    whole = text.endswith((".", "?", "!")) or ("{" in text and len(own.split()) >= 2)
    return whole and len(text.split()) >= 3 and bool(LETTERS.search(own))


@cache
def all_faults() -> tuple[WordFault, ...]:
    """What could not be translated in the whole program."""
    return (*(f for module in modules() for f in faults(module)), *twice())


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


def _beside(module: Module, node: ast.AST) -> bool:
    """What is looked for in a text that came in, or what Qt puts beside a number."""
    over = module.over[node]
    return isinstance(over, ast.Call) and called(over) in LOOKS_FOR | BEHIND


def _runs_together(said: str) -> bool:
    """`{said}{more}`: two parameters of which the second must bring its own blank."""
    return bool(FALLS_INTO.search(said))


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


def _chooses_a_word(module: Module, choice: ast.IfExp) -> bool:
    """`side = "wider" if … else "narrower"`, for a sentence of the same function."""
    over = module.over[choice]
    words = [each for each in (choice.body, choice.orelse) if _is_word(each)]
    if not (words and isinstance(over, ast.Assign) and isinstance(over.targets[0], ast.Name)):
        return False
    function = next((f for f in module.above(choice) if isinstance(f, ast.FunctionDef)), None)
    return function is not None and any(
        isinstance(text, ast.JoinedStr)
        and readable(written(text))
        and not hidden(module, text)
        and any(
            isinstance(part, ast.FormattedValue)
            and isinstance(part.value, ast.Name)
            and part.value.id == over.targets[0].id
            for part in text.values
        )
        for text in ast.walk(function)
    )


def _is_word(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and bool(
        isinstance(node.value, str) and re.fullmatch(r"[a-z]{2,}", node.value)
    )


def _names_a_day(value: ast.FormattedValue) -> bool:
    spec = value.format_spec
    return isinstance(spec, ast.JoinedStr) and bool(re.search(r"%[aAbBp]", written(spec)))


def _cuts(module: Module, call: ast.Call) -> bool:
    """Whether a text that was written for a person is changed or read again."""
    if not isinstance(call.func, ast.Attribute) or hidden(module, call):
        return False
    name, of = call.func.attr, call.func.value
    if name in PATTERNED:
        return any(_named(each) in WHOLE_SAID for each in call.args)
    if name in CASED and not call.args:
        in_text = any(isinstance(over, ast.JoinedStr) for over in module.above(call))
        return (
            name in {"capitalize", "title"} or _first_letter(of) or (in_text and _named(of) in SAID)
        )
    if name in LOOKS_FOR and _named(of) in WHOLE_SAID:
        return bool(call.args) and not _swaps_a_file(call)
    cut = call.args[0] if call.args else None
    return (
        name in {"rstrip", "removesuffix"} and isinstance(cut, ast.Constant) and cut.value in MARKS
    )


def _named(node: ast.expr) -> str:
    """The last name of `found.step.name`; of a call or an index that of what it is made on."""
    if isinstance(node, ast.Attribute):
        return node.attr
    if isinstance(node, ast.Call | ast.Subscript):
        return _named(node.func if isinstance(node, ast.Call) else node.value)
    return node.id if isinstance(node, ast.Name) else ""


def _swaps_a_file(call: ast.Call) -> bool:
    """`sentence.replace(str(draft), str(path))`: one parameter for another."""
    return called(call) == "replace" and all(isinstance(a, ast.Call) for a in call.args)


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
