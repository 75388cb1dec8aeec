"""Finish paths copied, edited, refused with line and reason, kept, and followed."""

from __future__ import annotations

from pathlib import Path

import pytest

from partsbench import trade
from partsbench.core.finish.path_text import DropStep
from partsbench.core.outcomes import Done, Refused
from partsbench.services.acts import bench
from partsbench.services.acts.history import undo
from partsbench.services.books import own_paths
from partsbench.services.books.pieces import give_path
from partsbench.services.known import review
from partsbench.services.shop import Shop
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import heron
from tests.support.steps import bring


def mine(shop: Shop, **edits: str) -> str:
    text = own_paths.copy_text(shop, "clear", "my_clear", 'Our "clear"')
    assert isinstance(text, str)
    for old, new in edits.items():
        assert old in text
        text = text.replace(old, new)
    return text


def test_a_copy_is_the_shipped_path_under_its_own_name(shop: Shop) -> None:
    checked = own_paths.check(mine(shop))
    assert checked.path is not None
    assert (checked.path.key, checked.path.name) == ("my_clear", "Our 'clear'")
    assert checked.path.steps == shop.path("clear").steps
    assert checked.findings == review.review_text(trade.path_texts()["clear"]).findings


def test_faces_follow_a_path_of_ones_own_with_its_figures(shop: Shop, clock: SetClock) -> None:
    text = mine(shop).replace('earliest = { value = "12 h"', 'earliest = { value = "3 h"', 1)
    kept = own_paths.save(shop, text)
    assert isinstance(kept, Done), kept
    tag = heron(shop).tag
    give_path(shop, tag, "my_clear", ["D4"])
    for _ in range(2):
        record(shop, "D4", here=tag)
    until = bench.look(shop, "D4", here=tag).until
    assert until is not None
    assert (until - clock.now).total_seconds() == 3 * 3600
    bring(shop, clock, tag, "D4", "clear_1")


def test_a_bare_figure_is_told_as_ones_own(shop: Shop, clock: SetClock) -> None:
    import re

    text = re.sub(r'earliest = \{ value = "12 h".*\}', 'earliest = "5 h"', mine(shop), count=1)
    assert isinstance(own_paths.save(shop, text), Done)
    tag = heron(shop).tag
    give_path(shop, tag, "my_clear", ["D4"])
    for _ in range(2):
        record(shop, "D4", here=tag)
    assert bench.look(shop, "D4", here=tag).source == "your own figure"


def test_a_bad_file_is_refused_with_line_and_reason(shop: Shop) -> None:
    text = mine(shop).replace('operation = "wash"', 'operation = "dance"', 1)
    line = next(i for i, words in enumerate(text.splitlines(), 1) if "dance" in words)
    refused = own_paths.save(shop, text)
    assert isinstance(refused, Refused)
    assert f"line {line}" in refused.sentence
    assert "dance" in refused.sentence
    assert own_paths.own(shop) == {}


def test_a_shipped_path_stays_as_it_is(shop: Shop) -> None:
    refused = own_paths.save(shop, trade.path_texts()["paint"])
    assert isinstance(refused, Refused)
    assert "give yours another key" in refused.sentence


def test_a_path_with_faces_on_it_is_not_taken_out(shop: Shop) -> None:
    own_paths.save(shop, mine(shop))
    tag = heron(shop).tag
    give_path(shop, tag, "my_clear", ["D4"])
    assert isinstance(own_paths.drop(shop, "my_clear"), Refused)
    give_path(shop, tag, "leave", ["D4"])
    assert isinstance(own_paths.drop(shop, "my_clear"), Done)
    assert "my_clear" not in shop.paths
    undo(shop)
    assert "my_clear" in shop.paths


def test_what_a_path_gets_wrong_is_found_in_a_file(shop: Shop, tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    text = trade.path_texts()["stain"].replace("value = 220, said", "value = 320, said")
    file.write_text(text.replace('key = "stain"\n', 'key = "mine"\n', 1), encoding="utf-8")
    found = review.review_file(file)
    assert isinstance(found, review.Reviewed)
    assert "too fine before stain" in {f.rule for f in found.findings}
    assert all(f.source.text for f in found.findings)


@pytest.mark.parametrize("name", ["paint", "stain", "clear", "dye_stain", "chalk_wax",
                                  "shellac_paint"])  # fmt: skip
def test_the_shipped_paths_are_held_back_by_nothing(shop: Shop, name: str) -> None:
    found = review.review_key(shop, name)
    assert isinstance(found, review.Reviewed)
    assert [f for f in found.findings if f.level == "hold"] == []


def test_files_that_cannot_be_read_are_told(shop: Shop, tmp_path: Path) -> None:
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    for name in ("nowhere.toml", "bytes.toml"):
        assert isinstance(review.review_file(tmp_path / name), Refused)
    assert isinstance(review.review_key(shop, "nothing"), Refused)
    assert isinstance(own_paths.copy_text(shop, "raw", "x", "y"), Refused)


def test_steps_written_on_one_line_are_a_way_of_its_own_and_not_edited_step_by_step() -> None:
    """`step = [{…}]` says the same as `[[step]]`, and has no block of lines to take out."""
    wash = 'key = "wash", name = "Wash", did = "washed", operation = "wash", cautions = ["lead"]'
    text = f'key = "quick"\nname = "Quick"\nkind = "paint"\nstep = [{{ {wash} }}]\n'
    assert own_paths.check(text).path is not None
    said = own_paths.edited(text, DropStep(0))
    assert said == Refused("This path is written in a way of its own: edit its text.")
