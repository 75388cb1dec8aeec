"""Why a day cannot be kept: by its chain, or by the work between two moments."""

from __future__ import annotations

from dataclasses import replace

from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.chain import ChainLink, longest_chain, why_not
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.workshop import Lag, Stint, Workshop
from tests.support import workshops

WASH = Stint("wash", "A", "Wash", 30, soonest=60, why_soonest="it comes then")
SAND = Stint("sand", "A", "Sand", 20)
WIPE = Stint("wipe", "A", "Wipe", 10)
OTHER = Stint("other", "B", "Other", 500)
WAIT = Lag("wash", "sand", 100, None, "it dries")
SHOP = Workshop((OTHER, WASH, SAND), (WAIT,), (workshops.worker(),))


def bounds(shop: Workshop) -> Bounds:
    return Bounds(Floor(shop))


def test_the_chain_of_a_piece_from_its_first_link_with_each_reason() -> None:
    assert longest_chain(bounds(SHOP), "A") == (
        ChainLink("wash", "Wash", 60, 90, "it comes then"),
        ChainLink("sand", "Sand", 190, 210, "it dries"),
    )
    assert longest_chain(bounds(SHOP), "C") == ()


def test_what_begins_at_once_has_no_reason() -> None:
    free = replace(WASH, soonest=0, why_soonest="not said")
    (link,) = longest_chain(bounds(replace(SHOP, stints=(OTHER, free), lags=())), "A")
    assert (link.stint, link.why) == ("wash", "")


def test_of_two_links_the_longest_wait_is_told() -> None:
    short = Lag("wash", "sand", 5, None, "its turn")
    for lags in ((short, WAIT), (WAIT, short)):
        assert longest_chain(bounds(replace(SHOP, lags=lags)), "A")[1].why == "it dries"


def test_what_has_a_day_of_its_own_that_is_no_sooner_waits_for_that() -> None:
    """Sanding is dry at 190: with a day of its own from then on, the chain is that day."""
    for day, links in ((189, ["wash", "sand"]), (190, ["sand"])):
        own = replace(SAND, soonest=day, why_soonest="the paper comes")
        found = longest_chain(bounds(replace(SHOP, stints=(OTHER, WASH, own))), "A")
        assert [x.stint for x in found] == links


def test_the_last_stint_of_the_piece_is_where_the_chain_ends() -> None:
    """The longest, also where it begins first; of two that end at once the later in the list."""
    shop = replace(SHOP, stints=(WASH, SAND))
    first, last = longest_chain(bounds(shop), "A")
    assert (first.stint, last.stint, last.why) == ("wash", "sand", "it dries")
    long = replace(WIPE, minutes=300)
    assert longest_chain(bounds(replace(shop, stints=(*shop.stints, long))), "A") == (
        ChainLink("wipe", "Wipe", 0, 300, ""),
    )
    twins = replace(SHOP, stints=(SAND, replace(SAND, key="twin")), lags=())
    assert [x.stint for x in longest_chain(bounds(twins), "A")] == ["twin"]


def test_what_has_to_begin_late_because_of_what_follows_is_told_so() -> None:
    """The stain waits for the day of its wipe, which must come right behind it."""
    wipe = replace(WIPE, soonest=300, why_soonest="rags come")
    stain = Stint("stain", "A", "Stain", 20)
    lag = Lag("stain", "wipe", 0, 10, "first", "it must be wiped")
    found = longest_chain(bounds(Workshop((stain, wipe), (lag,), (workshops.worker(),))), "A")
    assert found == (ChainLink("wipe", "Wipe", 300, 310, "rags come"),)
    late = replace(stain, key="stain", piece="B")
    held = longest_chain(bounds(Workshop((late, wipe), (lag,), (workshops.worker(),))), "B")
    assert held == (
        ChainLink("wipe", "Wipe", 300, 310, "rags come"),
        ChainLink("stain", "Stain", 270, 290, "it must be wiped"),
    )


def test_a_day_that_can_be_kept_needs_no_proof() -> None:
    known = bounds(SHOP)
    assert why_not(known, "A", 210, 210) is None
    found = why_not(known, "A", 209, 210)
    assert found is not None
    assert (found.piece, found.by, found.soonest, found.crowded) == ("A", 209, 210, None)
    assert [x.stint for x in found.chain] == ["wash", "sand"]


def test_where_the_chain_is_short_enough_the_work_is_told() -> None:
    stints = tuple(replace(SAND, key=str(n), minutes=100) for n in range(3))
    known = bounds(Workshop(stints, (), (workshops.worker(),)))
    found = why_not(known, "A", 299, 300)
    assert found is not None and found.crowded is not None
    assert (found.crowded.start, found.crowded.end) == (0, 299)
    assert (found.crowded.asked, found.crowded.fits) == (300, 299)
    # The chain of one stint ends at 100: behind that it is the work that does not fit.
    by_chain = why_not(known, "A", 99, 300)
    assert by_chain is not None and by_chain.crowded is None
    at_its_end = why_not(known, "A", 100, 300)
    assert at_its_end is not None and at_its_end.crowded is not None
    # The proof of another kind, such as that of a solver: nothing is crowded here.
    told = why_not(known, "A", 300, 301)
    assert told is not None and told.crowded is None
