from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from partsbench.cli import labels as label_commands
from partsbench.reading.found import How
from partsbench.services.heard.reading import codes_in_use
from tests.cli.conftest import Call, parts_of
from tests.support.ruined import ruined
from tests.support.shops import shop_at


def test_labels_are_printed_and_read_back(good: Call, tag: str, tmp_path: Path) -> None:
    file = tmp_path / "labels.pdf"
    made = good("labels", tag, "--out", file, "--homes", "--json").json
    parts = parts_of(good, tag)
    assert set(made["codes"]) >= {p["code"] for p in parts.values()}
    assert {p["home_code"] for p in parts.values()} <= set(made["codes"])
    with pypdfium2.PdfDocument(file) as document:
        assert len(document) == made["pages"]
    (read,) = good("read", file, "--json").json
    assert read["file"] == str(file)
    assert sorted(read["codes"]) == sorted(made["codes"])


def test_a_long_file_tells_how_far_it_is(
    good: Call, call: Call, tag: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "labels.pdf"
    good("labels", tag, "--out", file)
    assert call("read", file).err == ""
    monkeypatch.setattr(label_commands, "PATIENCE_SECONDS", 0)
    told = call("read", file).err.splitlines()
    assert told == [f"partsbench: {file}: page {n}…" for n in range(1, len(told) + 1)]
    assert told


def test_only_some_and_from_a_free_label_on(good: Call, tag: str, tmp_path: Path) -> None:
    parts = parts_of(good, tag)
    words = ("--only", "D5,D7", "--start", "3", "--stock", "letter-2x5", "--offset", "0.5,-1")
    made = good("labels", tag, "--out", tmp_path / "l.pdf", *words, "--json").json
    assert sorted(made["codes"]) == sorted([parts["D5"]["code"], parts["D7"]["code"]])


def test_a_reprint_replaces_the_old_label(good: Call, call: Call, tag: str, tmp_path: Path) -> None:
    good("labels", tag, "--out", tmp_path / "l.pdf")
    old = parts_of(good, tag)["D5"]["code"]
    good("labels", tag, "--out", tmp_path / "again.pdf", "--only", "D5", "--reprint")
    new = parts_of(good, tag)["D5"]["code"]
    assert new != old
    assert good("scan", new, "--json").json["part"] == "D5"
    ran = call("scan", old, "--json")
    assert ran.code == 1
    assert ran.json["answer"] == "STOP"
    assert "replaced" in ran.json["sentence"]


@pytest.mark.parametrize(
    "words",
    [
        ("--stock", "paper"), ("--only", "D99"), ("--start", "0"), ("--start", "999"),
        ("--offset", "x"), ("--offset", "nan,0"), ("--offset", "99,0"),
    ],
)  # fmt: skip
def test_a_refused_sheet_leaves_no_file_and_no_record(
    call: Call, tag: str, tmp_path: Path, words: tuple[str, str]
) -> None:
    file = tmp_path / "l.pdf"
    before = call("history", "--json").out
    ran = call("labels", tag, "--out", file, *words)
    assert (ran.code, ran.err.count("\n")) == (2, 1), ran
    assert not file.exists()
    assert call("history", "--json").out == before


def test_several_files_are_read_and_each_fault_is_told(
    good: Call, call: Call, tag: str, tmp_path: Path
) -> None:
    labels, text, blank = tmp_path / "l.pdf", tmp_path / "notes.txt", tmp_path / "blank.png"
    good("labels", tag, "--out", labels, "--only", "D1")
    text.write_text("no picture", encoding="utf-8")
    _white(blank)
    ran = call("read", labels, blank, "--json")
    assert ran.code == 1
    assert [len(r["codes"]) for r in ran.json] == [1, 0]
    ran = call("read", labels, text, tmp_path / "gone.png", "--json")
    assert ran.code == 2
    assert [len(r["codes"]) for r in ran.json] == [1, 0, 0]
    assert ran.err.count("\n") == 1
    assert str(text) in ran.err and "gone.png" in ran.err


def test_a_label_of_another_book_is_no_reading(good: Call, call: Call, tmp_path: Path) -> None:
    tag = good("lay-out", "Heron", "--rows", "1").last
    good("labels", tag, "--out", tmp_path / "l.pdf")
    other = tmp_path / "other.partsbench"
    good("lay-out", "Quill", "--rows", "1", "--book", other)
    ran = call("--book", other, "read", tmp_path / "l.pdf", "--json")
    assert (ran.code, ran.json[0]["codes"]) == (1, [])


def test_stocks_are_listed(good: Call) -> None:
    listed = good("stocks", "--json").json
    assert "plain-a4" in {s["name"] for s in listed}
    assert all(s["per_page"] > 0 and s["title"] for s in listed)


def test_where_the_sizes_of_the_stocks_are_from_is_told_once_each(good: Call) -> None:
    """What is cut to each part's size is no sheet of anybody's, and has no source."""
    sources = {row["source"] for row in good("stocks", "--json").json} - {""}
    told = [line for line in good("stocks").out.splitlines() if line.startswith("From: ")]
    assert sorted(told) == sorted(f"From: {s}. Measure the sheet in hand." for s in sources)
    assert sources and all(s.endswith("(common practice)") for s in sources)


def _white(path: Path) -> None:
    from PIL import Image

    Image.new("L", (200, 200), 255).save(path)


def test_what_has_to_be_confirmed_bears_a_question_mark(
    good: Call, call: Call, tag: str, book: Path, tmp_path: Path
) -> None:
    shop = shop_at(book)
    file = tmp_path / "ruined.png"
    code = ruined(codes_in_use(shop), file, How.BOOK)
    shop.close()
    before = call("history", "--json").out
    ran = call("read", file, "--json")
    assert ran.code == 1
    (row,) = ran.json
    (guess,) = row["probable"]
    assert (row["codes"], guess["code"]) == ([], code)
    assert guess["sentence"].startswith("probably ")
    assert 0 < guess["chance"] <= 1e-3
    told = call("read", file)
    assert told.code == 1
    assert f"{code}? (probably " in told.out
    assert call("history", "--json").out == before


def test_every_sheet_is_on_the_shops_own_paper(call: Call, tag: str, tmp_path: Path) -> None:
    """Inches typed first, or `setting paper letter`, and nothing more has to be said."""
    call("setting", "paper", "letter")
    calls = (("proof", tag), ("verbs",), ("day-sheet",), ("labels", tag), ("care-sheet", tag))
    for words in calls:
        file = tmp_path / f"{words[0]}.pdf"
        call(*words, "--out", file)
        with pypdfium2.PdfDocument(file) as document:
            size = [points / 72 * 25.4 for points in document[0].get_size()]
        assert size == pytest.approx([215.9, 279.4], abs=0.1), words
