"""A piece goes out to a file and comes into another book with all its records, or is refused."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from partsbench.core.finish.cups import Poured, StoredCup
from partsbench.core.finish.products import Ready
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import (
    bench,
    history,
    loads,
    masks,
    places,
    returning,
    teardown,
    tries,
)
from partsbench.services.books import clients, exchange, own_paths, pieces
from partsbench.services.known import facts
from partsbench.services.known.state import piece_state
from partsbench.services.rules.marking import Tape
from partsbench.services.shop import Shop
from partsbench.services.shown import labels
from partsbench.services.sums import (
    allotment,
    census,
    choice,
    cups,
    hours,
    measure,
    mixing,
    money,
    orphan,
    standing,
)
from partsbench.store import pieces as rows
from partsbench.store.journal import change
from partsbench.store.mixes import StoredLoad
from tests.support.at_bench import load_done, record
from tests.support.clock import MORNING, SetClock
from tests.support.finishing import stragglers_of
from tests.support.shops import heron, shop_at
from tests.support.some_pieces import pieces as some_pieces
from tests.support.steps import bring


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
        record(shop, drawer, here=piece.tag, note="by hand")
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
    clients.set_client(shop, piece.tag, name="N. Example", contact="by the gate")
    assert "Example" not in str(exchange.export(shop, piece.tag))


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (lambda d: d.pop("partsbench"), "not an export"),
        (lambda d: d.update(partsbench=99), "form is 99"),
        (lambda d: d["piece"].pop("numbering"), "numbering is missing"),
        (lambda d: d["piece"].update(tag="IOUL"), "is no tag"),
        (lambda d: d["piece"].update(tag="VERB"), "is no tag"),
        (lambda d: d["parts"][3].pop("faces"), "parts 4, faces is missing"),
        (lambda d: d["parts"][0].update(number=4000), "4000 is no number of a part"),
        (lambda d: d["parts"][0].update(name=10**400), "name: is too large a number"),
        (lambda d: d["parts"][0].update(note="\ud800"), "character that is none"),
        (lambda d: d["piece"].update(taken_in_at="2026-11-25T10:00:00"), "no time with its zone"),
        (lambda d: d["history"][0].update(at="0001-01-01T00:00:00Z"), "history 1, at"),
        (lambda d: d["weighed"].update(masses=[{"grams": float("inf"), "typed": ""}]), "inf is no"),
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


def finished(shop: Shop, clock: SetClock) -> Piece:
    """Heron with facts, a cup, a load but for one face, a mask, and a path of its own."""
    piece = heron(shop)
    text = own_paths.copy_text(shop, "clear", "my_clear", "Ours")
    assert isinstance(own_paths.save(shop, str(text)), Done)
    pieces.give_path(shop, piece.tag, "my_clear", ["D4"])
    pieces.give_path(shop, piece.tag, "stain", ["D3 front"])
    facts.say(shop, piece.tag, "veneer", "yes", ["D2", "D1 front"], "seen at the edge")
    facts.say(shop, piece.tag, "old finish", "clear")
    bring(shop, clock, piece.tag, "D1", "colour_1")
    cup = cups.make(shop, "blue", [Poured("colour", "17", 9)], tint=3, pot_life=timedelta(hours=4))
    assert isinstance(cup, StoredCup)
    load = loads.start(shop, piece.tag, ["D1"])
    assert isinstance(load, StoredLoad)
    load_done(shop, load.number, ["D1 front"], cup=cup, insist="agreed")
    bring(shop, clock, piece.tag, "D3", "mask", face="front")
    masks.put_on(shop, piece.tag, "D3 front", tape=Tape("green", timedelta(days=7)))
    record(shop, "D2", here=piece.tag)
    tries.say_tried(shop, "D1", Ready.SAND, False, here=piece.tag, note="thumb")
    return piece


def test_what_the_finish_keeps_comes_along(shop: Shop, other: Shop, clock: SetClock) -> None:
    piece = finished(shop, clock)
    sent = exported(shop, piece.tag)
    for key in ("cups", "loads", "masks", "facts", "links", "own_paths"):
        assert sent["finishing"][key], key
    assert [t["note"] for t in sent["tries"]["films"]] == ["thumb"]
    # The other book has cups and loads of its own, so that numbers must be given anew.
    cups.make(other, "theirs", [Poured("a", "", 1)])
    assert exchange.take_in_export(other, json.dumps(sent), "heron.json") == [shop.piece(piece.tag)]
    assert exchange.check_book(other) == []
    other.who = shop.who
    for part in ("D1", "D2", "D3", "D4"):
        mine = bench.look(shop, part, here=piece.tag)
        assert bench.look(other, part, here=piece.tag) == mine
    kept = other.book.rows("SELECT mix, tint FROM mixes")
    assert {tuple(r) for r in kept} == {("blue", 3.0)}
    assert other.book.row("SELECT cup FROM mixes")["cup"] == 2
    assert [m.covers for m in masks.on_now(other, piece.tag)] == [
        m.covers for m in masks.on_now(shop, piece.tag)
    ]
    assert stragglers_of(other, piece.tag) == stragglers_of(shop, piece.tag)


def test_an_export_from_before_the_finish_is_still_read(shop: Shop, other: Shop) -> None:
    doc = exported(shop, worked(shop).tag)
    doc.pop("finishing"), doc.pop("tries")
    assert isinstance(exchange.take_in_export(other, json.dumps(doc), "old.json"), list)


def test_another_path_under_the_same_key_is_refused(
    shop: Shop, other: Shop, clock: SetClock
) -> None:
    doc = exported(shop, finished(shop, clock).tag)
    text = own_paths.copy_text(other, "paint", "my_clear", "Theirs")
    own_paths.save(other, str(text))
    refused = exchange.take_in_export(other, json.dumps(doc), "heron.json")
    assert isinstance(refused, Refused)
    assert "my_clear is another one" in refused.sentence
    assert pieces.pieces(other) == []


@pytest.mark.parametrize(
    "spoil",
    [
        lambda f: f["links"][0].update(place=999),
        lambda f: f["links"][0].update(face="lid"),
        lambda f: next(x for x in f["facts"] if x["family"]).update(part=300),
        lambda f: f["masks"][0].update(against="[1, 2]"),
        lambda f: f["cups"][0].update(poured='[["a", "b", -1]]'),
        lambda f: f["cups"][0].update(made_at="soon"),
        lambda f: f["loads"][0].update(faces=[["D", 77, "front"]]),
        lambda f: f.update(cups="none"),
    ],
)
def test_a_spoilt_finish_is_told_and_changes_nothing(
    shop: Shop, other: Shop, clock: SetClock, spoil: Any
) -> None:
    doc = exported(shop, finished(shop, clock).tag)
    spoil(doc["finishing"])
    assert isinstance(exchange.take_in_export(other, json.dumps(doc), "heron.json"), Refused)
    assert pieces.pieces(other) == []
    assert other.book.row("SELECT count(*) FROM cup")[0] == 0


def test_what_the_sums_keep_comes_along(shop: Shop, other: Shop) -> None:
    """One of everything that is noted for the sums; out, in and out again it is the same."""
    tag = heron(shop).tag
    for of, what, size in (("D1", "width", "23 1/2 in"), ("H1", "height", "180"),
                           ("L1", "height", "100"), ("C1", "depth", "450")):  # fmt: skip
        noted(measure.measure(shop, tag, of, what, size))
    noted(measure.set_wood(shop, tag, [], "cherry, black", "flat"))
    noted(orphan.note_orphan(shop, tag, "one", {"height": "184"}, "3", "worn left"))
    noted(census.count(shop, tag, "D1", "pull", 1, condition="worn", spacing="96", screw="25"))
    noted(allotment.veto(shop, tag, "pull 1 of D1, worn", "D2 middle"))
    noted(choice.note_holes(shop, tag, "D1", "150,90 246,90"))
    noted(choice.consider(shop, tag, "bow", "96", plate="120 x 20", foot="12", thread="M4",
                          depth="9", price=4.0, lead_days=9))  # fmt: skip
    noted(standing.want_break(shop, tag, "D1"))
    noted(standing.weigh(shop, tag, "84 lb"))
    noted(mixing.stock_tin(shop, "blue", "1.2 kg", price=24.0, empty="200 g"))
    noted(mixing.use_tin(shop, tag, "blue", "840 g"))
    noted(money.note_money(shop, tag, "offer", "640", "by the gate"))
    noted(hours.begin_work(shop, tag, "sanding", redo=True))
    noted(hours.end_work(shop, tag))
    noted(hours.correct_hours(shop, tag, "sanding", "90"))
    noted(hours.begin_work(shop, tag, "waxing"))
    sent = exported(shop, tag)
    empty = [k for part in ("sums", "weighed") for k, rows in sent[part].items() if not rows]
    assert empty == []
    assert isinstance(exchange.take_in_export(other, json.dumps(sent), "heron.json"), list)
    back = exported(other, tag)
    for part in ("sums", "weighed"):
        assert back[part] == sent[part]
    for tell in (lambda s: measure.measured(s, tag), lambda s: standing.tip_over(s, tag),
                 lambda s: money.ledger(s, tag), lambda s: orphan.whose(s, tag)):  # fmt: skip
        assert tell(other) == tell(shop)


def noted(answer: Done | Refused) -> None:
    assert isinstance(answer, Done), answer


def leaves(value: Any, at: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to each value of a document that holds no others."""
    rows = value.items() if isinstance(value, dict) else enumerate(value)
    for key, inner in rows:
        if isinstance(inner, dict | list):
            yield from leaves(inner, (*at, key))
        else:
            yield (*at, key)


