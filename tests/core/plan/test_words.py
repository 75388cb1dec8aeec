"""What a plan says in sentences, word for word."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from partsbench.core.plan.chain import ChainLink, Unreachable
from partsbench.core.plan.change import Followed, Shift
from partsbench.core.plan.energy import Crowded
from partsbench.core.plan.words import (
    chain_words,
    change_words,
    difference,
    end_words,
    promise_words,
    side_by_side,
)
from partsbench.core.plan.workshop import Promised, Workshop

ORIGIN = datetime(2031, 3, 3, 8, 0, tzinfo=UTC)
SHOP = Workshop((), titles={"A": "Heron"})


def test_an_end_and_how_good_it_is() -> None:
    done = "Heron is done Monday 03 Mar 16:00"
    assert end_words("Heron is", ORIGIN, 480, 480) == f"{done}, and no plan can be earlier."
    assert end_words("Heron is", ORIGIN, 480, 481) == f"{done}, and no plan can be earlier."
    assert end_words("Heron is", ORIGIN, 480, 479) == (
        f"{done}; no plan can be earlier than Monday 03 Mar 15:59."
    )


@pytest.mark.parametrize(
    ("end", "soonest", "said"),
    [
        (600, 600, "Heron is promised for Monday 03 Mar 18:00: kept, with no time to spare."),
        (599, 60, "Heron is promised for Monday 03 Mar 18:00: kept, with 1 min to spare."),
        (601, 600, "Heron is promised for Monday 03 Mar 18:00 and comes 1 min late; that it cannot "
                   "be kept is not proven."),
        (700, 601, "Heron cannot be done by Monday 03 Mar 18:00; no plan is earlier than "
                   "Monday 03 Mar 18:01."),
    ],
)  # fmt: skip
def test_a_promise_is_kept_or_late_or_cannot_be(end: int, soonest: int, said: str) -> None:
    assert promise_words(SHOP, Promised("A", 600), ORIGIN, end, soonest) == said


def chain(count: int) -> Unreachable:
    links = (ChainLink(str(n), f"step {n}", n, n + 1, "" if n % 2 else "dry") for n in range(count))
    return Unreachable("A", 1, count, tuple(links))


def test_a_long_chain_is_told_by_its_first_and_last_links() -> None:
    ends = "Heron cannot be done by Monday 03 Mar 08:01: step 0 Mon 03 Mar 08:00 (dry); "
    eight = chain_words(chain(8), SHOP, ORIGIN)
    assert "more" not in eight and eight.count("step") == 8
    assert chain_words(chain(9), SHOP, ORIGIN) == ends + (
        "step 1 Mon 03 Mar 08:01; step 2 Mon 03 Mar 08:02 (dry); step 3 Mon 03 Mar 08:03; "
        "1 more step; step 5 Mon 03 Mar 08:05; step 6 Mon 03 Mar 08:06 (dry); "
        "step 7 Mon 03 Mar 08:07; step 8 Mon 03 Mar 08:08 (dry). "
        "No plan is earlier than Monday 03 Mar 08:09."
    )
    assert "; 2 more steps; step 6 " in chain_words(chain(10), SHOP, ORIGIN)


def test_work_that_does_not_fit_is_told_with_both_figures() -> None:
    found = Unreachable("A", 600, 700, chain(2).chain, Crowded(60, 600, 599.6, 540.4))
    assert chain_words(found, SHOP, ORIGIN) == (
        "Heron cannot be done by Monday 03 Mar 18:00: between Mon 03 Mar 09:00 and "
        "Mon 03 Mar 18:00 10 h of work has to be done, and there are 9 h. "
        "No plan is earlier than Monday 03 Mar 19:40."
    )


def shift(name: str, why: str) -> Shift:
    return Shift(name, name, 0, 60, why)


def test_the_shift_with_a_reason_is_told_before_those_carried_along() -> None:
    ends = (("A", 120, 180), ("B", 0, 30))
    found = Followed((shift("Wash", ""), shift("Sand", "nobody is here then")), ends)
    assert change_words(found, SHOP, ORIGIN) == (
        "Heron is done Mon 03 Mar 11:00 and not Mon 03 Mar 10:00. "
        "B is done Mon 03 Mar 08:30 and not Mon 03 Mar 08:00. "
        "Sand moves to Mon 03 Mar 09:00, because nobody is here then; 1 more moves."
    )


def test_what_is_only_better_has_no_reason() -> None:
    one = Followed((shift("Wash", ""),), ())
    assert change_words(one, SHOP, ORIGIN) == ("Wash moves to Mon 03 Mar 09:00, which is better.")
    three = Followed((shift("Wash", ""),) * 3, ())
    assert change_words(three, SHOP, ORIGIN).endswith("which is better; 2 more move.")


def test_an_end_alone_is_told_and_nothing_says_nothing() -> None:
    assert change_words(Followed((), (("A", 120, 180),)), SHOP, ORIGIN) == (
        "Heron is done Mon 03 Mar 11:00 and not Mon 03 Mar 10:00."
    )
    assert change_words(Followed((), ()), SHOP, ORIGIN) == ""


def test_ends_side_by_side() -> None:
    assert side_by_side(SHOP, ORIGIN, [("A", 600, 480), ("B", 60, 90)]) == (
        "Heron: Mon 03 Mar 18:00 → Mon 03 Mar 16:00, 2 h sooner",
        "B: Mon 03 Mar 09:00 → Mon 03 Mar 09:30, 30 min later",
    )
    assert difference(480, 480) == "no change"
