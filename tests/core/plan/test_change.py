"""A plan that follows the shop moves only what must move, and says what and why."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.chain import why_not
from partsbench.core.plan.change import followed, laid_again, shifted
from partsbench.core.plan.check import faults
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.search import best_plan
from partsbench.core.plan.what_if import with_helper, without_time
from partsbench.core.plan.words import chain_words, change_words, end_words, promise_words
from partsbench.core.plan.workshop import Lag, Promised, Stint, Workshop
from tests.support import workshops

ORIGIN = datetime(2031, 3, 3, 8, 0, tzinfo=UTC)


def again(shop: Workshop, plan):  # type: ignore[no-untyped-def]
    return laid_again(Bounds(Floor(shop)), plan)


def test_the_same_work_lies_where_it_lay() -> None:
    for seed in range(5):
        shop = workshops.shop(seed, parts=5, steps=8)
        plan = best_plan(shop, rounds=10).plan
        assert {k: p.start for k, p in again(shop, plan).at().items()} == {
            k: p.start for k, p in plan.at().items()
        }


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
