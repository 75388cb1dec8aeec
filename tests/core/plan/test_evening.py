"""What the evening is worth, on workshops small enough to reckon by hand."""

from __future__ import annotations

from dataclasses import replace

from partsbench.core.plan.change import shifted
from partsbench.core.plan.check import faults
from partsbench.core.plan.evening import pulled_forward, with_evening, worth_tonight
from partsbench.core.plan.search import best_plan
from partsbench.core.plan.workshop import Booked, Lag, ShopPlan, SprayGun, Stint, Worker, Workshop

DAY = 1440
NIGHT = (0, 120)
"""Two hours of this evening; the days begin 12 hours after its begin."""
MORNING = 720


def here(*evening: tuple[int, int]) -> tuple[Worker, ...]:
    days = tuple((MORNING + n * DAY, MORNING + n * DAY + 600) for n in range(9))
    return (Worker("me", (*evening, *days), (*evening, *days)),)


def chain(piece: str, wait: int, minutes: int = 60) -> tuple[tuple[Stint, Stint], Lag]:
    first = Stint(f"{piece}1", piece, f"{piece}1", minutes, "wash")
    return (first, Stint(f"{piece}2", piece, f"{piece}2", 30, "sand")), Lag(
        first.key, f"{piece}2", wait
    )


def test_it_is_the_end_that_is_later_when_the_first_waits_for_the_morning() -> None:
    stints, lag = chain("A", 12 * 60)
    shop = Workshop(stints, (lag,), here(NIGHT))
    plan = best_plan(shop).plan
    assert plan.ends(shop) == {"A": 60 + 720 + 30}
    found = worth_tonight(shop, plan, 180, MORNING)
    assert found is not None
    # In the morning: 60 minutes, 12 h on is after hours, so on the morning after that.
    assert (found.stints, found.saves) == (("A1",), MORNING + DAY + 30 - 810)


def test_of_two_it_is_the_one_that_loses_more() -> None:
    one, lag_one = chain("A", 12 * 60)
    two, lag_two = chain("B", 30)
    shop = Workshop((*one, *two), (lag_one, lag_two), here(NIGHT))
    found = worth_tonight(shop, best_plan(shop).plan, 180, MORNING)
    assert found is not None and found.piece == "A"


def test_what_waits_for_it_tonight_is_told_with_it() -> None:
    stints, lag = chain("A", 10, minutes=20)
    shop = Workshop(stints, (lag,), here(NIGHT))
    found = worth_tonight(shop, best_plan(shop).plan, 180, MORNING)
    assert found is not None and found.stints == ("A1", "A2")
    assert found.saves == MORNING + 60 - 60


def test_nothing_is_lost_where_nothing_is_begun_or_its_piece_waits_for_another() -> None:
    stints, lag = chain("A", 10)
    late = Workshop(stints, (lag,), here())
    assert worth_tonight(late, best_plan(late).plan, 180, MORNING) is None
    hardware = Stint("A3", "A", "A3", 0, "hardware", soonest=5 * DAY)
    waits = Workshop((*stints, hardware), (lag, Lag("A2", "A3")), here(NIGHT))
    assert worth_tonight(waits, best_plan(waits).plan, 180, MORNING) is None


def test_one_coat_of_a_load_is_put_off_without_the_others() -> None:
    coats = tuple(Stint(p, p, p, 10, "colour", mix="m", ml=100.0, loud=True) for p in ("A", "B"))
    after = Stint("A2", "A", "A2", 10, "sand")
    shop = Workshop(
        (*coats, after), (Lag("A", "A2", 12 * 60),), here(NIGHT), SprayGun(10, 15, 600.0)
    )
    plan = best_plan(shop).plan
    assert len({p.load for p in plan.placed if p.load}) == 1
    found = worth_tonight(shop, plan, 180, MORNING)
    assert found is not None and found.stints == ("A",)


