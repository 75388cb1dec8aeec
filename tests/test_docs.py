"""README.md, DEVELOPERS.md and the pages of help say what the program is: each command, option,
key, view and folder."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import click
import pytest

from partsbench import app
from partsbench import help as helps
from partsbench.cli.group import COMMANDS, main
from partsbench.cli.window import QT_ALWAYS, QT_ON_X11
from partsbench.core.outcomes import Answer
from partsbench.core.piece.codes import parse_code
from partsbench.core.piece.describe import Described, describe
from partsbench.services.shop import Shop, open_shop

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
HELP = "\n".join(page.text for page in helps.pages())
SHARED = {"--book", "--who", "--help"}


def section(name: str) -> str:
    """What the pages of help say of one command or view; each stands in one place only."""
    found = [p.text for p in helps.passages() if p.of == name]
    assert len(found) == 1, f"{len(found)} entries of help say what {name} is"
    return found[0]


def options_of(command: str) -> set[str]:
    found = main.get_command(click.Context(main), command)
    assert found is not None
    options = [p for p in found.params if isinstance(p, click.Option)]
    return {name for o in options for name in (*o.opts, *o.secondary_opts)} - SHARED


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_and_option_is_documented(command: str) -> None:
    text = section(command)
    missing = [o for o in options_of(command) if not re.search(rf"{o}(?![\w-])", text)]
    assert missing == []


def test_no_option_is_documented_that_is_not_there() -> None:
    for command in COMMANDS:
        said = set(re.findall(r"--[a-z][a-z-]+", section(command)))
        assert said - options_of(command) - SHARED == set(), command


def test_the_options_of_all_commands_are_documented() -> None:
    for word in ("--book FILE", "--who NAME", "PARTSBENCH_BOOK", "PARTSBENCH_WHO", "--json"):
        assert f"`{word}`" in HELP


def test_each_answer_is_documented() -> None:
    assert [a.value for a in Answer if f"`{a.value}`" not in HELP] == []


def test_every_json_key_is_documented(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    import json

    from partsbench.cli.group import run

    book = str(tmp_path / "b.partsbench")

    def say(*words: str) -> object:
        capsys.readouterr()
        run([*words, "--book", book, "--json"])
        return json.loads(capsys.readouterr().out)

    tag = say("lay-out", "Heron", "--rows", "2", "--paint", "D1")[0]["tag"]  # type: ignore[index]
    calls = {
        "lay-out": ("lay-out", "Quill", "--rows", "1"),
        "pieces": ("pieces",),
        "parts": ("parts", tag),
        "front": ("front", tag),
        "labels": ("labels", tag, "--out", str(tmp_path / "l.pdf")),
        "stocks": ("stocks",),
        "read": ("read", str(tmp_path / "l.pdf")),
        "scan": ("scan", "D1", "--piece", tag),
        "find": ("find", "D1"),
        "paths": ("paths",),
        "return": ("return", tag),
        "history": ("history",),
        "check-book": ("check-book",),
        "help": ("help", "labels"),
    }
    for command, words in calls.items():
        text = section(command)
        missing = [k for k in _keys(say(*words)) if f"`{k}`" not in text]
        assert missing == [], command


NAMED = frozenset(
    {"sizes", "drawers", "usable", "broken", "missing", "screws", "tins", "by_step", "costs",
     "steps", "faces", "amounts_ml", "counts", "holes_wide_mm"}
)  # fmt: skip
"""Keys of a sum whose tables have names for keys: numbers of parts, kinds, tins, steps."""
EVERY_SUM = frozenset({"sentence", "lacks", "sources", "valid", "caution", "tag"})
ONE_COUNT = frozenset({"order", "allot"})
"""Sums whose `counts` are those of the census, and are told there."""


def test_every_json_key_of_a_sum_is_documented(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    import json

    from partsbench.cli.group import run
    from partsbench.cli.sum_names import SUMS

    seen: dict[str, set[str]] = {}

    def say(*words: str) -> Any:
        capsys.readouterr()
        run([*words, "--book", str(tmp_path / "b.partsbench"), "--json"])
        data = json.loads(capsys.readouterr().out)
        seen.setdefault(words[0], set()).update(_own_keys(data))
        return data

    tag = say("lay-out", "Heron", "--rows", "2 1", "--pulls", "2", "--legs", "4", "--paint", "D1")
    for words in _sums_of(tag[0]["tag"], tmp_path):
        say(*words)
    label = next(p["code"] for p in say("parts", tag[0]["tag"]) if p["number"] == "D1")
    sheet = say("drill-sheet", tag[0]["tag"], "D1", "--spacing", "96", "--out", str(tmp_path / "d"))
    say("drill-check", sheet["code"], label)
    assert SUMS.keys() - seen.keys() == set()
    for command in SUMS:
        text = section(command) + (section("census") if command in ONE_COUNT else "")
        missing = sorted(k for k in seen[command] - EVERY_SUM if f"`{k}`" not in text)
        assert missing == [], command
    assert [k for k in EVERY_SUM if f"`{k}`" not in HELP] == []


def _sums_of(tag: str, folder: Path) -> Iterator[tuple[str, ...]]:
    """Every sum once, on a piece of which enough is known that each has something to say."""
    for size in ("D3 width 860", "H3 width 864", "D3 height 176", "H3 height 180", "C1 height 950",
                 "C1 depth 450", "D1 thickness 20"):  # fmt: skip
        yield ("measure", tag, *size.split())
    yield from (
        ("setting",), ("measure", tag), ("wood", tag, "cherry, black"), ("gap", tag),
        ("orphan", tag, "one", "--height", "184"), ("swaps", tag),
        ("census", tag, "D1", "pull", "2", "--spacing", "96", "--thread", "M4"),
        ("order", tag, "--lead", "3"), ("allot", tag, "--price", "22"),
        ("holes", tag, "D1", "150,90 246,90"), ("pulls", tag, "wide", "--spacing", "500"),
        ("pulls", tag, "bow", "--spacing", "3-3/4 in", "--thread", "M4", "--depth", "9"),
        ("screw", tag, "D1", "bow", "M4", "25"), ("mix", tag, "paint", "--wet", "100 um"),
        ("tins", "blue", "750 ml"), ("use-tin", tag, "blue", "--left", "500 ml"),
        ("path", tag, "stain", "D1 left edge"), ("mask-paper", tag),
        ("level", tag, "--rock-at", "rear left", "--rock", "1.5"), ("symmetry", tag),
        ("tip-over", tag, "--mass", "40 kg"), ("work", tag, "sanding"), ("hours", tag),
        ("money", tag, "offer", "640"), ("ledger", tag), ("floor-price", tag, "--rate", "25"),
        ("quote", "--rate", "25"), ("care-sheet", tag, "--out", str(folder / "c.pdf")),
        ("moisture", "--temp", "20C", "--rh", "50"), ("dew-point", "--temp", "20C", "--rh", "50"),
        ("movement", "--species", "walnut, black", "--size", "200", "--from", "8", "--to", "11"),
        ("coverage", "--solids", "52", "--film", "38"), ("grit", "P400"),
        ("offer", "--price", "640", "--costs", "217", "--hours", "14.5"),
        ("ceiling", "--price", "640", "--hours", "14", "--rate", "25"),
        ("mix-again", "26 clear, 3 colour", "60 ml"),
    )  # fmt: skip


def _own_keys(data: Any, named: bool = False) -> set[str]:
    """The keys of an answer but those that are names of the shop's own things."""
    if isinstance(data, list):
        return {k for v in data for k in _own_keys(v)}
    if not isinstance(data, dict):
        return set()
    own = set() if named else set(data)
    for key, value in data.items():
        # Sizes are by part, and below it by what was measured.
        below = key in NAMED if not named else isinstance(value, dict) and " " in "".join(value)
        own |= _own_keys(value, below)
    return own


