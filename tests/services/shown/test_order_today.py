"""The Day says when hardware must be ordered, and not before, and not when it is."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.outcomes import Done
from partsbench.core.piece.piece import Piece
from partsbench.services.known import facts
from partsbench.services.shop import Shop
from partsbench.services.shown import day
from partsbench.services.shown.order_today import order_words
from partsbench.services.sums import census, choice
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import code, lay_out, made


@pytest.fixture
def piece(shop: Shop) -> Piece:
    """Three drawers to be stained, with a pull each; two pulls were counted, one is broken."""
    found = made(lay_out(shop, "Heron", "3", pulls=1, paths=[("stain", ["D1", "D2", "D3"])]))
    facts.say(shop, found.tag, "old finish", "none")
    census.count(shop, found.tag, "D1", "pull", 1)
    census.count(shop, found.tag, "D2", "pull", 1, condition="broken")
    return found


def choose(shop: Shop, piece: Piece, name: str, days: int | None) -> None:
    assert isinstance(choice.consider(shop, piece.tag, name, "96", lead_days=days), Done)


def test_with_a_long_lead_time_it_must_be_ordered_today(shop: Shop, piece: Piece) -> None:
    choose(shop, piece, "bail", 21)
    said = order_words(shop, piece)
    assert said.startswith("Heron: order 2 pulls and 1 spare today: it takes 21 days, ")
    assert "days, late by " in said and "working days" in said and "the plan: D1–D3" in said


def test_at_a_weekend_it_is_to_be_ordered_on_the_working_day_that_comes(
    shop: Shop, clock: SetClock, piece: Piece
) -> None:
    choose(shop, piece, "bail", 21)
    while clock().astimezone().weekday() != 5:
        clock.pass_time(hours=24)
    monday = clock().astimezone().date() + timedelta(days=2)
    assert f"on Monday {monday.day} {monday:%B}: it takes 21 days" in order_words(shop, piece)


def test_of_several_pulls_the_longest_lead_time_counts(shop: Shop, piece: Piece) -> None:
    choose(shop, piece, "knob", 0)
    choose(shop, piece, "bail", 21)
    assert "21 days" in order_words(shop, piece)


def test_while_there_is_time_nothing_is_said(shop: Shop, piece: Piece) -> None:
    choose(shop, piece, "knob", 0)
    assert order_words(shop, piece) == ""


def test_nothing_is_said_where_nothing_was_counted_or_no_lead_time_is_known(
    shop: Shop, piece: Piece
) -> None:
    assert order_words(shop, piece) == ""
    choose(shop, piece, "knob", None)
    assert order_words(shop, piece) == ""
    other = made(lay_out(shop, "Quill", "3", pulls=1, paths=[("paint", ["D1"])]))
    choose(shop, other, "bail", 60)
    assert order_words(shop, other) == ""


def test_once_it_is_ordered_the_day_is_quiet(shop: Shop, clock: SetClock, piece: Piece) -> None:
    choose(shop, piece, "bail", 21)
    record(shop, code(piece, "D1"), here=piece.tag)
    assert any("order 2 pulls" in note for note in day.day(shop).notes)
    assert isinstance(facts.say(shop, piece.tag, "hardware ordered", "yes"), Done)
    assert day.day(shop).notes == ()
