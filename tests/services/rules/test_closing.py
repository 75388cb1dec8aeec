"""What goes home too soon: a leg off the line, a pull on a young front, a drawer shut in."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.outcomes import Outcome, Tone
from partsbench.services.acts.returning import bring_home
from partsbench.services.acts.teardown import take_out
from partsbench.services.books.pieces import give_path
from partsbench.services.shop import Shop
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import lay_out, made
from tests.support.steps import bring


@pytest.fixture
def tag(shop: Shop) -> str:
    """Two painted drawers with a pull each, four clear legs."""
    piece = made(lay_out(shop, "Heron", "2", legs=4, pulls=1, paths=[("clear", ["legs"])]))
    made(give_path(shop, piece.tag, "paint", ["D1", "D2"]))
    take_out(shop, piece.tag, ["D1", "D2", "L1", "L2", "P1", "P2"])
    return piece.tag


def home(shop: Shop, tag: str, short: str) -> Outcome:
    said = bring_home(shop, tag, short)
    assert isinstance(said, Outcome) and said.recorded, said
    return said


def test_a_leg_half_an_hour_after_its_clear_coat_is_not_to_be_handled(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "L1", "clear_3")
    assert record(shop, "L1", here=tag).recorded
    coated = clock.now
    clock.pass_time(minutes=30)
    said = home(shop, tag, "L1")
    assert said.tone is Tone.WAIT
    assert "Too soon: handled before its time: L1 outside: Clear coat 3, last needs 24 h" in (
        said.sentence
    )
    assert said.until == coated + timedelta(hours=24)
    clock.now = coated + timedelta(hours=24)
    assert "Too soon" not in home(shop, tag, "L1").sentence


def test_a_pull_sixteen_hours_after_the_topcoat_of_its_front(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "D1", "topcoat_2")
    assert record(shop, "D1", here=tag).recorded
    coated = clock.now
    clock.pass_time(hours=16)
    said = home(shop, tag, "P1")
    assert (said.tone, said.until) == (Tone.WAIT, coated + timedelta(hours=24))
    assert "pulls before handling time: D1 front" in said.sentence
    clock.pass_time(hours=8)
    assert home(shop, tag, "P1").tone is not Tone.WAIT


def test_a_drawer_says_the_longest_of_handling_and_touching(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "D1", "topcoat_2")
    assert record(shop, "D1", here=tag).recorded
    coated = clock.now
    clock.pass_time(hours=1)
    said = home(shop, tag, "D1")
    rules = {w.split(":")[0] for w in said.warnings}
    assert {"handled before its time", "closed before touching time"} <= rules
    assert said.until == coated + timedelta(days=7)


def test_what_has_no_film_goes_home_without_a_word(shop: Shop, tag: str) -> None:
    assert home(shop, tag, "D2").warnings == ()
