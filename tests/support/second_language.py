"""The program in a made-up language, to see what no translator could reach.

`python -m tests.support.second_language [LOOK…]` imports the program with every message that
`tests.support.words` finds put into marks, accented and a third longer (`⟦Ṽéŕƀ šĥééť~~~⟧`), opens
the window's pages and dialogs, and prints each text on the screen that is not marked, and each
that is cut because it is longer. `--plain` leaves the words alone: what is cut already.
`--pictures=FOLDER` keeps a picture of each, `--dark` in dark colours.
`--commands [COMMAND…]` does the same with the help of the commands, `--said` with what commands
say of a book in the middle of the work; `--kept` prints keys as they stand in JSON.
"""

from __future__ import annotations

import ast
import gc
import importlib.abc
import importlib.machinery
import importlib.util
import json
import re
import sys
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, field
from functools import cache
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any

from tests.support import words
from tests.support.words import SOURCE

OPEN, CLOSE, MORE = "⟦", "⟧", "~"
PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
OTHER = "áƀçðéƒğĥíĵķłɱñóþɋŕšťúṽŵẋýžÁƁÇÐÉƑĞĤÍĴĶŁṀÑÓÞɊŔŠŤÚṼŴẊÝŽ"
ACCENTS = str.maketrans(PLAIN, OTHER)
LONGER = 0.3
WORD = 7
"""No word that is added is longer, so that lines break as they would."""
FIELD_EDGE, ARROW = 4, 18
"""What frame and margin take of a field on either side, and the arrow of a choice, px."""
SAID_ALONE = frozenset({"MarkRefusal", "Why", "Doubt"})
"""Enumerations whose values are said, and neither stored nor typed."""
SLACK = 2
"""So many px less than is wanted are no cut: margins are in it."""
READ = frozenset({"name", "about", "say", "note", "title", "did", "said", "source", "why"})
"""Keys of the tables in `trade/` whose values a person reads; a translator has those files."""
AS_WRITTEN = re.compile(rf'\b({"|".join(sorted(READ))}) = "([^"]*)"')


def accented(text: str) -> str:
    """In other letters; the names of parameters of a text that is filled in later are kept."""
    parts = re.split(r"(\{[^{}]*\})", text)
    return "".join(p if p.startswith("{") else p.translate(ACCENTS) for p in parts)


def marked(text: str) -> str:
    """A whole message without parameters."""
    return f"{OPEN}{accented(text)}{tail(len(text))}{CLOSE}"


def tail(length: int) -> str:
    """What makes a text of that length a third longer: at its last word, and words of its own."""
    more = MORE * round(length * LONGER)
    return " ".join(more[start : start + WORD] for start in range(0, len(more), WORD))


@cache
def unmarked(text: str) -> str:
    """What of a text on the screen stands in no marks."""
    depth, left = 0, []
    for letter in text:
        depth += (letter == OPEN) - (letter == CLOSE)
        if depth <= 0 and letter not in OPEN + CLOSE:
            left.append(letter)
    return "".join(left).strip()


class Translated(ast.NodeTransformer):
    """Puts every message of a module into the made-up language."""

    def __init__(self, module: words.Module) -> None:
        self.nodes = {
            id(node)
            for node, found in words.messages(module)
            if translates(module, node, found.text)
        }

    def visit_Constant(self, node: ast.Constant) -> ast.AST:
        if id(node) not in self.nodes:
            return node
        return ast.copy_location(ast.Constant(marked(str(node.value))), node)

    def visit_JoinedStr(self, node: ast.JoinedStr) -> ast.AST:
        ours = id(node) in self.nodes
        length = 0
        values: list[ast.expr] = []
        for value in node.values:
            if isinstance(value, ast.FormattedValue):
                value.value = self.visit(value.value)
                values.append(value)
            else:
                assert isinstance(value, ast.Constant)
                length += len(str(value.value))
                values.append(ast.Constant(accented(str(value.value))) if ours else value)
        if ours:
            values = [ast.Constant(OPEN), *values, ast.Constant(tail(length) + CLOSE)]
        return ast.fix_missing_locations(ast.copy_location(ast.JoinedStr(values), node))


