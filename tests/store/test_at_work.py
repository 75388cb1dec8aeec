"""Which pieces are in hand, by the journal."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from partsbench.services.books.pieces import take_in
from partsbench.services.known import facts
from partsbench.services.shop import Shop
from partsbench.store.at_work import tags_at_work
from tests.support.clock import SetClock
from tests.support.shops import heron

PAIR = """
codename = "Larch"
title = "left nightstand"
mirrored_twin = "right nightstand"
front.map = ["D1"]
paths = { paint = ["D1"] }
"""
LATELY = timedelta(days=45)


@pytest.fixture
def pair(shop: Shop, clock: SetClock, tmp_path: Path) -> list[str]:
    """Taken in an hour after Heron, in one entry of the journal, which names the left one."""
    heron(shop)
    clock.pass_time(hours=1)
    file = tmp_path / "larch.toml"
    file.write_text(PAIR, encoding="utf-8")
    taken = take_in(shop, file)
    assert isinstance(taken, list), taken
    return [piece.tag for piece in taken]


def at_work(shop: Shop, clock: SetClock, most: int = 12) -> list[str]:
    return tags_at_work(shop.book, clock() - LATELY, most)


def test_a_twin_is_in_hand_from_the_entry_in_which_both_came(
    shop: Shop, clock: SetClock, pair: list[str]
) -> None:
    assert set(at_work(shop, clock, 2)) == set(pair), "both before Heron"
    assert len(at_work(shop, clock)) == 3


def test_what_is_recorded_of_the_twin_brings_it_to_the_front(
    shop: Shop, clock: SetClock, pair: list[str]
) -> None:
    left, right = pair
    for tag in (right, left, right):
        facts.say(shop, tag, "old finish", "none")
        facts.say(shop, tag, "old finish", "paint")
        assert at_work(shop, clock)[0] == tag
        assert sorted(at_work(shop, clock)[:2]) == sorted(pair)


def test_long_after_neither_is(shop: Shop, clock: SetClock, pair: list[str]) -> None:
    clock.pass_time(days=45)
    assert set(at_work(shop, clock)) == set(pair)
    clock.pass_time(seconds=1)
    assert at_work(shop, clock) == []
