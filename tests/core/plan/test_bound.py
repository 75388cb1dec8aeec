"""The bound is never above a plan, and as high as its three arguments make it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.plan.bound import Bounds, Proven
from partsbench.core.plan.floor import Floor, Unit
from partsbench.core.plan.search import best_plan
from partsbench.core.plan.workshop import Lag, Promised, SprayGun, Stint, Worker, Workshop
from tests.support import workshops
from tests.support.all_plans import least_cost

MIXED = [workshops.mixed(seed, people=people) for people in (1, 2) for seed in range(5)]
DAY = 1440


def bounds(shop: Workshop) -> Bounds:
    return Bounds(Floor(shop))


def may_begin(shop: Workshop, unit: Unit, start: int) -> bool:
    """Whether so many of those who may do it are here from the set-up to the cleaning."""
    begin, end = start - unit.before, start + unit.length + unit.after
    free = [
        w
        for w in unit.able
        for here in (shop.workers[w].loud if unit.loud else shop.workers[w].here,)
        if begin >= 0 and any(a <= begin and max(end, begin + 1) <= b for a, b in here)
    ]
    return len(free) >= unit.crew


@pytest.mark.parametrize("shop", MIXED)
def test_heads_are_the_soonest_starts_as_if_nobody_were_busy(shop: Workshop) -> None:
    """Pushed minute by minute until nothing moves, forwards by what comes before and backwards by
    what must follow in time."""
    shop = replace(
        shop, stints=tuple(replace(s, by=None) for s in shop.stints), lags=_loosened(shop)
    )
    known = bounds(shop)
    floor = known.floor
    heads = [max(u.soonest, u.before) for u in floor.single]
    moved = True
    while moved:
        before = list(heads)
        for i, unit in enumerate(floor.single):
            for a, least, most in floor.into[i]:
                heads[i] = max(heads[i], heads[a] + floor.stints[a].minutes + least)
                if most is not None:
                    heads[a] = max(heads[a], heads[i] - most - floor.stints[a].minutes)
            while not may_begin(shop, unit, heads[i]):
                heads[i] += 1
        moved = heads != before
    assert known.heads == heads


def _loosened(shop: Workshop) -> tuple[Lag, ...]:
    """With windows that a night does not close, so that each can be kept."""
    return tuple(
        x if x.most is None else replace(x, most=x.least + 2 * DAY + x.most) for x in shop.lags
    )


@pytest.mark.parametrize("shop", MIXED)
def test_what_fits_at_a_minute_fits_and_the_soonest_and_the_latest_are_so(shop: Workshop) -> None:
    shop = replace(shop, lags=(), stints=tuple(replace(s, by=None) for s in shop.stints))
    known = bounds(shop)
    for limit in (700, 1100, 1540, 1700):
        late, kept = known.latest_ends([limit] * len(shop.stints))
        all_kept = True
        for i, (stint, unit) in enumerate(zip(shop.stints, known.floor.single, strict=True)):
            for soonest in (unit.before, limit):
                found = known.next_start(unit, soonest)
                assert found is not None and found >= soonest and may_begin(shop, unit, found)
                assert not any(may_begin(shop, unit, t) for t in range(soonest, found))
            last = late[i] - stint.minutes
            if last == known.heads[i]:
                all_kept &= late[i] <= limit
                continue
            assert late[i] <= limit and may_begin(shop, unit, last)
            assert not any(may_begin(shop, unit, t) for t in range(last + 1, limit - stint.minutes))
        assert kept is all_kept


@pytest.mark.parametrize("shop", MIXED)
def test_no_plan_is_better_than_the_bound(shop: Workshop) -> None:
    found = best_plan(shop, rounds=3)
    if found.plan.missed:
        assert found.proven.cost <= found.cost
        return
    proven, ends = bounds(shop).proven(), found.plan.ends(shop)
    assert proven.cost <= found.cost
    assert proven.end <= max(ends.values())
    assert all(proven.ends[piece] <= end for piece, end in ends.items())
    # And no stint ends after the latest end that its piece's own end leaves it.
    late, kept = bounds(shop).latest_ends([ends[s.piece] for s in shop.stints])
    assert kept
    assert all(found.plan.at()[s.key].end <= late[i] for i, s in enumerate(shop.stints))
    assert not any(
        bounds(shop).refuted([i for i, s in enumerate(shop.stints) if s.piece == piece], end)
        for piece, end in ends.items()
    )


ME = workshops.worker()
SAND = Stint("s", "A", "s", 100, "sand", room="r", use="dust", loud=True)


def copies(stint: Stint, count: int, **more: object) -> tuple[Stint, ...]:
    return tuple(replace(stint, key=str(n), **more) for n in range(count))  # type: ignore[arg-type]


@pytest.mark.parametrize("seed", range(40))
def test_the_bound_of_a_tiny_shop_is_never_above_its_best_plan(seed: int) -> None:
    """Of all plans that keep every window, each tried; where none does, the bound may say so."""
    shop = workshops.tiny(100 + seed)
    truth = least_cost(shop)
    assert bounds(shop).proven().cost <= truth


def test_a_shop_with_nothing_to_do_is_done() -> None:
    assert bounds(Workshop((), workers=(ME,))).proven() == Proven(0, {}, 0)


def test_hands_of_all_together() -> None:
    """Eighteen hundred minutes, ten hours a day: two of them are two pairs of hands quicker."""
    stints = copies(SAND, 18)
    assert bounds(Workshop(stints, (), (ME,))).proven().end == 2 * DAY + 600
    both = (ME, replace(ME, name="Wren"))
    assert bounds(Workshop(stints, (), both)).proven().end == DAY + 300
    # Work for two takes both.
    two = copies(SAND, 9, hands=2)
    assert bounds(Workshop(two, (), both)).proven().end == DAY + 300


def test_hands_of_those_who_alone_may_do_it() -> None:
    helper = replace(ME, name="Wren", only=("sand",))
    mine = copies(SAND, 8, work="strip")
    assert bounds(Workshop(mine, (), (ME, helper))).proven().end == DAY + 200
    wash = copies(SAND, 8, work="sand")
    assert bounds(Workshop(wash, (), (ME, helper))).proven().end == 400


def test_hands_at_hours_in_which_it_may_be_loud() -> None:
    me = workshops.worker(last=20 * 60, quiet_from=12 * 60)
    assert bounds(Workshop(copies(SAND, 3), (), (me,))).proven().end == DAY + 100
    # One that is not loud can be done in the evening, beside two that are.
    one = (*copies(SAND, 2), replace(SAND, loud=False))
    assert bounds(Workshop(one, (), (me,))).proven().end == 300


COAT = Stint("c", "A", "c", 20, "colour", mix="m", ml=100.0, m2=1.0, lies=60)


def test_loads_of_the_gun() -> None:
    """Five coats in three cups: two cleanings and set-ups lie between, the first set-up before."""
    shop = Workshop(copies(COAT, 5), (), (ME,), SprayGun(10, 15, 200.0))
    assert bounds(shop).proven().end == 10 + 5 * 20 + 2 * 25
    both = replace(shop, workers=(ME, replace(ME, name="Wren")))
    assert bounds(both).proven().end == 10 + 5 * 20 + 2 * 25, "there is one gun"
    mixes = (*copies(COAT, 1), replace(COAT, key="n", mix="n"))
    assert bounds(replace(shop, stints=mixes)).proven().end == 10 + 2 * 20 + 25
    # What waits for the other has a load of its own, however large the cup.
    row = replace(shop, stints=copies(COAT, 2), lags=(Lag("0", "1", 30),), gun=SprayGun(10, 15))
    assert bounds(row).proven().end == 10 + 20 + 30 + 20


def test_places_on_the_rack() -> None:
    """Two lie at a time, for 80 minutes each: of six the last two are sprayed 160 minutes on."""
    shop = Workshop(copies(COAT, 6), (), (ME,), SprayGun(0, 0), rack_m2=2.0)
    assert bounds(shop).proven().end == 2 * 80 + 20
    wide = replace(shop, stints=copies(COAT, 3, m2=5.0))
    assert bounds(wide).proven().end == 2 * 80 + 20, "what is wider than the rack fills it"
    assert bounds(replace(shop, rack_m2=None)).proven().end == 6 * 20


def test_each_piece_has_a_bound_of_its_own_and_promises_cost() -> None:
    stints = (*copies(SAND, 2), replace(SAND, key="b", piece="B", minutes=50))
    shop = Workshop(
        stints, (), (ME,), promised=(Promised("A", 150, 4.0), Promised("B", 60), Promised("C", 0))
    )
    assert bounds(shop).proven() == Proven(250, {"A": 200, "B": 50}, 250 + 4 * 50)


def test_what_a_plan_reaches_ends_the_search_and_so_does_who_has_no_time() -> None:
    known = bounds(Workshop(copies(SAND, 4), (), (ME,)))
    assert known.proven().end == 400
    assert known.proven(most=400, ends={"A": 400}).end == 400
    # Nobody is to say more than a plan that is known; one minute of chain is proven at once.
    assert known.proven(most=300, ends={"A": 300}).end == 300
    assert known.proven(stop=lambda: True).end == 100


def test_a_minute_is_refuted_with_where_it_is_crowded() -> None:
    known = bounds(Workshop(copies(SAND, 4), (), (ME,)))
    assert known.refuted([0, 1, 2, 3], 400) is False
    crowded = known.refuted([0, 1, 2, 3], 399)
    assert crowded and crowded is not True
    assert (crowded.start, crowded.end, crowded.asked, crowded.fits) == (0, 399, 400, 399)
    assert known.refuted([0], 99) is True
    assert known.refuted([0], 100) is False


def test_windows_hold_back_what_comes_before_them_and_after_them() -> None:
    """The wipe may come ten minutes after the stain: neither is for this evening."""
    stints = (
        replace(SAND, minutes=590, key="long"),
        Stint("stain", "B", "stain", 20),
        Stint("wipe", "B", "wipe", 30, soonest=DAY + 30, by=DAY + 60),
    )
    shop = Workshop(stints, (Lag("stain", "wipe", 5, 10),), (ME,))
    known = bounds(shop)
    assert known.heads == [0, DAY, DAY + 30]
    assert known.from_ == [-1, 2, -1]
    late, kept = known.latest_ends([2 * DAY] * 3)
    assert kept
    # Begun by its day, over thirty minutes later; the stain five before that.
    assert late == [DAY + 600, DAY + 55, DAY + 90]
    tight = known.latest_ends([2 * DAY, DAY + 24, 2 * DAY])
    assert tight == ([DAY + 600, DAY + 24, DAY + 64], True)
    # Where nothing can be kept, each is given its soonest end.
    assert known.latest_ends([2 * DAY, DAY + 19, 2 * DAY]) == (
        [DAY + 600, DAY + 20, DAY + 60],
        False,
    )


def test_what_nobody_can_ever_keep_leaves_the_heads_as_they_were() -> None:
    """A window over a night that is longer than it: no push ends, and none is made up."""
    me = Worker("me", ((0, 600),), ((0, 600),))
    stints = (Stint("a", "A", "a", 300), Stint("b", "A", "b", 10, soonest=650))
    known = bounds(Workshop(stints, (Lag("a", "b", 0, 20),), (me,)))
    assert known.heads == [0, 650]


def test_the_bound_of_seeded_shops_is_as_high_as_it_was() -> None:
    """Pinned: that an argument proves less than it did is seen by no plan."""
    found = {
        people: [bounds(workshops.dense(seed, people)).proven() for seed in range(8)]
        for people in (1, 2)
    }
    ends = {k: [(p.ends["P0"], p.ends["P1"], p.end) for p in some] for k, some in found.items()}
    assert ends == {
        1: [
            (155, 1485, 1485), (1485, 200, 1595), (112, 1445, 1565), (1590, 154, 1605),
            (1470, 165, 1585), (220, 179, 1570), (185, 1585, 1585), (210, 120, 1555),
        ],
        2: [
            (135, 1440, 1440), (1485, 200, 1520), (112, 235, 1530), (1590, 154, 1590),
            (1645, 101, 1645), (120, 149, 190), (180, 1585, 1585), (1460, 216, 1475),
        ],
    }  # fmt: skip