def _keys(data: object) -> set[str]:
    if isinstance(data, dict):
        return set(data) | {k for v in data.values() for k in _keys(v)}
    if isinstance(data, list):
        return {k for v in data for k in _keys(v)}
    return set()


def test_every_view_of_the_book_is_documented(tmp_path: Path) -> None:
    shop = open_shop(tmp_path / "b.partsbench")
    assert isinstance(shop, Shop)
    with closing(shop):
        views = [
            r["name"] for r in shop.book.rows("SELECT name FROM sqlite_master WHERE type = 'view'")
        ]
        columns = {v: [c["name"] for c in shop.book.rows(f"PRAGMA table_info({v})")] for v in views}
    assert views
    for view, names in columns.items():
        text = section(view)
        assert [n for n in names if f"`{n}`" not in text] == [], view


def test_the_two_commands_are_one_line_each() -> None:
    blocks = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
    first, second = blocks[0].strip(), blocks[1].strip()
    for line in (first, second):
        assert "\n" not in line
        assert line.startswith("python3 -m venv .venv && .venv/bin/pip install")
    assert first.endswith("partsbench demo")
    assert second.endswith("python -m pytest")
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert 'python" -m pytest' in ci
    assert "--editable '.[test,tones]'" in ci


def test_system_libraries_are_named() -> None:
    for package in {*QT_ALWAYS.values(), *QT_ON_X11.values()}:
        assert re.search(rf"\b{re.escape(package)}(?![\w.-])", README), package
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert [p for p in QT_ALWAYS.values() if p not in ci] == []