def translates(module: words.Module, node: ast.expr, text: str) -> bool:
    """Whether a text is only said, and no key by which something is known as well: a value of an
    enumeration, a word of the tables of the trade or of a book."""
    if not isinstance(node, ast.Constant) or words.is_table_word(module, node):
        return True
    in_enum = any(
        isinstance(over, ast.ClassDef)
        and over.name not in SAID_ALONE
        and any("Enum" in ast.unparse(b) for b in over.bases)
        for over in module.above(node)
    )
    if in_enum or text in table_keys() or text in fact_keys():
        return False
    key = text in keys()
    return text[:1].isupper() or not (key or module.file.startswith("store/"))


@cache
def table_keys() -> frozenset[str]:
    """Every key that has its word in a table."""
    tables = [module for module in words.modules() if module.file in words.WORD_TABLES]
    dicts = [n for module in tables for n in ast.walk(module.tree) if isinstance(n, ast.Dict)]
    return frozenset(
        str(key.value)
        for each in dicts
        for key, value in zip(each.keys, each.values, strict=True)
        if isinstance(key, ast.Constant) and isinstance(value, ast.Constant | ast.Tuple)
    )


@cache
def fact_keys() -> frozenset[str]:
    """By what something said of a piece is known, and typed: the first word of each `FactKind`."""
    trees = [m.tree for m in words.modules() if m.file.startswith("core/finish/")]
    named: dict[str, ast.expr] = {}
    for node in (n for tree in trees for n in tree.body if isinstance(n, ast.Assign)):
        left, right = node.targets[0], node.value
        if isinstance(left, ast.Tuple) and isinstance(right, ast.Tuple):
            named |= {ast.unparse(a): b for a, b in zip(left.elts, right.elts, strict=False)}
        else:
            named[ast.unparse(left)] = right
    calls = [n for tree in trees for n in ast.walk(tree) if isinstance(n, ast.Call) and n.args]
    first = [call.args[0] for call in calls if words.called(call) == "FactKind"]
    found = (named.get(ast.unparse(each), each) for each in first)
    return frozenset(str(each.value) for each in found if isinstance(each, ast.Constant))


@cache
def keys() -> frozenset[str]:
    """Every word that the tables of the trade and the samples know something by."""
    found: set[str] = set()
    for file in (*SOURCE.rglob("*.toml"), *(SOURCE.parent / "sample_projects").rglob("*.toml")):
        found.update(_words_of(tomllib.loads(file.read_text(encoding="utf-8"))))
    return frozenset(word for each in found for word in (each, *each.split(", ")))


