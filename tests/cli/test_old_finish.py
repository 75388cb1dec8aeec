"""What is on a piece, told in words and as JSON."""

from __future__ import annotations

from tests.cli.conftest import Call


def test_what_was_said_of_the_old_finish_is_told_by_part(good: Call, tag: str) -> None:
    known, said = good("old-finish", tag).out.splitlines()
    assert known == "D1, D2, D3, T1: newer than the year that local rules name."
    assert said.startswith("Said: all of it: newer than the year that local rules name, ")
    good("old-finish", tag, "D1", "--on-it", "paint", "--age", "older", "--test", "tested lead",
         "--how", "a kit", "--where", "its back edge", "--by", "Wren")  # fmt: skip
    row = good("old-finish", tag, "--json").json
    by_names = {tuple(k["of"]): k for k in row["known"]}
    assert by_names["D1",]["cleared"] is False
    # One older part on it, and what was said of the whole clears the others no more.
    assert by_names["D2", "D3", "T1"]["cleared"] is False
    assert len(row["said"]) > 1 and any("Wren" in line for line in row["said"])
    assert good("old-finish", tag).out.count("Said: ") == len(row["said"])


def test_a_piece_with_nothing_to_strip_asks_nothing(good: Call) -> None:
    tag = good("lay-out", "Larch", "--rows", "1").last
    assert good("old-finish", tag).out == "No face of it is stripped or sanded.\n"
    assert good("old-finish", tag, "--json").json == {"known": [], "said": []}
