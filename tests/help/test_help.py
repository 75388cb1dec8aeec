"""The pages are there, each is found by its words, and examples in them stay whole."""

from __future__ import annotations

from pathlib import Path

from partsbench import help as helps
from partsbench.ui.page_table import PAGES

FOLDER = Path(helps.__file__).parent


def test_every_file_is_a_page_and_every_page_of_the_window_has_one() -> None:
    assert sorted(p.stem for p in FOLDER.glob("*.md")) == sorted(helps.ORDER)
    assert {p.key for p in PAGES} <= set(helps.ORDER)


def test_a_page_begins_with_its_title_and_one_line_about_it() -> None:
    for page in helps.pages():
        assert page.text.startswith(f"# {page.title}\n\n"), page.key
        assert 20 < len(page.about) < 120, page.key
        assert page.about.endswith("."), page.key


def test_passages_are_the_whole_of_a_page_and_each_once() -> None:
    for page in helps.pages():
        mine = "".join(p.text for p in helps.passages() if p.page is page)
        assert "".join(mine.split()) == "".join(page.text.split()), page.key


def test_an_example_is_not_taken_apart() -> None:
    (example,) = [p for p in helps.passages() if "```toml" in p.text]
    assert "[old_marks]" in example.text
    assert "# prices in it" not in example.text
    assert example.text.count("```") == 2


def test_a_command_is_one_entry() -> None:
    found = helps.entry("labels")
    assert found is not None
    assert found.page.key == "labels"
    assert found.text.startswith("- `labels TAG --out FILE`")
    assert "`stocks`" not in found.text
    assert helps.entry("no-such-command") is None


def test_words_are_all_needed_and_found_at_their_beginning() -> None:
    assert helps.find("") == helps.find("  ") == ()
    both = helps.find("sheet scanned")
    assert both
    for passage in both:
        said = f"{passage.page.title} {passage.heading} {passage.text}".lower()
        assert "sheet" in said and "scanned" in said
    assert len(both) < len(helps.find("sheet"))
    assert helps.find("agstone") == ()
    assert {p.text for p in helps.find("ABEL")} & {p.text for p in helps.find("label")} == set()


def test_what_is_named_by_the_word_comes_first() -> None:
    assert helps.find("tried")[0].of == "tried"
    named = [p.heading.lower().find("read") for p in helps.find("will not read")]
    assert named[0] > 0
