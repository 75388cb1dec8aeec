"""Hardware from the command line: what is refused has changed nothing, not a byte of the book."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from random import Random

import pytest

from partsbench.cli import hardware
from tests.cli.conftest import Call
from tests.cli.test_sums_nonsense import ODD, figures, no_constant

RUNS = 50
"""Of each command; an option is in every second one, or fewer where there are many."""

Words = tuple[str, ...]
COUNTED: dict[str, Words] = {
    "spacing": ("96", "0", "3-3/4 in", "5 ft", "-96"),
    "thread": ("M4", "8-32", "M99"),
    "length": ("25", "1 in", "0", "-25", "9000"),
    "money": ("22", "0", "4.50", "-22", "nan", "inf", "1e9"),
    "days": ("5", "0", "-1", "9999", "five", "nan"),
    "number": ("0", "1", "2", "3", "101", "-1", "two", "1.5"),
    "part": ("D1", "D3", "H1", "C1", "L1", "P1", "D9", "d2", ""),
    "kind": ("pull", "knob", "plate", "hinge", "pulls", "PULL", ""),
    "size": ("12", "120 x 0", "x", "-3", "9000"),
}
VETO: Words = (
    "pull 1 of D1, good=D1 left", "pull 1 of D1, good=D3 right", "pull 2 of D1, good=D9 left",
    "knob 1 of D3, good=D1 left", "pull 1 of D2, broken=D2 left", "D1=D2", "D1", "=", "a=b=c",
)  # fmt: skip

COMMANDS: dict[str, tuple[tuple[Words, ...], dict[str, Words]]] = {
    "census": (
        (COUNTED["part"], COUNTED["kind"], COUNTED["number"]),
        {"--condition": ("good", "worn", "broken", "lost"), "--spacing": COUNTED["spacing"],
         "--thread": COUNTED["thread"], "--screw": COUNTED["length"]},
    ),
    "order": (
        (),
        {"--needed": ("2031-03-28", "in 20 days", "soon", "0001-01-01", "9999-12-31", "2031-02-30"),
         "--lead": COUNTED["days"]},
    ),
    "allot": (
        (),
        {"--kind": ("pull", "knob", "hinge", ""), "--price": COUNTED["money"], "--veto": VETO,
         "--allow": VETO},
    ),
    "pulls": (
        (("bow", "knob", "", "x" * 41), ("--spacing",), COUNTED["spacing"]),
        {"--plate": COUNTED["size"], "--foot": COUNTED["size"],
         "--each": ("1", "2", "3"), "--thread": COUNTED["thread"], "--depth": COUNTED["length"],
         "--price": COUNTED["money"], "--lead": COUNTED["days"], "--drop": (), "--doors": ()},
    ),
    "holes": (
        (COUNTED["part"],
         ("150,90 246,90", "150,90 150,90", "0,0", "-1,9", "9000,90", "nan,9", "1,2,3", "")),
        {},
    ),
    "drill-sheet": (
        (COUNTED["part"], ("--out",), ("OUT",)),
        {"--pull": ("bow", "none"), "--spacing": COUNTED["spacing"],
         "--count": ("1", "2", "3"), "--from-top": COUNTED["length"],
         "--from-side": COUNTED["length"], "--paper": ("a4", "a9")},
    ),
    "drill-check": ((("SHEET", "D1", "x"), ("LABEL", "D1", "x")), {"--piece": ("TAG", "x")}),
    "screw": ((COUNTED["part"], ("bow", "none"), COUNTED["thread"], COUNTED["length"]), {}),
    "level": (
        (), {"--rock-at": ("rear left", "middle", ""), "--rock": ("1.5", "0", "101", "-1", "nan")},
    ),
    "symmetry": (
        (("", "TAG", "x"),), {"--wanted": ("D1", "D9", "H1"), "--unwanted": ("D1", "D9")},
    ),
    "tip-over": ((), {"--mass": ("38 kg", "84", "0", "-4 kg", "nan", "9000 kg", "")}),
    "measure": (
        (("C1",), ("overall height", "height", "girth"), ("950", "0", "-950", "nan", "20 m", "")),
        {"--forget": ()},
    ),
    "setting": (
        (("tool", "spare pulls", "margin days", "colour"),
         ("hvlp", "1", "-1", "nan", "1.5", "101", "spoon", "")),
        {},
    ),
    "coverage": (
        (("--solids",), ("50", "0", "101", "nan", "-5"), ("--film",), ("40 µm", "0", "-1", "nan")),
        {"--transfer": ("hvlp", "65", "0", "101", "nan", "spoon")},
    ),
}  # fmt: skip
NO_PIECE = frozenset({"setting", "coverage", "drill-check"})
NOT_COUNTS = frozenset({"at", "needed_on"})


def dump(book: Path) -> list[str]:
    """Every row of the whole book."""
    with closing(sqlite3.connect(f"file:{book}?mode=ro", uri=True)) as db:
        return list(db.iterdump())


def typed(chance: Random, command: str, names: dict[str, str]) -> list[str]:
    """One way of calling a command: mostly words that can be meant, and some that cannot."""
    firsts, options = COMMANDS[command]

    def one_of(known: Words) -> str:
        """The first of them is what can be meant."""
        odd = len(known) > 1 and chance.random() < 0.1
        word = known[0] if chance.random() < 0.5 else chance.choice(ODD if odd else known)
        return names.get(word, word)

    words = [command, *([] if command in NO_PIECE else [names["TAG"]])]
    left_out = chance.random() < 0.2
    words += [] if left_out else [one_of(known) for known in firsts]
    for option, known in options.items():
        if chance.random() < min(0.5, 2 / len(options)):
            words += [option, one_of(known)] if known else [option]
    return words


@pytest.fixture
def chest(good: Call, tag: str) -> str:
    """Two over two over three drawers with two pulls each, some counted, one pull in the choice."""
    good("fittings", tag, "knob", "1", "D3")
    good("census", tag, "D1", "pull", "2", "--spacing", "96", "--thread", "M4")
    good("census", tag, "D2", "pull", "1", "--condition", "broken")
    good("census", tag, "D3", "knob", "1", "--spacing", "0")
    good("pulls", tag, "bow", "--spacing", "96", "--thread", "M4")
    good("measure", tag, "D1", "thickness", "20")
    return tag


def test_no_command_of_the_hardware_is_left_out() -> None:
    assert hardware.COMMANDS.keys() <= COMMANDS.keys()


@pytest.mark.parametrize("command", COMMANDS)
def test_what_is_refused_has_changed_nothing(
    call: Call, good: Call, book: Path, chest: str, tmp_path: Path, command: str
) -> None:
    """Any mixture of words that can be meant and words that cannot, seeded by the command."""
    chance = Random(command)
    sheet = tmp_path / "sheet.pdf"
    made = good("drill-sheet", chest, "D1", "--out", sheet, "--spacing", "96", "--json").json
    label = next(p["code"] for p in good("parts", chest, "--json").json if p["number"] == "D1")
    names = {"TAG": chest, "OUT": str(tmp_path / "o.pdf"), "SHEET": made["code"], "LABEL": label}
    codes = set()
    for _ in range(RUNS):
        words = [*typed(chance, command, names), "--json"]
        before, files = dump(book), sorted(tmp_path.glob("*.pdf"))
        ran = call(*words)
        codes.add(ran.code)
        if ran.code == 2:
            assert (ran.out, len(ran.err.strip().splitlines())) == ("", 1), words
            assert dump(book) == before, words
            assert sorted(tmp_path.glob("*.pdf")) == files, words
            continue
        assert ran.code == 0 or (ran.code == 1 and dump(book) == before), words
        for key, figure in figures(json.loads(ran.out, parse_constant=no_constant)):
            assert 0 <= figure < 1e9 or key in NOT_COUNTS, (words, key)
    assert {0, 2} <= codes, "the words are too good or too bad to tell anything"


@pytest.mark.parametrize(
    "words",
    [
        ["allot", "TAG", "--price", "nan", "--veto", "D1=D2"],
        ["allot", "TAG", "--price", "nan", "--veto", "pull 1 of D1, good=D1 left"],
        ["allot", "TAG", "--price", "100001", "--veto", "pull 1 of D1, good=D1 left"],
        ["allot", "TAG", "--kind", "hinge", "--veto", "pull 1 of D1, good=D1 left"],
        ["allot", "TAG", "--kind", "knob", "--veto", "pull 1 of D1, good=D1 left"],
        ["allot", "TAG", "--veto", "D1=D2"],
        ["allot", "TAG", "--veto", "pull 1 of D2, broken=D1 left"],
        ["allot", "TAG", "--allow", "pull 1 of D1, good=D1 left"],
        ["census", "TAG", "D1", "pull", "99"],
        ["census", "TAG", "D1", "pull", "-1"],
        ["census", "TAG", "D1", "pull", "1", "--screw", "0"],
        ["census", "TAG", "D3", "knob", "1", "--spacing", "96"],
        ["census", "TAG", "--spacing", "96"],
        ["census", "TAG", "D1"],
        ["pulls", "TAG", "--spacing", "96"],
        ["pulls", "TAG", "bow", "--drop", "--spacing", "96"],
        ["pulls", "TAG", "bow", "--spacing", "96", "--price", "nan"],
        ["pulls", "TAG", "bow", "--spacing", "96", "--lead", "-1"],
        ["pulls", "TAG", "bow", "--spacing", "2 m"],
        ["drill-sheet", "TAG", "D1", "--out", "OUT", "--pull", "bow", "--spacing", "96"],
        ["order", "TAG", "--lead", "-1"],
        ["screw", "TAG", "D1", "bow", "M4", "0"],
        ["screw", "TAG", "D1", "none", "M4", "25"],
        ["symmetry", "TAG", "TAG"],
        ["symmetry", "TAG", "TAG", "--wanted", "D1"],
        ["level", "TAG", "--rock", "1.5"],
        ["level", "TAG", "--rock-at", "rear left"],
    ],
)
def test_what_cannot_be_is_one_line(
    call: Call, book: Path, chest: str, tmp_path: Path, words: list[str]
) -> None:
    names = {"TAG": chest, "OUT": str(tmp_path / "o.pdf")}
    before = dump(book)
    ran = call(*(names.get(word, word) for word in words))
    assert ran.code == 2, ran
    assert (ran.out, len(ran.err.strip().splitlines())) == ("", 1)
    assert dump(book) == before
    assert not (tmp_path / "o.pdf").exists()


def test_a_veto_is_kept_told_and_taken_back(good: Call, chest: str) -> None:
    """Only the whole upper rows could be filled; with a veto the two change places."""
    good("census", chest, "D2", "pull", "0", "--condition", "broken")
    good("census", chest, "D2", "pull", "2", "--spacing", "96")
    plain = good("allot", chest, "--json").json
    assert {"survivor": "pull 1 of D1, good", "place": "D1 left"} in plain["kept"]
    pair = "pull 1 of D1, good=D1 left"
    barred = good("allot", chest, "--veto", pair, "--json").json
    assert {"survivor": "pull 1 of D1, good", "place": "D1 left"} not in barred["kept"]
    assert len(barred["kept"]) == 4
    assert good("allot", chest, "--allow", pair, "--json").json == plain


def test_the_tool_says_both_ends_wherever_it_is_named(good: Call, chest: str) -> None:
    words = "Others give 50 to 60 % (trade press), which takes 1.1 to 1.3 times as much."
    assert words in good("setting", "tool", "hvlp").out
    assert words in good("setting", "tool").out
    listed = good("setting", "--json").json
    assert words in next(s["means"] for s in listed if s["name"] == "tool")
    mixed = good("mix", chest, "paint", "--json").json
    assert words in mixed["caution"] and mixed["transfer_ends"] == [50, 65]
    spread = ("coverage", "--solids", "50", "--film", "40 µm", "--transfer")
    assert words in good(*spread, "hvlp").out
    assert good(*spread, "hvlp", "--json").json["transfer_ends"] == [50, 65]
    assert good(*spread, "65", "--json").json["transfer_ends"] is None


def test_the_overall_height_is_asked_noted_and_judged(good: Call, chest: str) -> None:
    """27 in over all is within the standard's scope, whatever the carcase is."""
    good("measure", chest, "C1", "height", "500")
    asked = good("tip-over", chest, "--json").json
    assert asked["height"] is None and asked["lacks"][0].startswith("overall height, from the")
    good("measure", chest, "C1", "overall height", "27 in")
    told = good("tip-over", chest, "--json").json
    assert (told["height"], told["height_mm"]) == (True, pytest.approx(685.8))
