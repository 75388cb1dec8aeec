"""The quote from the shop's own sold pieces, and of which kind they were."""

from __future__ import annotations

import json
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.quotes import Quote
from partsbench.services.acts import history
from partsbench.services.books import exchange
from partsbench.services.known import facts
from partsbench.services.shop import Shop
from partsbench.services.sums import money
from partsbench.services.sums.hours import begin_work, end_work
from partsbench.services.sums.quoting import quote, tell_quote
from partsbench.store import lately
from partsbench.store.book import Book
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import lay_out, made, shop_at


def sold(shop: Shop, clock: SetClock, name: str, hours: float, kind: str = "") -> Piece:
    """A piece bought at 100, worked on by the clock and sold."""
    piece = made(lay_out(shop, name, "2", paths=[("paint", ["drawers"])]))
    for done in (
        begin_work(shop, piece.tag, "all of it"),
        clock.pass_time(hours=hours),
        end_work(shop, piece.tag),
        money.note_money(shop, piece.tag, "bought", "100"),
        money.note_money(shop, piece.tag, "sold", "600"),
        facts.say(shop, piece.tag, "kind", kind) if kind else None,
    ):
        assert not isinstance(done, Refused), done
    return piece


def quoted(shop: Shop, kind: str = "") -> Quote:
    found = quote(shop, "25", kind)
    assert isinstance(found, Quote), found
    return found


def test_a_quote_needs_five_sold_pieces(shop: Shop, clock: SetClock) -> None:
    for place in range(5):
        few = quoted(shop)
        assert few.likely is None and few.jobs == place
        sold(shop, clock, f"Job {place}", 10 + place)
    found = quoted(shop)
    assert found.likely == pytest.approx(100 + 12 * 25)
    assert "5 finished jobs of all kinds" in found.sentence


def test_a_shop_that_says_kinds_is_answered_from_the_kind(shop: Shop, clock: SetClock) -> None:
    """Five nightstands of 5 h and four dressers of 15: each asked about, then a fifth dresser."""
    for place in range(5):
        sold(shop, clock, f"Night {place}", 5, "Nightstand")
    for place in range(4):
        sold(shop, clock, f"Dress {place}", 15, "dresser")
    small = quoted(shop, " nightstand ")
    assert (small.kind, small.jobs, small.likely) == ("nightstand", 5, pytest.approx(225))
    large = quoted(shop, "dresser")
    assert (large.kind, large.jobs, large.like) == ("", 9, 4)
    assert "9 finished jobs of all kinds, 4 of kind “dresser”" in large.sentence
    assert large.likely == pytest.approx(225), "from all kinds, and it says so"
    sold(shop, clock, "Dress 4", 15, "dresser")
    own = quoted(shop, "dresser")
    assert (own.kind, own.likely) == ("dresser", pytest.approx(475))


def test_a_kind_said_anew_is_the_kind(shop: Shop, clock: SetClock) -> None:
    pieces = [sold(shop, clock, f"Job {n}", 5, "chest") for n in range(5)]
    facts.say(shop, pieces[0].tag, "kind", "table")
    assert quoted(shop, "chest").like == 4


def test_figures_say_kind_count_and_what_they_cover(shop: Shop, clock: SetClock) -> None:
    for place in range(5):
        sold(shop, clock, f"Job {place}", 10, "chest")
    told = tell_quote(quoted(shop, "chest"))
    assert told.data["kind"] == "chest" and told.data["of_kind"] == 5
    assert told.data["bad_share"] == pytest.approx(5 / 6)
    assert told.valid == (
        "half of such jobs cost more than the likely sum, 1 in 6 more than the bad case"
    )
    other = tell_quote(quoted(shop, "table"))
    assert (other.data["kind"], other.data["of_kind"]) == (None, 0)
    assert tell_quote(quoted(shop)).data["of_kind"] is None


def test_a_sold_piece_whose_hours_cannot_be_told_is_missing(shop: Shop, clock: SetClock) -> None:
    forgotten = made(lay_out(shop, "Larch", "1"))
    money.note_money(shop, forgotten.tag, "sold", "600")
    found = quoted(shop)
    assert found.jobs == 0
    assert f"hours and tins of Larch {forgotten.tag} that can be told" in found.lacks


def test_estimated_hours_are_told_of(shop: Shop, clock: SetClock) -> None:
    piece = sold(shop, clock, "Job", 10)
    clock.pass_time(hours=3)
    for short in ("D1", "D2"):
        assert record(shop, short, here=piece.tag).recorded
    assert quoted(shop).sources == (
        "1 finished job of this shop, 0.3 of their 10.3 h estimated",
    )  # fmt: skip


def test_the_shops_records_are_read_once_however_many_pieces_were_sold(
    shop: Shop, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    read: list[datetime] = []

    def batches(book: Book, since: datetime, until: datetime) -> object:
        read.append(since)
        return real(book, since, until)

    real = lately.batches
    for place in range(3):
        piece = sold(shop, clock, f"Job {place}", 1)
        clock.pass_time(hours=30)
        assert record(shop, "D1", here=piece.tag).recorded
    monkeypatch.setattr(lately, "batches", batches)
    assert "estimated" in quoted(shop).sources[0]
    assert len(read) == 1


@pytest.mark.parametrize("word", ["", "12", "x" * 31])
def test_a_kind_is_a_word(shop: Shop, word: str) -> None:
    piece = made(lay_out(shop, "Heron", "1"))
    refused = facts.say(shop, piece.tag, "kind", word)
    assert isinstance(refused, Refused)
    assert refused.sentence.startswith("kind: say it in a word, as in chest")


def test_a_kind_is_said_of_the_whole_piece(shop: Shop) -> None:
    piece = made(lay_out(shop, "Heron", "1"))
    refused = facts.say(shop, piece.tag, "kind", "chest", ["D1"])
    assert isinstance(refused, Refused)
    assert "the whole piece" in refused.sentence
    assert [f for f in facts.said(shop, piece.tag) if f.key == "kind"] == []


def test_a_kind_is_in_the_history_and_goes_with_the_piece(
    shop: Shop, clock: SetClock, tmp_path: Path
) -> None:
    piece = made(lay_out(shop, "Heron", "1"))
    assert isinstance(facts.say(shop, piece.tag, "kind", "tall chest"), Done)
    assert history.history(shop, piece.tag)[0].sentence == "Heron all of it: kind tall chest"
    sent = exchange.export(shop, piece.tag)
    assert isinstance(sent, str)
    with closing(shop_at(tmp_path / "other.partsbench", clock)) as other:
        taken = exchange.take_in_export(other, json.dumps(json.loads(sent)), "heron.json")
        assert isinstance(taken, list)
        assert facts.of_piece(other, piece.tag).of("")["kind"] == "tall chest"
    history.undo(shop)
    assert "kind" not in facts.of_piece(shop, piece.tag).of("")
