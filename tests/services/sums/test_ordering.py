from __future__ import annotations

from datetime import date

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.books.pieces import give_fittings, give_path
from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from partsbench.services.sums import census, ordering
from partsbench.services.sums.census import COUNT
from partsbench.services.sums.ordering import Ordering
from tests.services.sums.test_care import finish
from tests.support.clock import SetClock
from tests.support.shops import lay_out


@pytest.fixture
def piece(shop: Shop) -> Piece:
    """Rows of 2 and 1 drawers; one pull each on the upper two, stained, and on the wide one."""
    made = lay_out(shop, "Heron", "2 1", width=800, height=400, pulls=1)
    assert isinstance(made, Piece)
    give_path(shop, made.tag, "stain", ["D1", "D2"])
    give_path(shop, made.tag, "paint", ["D3"])
    return made


def count(shop: Shop, piece: Piece, part: str, number: int, **more: str) -> None:
    answer = census.count(shop, piece.tag, part, "pull", number, **more)
    assert isinstance(answer, Done), answer


def ordered(shop: Shop, piece: Piece, **more: object) -> Ordering:
    found = ordering.order(shop, piece.tag, **more)  # type: ignore[arg-type]
    assert isinstance(found, Ordering), found
    return found


def test_the_order_adds_spares_and_knows_the_last_day(shop: Shop, piece: Piece) -> None:
    """Needed on Friday 28 March, 12 days on the way, 2 of margin: by Friday 14 March."""
    count(shop, piece, "D1", 1, spacing="96", thread="M4")
    found = ordered(shop, piece, needed_on=date(2031, 3, 28), lead_days=12)
    assert found.by is not None
    assert found.orders[0].count == 3
    assert found.orders[0].spacing == 96
    assert found.by.day == date(2031, 3, 14)
    assert found.sentence.startswith("Buy 2 pulls and 1 spare. Order by Friday 14 March")
    assert "the day as typed" in ordering.tell_order(found).sources


def test_nothing_missing_is_nothing_to_order(shop: Shop, piece: Piece) -> None:
    for part in ("D1", "D2", "D3"):
        count(shop, piece, part, 1)
    found = ordered(shop, piece)
    assert found.orders == ()
    assert found.sentence == (
        "Nothing is missing: nothing to order. It takes 3 pulls: 3 usable, 0 broken, 0 missing."
    )


def test_without_a_day_typed_it_is_the_day_that_the_plan_has_the_fronts_done(
    shop: Shop, piece: Piece
) -> None:
    """The fronts are all that has a path here, so their end is the end of the piece."""
    found = ordered(shop, piece, lead_days=1)
    planned = day(shop, tags=[piece.tag]).ends[piece.tag].astimezone().date()
    assert found.needed.day == planned
    assert found.by is not None and found.by.needed_on == planned
    told = ordering.tell_order(found)
    assert told.data["needed_on"] == planned.isoformat()
    from_plan = next(s for s in told.sources if s.startswith("the plan: "))
    assert from_plan.startswith("the plan: D1–D3 could be done on ")
    assert told.data["needed_from"] == from_plan


def test_a_missing_lead_time_is_named_and_the_day_told_all_the_same(
    shop: Shop, piece: Piece
) -> None:
    found = ordered(shop, piece)
    assert found.lacks == (COUNT, "the supplier's lead time")
    assert found.by is None and found.needed.day is not None
    assert found.sentence.startswith("For a new set buy 3 pulls and 1 spare. Needed on ")


def test_only_fronts_that_take_what_is_ordered_are_waited_for(shop: Shop, piece: Piece) -> None:
    """The painted D3 takes a knob that is there: only the stained fronts count."""
    whole = ordered(shop, piece).needed
    give_fittings(shop, piece.tag, ["D3"], 0)
    give_fittings(shop, piece.tag, ["D3"], 1, "knob")
    assert isinstance(census.count(shop, piece.tag, "D3", "knob", 1), Done)
    found = ordered(shop, piece).needed
    assert found.source.startswith("the plan: D1, D2 could be done on ")
    assert found.day is not None and whole.day is not None and found.day <= whole.day


def test_when_the_fronts_are_done_hardware_is_needed_today(
    shop: Shop, clock: SetClock, piece: Piece
) -> None:
    give_path(shop, piece.tag, "raw", ["D1", "D2", "D3"])
    give_path(shop, piece.tag, "clear", ["D1 front"])
    now = shop.piece(piece.tag)
    assert now is not None
    finish(shop, clock, now, "D1")
    found = ordered(shop, piece, lead_days=3)
    assert found.needed.source == "the records: the fronts that take them are done"
    assert found.by is not None and found.by.late_days == 2
    assert "Late by 2 working days: order at once, on Thursday 13 March." in found.sentence


def test_fronts_without_a_finish_path_have_no_day(shop: Shop) -> None:
    plain = lay_out(shop, "Larch", "2", width=800, height=400, pulls=1)
    assert isinstance(plain, Piece)
    found = ordered(shop, plain, lead_days=3)
    assert found.needed.day is None
    assert found.lacks == (
        COUNT, "the day they are needed: no finish path is chosen for the fronts",
    )  # fmt: skip
    assert found.sentence.startswith("For a new set buy 2 pulls and 1 spare. Nothing is counted")


def test_what_nobody_counted_is_not_missing(shop: Shop, piece: Piece) -> None:
    found = ordered(shop, piece)
    assert found.sentence.startswith("For a new set buy ")
    assert found.sentence.endswith("Nothing is counted yet of the 3 pulls that it takes.")
    before = census.census(shop, piece.tag)
    assert not isinstance(before, Refused)
    assert before[0].sentence.startswith("Nothing is counted yet of the ")
    count(shop, piece, "D1", 1)
    found = ordered(shop, piece)
    assert found.sentence.startswith("Buy ") and COUNT not in found.lacks


@pytest.mark.parametrize("lead", [-1, 731])
def test_a_lead_time_that_cannot_be_is_refused_whether_or_not_it_is_wanted(
    shop: Shop, piece: Piece, lead: int
) -> None:
    """With nothing to order, or no day, it was taken without a word."""
    for part in ("D1", "D2", "D3"):
        assert isinstance(ordering.order(shop, piece.tag, lead_days=lead), Refused)
        count(shop, piece, part, 1)
    assert isinstance(ordering.order(shop, piece.tag, lead_days=lead), Refused)


def test_what_only_hinges_were_counted_for_is_not_counted(shop: Shop, piece: Piece) -> None:
    assert isinstance(census.count(shop, piece.tag, "D1", "hinge", 2), Done)
    found = ordered(shop, piece)
    assert COUNT in found.lacks and found.sentence.startswith("For a new set buy 3 pulls")
    told = ordering.tell_order(found)
    assert "Counted too, and not taken by any front: 2 × hinge." in told.caution
