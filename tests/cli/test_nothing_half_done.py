"""No command changes anything before all that it was given is understood.

Each command is called as a person would, with one word or more of it spoilt; where the answer is
bad input (exit code 2) the whole book, and the folder, must be as they were. `PARTSBENCH_FUZZ=N`
spoils N calls of each command instead of the few of every run.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from random import Random

import pytest

from partsbench.cli.group import COMMANDS, run
from tests.cli.conftest import Call
from tests.support.clock import MORNING, SetClock

CALLS = int(os.environ.get("PARTSBENCH_FUZZ", "0"))
FEW = 14
ODD = (
    "", " ", "nan", "inf", "-inf", "-1", "0", "1e400", "9" * 400, "D999", "H99", "ZZZZ", "x" * 300,
    "\x01", "\x1b[2J", "tomorrow", "99:99", "2099-01-01", "D1=D2", "soup:", "a:b:c", "[", "🪑",
    "=", "D1=", "no such hold: because", "/no/such/folder/x.pdf", "1/0", "12 parsecs", "9999-12-31",
)  # fmt: skip
READ_ONLY_OR_NONE = frozenset({"demo", "sample", "restore", "help", "hub"})
"""They make a book of their own, replace the whole book, read none, or serve until they are
stopped."""

NEED_MORE = frozenset({"devices", "drill-check", "eliminate", "mask-paper"})
"""The book has no answer for them as they are called here; what they are given is read."""

VALID: dict[str, list[str]] = {
    "lay-out": ["lay-out", "Lark", "--rows", "2 1", "--title", "chest", "--width", "900",
                "--height", "700", "--legs", "4", "--pulls", "1", "--paint", "D1", "--stain", "D2",
                "--age", "newer"],
    "take-in": ["take-in", "{toml}"],
    "mirror": ["mirror", "{tag}", "--title", "right"],
    "pieces": ["pieces"],
    "parts": ["parts", "{tag}"],
    "export": ["export", "{tag}", "{new}"],
    "client": ["client", "{tag}", "--name", "N", "--contact", "post", "--note", "rings twice"],
    "forget-client": ["forget-client", "{tag}"],
    "path": ["path", "{tag}", "stain", "D3", "D4 front"],
    "add-part": ["add-part", "{tag}", "pull", "--name", "knob", "--on", "D1", "--spot", "left",
                 "--contents", "2 screws"],
    "edit-part": ["edit-part", "{tag}", "D1", "--name", "top left", "--old-mark", "3", "--note",
                  "sticks", "--fragile"],
    "retire-part": ["retire-part", "{tag}", "D4", "--reason", "burnt"],
    "fittings": ["fittings", "{tag}", "lock", "1", "D1", "D2"],
    "legs": ["legs", "{tag}", "4"],
    "rename": ["rename", "{tag}", "low chest"],
    "number-by": ["number-by", "{young}", "by column"],
    "front": ["front", "{tag}", "split", "H3", "columns", "2"],
    "labels": ["labels", "{tag}", "--out", "{new}", "--only", "D1,D2", "--start", "2",
               "--offset", "0.5,0.5", "--homes", "--reprint"],
    "stocks": ["stocks"],
    "read": ["read", "{sheet}"],
    "scan": ["scan", "D1", "--piece", "{tag}", "--record", "--confirm", "--face", "front",
             "--insist", "not dry yet: tried", "--note", "n", "--cup", "1", "--at", "5 min ago"],
    "out": ["out", "{tag}", "D1", "D2", "--place", "rack 2", "--at", "5 min ago"],
    "stays-in": ["stays-in", "{tag}", "D3"],
    "send-back": ["send-back", "D1", "wash", "--reason", "greasy", "--face", "front", "--piece",
                  "{tag}"],
    "place": ["place", "rack 2", "D1", "D2", "--piece", "{tag}", "--at", "5 min ago"],
    "find": ["find", "D1", "--piece", "{tag}"],
    "unseen": ["unseen", "{tag}", "--since", "2 days ago"],
    "paths": ["paths"],
    "clock": ["clock", "{tag}", "D1", "--at", "5 min ago"],
    "day": ["day", "{tag}", "--minutes", "30", "--hands", "clean", "--at", "5 min ago"],
    "plan": ["plan", "{tag}", "--what-if", "off tonight", "--days", "3", "--calendar", "{new}",
             "--seconds", "0.1", "--at", "5 min ago"],
    "promise": ["promise", "{tag}", "2031-04-04", "--worth", "5", "--seconds", "0.1"],
    "alike": ["alike", "{tag}", "L1", "L2"],
    "count-home": ["count-home", "{tag}", "L3", "1", "--at", "5 min ago"],
    "review": ["review", "paint"],
    "copy-path": ["copy-path", "paint", "own_paint", "--name", "Own", "--out", "{new}"],
    "keep-path": ["keep-path", "{path}"],
    "load": ["load", "{tag}", "--only", "D3", "--start", "--cup", "1", "--ml-per-sqm", "120",
             "--cup-ml", "600", "--strip", "{new}", "--done", "--except", "D3 left edge",
             "--insist", "not dry yet: tried", "--confirm", "--at", "5 min ago"],
    "cup": ["cup", "--mix", "blue", "--pour", "colour:9:17", "--pour", "water:1", "--product",
            "paint_water", "--tint", "5", "--thinned", "10", "--pot-life", "4 h",
            "--volume", "600", "--strained"],
    "mask": ["mask", "{tag}", "--on", "C1 top", "--against", "C1 rails", "--tape", "blue",
             "--rating", "7 d", "--at", "5 min ago"],
    "tried": ["tried", "D3", "recoat", "not", "--face", "front", "--piece", "{tag}", "--note", "n",
              "--at", "5 min ago"],
    "fact": ["fact", "{tag}", "veneer", "yes", "D1", "D2 front", "--note", "n"],
    "old-finish": ["old-finish", "{tag}", "D1", "--on-it", "clear", "--age", "older", "--test",
                   "tested free", "--how", "swab", "--where", "back edge",
                   "--by", "Wren", "--on", "2031-03-03", "--work", "wet"],
    "tin": ["tin", "blue paint", "--product", "paint_water", "--wait", "recoat=4 h",
            "--wait", "sand=6 h", "--least-c", "10", "--most-c", "30", "--most-humidity", "80",
            "--thin-most", "10", "--pot-life", "4 h"],
    "air": ["air", "20", "50", "--surface", "18", "--place", "spray room", "--at", "5 min ago"],
    "rags": ["rags", "water"],
    "power-cut": ["power-cut", "1 h ago", "5 min ago", "--heating", "--note", "fuse"],
    "person": ["person", "Robin", "--only", "sand,wash"],
    "rack": ["rack", "rack 7"],
    "verbs": ["verbs", "--out", "{new}", "--paper", "a4"],
    "day-sheet": ["day-sheet", "{tag}", "--out", "{new}", "--paper", "a4"],
    "return": ["return", "{tag}", "{pairs}", "--at", "5 min ago"],
    "fit": ["fit", "{tag}", "D1", "wax"],
    "eliminate": ["eliminate", "{young}"],
    "proof": ["proof", "{tag}", "--out", "{new}", "--paper", "a4", "--for-client"],
    "history": ["history", "{tag}", "--limit", "3"],
    "what-time": ["what-time", "{doubtful}", "20 min ago"],
    "undo": ["undo", "--of", "{latest}"],
    "redo": ["redo"],
    "correct": ["correct", "{tag}", "D2", "D4"],
    "save-copy": ["save-copy", "{new}"],
    "copies": ["copies", "--folder", "{folder}"],
    "check-book": ["check-book"],
    "put-away": ["put-away", "{tag}"],
    "devices": ["devices", "--clients", "--device", "1"],
    "moisture": ["moisture", "--temp", "20C", "--rh", "50"],
    "movement": ["movement", "--species", "oak, red", "--size", "400", "--from", "8", "--to", "12"],
    "coverage": ["coverage", "--solids", "40", "--film", "100 um", "--transfer", "hvlp"],
    "dew-point": ["dew-point", "--temp", "20C", "--rh", "50"],
    "grit": ["grit", "220"],
    "offer": ["offer", "--price", "640", "--costs", "95", "--hours", "14.5", "--fee", "5"],
    "setting": ["setting", "rate", "30"],
    "measure": ["measure", "{tag}", "D1", "width", "398"],
    "wood": ["wood", "{tag}", "oak, red", "D1", "D2", "--cut", "flat"],
    "gap": ["gap", "{tag}", "D1", "--coats", "3", "--wet", "100 um", "--solids", "40"],
    "orphan": ["orphan", "{tag}", "stray", "--width", "398", "--top", "1", "--height", "176",
               "--depth", "400", "--mark", "3", "--wear", "left"],
    "swaps": ["swaps", "{tag}"],
    "mask-paper": ["mask-paper", "{tag}"],
    "level": ["level", "{tag}", "--rock-at", "front left", "--rock", "3"],
    "symmetry": ["symmetry", "{tag}", "{young}", "--wanted", "D1"],
    "tip-over": ["tip-over", "{tag}", "--mass", "38 kg"],
    "census": ["census", "{tag}", "D1", "pull", "1", "--condition", "good", "--spacing", "96",
               "--thread", "M4", "--screw", "25"],
    "order": ["order", "{tag}", "--needed", "2031-04-04", "--lead", "5"],
    "allot": ["allot", "{tag}", "--kind", "pull", "--price", "4", "--veto",
              "pull 1 of D1, good=D2 middle"],
    "pulls": ["pulls", "{tag}", "new ones", "--spacing", "96", "--plate", "120 x 40", "--foot",
              "12", "--thread", "M4", "--depth", "10", "--price", "4", "--lead", "5"],
    "holes": ["holes", "{tag}", "D1", "102,90 198,90"],
    "drill-sheet": ["drill-sheet", "{tag}", "D1", "--out", "{new}", "--spacing", "96", "--count",
                    "1", "--from-top", "90", "--paper", "a4"],
    "drill-check": ["drill-check", "D1", "D1", "--piece", "{tag}"],
    "screw": ["screw", "{tag}", "D1", "new ones", "M4", "25"],
    "mix": ["mix", "{tag}", "paint", "--only", "D1", "--wet", "100 um", "--coats", "2"],
    "mix-again": ["mix-again", "26 clear, 3 colour, 1 water", "300 ml"],
    "tins": ["tins", "can", "5 l", "--price", "40", "--empty", "0.4 l"],
    "use-tin": ["use-tin", "{tag}", "blue can", "--left", "2 l", "--before", "3 l"],
    "money": ["money", "{tag}", "materials", "40", "--note", "paint"],
    "work": ["work", "{tag}", "sand"],
    "hours": ["hours", "{tag}", "--step", "Wash", "--minutes", "30", "--day", "2031-03-04"],
    "ledger": ["ledger", "{tag}", "--csv", "{new}"],
    "floor-price": ["floor-price", "{tag}", "--rate", "30"],
    "ceiling": ["ceiling", "--price", "640", "--hours", "14.5", "--costs", "95", "--rate", "30",
                "--fault", "10", "--more-hours", "2", "--more-costs", "20"],
    "quote": ["quote", "--rate", "30", "--kind", "chest"],
    "care-sheet": ["care-sheet", "{tag}", "--out", "{new}", "--paper", "a4"],
}  # fmt: skip


@dataclass(frozen=True)
class Shelf:
    """A book that was worked in, and what the words of a call stand for."""

    book: Path
    names: dict[str, str]


@pytest.fixture(scope="module")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Shelf:
    folder = tmp_path_factory.mktemp("shelf")
    book, clock = folder / "base.partsbench", SetClock()

    def good(*words: str) -> None:
        assert run(["--book", str(book), *words], clock) == 0, words

    (folder / "lark.toml").write_text('codename = "Larch"\nrows = "2"\n', encoding="utf-8")
    (folder / "pairs.txt").write_text("H1 D1\n", encoding="utf-8")
    (folder / "copies").mkdir()
    good("lay-out", "Quill", "--rows", "1 2", "--pulls", "1")
    good("lay-out", "Heron", "--rows", "2 2", "--legs", "4", "--pulls", "1", "--top", "--age",
         "newer", "--paint", "D1,D3,C1 rails", "--stain", "D2,top,C1 top")  # fmt: skip
    with closing(sqlite3.connect(book)) as looked:
        (young,), (tag,) = looked.execute("SELECT tag FROM piece ORDER BY id")
    good("alike", tag, "L3", "L4")
    good("client", tag, "--name", "N. Example")
    good("labels", tag, "--out", str(folder / "labels.pdf"))
    good("out", tag, "D1", "D2", "D3")
    good("cup", "--mix", "blue", "--pour", "colour:9", "--product", "paint_water")
    good("tins", "blue can", "5 l")
    good("pulls", tag, "new ones", "--spacing", "96", "--thread", "M4", "--depth", "10")
    good("census", tag, "D1", "pull", "1")
    good("census", tag, "D2", "pull", "0")
    good("measure", tag, "D1", "thickness", "19")
    good("drill-sheet", tag, "D1", "--out", str(folder / "drill.pdf"), "--spacing", "96")
    for _ in range(2):
        good("scan", "D1", "--piece", tag, "--record", "--confirm")
    clock.pass_time(hours=1)
    good("scan", "D3", "--piece", tag, "--record", "--step", "prime", "--insist", "it is done",
         "--confirm")  # fmt: skip
    clock.pass_time(days=400)
    good("fact", young, "veneer", "yes", "D1")
    clock.pass_time(days=-400)
    good("copy-path", "paint", "own_paint", "--name", "Own", "--out", str(folder / "path.toml"))
    good("rename", tag, "chest")
    good("undo")
    with closing(sqlite3.connect(book)) as looked:
        (latest,) = looked.execute("SELECT undo_top FROM journal ORDER BY id DESC").fetchone()
        (doubtful,) = looked.execute("SELECT max(id) FROM journal WHERE at LIKE '2032%'"
                                     ).fetchone()  # fmt: skip
    names = {"tag": tag, "young": young, "latest": str(latest), "doubtful": str(doubtful),
             "toml": "lark.toml", "path": "path.toml", "pairs": "pairs.txt", "folder": "copies",
             "sheet": "labels.pdf"}  # fmt: skip
    return Shelf(book, names)


def whole(folder: Path) -> dict[str, object]:
    """Every file of a folder; of a book all that is in it."""
    found: dict[str, object] = {}
    for file in sorted(folder.rglob("*")):
        if file.name == "b.partsbench":
            with closing(sqlite3.connect(file)) as book:
                found[file.name] = list(book.iterdump())
        elif file.is_file() and not file.name.endswith(("-wal", "-shm")):
            found[str(file)] = file.read_bytes()
    return found


def spoilt(chance: Random, words: list[str]) -> list[str]:
    """One word, sometimes two, are another; or an option comes twice, or a word too many."""
    words = list(words)
    for _ in range(chance.choice((1, 1, 1, 2))):
        places = [i for i in range(1, len(words)) if not words[i].startswith("--")]
        if not places or chance.random() < 0.08:
            words.append(chance.choice(ODD))
        else:
            words[chance.choice(places)] = chance.choice(ODD)
    return words


def test_every_command_is_called() -> None:
    assert VALID.keys() | READ_ONLY_OR_NONE == COMMANDS.keys()


@pytest.mark.parametrize("command", VALID)
def test_bad_input_changes_nothing(
    shelf: Shelf,
    call: Call,
    book: Path,
    command: str,
    clock: SetClock,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    folder = book.parent / "here"
    folder.mkdir()
    for name in ("lark.toml", "path.toml", "pairs.txt", "labels.pdf"):
        shutil.copy(shelf.book.parent / name, folder)
    (folder / "copies").mkdir()
    monkeypatch.chdir(folder)
    clock.now = MORNING + timedelta(hours=9)
    mine, chance = folder / "b.partsbench", Random(command)
    shutil.copy(shelf.book, mine)
    whole_call = [w.format(**shelf.names, new="whole.pdf") for w in VALID[command]]
    understood = call("--book", mine, *whole_call)
    assert understood.code != 2 or command in NEED_MORE, understood
    shutil.copy(shelf.book, mine)
    before, refused = whole(folder), 0
    for count in range(CALLS or FEW):
        filled = [w.format(**shelf.names, new=f"new{count}.pdf") for w in VALID[command]]
        words = spoilt(chance, filled)
        ran = call("--book", mine, *words)
        assert ran.code in (0, 1, 2, 3), (words, ran)
        after = whole(folder)
        if ran.code == 2:
            refused += 1
            assert after == before, words
            assert len(ran.err.strip().splitlines()) == 1, words
        elif after != before:
            shutil.copy(shelf.book, mine)
            for made in folder.glob("new*"):
                made.unlink()
            for left in folder.glob("copies/*"):
                left.unlink()
            before = whole(folder)
    needs = len(VALID[command]) > 1
    assert refused >= (FEW // 5 if needs else 1), "nothing was spoilt enough to be refused"