HOSTILE = (None, True, -1, 0.5, 1e308, float("inf"), float("nan"), 10**400, "", "x", "\0",
           "9999-99-99", "2026-11-25T10:00:00", "[1e999]", [], {}, [1], "\ud800")  # fmt: skip


def test_one_hostile_value_is_told_in_one_line_or_does_no_harm(
    shop: Shop, tmp_path: Path, clock: SetClock
) -> None:
    """Chance picks value and place; what is taken in must be read without a fault."""
    doc = exported(shop, worked(shop).tag)
    chance = Random(20261125)
    ways = list(leaves(doc))
    for run in range(60):
        spoilt = json.loads(json.dumps(doc))
        *way, last = chance.choice(ways)
        inner = spoilt
        for key in way:
            inner = inner[key]
        inner[last] = chance.choice(HOSTILE)
        with closing(shop_at(tmp_path / f"{run}.partsbench", clock)) as fresh:
            taken = exchange.take_in_export(fresh, json.dumps(spoilt), "heron.json")
            if isinstance(taken, Refused):
                assert "\n" not in taken.sentence and len(taken.sentence) < 300
                assert pieces.pieces(fresh) == []
                continue
            piece = taken[0]
            assert set(piece_state(fresh, piece).parts)
            assert isinstance(exchange.export(fresh, piece.tag), str)
            for read in (hours.hours_in, money.ledger, census.census, orphan.whose):
                read(fresh, piece.tag)
            assert history.history(fresh)
            assert exchange.check_book(fresh) == []


