from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from partsbench.cli.base import BadInputError, Desk, iso, names_in, new_file, written_whole


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
    desk = Desk(book=book)
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