def test_another_coat_of_the_same_piece_stays_in_the_load() -> None:
    """Of two coats in one cup only the one with the long wait behind it is worth the evening."""
    coats = tuple(
        Stint(key, "A", key, 10, "colour", mix="m", ml=100.0, loud=True) for key in ("a", "b")
    )
    after = Stint("b2", "A", "b2", 10, "sand")
    shop = Workshop(
        (*coats, after), (Lag("b", "b2", 12 * 60),), here(NIGHT), SprayGun(10, 15, 600.0)
    )
    spans = (("a", 10, 20, 1), ("b", 20, 30, 1), ("b2", 750, 760, 0))
    plan = ShopPlan(tuple(Booked(key, a, b, ("me",), load) for key, a, b, load in spans))
    assert faults(shop, plan) == []
    found = worth_tonight(shop, plan, 180, MORNING)
    assert found is not None and found.stints == ("b",)


def test_a_window_that_would_close_by_the_morning_is_not_told_as_a_saving() -> None:
    stint = Stint("A1", "A", "A1", 60, "wipe", by=100)
    shop = Workshop((stint,), (), here(NIGHT))
    assert worth_tonight(shop, best_plan(shop).plan, 180, MORNING) is None


def test_tonight_is_what_begins_before_its_end_and_before_the_morning() -> None:
    stints, lag = chain("A", 12 * 60)
    shop = Workshop(stints, (lag,), here((0, 200)))
    plan = best_plan(shop).plan
    later = shifted(plan, -50)
    for until, begun in ((51, True), (50, False)):
        assert (worth_tonight(shop, later, until, MORNING) is not None) is begun
        assert (worth_tonight(shop, later, 9 * DAY, until) is not None) is begun


def test_one_minute_is_a_saving_and_of_equal_ones_the_first_in_time_is_told() -> None:
    one = Stint("A1", "A", "A1", 60, "wash")
    shop = Workshop((one,), (), here((0, 60)))
    plan = ShopPlan((Booked("A1", 0, 60, ("me",)),))
    for morning, saves in ((1, 1), (2, 2)):
        found = worth_tonight(replace(shop, workers=here((0, 90))), plan, 30, morning)
        assert found is not None and found.saves == saves
    two = replace(one, key="B1", piece="B")
    both = Workshop((two, one), (), (*here(NIGHT), replace(here(NIGHT)[0], name="Wren")))
    same = ShopPlan((Booked("A1", 0, 60, ("me",)), Booked("B1", 10, 70, ("Wren",))))
    equal = ShopPlan((Booked("A1", 0, 60, ("me",)), Booked("B1", 0, 60, ("Wren",))))
    first = worth_tonight(both, same, 180, MORNING)
    assert first is not None and first.piece == "A"
    told = worth_tonight(both, equal, 180, MORNING)
    assert told is not None and told.stints == ("B1",)


def test_the_hours_of_an_evening_are_joined_to_those_that_are_there() -> None:
    me = Worker("me", ((60, 120), (200, 300)), ((60, 100),), ("wash",))
    wren = Worker("Wren", ((0, 50),), ())
    shop = Workshop((), workers=(me, wren))

    def hours(*evening: tuple[int, int]) -> tuple[tuple[int, int], ...]:
        return with_evening(shop, evening[0], evening).workers[0].here

    assert hours((0, 60)) == ((0, 120), (200, 300))
    assert hours((0, 59)) == ((0, 59), (60, 120), (200, 300))
    assert hours((120, 200)) == ((60, 300),)
    assert hours((70, 90)) == me.here
    assert hours((210, 400)) == ((60, 120), (200, 400))
    found = with_evening(shop, (0, 60), ((0, 30), (30, 60)))
    assert found.workers == (replace(me, here=((0, 120), (200, 300)), loud=((0, 100),)), wren)


def test_an_open_evening_is_used_in_the_order_of_the_plan() -> None:
    stints, lag = chain("A", 12 * 60)
    shop = Workshop(stints, (lag,), here())
    plan = best_plan(shop).plan
    open_ = with_evening(shop, NIGHT, (NIGHT,))
    sooner = pulled_forward(open_, plan)
    assert faults(open_, sooner) == []
    assert sooner.ends(open_) == {"A": 810}
    assert plan.ends(shop)["A"] == MORNING + DAY + 30
