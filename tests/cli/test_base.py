from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from partsbench.cli.base import BadInputError, CallSettings, iso, names_in, new_file, written_whole
from tests.cli.conftest import Call


def test_a_file_takes_its_name_only_when_the_inside_went_well(tmp_path: Path) -> None:
    path = tmp_path / "labels.pdf"
    with pytest.raises(BadInputError, match="the book said no"), written_whole(path, b"new"):
        raise BadInputError("the book said no")
    assert list(tmp_path.iterdir()) == []
    with written_whole(path, b"new"):
        assert not path.exists()
    assert path.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [path]


def test_an_older_file_stays_when_the_inside_refuses(tmp_path: Path) -> None:
    path = tmp_path / "labels.pdf"
    path.write_bytes(b"old")
    with pytest.raises(BadInputError), written_whole(path, b"new"):
        raise BadInputError("no")
    assert path.read_bytes() == b"old"


def test_no_file_over_a_folder_or_the_book_or_in_a_folder_that_is_not_there(
    tmp_path: Path,
) -> None:
    book = tmp_path / "b.partsbench"
    book.write_bytes(b"book")
    desk = CallSettings(book=book)
    assert new_file(desk, tmp_path / "x.pdf") == tmp_path / "x.pdf"
    for path in (tmp_path, book, tmp_path / "nowhere" / "x.pdf"):
        with pytest.raises(BadInputError):
            new_file(desk, path)


def test_times_bear_their_offset() -> None:
    at = datetime(2026, 11, 25, 14, 20, tzinfo=UTC)
    written = iso(at)
    assert written is not None
    assert datetime.fromisoformat(written) == at
    assert datetime.fromisoformat(written).utcoffset() is not None
    assert iso(None) is None


def test_names_are_parted_by_commas() -> None:
    assert names_in("D1, D3 front,,top") == ["D1", "D3 front", "top"]


def test_what_steers_a_terminal_is_written_out(call: Call, good: Call, tag: str) -> None:
    nasty = "red\x1b[31m\x07\x9b2J\u202efdp"
    asked = call("find", nasty, "--piece", tag)
    assert "\x1b" not in asked.out + asked.err and "\\u001b[31m\\u0007\\u009b2J\\u202e" in asked.out
    refused = call("parts", nasty)
    assert refused.code == 2 and "\x1b" not in refused.err and "\\u001b" in refused.err
    good("edit-part", tag, "D1", "--note", "two\nlines\tof it")
    assert "two\nlines\tof it" in json.loads(good("parts", tag, "--json").out)[0]["note"]
    good("client", tag, "--name", nasty)
    told = good("client", tag, "--json").out
    assert "\x9b" not in told and json.loads(told)["name"] == nasty


@pytest.mark.parametrize("digits", [4, 5, 5_000])
@pytest.mark.parametrize("lead", ["", "D", "²"])
def test_a_number_of_any_length_may_be_looked_for(
    call: Call, tag: str, digits: int, lead: str
) -> None:
    ran = call("find", lead + "9" * digits)
    assert ran.code == 1 and "Nothing is called" in ran.out


@pytest.mark.parametrize(
    "words",
    [
        ("front", "width", "H1", ""),
        ("front", "height", "H1", ""),
        ("front", "split", "H1", "", "2"),
        ("front", "kind", "H1", ""),
        ("front", "remove", ""),
        ("front", "rows", ""),
        ("front", "behind", "H1", ""),
        ("census", "D1", "pull", "1", "--screw", "0"),
        ("census", "D1", "pull", "1", "--screw", "-1"),
        ("census", "D1", "pull", "1", "--spacing", "-1"),
    ],
)
def test_empty_words_and_nothing_for_a_size_are_told(
    call: Call, good: Call, tag: str, words: tuple[str, ...]
) -> None:
    before = good("history").out
    command, *rest = words
    ran = call(command, tag, *rest)
    assert ran.code == 2 and ran.err.count("\n") == 1
    assert good("history").out == before


@pytest.mark.parametrize("table", ["notes", "front", "paths", "behind", "fittings"])
def test_a_description_that_lies_too_deep_is_told(
    call: Call, good: Call, tag: str, table: str, tmp_path: Path
) -> None:
    file = tmp_path / "deep.toml"
    deep = ".".join([table, *["a"] * 3_000])
    file.write_text(f'codename = "A"\nrows = "2"\n[{deep}]\nx = 1\n', encoding="utf-8")
    for command in ("take-in", "review", "keep-path"):
        ran = call(command, file)
        assert ran.code == 2 and "too many times over" in ran.err + ran.out, (command, ran)
