from __future__ import annotations

import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from partsbench.cli import window
from partsbench.cli.group import COMMANDS, run
from tests.cli.conftest import Call
from tests.support.clock import SetClock


def test_every_command_answers_to_help(capsys: pytest.CaptureFixture[str]) -> None:
    for name in COMMANDS:
        assert run([name, "--help"]) == 0
        assert f"partsbench {name}" in capsys.readouterr().out


def test_help_lists_every_command(call: Call) -> None:
    listed = call("--help").out
    assert [name for name in COMMANDS if f"\n  {name} " not in listed] == []


def test_the_book_is_named_before_or_after_the_command(
    tmp_path: Path, clock: SetClock, capsys: pytest.CaptureFixture[str]
) -> None:
    book = str(tmp_path / "b.partsbench")
    assert run(["--book", book, "lay-out", "Heron", "--rows", "2"], clock) == 0
    first = capsys.readouterr().out.splitlines()[-1]
    assert run(["pieces", "--book", book], clock) == 0
    assert capsys.readouterr().out.startswith(first)


def test_a_book_named_after_the_command_wins(call: Call, tag: str, tmp_path: Path) -> None:
    other = tmp_path / "other.partsbench"
    assert call("lay-out", "Quill", "--rows", "3", "--book", other).code == 0
    assert "Quill" not in call("pieces").out
    assert call("--book", other, "pieces").out.count("Quill") == 1


@pytest.mark.parametrize("name", ["b.partsbench", "B.PARTSBENCH", "folder/of any name"])
def test_a_book_whose_path_stands_alone_is_opened(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    book = tmp_path / name
    book.parent.mkdir(exist_ok=True)
    assert call("lay-out", "Quill", "--rows", "3", "--book", book).code == 0
    opened: list[Path] = []
    monkeypatch.setattr(window, "open_window", lambda path, *_, **__: opened.append(path) or 0)
    assert call(book).code == 0
    monkeypatch.chdir(tmp_path)
    assert call(name).code == 0
    assert opened == [book, Path(name)]
    assert "Quill" in call(book, "pieces").out, "a command may follow"


def test_a_bare_word_is_a_command_and_never_a_file(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "peices").write_text("x")
    monkeypatch.chdir(tmp_path)
    assert "No such command" in call("peices").err
    assert "No such command" in call("not/there").err


def test_who_is_at_work_is_noted(call: Call, tag: str, monkeypatch: pytest.MonkeyPatch) -> None:
    call("out", tag, "D1", "--who", "Wren")
    monkeypatch.setenv("PARTSBENCH_WHO", "Finch")
    call("out", tag, "D2")
    assert [e["who"] for e in call("history", "--json").json] == ["Finch", "Wren", ""]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["no-such"], "No such command"),
        (["--no-such"], "No such option"),
        (["parts"], "TAG"),
        (["lay-out", "Heron"], "--rows"),
        (["parts", "ZZZZ"], "no piece “ZZZZ”"),
        (["labels", "Heron", "--out", "x.pdf", "--start", "x"], "--start"),
        (["fit", "Heron", "D1", "loose"], "RESULT"),
    ],
)
def test_bad_input_is_one_line_that_says_what(
    call: Call, tag: str, words: list[str], said: str
) -> None:
    ran = call(*words)
    assert ran.code == 2
    assert ran.out == ""
    assert ran.err.count("\n") == 1
    assert said in ran.err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["measure", "Heron", "D1", "width", "-5 mm"], "width"),
        (["measure", "Heron", "D1", "width", "-5"], "width"),
        (["front", "Heron", "width", "H1", "-.5 in"], "'-.5 in'"),
        (["tins", "blue", "-5 ml"], "'-5 ml'"),
        (["mix-again", "26 clear, 3 colour", "-60ml"], "volume"),
        (["money", "Heron", "bought", "-5"], "bought"),
        (
            [
                "movement",
                "--species",
                "walnut, black",
                "--size",
                "-5 mm",
                "--from",
                "8",
                "--to",
                "9",
            ],
            "size",
        ),
        (["legs", "Heron", "-4"], "4"),
        (["measure", "Heron", "D1", "--5"], "No such option"),
    ],
)
def test_a_negative_size_is_told_as_a_size(
    call: Call, tag: str, words: list[str], said: str
) -> None:
    ran = call(*words)
    assert (ran.code, ran.out, ran.err.count("\n")) == (2, "", 1)
    assert said in ran.err
    assert ("No such option" in ran.err) == (said == "No such option")
    assert "\x1f" not in ran.err


def test_a_temperature_below_nought_is_read(good: Call, tag: str) -> None:
    good("setting", "dry month", "-5C 40%")
    assert good("dew-point", "--temp", "-5C", "--rh", "50").out
    values = {s["name"]: s["value"] for s in good("setting", "--json").json}
    assert values["dry month"] == "-5C 40%"