def _part_of(doc: dict[str, Any], family: str, number: int) -> dict[str, Any]:
    return next(p for p in doc["parts"] if (p["family"], p["number"]) == (family, number))


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda d: d["openings"][-1].update(number=400), "homes are numbered 1 to 359"),
        (lambda d: _part_of(d, "D", 1).update(home_number=-1), "-1 is no number of a home"),
        (lambda d: _part_of(d, "D", 1).update(home_number=99), "there is no opening 99"),
        (lambda d: _part_of(d, "P", 1).update(parent=""), "that it sits on is missing"),
        (lambda d: _part_of(d, "P", 1).update(parent="P1"), "P1: it sits on itself"),
        (lambda d: _part_of(d, "P", 1).update(parent="D77"), "no part D77"),
        (lambda d: d.update(codename="H" * 10_000), "The codename has 10000 characters"),
        (lambda d: d["piece"].update(title="t" * 5_000), "The title has 5000 characters"),
        (
            lambda d: _part_of(d, "D", 1)["movements"][0].update(home=-1),
            "-1 is no number of a home",
        ),
        (
            lambda d: _part_of(d, "D", 1)["movements"][0].update(home="1"),
            "1 is no number of a home",
        ),
    ],
)
def test_what_lay_out_would_refuse_is_refused_at_the_door(
    shop: Shop, other: Shop, spoil: Any, said: str
) -> None:
    """Each came in before and failed later, at a page or on paper."""
    piece = worked(shop)
    text = exchange.export(shop, piece.tag)
    assert isinstance(text, str)
    doc = json.loads(text)
    spoil(doc)
    refused = exchange.take_in_export(other, json.dumps(doc), "heron.json")
    assert isinstance(refused, Refused)
    assert refused.sentence.startswith("heron.json: ") and said in refused.sentence
    assert pieces.pieces(other) == []


def test_a_check_knows_what_the_door_would_refuse(shop: Shop) -> None:
    """As an older program let it in: through the journal, so that nothing but the rule tells."""
    piece = heron(shop)
    row = shop.book.row("SELECT id FROM part WHERE family = 'P' AND number = 1")
    assert row is not None
    with change(shop.book, "older", shop.clock(), "", piece.tag) as entry:
        entry.update("part", row["id"], {"parent": "P1"})
    assert exchange.check_book(shop) == [f"Piece {piece.tag}: P1: it sits on itself."]


def test_lay_out_and_edit_keep_the_same_rules(shop: Shop, tmp_path: Path) -> None:
    for how in ({"title": "t" * 121}, {"title": "tall\x1b[2J"}):
        refused = pieces.lay_out(shop, "Heron", "2 2", **how)
        assert isinstance(refused, Refused), how
    assert pieces.pieces(shop) == []
    piece = heron(shop)
    assert isinstance(pieces.rename(shop, piece.tag, "t" * 5_000), Refused)
    assert isinstance(pieces.edit_part(shop, piece.tag, "D1", name="n" * 200), Refused)
    written = tmp_path / "a.toml"
    written.write_text(f'codename = "Larch"\nrows = "2"\ntitle = "{"t" * 200}"\n', encoding="utf-8")
    refused = pieces.take_in(shop, written)
    assert isinstance(refused, Refused) and "The title has 200" in refused.sentence
    assert len(pieces.pieces(shop)) == 1