def _words_of(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        for key, each in value.items():
            yield key
            yield from _words_of(each)
    elif isinstance(value, list):
        for each in value:
            yield from _words_of(each)
    elif isinstance(value, str):
        yield value


class Source(importlib.machinery.SourceFileLoader):
    """Compiles a module of the program from its translated tree; nothing is kept on the disk."""

    def get_code(self, fullname: str) -> CodeType:
        path = self.get_filename(fullname)
        file = fullname.partition(".")[2].replace(".", "/")
        module = words.parsed(self.get_source(fullname) or "", f"{file}.py")
        tree = ast.fix_missing_locations(Translated(module).visit(module.tree))
        return compile(tree, path, "exec", dont_inherit=True)


class Finder(importlib.abc.MetaPathFinder):
    def find_spec(self, name: str, path: Any, target: ModuleType | None = None) -> Any:
        if not name.startswith("partsbench."):
            return None
        spec = importlib.machinery.PathFinder.find_spec(name, path, target)
        if spec and isinstance(spec.loader, importlib.machinery.SourceFileLoader):
            spec.loader = Source(spec.loader.name, spec.loader.path)
        return spec


def translate_trade() -> None:
    """What the tables of the trade say to a person is marked as they are read."""
    from partsbench import trade

    load, paths, written = trade.load, trade.load_paths, trade.path_texts
    trade.load = lambda name: _table(load(name))
    trade.load_paths = lambda: _table(paths())
    trade.path_texts = lambda: {
        key: AS_WRITTEN.sub(_marked_line, text) for key, text in written().items()
    }


def _marked_line(found: re.Match[str]) -> str:
    key, value = found[1], found[2]
    return f'{key} = "{marked(value)}"' if _is_read(key, value) else found[0]


def _table(value: Any, key: str = "") -> Any:
    if isinstance(value, dict):
        return {k: _table(v, k) for k, v in value.items()}
    if isinstance(value, list):
        return [_table(v, key) for v in value]
    if isinstance(value, str) and _is_read(key, value):
        return marked(value)
    return value


def _is_read(key: str, value: str) -> bool:
    """A source of one word is a key into the list of sources."""
    return value.endswith(".") or (key in READ and (key != "source" or " " in value))


def texts(root: Any) -> Iterator[tuple[str, str, bool]]:
    """Every text on show under a widget: which widget, the text, whether it is cut."""
    from PySide6.QtCore import Qt
    from PySide6.QtWidgets import (
        QAbstractButton,
        QAbstractItemView,
        QComboBox,
        QGroupBox,
        QLabel,
        QLineEdit,
        QTabBar,
        QTableView,
        QWidget,
    )  # fmt: skip

    for each in [root, *root.findChildren(QWidget)]:
        if not each.isVisible():
            continue
        name = f"{type(each).__name__} {each.objectName()}".strip()
        if isinstance(each, QLabel | QAbstractButton | QGroupBox):
            shown = each.title() if isinstance(each, QGroupBox) else each.text()
            yield name, shown, bool(shown) and _cut(each, shown)
        if isinstance(each, QLineEdit):
            hint = each.placeholderText()
            whole = each.text() or each.toolTip() == hint
            yield name, hint, not whole and _wider(each, hint, 2 * FIELD_EDGE)
        if isinstance(each, QComboBox):
            for place in range(each.count()):
                yield name, each.itemText(place), False
            chosen, edges = each.currentText(), 2 * FIELD_EDGE + ARROW
            yield name, chosen, each.toolTip() != chosen and _wider(each, chosen, edges)
        if isinstance(each, QTabBar):
            for place in range(each.count()):
                wide = each.tabRect(place).width()
                yield name, each.tabText(place), wide + SLACK < each.tabSizeHint(place).width()
        if isinstance(each, QTableView):
            yield from _heads(each)
        if isinstance(each, QAbstractItemView) and each.model():
            yield from ((name, said, False) for said in _cells(each.model(), Qt))
        for about in (each.accessibleName(), each.accessibleDescription(), each.toolTip()):
            yield f"{name} (told)", about, False


def _wider(widget: Any, text: str, edges: int) -> bool:
    """Whether a line of text is wider than what a control leaves for it."""
    return bool(widget.fontMetrics().horizontalAdvance(text) > widget.width() - edges + SLACK)


def _heads(table: Any) -> Iterator[tuple[str, str, bool]]:
    """The heads of a table's columns."""
    from PySide6.QtCore import Qt

    bar = table.horizontalHeader()
    if bar.isVisible():
        for column in range(bar.count()):
            text = table.model().headerData(column, Qt.Orientation.Horizontal) or ""
            if not bar.isSectionHidden(column):
                wide = bar.fontMetrics().horizontalAdvance(str(text))
                yield f"head of {table.objectName()}", str(text), wide > bar.sectionSize(column)


def _cells(model: Any, qt: Any) -> Iterator[str]:
    from PySide6.QtCore import QAbstractListModel, QModelIndex

    listed = isinstance(model, QAbstractListModel)
    columns = range(1 if listed else model.columnCount(QModelIndex()))
    for column in columns:
        yield str(model.headerData(column, qt.Orientation.Horizontal) or "")
    for row in range(min(model.rowCount(QModelIndex()), 40)):
        for column in columns:
            yield str(model.index(row, column).data() or "")


def _cut(widget: Any, shown: str) -> bool:
    """Whether a text has less room than the widget itself wants for it."""
    from PySide6.QtWidgets import QLabel

    least = widget.minimumSizeHint()
    if isinstance(widget, QLabel) and widget.wordWrap():
        wide, high = _longest_word(widget, shown), widget.heightForWidth(widget.width())
        return bool(widget.height() + SLACK < high or widget.width() + SLACK < wide)
    wide = max(least.width(), 0)
    return bool(widget.width() + SLACK < wide or widget.height() + SLACK < least.height())


def _longest_word(label: Any, shown: str) -> int:
    return max(label.fontMetrics().horizontalAdvance(word) for word in shown.split())


@dataclass
class Seen:
    """What was on the screen: texts that stand in no marks with their words, those that are cut,
    and where each was seen first."""

    bare: dict[str, list[str]] = field(default_factory=dict)
    cut: dict[str, str] = field(default_factory=dict)
    where: dict[str, str] = field(default_factory=dict)
    marked: int = 0
    """How many texts stand in marks."""

    def look(self, root: Any, at: str) -> None:
        for name, said, is_cut in texts(root):
            self.marked += OPEN in said
            if said not in self.bare and (found := own_words(said)):
                self.bare[said] = found
                self.where[said] = f"{at} {name}"
            if is_cut:
                self.cut.setdefault(said, f"{at} {name}")


def walked(wanted: Sequence[str], theme: str = "light", pictures: Path | None = None) -> Seen:
    """Every page and dialog of `looks` whose name begins with one that is wanted; all for none."""
    from PySide6.QtWidgets import QApplication

    from partsbench.ui import theme as themes
    from tests.support import looks

    app = QApplication.instance() or QApplication(["partsbench"])
    assert isinstance(app, QApplication)
    themes.use(app, themes.THEMES[theme])
    gc.disable()  # a window that another thread lets go of would end the process
    seen = Seen()
    for book, (make, chosen) in looks.BOOKS.items():
        for look in chosen:
            at = f"{book}-{look.name}"
            if not wanted or at.startswith(tuple(wanted)):
                with looks.looked_at(make, look) as root:
                    seen.look(root, at)
                    if pictures:
                        root.grab().save(str(pictures / f"{at}-{theme}.png"))
    return seen


# What click says by itself, names of options, what may be chosen, and what stands for a value
OF_CLICK = re.compile(
    r"partsbench [\w-]+:|partsbench:|Usage: partsbench [\w-]+"
    r"|Options:|\[OPTIONS\]|Show this message and exit\."
    r"|(?<!\w)--?[a-z][\w-]*"
    r"|\[[^\[\]]*[|x]?[^\[\]]*\]|\b[A-Z][A-Z_|=]+\b|<[^<>]*>|\{[^{}]*\}"
)


def heard(wanted: Sequence[str]) -> Seen:
    """The help of every command that is wanted; all for none."""
    from click.testing import CliRunner

    from partsbench.cli.group import COMMANDS
    from partsbench.cli.group import main as group

    seen = Seen()
    for name in wanted or COMMANDS:
        said = CliRunner().invoke(group, [name, "--help"], prog_name="partsbench").output
        left = OF_CLICK.sub(" ", unmarked(said))
        seen.marked += OPEN in said
        if found := own_words(left):
            seen.bare[left], seen.where[left] = found, f"{name} --help"
    return seen


PLAIN_WORD = re.compile(r"(?<![^\W\d_])[a-zA-Z]{2,}(?![^\W\d_])")
"""No letter of a message is plain, so a plain word came in by itself."""
SAYINGS = (
    "pieces", "parts TAG", "scan D1 --piece TAG", "scan D6 --piece TAG", "scan L1 --piece TAG",
    "scan T1 --piece TAG", "clock TAG", "day", "load TAG", "mask TAG", "old-finish TAG",
    "return TAG", "fit TAG D1 tight", "fit TAG D2 wax", "history", "find D5", "find K1",
    "review paint", "hours TAG", "ledger TAG", "census TAG", "order TAG", "mask-paper TAG",
    "swaps TAG", "level TAG", "tip-over TAG", "money TAG hardware 40",
    "measure TAG D1 width 420", "out TAG D9", "place rack-1 D9 --piece TAG", "scan D1",
    "count-home TAG P1 2",
)  # fmt: skip
"""Commands whose answers are read; TAG stands for the piece."""


def answers(sayings: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Commands, and what they print of a chest that is half home."""
    import contextlib
    import io
    import os
    import tempfile

    from partsbench.cli.group import run
    from tests.support import looks
    from tests.support.shops import shop_at

    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "said.partsbench"
        os.environ["PARTSBENCH_BOOK"] = str(book)
        shop = shop_at(book, who="Wren")
        chest, clock = looks.half_home(shop), shop.clock
        shop.close()
        for said in sayings:
            words = [chest.tag if w == "TAG" else w for w in said.split()]
            out = io.StringIO()
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
                run(words, clock)
            yield said, out.getvalue()


def spoken() -> Seen:
    """What the commands say in words."""
    seen = Seen()
    for said, answer in answers(SAYINGS):
        for line in answer.splitlines():
            left = OF_CLICK.sub(" ", sources().sub(" ", line))
            seen.marked += OPEN in line
            if left not in seen.bare and (found := own_words(left)):
                seen.bare[left], seen.where[left] = found, said
    return seen


def kept() -> dict[str, list[str]]:
    """Keys that stand in JSON: of faces, families, where a part is, and answers."""
    asked = ("clock TAG D1 --json", "parts TAG --json", "scan D1 --piece TAG --json")
    faces, parts, scan = (json.loads(answer) for _, answer in answers(asked))
    return {
        "faces": [row["face"] for row in faces][:2],
        "families": sorted({row["family"] for row in parts}),
        "where": sorted({row["where"] for row in parts}),
        "answers": [scan["answer"], *scan["faces"]],
    }


# What a user wrote, a calendar or a standard names: no words of the program
GIVEN = re.compile(
    r"\b(?:Heron|Quill|Larch|Wren|low dresser|tall chest|chest of sixty|rack|screws of the pulls"
    r"|hinges of the door|runs tight at the left|Ctrl|Shift|Alt|Esc|Down|Up"
    r"|PDF|QR|UTC|ISO|A4|mm|min|ml|kg|Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"
    r"|Mon|Tue|Wed|Thu|Fri|Sat|Sun"
    r"|[A-Z0-9]{4}-[A-Z0-9]{4,6}|[A-Z]\d{1,3}[a-z]?|[A-Z0-9]{4}|tall|[\w./-]+\.(?:pdf|toml))\b|°C|m²"
)


def own_words(text: str) -> list[str]:
    """The words of a text in plain letters, in marks or not, without what a user wrote."""
    return PLAIN_WORD.findall(GIVEN.sub(" ", sources().sub(" ", text)))


@cache
def sources() -> re.Pattern[str]:
    """Names of what a figure was read in, as the tables of the trade write them, longest first."""
    named = {each for each in keys() if each.count(" ") > 3}
    return re.compile("|".join(sorted(map(re.escape, named), key=len, reverse=True)))


def main(given: Sequence[str]) -> int:
    wanted = [word for word in given if not word.startswith("--")]
    if "--plain" not in given:
        sys.meta_path.insert(0, Finder())
        translate_trade()
    folder = next((Path(w.partition("=")[2]) for w in given if w.startswith("--pictures=")), None)
    theme = "dark" if "--dark" in given else "light"
    if "--kept" in given:
        print(json.dumps(kept(), ensure_ascii=False))
        return 0
    if "--said" in given:
        found = spoken()
    elif "--commands" in given:
        found = heard(wanted)
    else:
        found = walked(wanted, theme, folder)
    if "--json" in given:
        print(json.dumps(asdict(found), ensure_ascii=False))
        return 0
    for kind, told in (("bare", found.where), ("cut", found.cut)):
        for text, where in sorted(told.items()):
            print(f"{kind}  {where}: {text!r}")
        print(f"{kind}: {len(told)}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
