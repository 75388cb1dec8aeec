"""A plan that follows the shop moves only what must move, and says what and why."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.chain import why_not
from partsbench.core.plan.change import (
    SMALL,
    WORTH_A_CHANGE,
    Followed,
    followed,
    laid_again,
    loads_of,
    shifted,
)
from partsbench.core.plan.check import faults
from partsbench.core.plan.floor import Batches, Floor
from partsbench.core.plan.search import best_plan
from partsbench.core.plan.what_if import with_helper, without_time
from partsbench.core.plan.words import chain_words, change_words, end_words, promise_words
from partsbench.core.plan.workshop import (
    Booked,
    Lag,
    Promised,
    ShopPlan,
    SprayGun,
    Stint,
    Worker,
    Workshop,
)
from tests.support import workshops

ORIGIN = datetime(2031, 3, 3, 8, 0, tzinfo=UTC)


def again(shop: Workshop, plan):  # type: ignore[no-untyped-def]
    return laid_again(Bounds(Floor(shop)), plan)


def test_work_that_takes_longer_moves_what_comes_behind_it_and_no_more() -> None:
    shop = workshops.shop(1, parts=5, steps=8)
    plan = best_plan(shop, rounds=10).plan
    key = plan.placed[0].stint
    slow = replace(
        shop,
        stints=tuple(
            replace(s, minutes=s.minutes + 90) if s.key == key else s for s in shop.stints
        ),
    )
    after = again(slow, plan)
    assert faults(slow, after) == []
    was, now = plan.at(), after.at()
    assert all(now[k].start >= was[k].start for k in was)
    moved = followed(slow, plan, after)
    assert 0 < len(moved.shifts) < len(slow.stints)


def test_what_moved_is_told_with_its_reason_in_one_line() -> None:
    shop = Workshop(
        (
            Stint("a", "A", "Heron D1: Wash", 30, "wash"),
            Stint("b", "A", "Heron D1: Sand", 30, "sand"),
        ),
        (Lag("a", "b", 60, None, "Wash first needs 1 h"),),
        (workshops.worker(),),
        titles={"A": "Heron"},
    )
    plan = best_plan(shop).plan
    longer = replace(shop, lags=(Lag("a", "b", 300, None, "Wash first needs 5 h"),))
    after = again(longer, plan)
    line = change_words(followed(longer, plan, after), longer, ORIGIN)
    assert line == (
        "Heron is done Mon 03 Mar 14:00 and not Mon 03 Mar 10:00. Heron D1: Sand moves to "
        "Mon 03 Mar 13:30, because Wash first needs 5 h."
    )
    assert change_words(followed(shop, plan, plan), shop, ORIGIN) == ""


def test_a_plan_is_counted_from_a_later_moment() -> None:
    plan = best_plan(workshops.shop(2, parts=3, steps=5), rounds=2).plan
    assert [p.start for p in shifted(plan, 30).placed] == [p.start - 30 for p in plan.placed]


def test_a_helper_never_makes_it_later_and_time_off_never_sooner() -> None:
    shop = replace(workshops.shop(3, parts=4, steps=6), promised=())
    usual = Bounds(Floor(shop)).proven().end
    helped = with_helper(shop, workshops.worker("Wren"))
    assert Bounds(Floor(helped)).proven().end <= usual
    off = without_time(shop, (0, 1440))
    assert all(start >= 1440 for start, _ in off.workers[0].here)
    assert Bounds(Floor(off)).proven().end > usual
    assert without_time(shop, (100, 200), ["nobody"]) == shop
    cut = without_time(shop, (100, 200), ["me"]).workers[0]
    assert cut.here[:2] == ((0, 100), (200, shop.workers[0].here[0][1]))


def test_a_day_that_cannot_be_is_proven_by_its_chain() -> None:
    shop = Workshop(
        (
            Stint("a", "A", "Heron D1: Wash", 30, "wash"),
            Stint("b", "A", "Heron D1: Sand", 30, "sand"),
        ),
        (Lag("a", "b", 720, None, "Wash first needs 12 h"),),
        (workshops.worker(),),
        titles={"A": "Heron"},
    )
    bounds = Bounds(Floor(shop))
    soonest = bounds.proven().ends["A"]
    assert soonest == 1440 + 30  # washed by 8:30, dry at 20:30, sanded the next morning
    assert why_not(bounds, "A", soonest, soonest) is None
    found = why_not(bounds, "A", 720, soonest)
    assert found is not None
    assert [link.start for link in found.chain] == [0, 1440]
    assert chain_words(found, shop, ORIGIN) == (
        "Heron cannot be done by Monday 03 Mar 20:00: Heron D1: Wash Mon 03 Mar 08:00; "
        "Heron D1: Sand Tue 04 Mar 08:00 (Wash first needs 12 h). "
        "No plan is earlier than Tuesday 04 Mar 08:30."
    )


def test_too_much_work_for_the_hours_is_proven_too() -> None:
    shop = Workshop(
        tuple(Stint(str(n), "A", f"Heron D{n}: Sand", 100, "sand") for n in range(7)),
        (),
        (workshops.worker(),),
        titles={"A": "Heron"},
    )
    bounds = Bounds(Floor(shop))
    soonest = bounds.proven().ends["A"]
    assert soonest == 1440 + 100  # six of them fill the ten hours of the first day
    found = why_not(bounds, "A", 600, soonest)
    assert found is not None
    assert found.crowded is not None
    assert (found.crowded.asked, found.crowded.fits) == (700, 600)
    assert "11 h 40 of work has to be done, and there are 10 h" in chain_words(found, shop, ORIGIN)


def test_words_of_ends_and_promises() -> None:
    shop = Workshop((), titles={"A": "Larch"})
    assert end_words("Larch is", ORIGIN, 480, 480).endswith("16:00, and no plan can be earlier.")
    assert end_words("Larch is", ORIGIN, 480, 60).endswith("than Monday 03 Mar 09:00.")
    said = {
        (end, soonest): promise_words(shop, Promised("A", 600), ORIGIN, end, soonest)
        for end, soonest in ((540, 60), (660, 60), (660, 660))
    }
    assert "kept, with 1 h 00" not in said[540, 60]
    assert "kept, with 1 h to spare" in said[540, 60]
    assert "comes 1 h late; that it cannot be kept is not proven" in said[660, 60]
    assert "cannot be done by Monday 03 Mar 18:00" in said[660, 660]


def booked(key: str, start: int, minutes: int = 30, who: str = "me", load: int = 0) -> Booked:
    return Booked(key, start, start + minutes, (who,), load)


def plan_of(*placed: Booked) -> ShopPlan:
    return ShopPlan(tuple(sorted(placed, key=lambda p: (p.start, p.end))))


def stint(key: str, minutes: int = 30, **more: object) -> Stint:
    return Stint(key, key[0].upper(), f"name of {key}", minutes, "sand", **more)  # type: ignore[arg-type]


ME = Worker("me", ((0, 600), (1440, 2040)), ((0, 600),))


def moved(shop: Workshop, *others: Booked, was: int = 0, to: int = 100) -> str:
    """Why `a` could not stay."""
    (shift,) = followed(shop, plan_of(booked("a", was)), plan_of(booked("a", to), *others)).shifts
    assert (shift.stint, shift.name, shift.before, shift.after) == ("a", "name of a", was, to)
    return shift.why


def test_everything_is_counted_from_the_later_moment() -> None:
    plan = ShopPlan((booked("a", 40, load=2),), (("a", "a"),))
    assert shifted(plan, 30) == ShopPlan((booked("a", 10, load=2),), (("a", "a"),))


def test_less_than_a_quarter_of_an_hour_is_no_change() -> None:
    shop = Workshop((stint("a"), stint("b")), (), (ME,))
    before = plan_of(booked("a", 100), booked("b", 200))
    for by in (-14, 14):
        same = followed(shop, before, plan_of(booked("a", 100 + by), booked("b", 200)))
        assert same == Followed((), ())
    for by in (-15, 15):
        told = followed(shop, before, plan_of(booked("a", 100 + by), booked("b", 200)))
        assert [s.after for s in told.shifts] == [100 + by]
        assert told.ends == (("A", 130, 130 + by),)


def test_only_what_is_in_both_plans_can_have_moved() -> None:
    shop = Workshop((stint("a1"), stint("a2"), stint("b")), (), (ME,))
    before = plan_of(booked("a1", 0), booked("gone", 30))
    after = plan_of(booked("a1", 0), booked("a2", 200), booked("b", 300))
    told = followed(shop, before, after)
    assert told.shifts == ()
    assert told.ends == (("A", 30, 230),), "the piece has more work now"


def test_shifts_are_told_in_order_of_the_sooner_of_both_times() -> None:
    shop = Workshop(tuple(stint(k) for k in "abcd"), (), (ME,))
    before = plan_of(booked("a", 300), booked("b", 100), booked("c", 400), booked("d", 100))
    after = plan_of(booked("a", 50), booked("b", 500), booked("c", 200), booked("d", 400))
    assert [s.stint for s in followed(shop, before, after).shifts] == ["a", "b", "d", "c"]


def test_a_piece_ended_with_the_last_of_its_stints() -> None:
    shop = Workshop((stint("a1"), stint("a2")), (), (ME,))
    before = plan_of(booked("a2", 0), booked("a1", 100))
    after = plan_of(booked("a2", 200), booked("a1", 100))
    assert followed(shop, before, after).ends == (("A", 130, 230),)


def test_what_has_no_length_ends_when_it_begins() -> None:
    shop = Workshop((stint("h", 0),), (), (ME,))
    for to, told in ((14, ()), (15, (("H", 0, 15),))):
        assert followed(shop, plan_of(booked("h", 0, 0)), plan_of(booked("h", to, 0))).ends == told


def test_what_comes_sooner_needs_no_reason() -> None:
    shop = Workshop((stint("a", soonest=500, why_soonest="no"),), (), (ME,))
    assert moved(shop, was=100, to=0) == ""


def test_it_could_not_stay_because_of_its_day() -> None:
    shop = Workshop((stint("a", soonest=100, why_soonest="it comes then"),), (), (ME,))
    assert moved(shop, was=99, to=200) == "it comes then"
    assert moved(shop, was=100, to=200) == ""


def test_it_could_not_stay_because_of_a_wait() -> None:
    stints = (stint("a"), stint("b"), stint("c"))
    lags = (Lag("b", "a", 20, None, "b dries"), Lag("c", "a", 10), Lag("a", "c", 900, None, "no"))
    shop = Workshop(stints, lags, (ME,))
    ends = booked("b", 0), booked("c", 20)
    # b is dry at 50, c at 60: the last of them is told, without words of its own by its name.
    assert moved(shop, *ends, was=49) == "it comes after name of c"
    assert moved(shop, booked("b", 20), booked("c", 0), was=40) == "b dries"
    assert moved(shop, booked("b", 5), booked("c", 10), was=49) == "b dries"
    assert moved(shop, *ends, was=60) == ""


def test_it_could_not_stay_because_its_hands_do_something_else_then() -> None:
    shop = Workshop((stint("a"), stint("b")), (), (ME, replace(ME, name="Wren")))
    said = "name of b is done then"
    assert moved(shop, booked("b", 29, 42), was=0) == said
    assert moved(shop, booked("b", 30, 42), was=0) == ""
    assert moved(shop, booked("b", 0, 51), was=50) == said
    assert moved(shop, booked("b", 0, 50), was=50) == ""
    assert moved(shop, booked("b", 0, 51, "Wren"), was=50) == "", "other hands"


def test_it_could_not_stay_because_nobody_is_here_then() -> None:
    shop = Workshop((stint("a"),), (), (replace(ME, name="Wren", here=()), ME))
    for was, said in ((570, ""), (571, "nobody is here then"), (1439, "nobody is here then")):
        assert moved(shop, was=was, to=1500) == said
    assert moved(shop, was=1440, to=1500) == ""
    assert moved(replace(shop, workers=()), was=571, to=1500) == ""


def test_loads_stay_as_they_were_sprayed_where_they_still_can() -> None:
    coats = tuple(stint(k, 10, mix="m", ml=100.0) for k in "abcde")
    plan = plan_of(booked("a", 10, 10, load=1), booked("b", 20, 10, load=1),
                   booked("c", 80, 10, load=2), booked("d", 130, 10, load=3),
                   booked("e", 140, 10, load=3))  # fmt: skip

    def loads(shop: Workshop) -> Batches:
        return loads_of(Floor(shop), plan)

    shop = Workshop(coats, (), (ME,), SprayGun(10, 15, 250.0))
    assert loads(shop) == ((0, 1), (3, 4))
    wide = replace(coats[1], ml=200.0)
    assert loads(replace(shop, stints=(coats[0], wide, *coats[2:]))) == ((3, 4),)
    # What has to dry between two of one load leaves none as it was.
    assert loads(replace(shop, lags=(Lag("d", "e", 60),))) == ()


def test_nothing_starts_sooner_than_it_stood_and_new_work_finds_a_place() -> None:
    shop = Workshop((stint("a"), stint("b"), stint("new", 20)), (), (ME,))
    before = plan_of(booked("b", 100), booked("a", 300), booked("gone", 0))
    at = again(shop, before).at()
    assert {k: p.start for k, p in at.items()} == {"a": 300, "b": 100, "new": 0}


def test_new_work_comes_in_the_turn_of_its_soonest_start() -> None:
    """It may begin at 50: after what stood before that, and before what stood behind."""
    shop = Workshop((stint("a", 60), stint("b", 60), stint("new", 20, soonest=50)), (), (ME,))
    at = again(shop, plan_of(booked("a", 0, 60), booked("b", 60, 60))).at()
    assert {k: p.start for k, p in at.items()} == {"a": 0, "new": 60, "b": 80}


def test_what_stood_may_come_sooner_where_a_window_is_kept_by_that() -> None:
    """a is due at once and b within 100 minutes of it; b stood at 300."""
    shop = Workshop((stint("a", by=50), stint("b"), stint("c")), (Lag("a", "b", 0, 100),), (ME,))
    before = plan_of(booked("a", 0), booked("b", 300), booked("c", 400))
    after = again(shop, before)
    assert after.missed == ()
    assert faults(shop, after) == []
    assert after.at()["b"].start <= 130


def test_what_stood_stays_where_coming_sooner_keeps_no_more() -> None:
    """b has a day of its own, too late for its window, whatever is done about c."""
    shop = Workshop(
        (stint("a", by=50), stint("b", soonest=300), stint("c")), (Lag("a", "b", 0, 100),), (ME,)
    )
    after = again(shop, plan_of(booked("a", 0), booked("b", 300), booked("c", 400)))
    assert len(after.missed) == 1
    assert after.at()["c"].start == 400


def test_an_hour_is_worth_a_change() -> None:
    assert (WORTH_A_CHANGE, SMALL) == (60, 15)


def test_the_same_work_lies_where_it_lay() -> None:
    for seed in range(5):
        shop = workshops.shop(seed, parts=5, steps=8)
        plan = best_plan(shop, rounds=10).plan
        assert {k: p.start for k, p in again(shop, plan).at().items()} == {
            k: p.start for k, p in plan.at().items()
        }
