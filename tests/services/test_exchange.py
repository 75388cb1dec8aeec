"""A piece goes out to a file and comes into another book with all its records, or is refused."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services import (
    bench,
    exchange,
    history,
    labels,
    pieces,
    places,
    returning,
    teardown,
)
from partsbench.services.shop import Shop
from partsbench.store import pieces as rows
from partsbench.store.journal import change
from tests.support.clock import MORNING, SetClock
from tests.support.shops import heron, shop_at
from tests.support.some_pieces import pieces as some_pieces


@pytest.fixture
def other(tmp_path: Path, clock: SetClock) -> Iterator[Shop]:
    shop = shop_at(tmp_path / "other.partsbench", clock)
    yield shop
    shop.close()


def worked(shop: Shop) -> Piece:
    """Heron with labels printed, parts out, steps done and sent back, one part home."""
    piece = heron(shop)
    sheet = labels.make_sheet(shop, piece.tag, homes=True)
    assert isinstance(sheet, labels.Sheet), sheet
    labels.hand_out(shop, sheet)
    teardown.take_out(shop, piece.tag, ["D1", "D2", "D3", "L1"])
    for drawer in ("D1", "D2", "D1"):
        bench.record(shop, drawer, here=piece.tag, note="by hand")
    bench.send_back(shop, "D1", "wash", "still greasy", here=piece.tag)
    places.put(shop, "rack 2", ["D2"], here=piece.tag)
    returning.bring_home(shop, piece.tag, "D3")
    returning.record_fit(shop, piece.tag, "D3", returning.FitResult.WAX)
    return piece


def exported(shop: Shop, tag: str) -> dict[str, Any]:
    text = exchange.export(shop, tag)
    assert isinstance(text, str), text
    return json.loads(text)


def without_row_ids(value: object) -> object:
    if isinstance(value, dict):
        return {k: without_row_ids(v) for k, v in value.items() if k != "id"}
    return [without_row_ids(v) for v in value] if isinstance(value, list) else value


def test_all_records_come_along(shop: Shop, other: Shop) -> None:
    piece = worked(shop)
    sent = exported(shop, piece.tag)
    taken = exchange.take_in_export(other, json.dumps(sent), "heron.json")
    assert taken == [shop.piece(piece.tag)]
    back = exported(other, piece.tag)
    told = [e["sentence"] for e in back.pop("history")]
    assert told == [*(e["sentence"] for e in sent.pop("history")), f"Took in Heron {piece.tag}"]
    assert without_row_ids(back) == without_row_ids(sent)
    assert exchange.check_book(other) == []


def test_records_keep_their_order_and_the_piece_its_state(shop: Shop, other: Shop) -> None:
    from partsbench.services.state import piece_state

    piece = worked(shop)
    text = exchange.export(shop, piece.tag)
    exchange.take_in_export(other, str(text), "heron.json")
    before = piece_state(shop, shop.piece(piece.tag))
    after = piece_state(other, other.piece(piece.tag))
    for short, part in before.parts.items():
        assert after.of(short).status == part.status
        assert after.of(short).where == part.where
        assert after.of(short).seat == part.seat


def test_taking_in_can_be_undone(shop: Shop, other: Shop) -> None:
    piece = worked(shop)
    exchange.take_in_export(other, str(exchange.export(shop, piece.tag)), "heron.json")
    assert isinstance(history.undo(other), Done)
    assert pieces.pieces(other) == []


def test_the_same_piece_is_not_taken_in_twice(shop: Shop) -> None:
    piece = heron(shop)
    text = str(exchange.export(shop, piece.tag))
    refused = exchange.take_in_export(shop, text, "heron.json")
    assert refused == Refused(f"heron.json: piece {piece.tag} is in this book already.")


def test_client_data_stays_at_home(shop: Shop) -> None:
    piece = heron(shop)
    pieces.set_client(shop, piece.tag, name="N. Example", contact="by the gate")
    assert "Example" not in str(exchange.export(shop, piece.tag))


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (lambda d: d.pop("partsbench"), "not an export"),
        (lambda d: d.update(partsbench=99), "form is 99"),
        (lambda d: d["piece"].pop("numbering"), "numbering is missing"),
        (lambda d: d["piece"].update(tag="IOUL"), "is no tag"),
        (lambda d: d["parts"][3].pop("faces"), "parts 4, faces is missing"),
        (lambda d: d["parts"][0].update(number=4000), "cannot be"),
        (lambda d: d["parts"][0].update(home_kind="cupboard"), "cannot be"),
        (lambda d: d["openings"][0].update(across=99), "sticks out"),
        (lambda d: d["openings"].append(dict(d["openings"][0])), "cannot be"),
        (lambda d: d["piece"].update(columns_mm="[1e999]"), "mm"),
        (lambda d: d.update(parts="none"), "parts is missing"),
    ],
)
def test_a_spoilt_file_is_told_and_changes_nothing(
    shop: Shop, other: Shop, spoil: Any, told: str
) -> None:
    doc = exported(shop, heron(shop).tag)
    spoil(doc)
    refused = exchange.take_in_export(other, json.dumps(doc), "heron.json")
    assert isinstance(refused, Refused)
    assert refused.sentence.startswith("heron.json: ")
    assert told in refused.sentence
    assert pieces.pieces(other) == []
    assert history.history(other) == []


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(piece=some_pieces())
def test_any_piece_goes_out_and_comes_in_without_loss(
    tmp_path_factory: pytest.TempPathFactory, piece: Piece
) -> None:
    folder = tmp_path_factory.mktemp("exchange")
    here, there = shop_at(folder / "here.partsbench"), shop_at(folder / "there.partsbench")
    with change(here.book, "Took in", MORNING, "", piece.tag) as entry:
        rows.add(entry, here.book, piece, MORNING)
    text = exchange.export(here, piece.tag)
    taken = exchange.take_in_export(there, str(text), "piece.json")
    assert taken == [here.piece(piece.tag)]
    first, second = exported(here, piece.tag), exported(there, piece.tag)
    first.pop("history")
    second.pop("history")
    assert without_row_ids(second) == without_row_ids(first)
    for shop in (here, there):
        shop.close()
