"""Each rule of a workshop is looked at by itself: a plan is broken on purpose in one place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.plan.check import faults
from partsbench.core.plan.workshop import (
    Booked,
    Lag,
    ShopPlan,
    SprayGun,
    Stint,
    Worker,
    Workshop,
)

SAND = Stint("sand", "A", "sand", 30, "sand", room="r", use="dust")
COAT = Stint("coat", "A", "coat", 20, "colour", room="r", use="spray", mix="m", ml=100, m2=1.0,
             lies=60, loud=True)  # fmt: skip
MORE = replace(COAT, key="more", piece="B")
SHOP = Workshop(
    (SAND, COAT, MORE),
    (Lag("sand", "coat", 10, 200),),
    (
        Worker("me", ((0, 600),), ((0, 500),)),
        Worker("you", ((0, 300),), ((0, 300),), ("sand",)),
    ),
    SprayGun(10, 15, 200.0),
    {("dust", "spray"): 60, ("spray", "dust"): 45},
    2.0,
)
GOOD = ShopPlan(
    (
        Booked("sand", 0, 30, ("me",)),
        Booked("coat", 100, 120, ("me",), 1),
        Booked("more", 120, 140, ("me",), 1),
    )
)


def moved(key: str, **to: object) -> ShopPlan:
    return replace(
        GOOD,
        placed=tuple(replace(p, **to) if p.stint == key else p for p in GOOD.placed),
    )


def rules(shop: Workshop, plan: ShopPlan) -> set[str]:
    return {f.rule for f in faults(shop, plan)}


def test_a_good_plan_has_no_fault() -> None:
    assert faults(SHOP, GOOD) == []


@pytest.mark.parametrize(
    ("plan", "rule"),
    [
        (replace(GOOD, placed=GOOD.placed[1:]), "whole"),
        (moved("sand", end=29), "length"),
        (moved("sand", start=61, end=91), "least"),
        (moved("sand", start=30, end=60), "room"),
        (moved("coat", start=450, end=470, load=2), "most"),
        (moved("more", start=590, end=610, load=2), "hours"),
        (moved("more", start=480, end=500, load=2), "hours"),
        (moved("more", workers=("you",), load=2, start=200, end=220), "work"),
        (moved("sand", workers=("me", "you")), "hands"),
        (moved("more", start=130, end=150, load=2), "twice"),
        (moved("more", start=130, end=150, load=2), "gun"),
        (moved("more", start=121, end=141), "load"),
        (moved("more", start=5, end=25, load=2), "set-up"),
    ],
)
def test_what_cannot_be_is_seen(plan: ShopPlan, rule: str) -> None:
    assert rule in rules(SHOP, plan)


def test_a_cup_holds_so_much_and_a_rack_too() -> None:
    assert rules(replace(SHOP, gun=SprayGun(10, 15, 199.0)), GOOD) == {"cup"}
    assert rules(replace(SHOP, rack_m2=1.9), GOOD) == {"rack"}


def test_days_are_kept() -> None:
    late = replace(SHOP, stints=(replace(SAND, soonest=1), COAT, MORE))
    assert rules(late, GOOD) == {"soonest"}
    over = replace(SHOP, stints=(SAND, replace(COAT, by=99), MORE))
    assert rules(over, GOOD) == {"by"}


def test_what_the_plan_says_that_it_misses_is_not_told_again() -> None:
    plan = moved("coat", start=231, end=251, load=2)
    assert rules(SHOP, plan) == {"most"}
    assert rules(SHOP, replace(plan, missed=(("sand", "coat"),))) == set()


def test_spray_settles_before_dust() -> None:
    shop = replace(SHOP, lags=())
    # The gun is clean at 155, and 45 minutes later at 200.
    assert rules(shop, moved("sand", start=199, end=229)) == {"room"}
    assert rules(shop, moved("sand", start=200, end=230)) == set()


ALONE = Stint("one", "A", "one", 30, "sand")
TWO = replace(ALONE, key="two", work="wash")
HOURS = ((0, 60), (100, 200))


def plain(*workers: Worker) -> Workshop:
    return Workshop((ALONE, TWO), (), workers or (Worker("me", HOURS, HOURS),))


def at(one: int, two: int, who: str = "me") -> ShopPlan:
    return ShopPlan((Booked("one", one, one + 30, ("me",)), Booked("two", two, two + 30, (who,))))


def test_what_touches_does_not_overlap_and_hours_are_kept_to_the_minute() -> None:
    assert rules(plain(), at(0, 30)) == set()
    assert rules(plain(), at(0, 29)) == {"twice"}
    assert rules(plain(), at(30, 170)) == set()
    assert rules(plain(), at(31, 100)) == rules(plain(), at(0, 99)) == {"hours"}
    assert rules(plain(), at(0, 171)) == {"hours"}
    assert "length" in rules(plain(), at(-1, 100))
    one_day = plain(Worker("me", HOURS, HOURS), Worker("you", ((0, 9),), (), ("sand",)))
    assert rules(one_day, at(0, 30, "you")) == {"hours", "work"}


def test_work_of_no_length_takes_nobodys_time() -> None:
    """The hardware comes while something else is done."""
    comes = replace(ALONE, key="two", minutes=0)
    shop = replace(plain(), stints=(ALONE, comes))
    both = ShopPlan((Booked("one", 0, 30, ("me",)), Booked("two", 10, 10, ("me",))))
    assert faults(shop, both) == []


def test_least_and_longest_waits_and_days_are_kept_to_the_minute() -> None:
    waits = replace(plain(), lags=(Lag("one", "two", 70, 90),))
    assert rules(waits, at(0, 100)) == rules(waits, at(0, 120)) == set()
    assert rules(waits, at(31 - 30, 100)) == {"least"}
    assert rules(waits, at(0, 121)) == {"most"}
    assert rules(waits, replace(at(0, 121), missed=(("two", "one"),))) == {"most"}
    own = replace(plain(), stints=(ALONE, replace(TWO, by=100, soonest=100)))
    assert rules(own, at(0, 100)) == set()
    assert rules(own, at(0, 101)) == {"by"}
    assert rules(own, replace(at(0, 101), missed=(("one", "one"),))) == {"by"}
    assert rules(own, replace(at(0, 101), missed=(("one", "two"),))) == set()
    assert rules(own, at(0, 30)) == {"soonest"}


def test_what_is_given_up_may_lie_outside_the_hours_and_nothing_else_may() -> None:
    assert rules(plain(), replace(at(0, 300), missed=(("two", "two"),))) == set()
    assert rules(plain(), replace(at(0, 300), missed=(("one", "two"),))) == {"hours"}
    assert rules(plain(), replace(at(0, 300), missed=(("one", "one"),))) == {"hours"}


def test_a_load_is_set_up_before_the_first_and_cleaned_after_the_last() -> None:
    """From ten before until fifteen after, in the hours in which its loudest may be loud."""
    me = Worker("me", ((90, 155), (200, 300)), ((90, 155),))
    shop = replace(SHOP, workers=(me,), lags=(), stints=(COAT, replace(MORE, loud=False)))
    coats = replace(GOOD, placed=GOOD.placed[1:])
    assert faults(shop, coats) == []
    shorter = replace(me, loud=((90, 154),))
    assert rules(replace(shop, workers=(shorter,)), coats) == {"hours"}
    later = replace(me, here=((91, 155),), loud=((91, 155),))
    assert rules(replace(shop, workers=(later,)), coats) == {"hours"}
    odd = replace(shop, stints=(COAT, replace(MORE, mix="n")))
    assert rules(odd, coats) == {"load"}
    hand = ShopPlan((coats.placed[0], replace(coats.placed[1], workers=("you",))))
    assert rules(replace(shop, workers=(me, replace(me, name="you"))), hand) == {"load"}


def test_a_single_coat_may_take_more_than_a_cup() -> None:
    wide = replace(SHOP, stints=(SAND, replace(COAT, ml=900.0), MORE))
    apart = moved("more", start=200, end=220, load=2)
    assert rules(wide, apart) == set()
    assert rules(wide, GOOD) == {"cup"}


def test_the_rack_is_free_when_what_lies_on_it_is_dry() -> None:
    """The first coat lies until 180."""
    shop = replace(SHOP, rack_m2=1.5)
    assert rules(shop, moved("more", start=180, end=200, load=2)) == set()
    assert rules(shop, moved("more", start=179, end=199, load=2)) == {"rack"}
    wide = replace(shop, stints=(SAND, replace(COAT, m2=9.0), MORE))
    assert rules(wide, moved("more", start=180, end=200, load=2)) == set()
    assert rules(wide, moved("more", start=179, end=199, load=2)) == {"rack"}


def test_uses_that_go_together_and_other_rooms_are_no_fault() -> None:
    """Without the lag: sanding may lie anywhere that the room allows."""
    shop = replace(SHOP, lags=(), gun=SprayGun(0, 0, 200.0))
    near = moved("sand", start=30, end=60)
    assert rules(shop, near) == {"room"}, "dust settles for an hour"
    assert rules(shop, moved("sand", start=10, end=40)) == set()
    for other in ({"room": "s"}, {"room": ""}, {"use": ""}, {"use": "spray"}, {"use": "fumes"}):
        elsewhere = replace(shop, stints=(replace(SAND, **other), COAT, MORE))  # type: ignore[arg-type]
        assert rules(elsewhere, near) == set()
    over = replace(shop, workers=(*shop.workers, Worker("third", ((0, 600),), ())))
    fumes = replace(over, stints=(replace(SAND, use="fumes"), COAT, MORE))
    beside = moved("sand", start=110, end=140, workers=("third",))
    assert rules(fumes, beside) == {"room"}, "two uses never lie at the same time"


def test_work_for_two_has_two_people_and_not_one_twice() -> None:
    heavy = replace(SHOP, stints=(replace(SAND, hands=2), COAT, MORE))
    assert rules(heavy, moved("sand", workers=("me", "you"))) == set()
    assert rules(heavy, moved("sand", workers=("me", "me"))) == {"hands"}
    assert rules(heavy, GOOD) == {"hands"}


def test_a_rule_says_how_far_it_is_broken() -> None:
    (gap,) = [f for f in faults(SHOP, moved("sand", start=61, end=91)) if f.rule == "least"]
    assert gap.sentence == "coat comes 9 min after sand"
    (late,) = faults(SHOP, moved("coat", start=231, end=251, load=2))
    assert late.sentence == "coat comes 201 min after sand"
    (near,) = faults(replace(SHOP, lags=()), moved("sand", start=199, end=229))
    assert near.sentence == "sand begins 44 min after coat in r"
