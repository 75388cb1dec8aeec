"""The plan keeps the order across a seam, within a part and between parts that are together."""

from __future__ import annotations

import pytest

from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.plan.check import faults
from partsbench.services.acts import masks
from partsbench.services.acts.teardown import stays_in, take_out
from partsbench.services.known import facts
from partsbench.services.plan import plans
from partsbench.services.plan.plans import PlanShown
from partsbench.services.shop import Shop
from tests.support.shops import lay_out, made


@pytest.fixture
def piece(shop: Shop) -> Piece:
    """A painted carcase and a stained top."""
    found = made(lay_out(shop, "Heron", "2", height=300, top=True, paths=[
        ("paint", ["C1", "D1", "D2"]), ("stain", ["T1"])]))  # fmt: skip
    facts.say(shop, found.tag, "old finish", "none")
    facts.say(shop, found.tag, "conditioner", "none")
    return found


def spans(shown: PlanShown, short: str, *steps: str) -> list[tuple[int, int]]:
    """When those steps are worked on the faces of a part that the seam is of."""
    at = shown.best.plan.at()
    face = {"T1": "T1 front edge", "C1": "C1 rails"}[short]
    return [
        (at[key].start, at[key].end)
        for key, names in shown.hand.faces.items()
        if Spot.of(face) in names and key.rpartition("|")[2] in steps
    ]


def planned(shop: Shop) -> PlanShown:
    shown = plans.plan(shop, seconds=0.3)
    assert faults(shown.shop, shown.best.plan) == []
    assert shown.best.plan.missed == ()
    return shown


def test_a_top_in_place_is_stained_before_the_rails_get_colour_and_coated_after(
    shop: Shop, piece: Piece
) -> None:
    stays_in(shop, piece.tag, "T1")
    shown = planned(shop)
    whys = {lag.why for lag in shown.shop.lags}
    assert any("T1 front edge is masked before C1 rails gets" in why for why in whys)
    colours = spans(shown, "C1", "colour_1", "colour_2", "colour_3", "topcoat_1", "topcoat_2")
    (wiped,) = spans(shown, "T1", "wipe")
    (clear,) = spans(shown, "T1", "clear_1")
    assert wiped[1] <= min(start for start, _ in colours)
    assert clear[0] >= max(end for _, end in colours)


def test_a_top_that_is_off_waits_for_nothing_of_the_carcase(shop: Shop, piece: Piece) -> None:
    take_out(shop, piece.tag, ["T1"])
    shown = planned(shop)
    stints = {s.key: s for s in shown.shop.stints}
    for lag in shown.shop.lags:
        pair = {stints[k].where for k in (lag.before, lag.after)}
        assert not ({"Heron T1"} < pair), pair


def test_a_seam_that_was_said_to_need_no_mask_orders_nothing(shop: Shop, piece: Piece) -> None:
    stays_in(shop, piece.tag, "T1")
    masks.not_needed(shop, piece.tag, "C1 rails", ["T1 front edge"])
    whys = {lag.why for lag in planned(shop).shop.lags}
    assert [why for why in whys if "T1 front edge" in why] == []
    assert any("T1 left edge is masked before C1 left side gets" in why for why in whys)


def test_within_a_part_the_stained_side_is_masked_first(shop: Shop) -> None:
    found = made(
        lay_out(
            shop,
            "Larch",
            "1",
            paths=[("stain", ["D1 front"]), ("paint", ["D1 left edge", "D1 right edge"])],
        )
    )
    facts.say(shop, found.tag, "old finish", "none")
    facts.say(shop, found.tag, "conditioner", "none")
    shown = planned(shop)
    at = shown.best.plan.at()
    keys = {
        (str(face), key.rpartition("|")[2]): key
        for key, names in shown.hand.faces.items() for face in names
    }  # fmt: skip
    mask, unmask = keys["D1 front", "mask"], keys["D1 front", "unmask"]
    first, last = keys["D1 left edge", "colour_1"], keys["D1 left edge", "topcoat_2"]
    assert at[mask].end <= at[first].start
    assert at[last].end <= at[unmask].start