def test_bad_input_changes_nothing(call: Call, tag: str) -> None:
    before = call("history", "--json").json
    for words in (
        ["out", tag, "D1", "D99"],
        ["scan", "D1", "--piece", tag, "--record", "--at", "23:59"],
        ["path", tag, "gold", "D1"],
        ["lay-out", "X", "--rows", "2 x"],
        ["place", "rack 2", "nonsense"],
    ):
        assert call(*words).code == 2, words
    assert call("history", "--json").json == before


def test_a_book_that_is_not_there_is_told_and_not_made(call: Call, book: Path) -> None:
    ran = call("pieces")
    assert ran.code == 2
    assert str(book) in ran.err
    assert not book.exists()


def test_a_refused_first_piece_leaves_no_book(call: Call, book: Path) -> None:
    assert call("lay-out", "Heron", "--rows", "2", "--legs", "99").code == 2
    assert not book.exists()


def test_a_file_of_another_kind_is_refused_and_untouched(call: Call, book: Path) -> None:
    book.write_bytes(b"a shopping list")
    ran = call("pieces")
    assert (ran.code, ran.err.count("\n")) == (2, 1)
    assert book.read_bytes() == b"a shopping list"


def test_damage_met_while_reading_is_told(call: Call, tag: str, book: Path) -> None:
    data = bytearray(book.read_bytes())
    page = int.from_bytes(data[16:18], "big")
    pages = len(data) // page
    told = set()
    for place in range(1, pages):
        broken = data.copy()
        broken[place * page : place * page + 64] = b"\xff" * 64
        book.write_bytes(bytes(broken))
        ran = call("parts", tag)
        assert ran.code in (0, 2), ran
        if ran.code:
            assert ran.err.count("\n") == 1, ran
            told.add("damaged" in ran.err)
    assert told == {True}


def test_it_runs_as_a_module() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "partsbench", "stocks"],
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 0
    assert "plain-a4" in done.stdout


def test_the_window_is_not_loaded_by_a_command() -> None:
    code = (
        "import sys; from partsbench.cli.group import run; run(['stocks']); "
        "print('PySide6' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout.splitlines()[-1] == "False"


@pytest.mark.parametrize(
    "nonsense",
    [
        "UPDATE opening SET kind = 'gate'",
        "UPDATE piece SET columns_mm = '{}'",
        "UPDATE piece SET rows_mm = '[\"x\"]'",
        "UPDATE part SET family = 'Y' WHERE number = 7 AND family = 'D'",
        "UPDATE part SET home_kind = 'moon'",
        "UPDATE piece SET numbering = 'odd'",
    ],
)
def test_nonsense_in_a_book_is_told_as_damage(
    call: Call, tag: str, book: Path, nonsense: str
) -> None:
    with closing(sqlite3.connect(book)) as raw:
        raw.execute(nonsense)
        raw.commit()
    ran = call("parts", tag)
    assert (ran.code, ran.err.count("\n")) == (2, 1), ran
    assert "damaged" in ran.err


@pytest.mark.parametrize(
    ("nonsense", "words"),
    [
        ("UPDATE piece SET taken_in_at = 'moon'", ["pieces"]),
        ("UPDATE mark SET at = ''", ["clock", "Heron"]),
        ("UPDATE tin_card SET waits = -5", ["tin"]),
        ("UPDATE tin_card SET waits = '-5'", ["day"]),
    ],
)
def test_nonsense_met_deep_inside_is_told_by_its_row(
    good: Call, call: Call, tag: str, book: Path, nonsense: str, words: list[str]
) -> None:
    good("tin", "blue", "--product", "paint_water", "--wait", "recoat=6 h..24 h")
    good("scan", "D1", "--piece", tag, "--record", "--confirm")
    with closing(sqlite3.connect(book)) as raw:
        raw.execute(nonsense)
        raw.commit()
    ran = call(*words)
    assert (ran.code, ran.out, ran.err.count("\n")) == (2, "", 1), ran
    table = nonsense.split()[1]
    assert f"is damaged: row 1 of {table}: " in ran.err
    assert "Get a copy back." in ran.err


def test_a_fault_of_the_program_itself_is_not_blamed_on_the_book(
    call: Call, tag: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ValueError("a mistake of ours")

    monkeypatch.setattr("partsbench.cli.shop_floor.tins.cards", broken)
    with pytest.raises(ValueError, match="a mistake of ours"):
        call("tin")


def test_a_command_that_is_stopped_says_so(
    call: Call, tag: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("partsbench.cli.shop_floor.tins.cards", stopped)
    ran = call("tin")
    assert (ran.code, ran.out, ran.err) == (130, "", "\nStopped.\n")