def test_pictures_are_there_and_small() -> None:
    named = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    assert len(named) == 6
    for name in named:
        path = ROOT / name
        assert path.is_file(), name
        assert path.stat().st_size < 300_000, name


def test_the_example_description_can_be_taken_in() -> None:
    text = re.search(r"```toml\n(.*?)```", HELP, re.DOTALL)
    assert text
    doc = tomllib.loads(text[1].replace('fragile = ["T1"]\n', "") + "\n")
    found = describe(doc, "K7Q4")
    assert isinstance(found, Described), found
    assert len(found.piece.present) > 10


def test_the_example_codes_are_codes() -> None:
    codes = re.findall(r"\b[0-9A-Z]{4}-[A-Z][0-9A-Z]{4}\b", HELP)
    assert codes
    for code in codes:
        assert not isinstance(parse_code(code), str), code


def test_the_usual_book_is_in_the_users_folder() -> None:
    assert app.usual_book().suffix == ".partsbench"


@pytest.mark.parametrize("text", [README, DEVELOPERS, HELP], ids=["README", "DEVELOPERS", "help"])
def test_no_promise_of_no_danger(text: str) -> None:
    assert not re.search(r"\bsafe(ly|ty)?\b", text, re.IGNORECASE)


def test_the_house_table_matches_the_tree() -> None:
    rows = re.findall(r"^\| `([^`]+)` \|", DEVELOPERS, re.MULTILINE)
    package = ROOT / "partsbench"
    there = {
        f"{p.relative_to(package)}{'/' if p.is_dir() else ''}"
        for p in package.iterdir()
        if not p.name.startswith((".", "__pycache__", "_assets", "_sample"))
        and p.name != "__init__.py"
    }
    assert there <= set(rows)
    assert [r for r in rows if not (package / r).exists() and not (ROOT / r).exists()] == []


def test_readme_is_short_and_leads_to_every_page_of_help() -> None:
    assert len(README.encode()) < 9_000
    for page in helps.pages():
        assert f"(partsbench/help/{page.key}.md)" in README, page.key
    for name in re.findall(r"\]\((partsbench/help[^)]*)\)", README):
        assert (ROOT / name).exists(), name


@pytest.mark.parametrize("key", ["first-job", "scanning", "limits", "cautions"])
def test_what_readme_tells_again_is_told_alike(key: str) -> None:
    """The ten steps, the ways to scan, the limits and the cautions are those of the page."""
    page = helps.page(key)
    assert page is not None
    said = _plain(README)
    items = [
        i for i in re.split(r"^(?=- |\d+\. )|\n\n", page.text, flags=re.MULTILINE) if i.strip()
    ]
    again = [i for i in items if _plain(i) in said]
    assert len(again) >= {"first-job": 10, "scanning": 5, "limits": 5, "cautions": 1}[key]


def _plain(text: str) -> str:
    return " ".join(text.split())


def test_the_map_stands_first_and_the_reader_last() -> None:
    heads = re.findall(r"^## (.+)$", DEVELOPERS, re.MULTILINE)
    assert heads[:3] == ["The map", "Glossary", "To add something"]
    assert heads[-1] == "Reading labels that no decoder reads"
    for word in ("rule", "command", "page of the window", "sum", "paper"):
        assert f"- **A {word}**" in DEVELOPERS


def test_each_key_that_the_pages_name_is_one_of_the_window() -> None:
    from partsbench.ui.actions import ACTIONS, PAGES

    # Besides those of the menus: a guess is confirmed, a brush is taken, a piece is put away.
    there = {e.shortcut for e in (*ACTIONS, *PAGES)} | {"Ctrl+Enter", "Ctrl+B", "Ctrl+K"}
    named = set(re.findall(r"\bCtrl\+(?:Shift\+)?(?:[A-Z0-9]\b|F1|Enter)", README + HELP))
    assert named
    assert named - there == set()
