"""Sizes and woods as typed, kept, taken back, undone, and carried in an export."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.services.acts import history
from partsbench.services.books import exchange
from partsbench.services.shop import Shop
from partsbench.services.sums import choice, hours, mixing, money, orphan, standing
from partsbench.services.sums.census import count
from partsbench.services.sums.ground import SumGround, ground
from partsbench.services.sums.habits import habits, set_habit
from partsbench.services.sums.measure import measure, measured, set_wood
from partsbench.services.sums.told import Told
from tests.support.clock import SetClock
from tests.support.shops import heron, shop_at
from tests.support.sizes import taken


@pytest.fixture
def other(tmp_path: Path, clock: SetClock) -> Iterator[Shop]:
    shop = shop_at(tmp_path / "other.partsbench", clock)
    yield shop
    shop.close()


def sizes_of(shop: Shop, tag: str) -> dict[tuple[str, int], dict[str, float]]:
    found = ground(shop, tag)
    assert isinstance(found, SumGround)
    return found.mm()


def test_a_size_keeps_what_was_typed(shop: Shop) -> None:
    piece = heron(shop)
    taken(shop, piece, ("D5", "left height", '7 5/16"'), ("H5", "width", "598"))
    found = measured(shop, piece.tag)
    assert isinstance(found, Told)
    assert ("D5", "left height", '7 5/16"', "185.7 mm") in found.rows
    assert sizes_of(shop, piece.tag)["H", 5] == {"top width": 598.0, "bottom width": 598.0}


def test_a_size_taken_anew_replaces_the_old_and_undo_brings_it_back(shop: Shop) -> None:
    piece = heron(shop)
    taken(shop, piece, ("D1", "depth", "400"), ("D1", "depth", "410"))
    assert sizes_of(shop, piece.tag)["D", 1] == {"depth": 410.0}
    history.undo(shop)
    assert sizes_of(shop, piece.tag)["D", 1] == {"depth": 400.0}


def test_a_size_can_be_forgotten(shop: Shop) -> None:
    piece = heron(shop)
    taken(shop, piece, ("D1", "width", "400"), ("D1", "width", ""))
    assert sizes_of(shop, piece.tag) == {}


def test_measuring_fixes_the_numbers(shop: Shop) -> None:
    piece = heron(shop)
    taken(shop, piece, ("D1", "width", "400"))
    now = shop.piece(piece.tag)
    assert now is not None and now.numbers_fixed


@pytest.mark.parametrize(
    ("asked", "what", "text", "told"),
    [
        ("D99", "width", "400", "no part or home “D99”"),
        ("D1", "colour", "400", "no colour to measure of D1"),
        ("L1", "width", "400", "there are height, girth"),
        ("D1", "width", "nan", "cannot be read"),
        ("D1", "width", "-3", "negative"),
        ("D1", "width", "0", "is less than 0.1 mm"),
        ("D1", "width", "9 miles", "no unit"),
        ("D1", "width", "40 m", "more than 10000"),
    ],
)
def test_nonsense_is_refused_and_nothing_kept(
    shop: Shop, asked: str, what: str, text: str, told: str
) -> None:
    piece = heron(shop)
    refused = measure(shop, piece.tag, asked, what, text)
    assert isinstance(refused, Refused) and told in refused.sentence
    assert sizes_of(shop, piece.tag) == {}


def test_inches_are_read_once_the_shop_says_so(shop: Shop) -> None:
    piece = heron(shop)
    assert isinstance(set_habit(shop, "units", "us"), Done)
    taken(shop, piece, ("D1", "depth", "16"))
    assert sizes_of(shop, piece.tag)["D", 1] == {"depth": 16 * 25.4}


def test_woods_are_found_by_their_names(shop: Shop) -> None:
    piece = heron(shop)
    done = set_wood(shop, piece.tag, ["D1", "D2"], "black walnut", "quarter-sawn")
    assert done == Done("Heron: D1, D2 of walnut, black, quarter.", piece.tag)
    no = set_wood(shop, piece.tag, [], "plastic", "flat")
    assert isinstance(no, Refused) and "plastic" in no.sentence


def test_a_coefficient_of_ones_own_is_kept_as_typed_told_undone_and_carried(
    shop: Shop, other: Shop
) -> None:
    piece = heron(shop)
    done = set_wood(shop, piece.tag, ["D1"], "pear  0,0025", "flat")
    told = "pear, 0.0025 for each 1 % of moisture (your own figure)"
    assert done == Done(f"Heron: D1 of {told}.", piece.tag)
    set_wood(shop, piece.tag, ["D2"], "oak veneer on MDF", "")
    found = measured(shop, piece.tag)
    assert isinstance(found, Told)
    assert ("D1", "wood", "pear 0,0025", told) in found.rows
    assert ("D2", "wood", "oak veneer on mdf", "oak veneer on MDF") in found.rows
    assert found.sentence == "0 sizes taken."
    assert found.data["woods"] == {
        "D1": {"wood": "pear 0,0025", "cut": "flat"},
        "D2": {"wood": "oak veneer on mdf", "cut": "mixed"},
    }
    text = exchange.export(shop, piece.tag)
    assert isinstance(text, str)
    assert exchange.take_in_export(other, text, "heron.json") == [shop.piece(piece.tag)]
    assert measured(other, piece.tag) == found
    history.undo(shop)
    history.undo(shop)
    bare = measured(shop, piece.tag)
    assert isinstance(bare, Told) and bare.data["woods"] == {}


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("rate", "x", "rate"),
        ("rate", "-5", "negative"),
        ("fee", "96", "more than 95"),
        ("tool", "spoon", "none of"),
        ("dry month", "20C", "20C 50%"),
        ("damp month", "20C 130%", "more than 100"),
        ("spare pulls", "1.5", "no whole number"),
        ("cup", "0", "is less than 1 ml"),
        ("cup step", "0.001", "is less than 0.1 ml"),
        ("bar across", "80", "too far off"),
        ("bar down", "1e9", "no unit"),
        ("colour", "red", "no setting"),
    ],
)
def test_settings_refuse_nonsense(shop: Shop, name: str, text: str, told: str) -> None:
    refused = set_habit(shop, name, text)
    assert isinstance(refused, Refused) and told in refused.sentence
    assert habits(shop).typed == {}


def test_a_setting_is_kept_as_typed_and_forgotten(shop: Shop) -> None:
    set_habit(shop, "Dry-Month", "68F 30%")
    assert habits(shop).typed == {"dry month": "68F 30%"}
    air = habits(shop).air("dry month")
    assert air is not None and air.percent == pytest.approx(6.2, abs=0.1)
    set_habit(shop, "dry month", "")
    assert habits(shop).typed == {}


def noted(shop: Shop) -> str:
    """Heron with a row of every kind that the sums keep."""
    piece = heron(shop)
    tag = piece.tag
    taken(shop, piece, ("D1", "width", "23 1/2"), ("H1", "height", "188"))
    for done in (
        set_wood(shop, tag, [], "cherry", "flat"),
        count(shop, tag, "D1", "pull", 1, spacing="96", thread="M4", screw="25", condition="worn"),
        choice.note_holes(shop, tag, "D1", "102,60"),
        choice.consider(shop, tag, "bow", "96", plate="120 x 30", price=4.5, lead_days=9),
        orphan.note_orphan(shop, tag, "lost", {"width": "598"}, "3", "runs tight"),
        standing.want_break(shop, tag, "D1"),
        mixing.stock_tin(shop, "blue", "750 ml", price=22),
        mixing.use_tin(shop, tag, "blue", "500 ml"),
        money.note_money(shop, tag, "bought", "95"),
        money.note_money(shop, tag, "extra", "60", "legs painted too"),
        hours.begin_work(shop, tag, "sanding"),
        hours.end_work(shop, tag),
        hours.correct_hours(shop, tag, "sanding", "40"),
    ):
        assert isinstance(done, Done), done
    return tag


def test_all_of_it_goes_out_and_comes_in(shop: Shop, other: Shop) -> None:
    tag = noted(shop)
    text = exchange.export(shop, tag)
    assert isinstance(text, str)
    taken_in = exchange.take_in_export(other, text, "heron.json")
    assert taken_in == [shop.piece(tag)]
    back = json.loads(str(exchange.export(other, tag)))["sums"]
    sent = json.loads(text)["sums"]
    assert back == sent
    kinds_without_rows = [key for key, rows in sent.items() if not rows]
    assert kinds_without_rows == ["vetoes"]
    assert exchange.check_book(other) == []


def test_an_export_from_before_the_sums_is_taken_in(shop: Shop, other: Shop) -> None:
    tag = noted(shop)
    doc = json.loads(str(exchange.export(shop, tag)))
    del doc["sums"]
    assert isinstance(exchange.take_in_export(other, json.dumps(doc), "old.json"), list)
    assert sizes_of(other, tag) == {}


@pytest.mark.parametrize(
    ("table", "column", "value"),
    [
        ("measured", "mm", -4),
        ("measured", "mm", "wide"),
        ("measured", "mm", float("nan")),
        ("hardware", "condition", "shiny"),
        ("hardware", "count", 0),
        ("candidates", "each", 7),
        ("work", "begun", "yesterday"),
        ("money", "at", ""),
        ("tin_uses", "after", 9000),
        ("orphans", "sizes", "{"),
        ("hours_corrected", "minutes", -1),
    ],
)
def test_a_spoilt_export_changes_nothing(
    shop: Shop, other: Shop, table: str, column: str, value: object
) -> None:
    tag = noted(shop)
    doc = json.loads(str(exchange.export(shop, tag)))
    doc["sums"][table][0][column] = value
    refused = exchange.take_in_export(other, json.dumps(doc), "heron.json")
    assert isinstance(refused, Refused), refused
    assert other.piece(tag) is None
    assert other.book.rows("SELECT * FROM tin") == []


def test_a_missing_column_is_named(shop: Shop, other: Shop) -> None:
    doc = json.loads(str(exchange.export(shop, noted(shop))))
    del doc["sums"]["measured"][0]["typed"]
    refused = exchange.take_in_export(other, json.dumps(doc), "heron.json")
    assert isinstance(refused, Refused)
    assert "sums, measured 1: typed is missing" in refused.sentence
