from __future__ import annotations

import json

from partsbench import help as helps
from tests.cli.conftest import Call


def test_without_a_word_every_page_is_listed(call: Call) -> None:
    said = call("help")
    assert said.code == 0
    for page in helps.pages():
        assert page.key in said.out
        assert page.about in said.out


def test_a_page_is_shown_whole_and_a_command_by_its_entry(call: Call) -> None:
    page = helps.page("labels")
    assert page is not None
    assert call("help", "labels").out == page.text
    told = call("help", "send-back").out
    assert "- `send-back CODE STEP` returns faces" in told
    assert "- `place" not in told
    assert "partsbench help bench" in told


def test_a_word_is_found_wherever_it_stands(call: Call) -> None:
    told = call("help", "stone", "tops")
    assert told.code == 0
    assert "[New piece: A piece written down]" in told.out
    rows = call("help", "stone", "tops", "--json").json
    assert {tuple(row) for row in rows} == {("page", "title", "heading", "text")}
    assert [row["page"] for row in rows] == ["start"]


def test_what_no_page_speaks_of_is_told(call: Call) -> None:
    said = call("help", "marmalade")
    assert (said.code, said.err) == (1, "")
    assert "No page speaks of “marmalade”" in said.out
    assert json.loads(call("help", "marmalade", "--json").out) == []
