"""What to do about too little play: nothing, wax, bare edges, or a plane, each from where on."""

from __future__ import annotations

import pytest

from partsbench.core.sums.fit_advice import UNFELT_MM, Advice, Edge, Remedy, advise
from partsbench.core.sums.units import Measures

SIDES = {Edge.LEFT: 0.2, Edge.RIGHT: 0.2}
TOP = {Edge.TOP: 0.2, Edge.BOTTOM: 0.0}


def remedies(where: str, gap: float | None, films: dict[Edge, float]) -> list[Advice]:
    return list(advise(where, gap, 1.0, films))


@pytest.mark.parametrize("gap", [None, 1.0, 1.0 - UNFELT_MM, 2.0])
def test_enough_play_or_none_known_needs_nothing(gap: float | None) -> None:
    assert remedies("side", gap, SIDES) == []


@pytest.mark.parametrize("gap", [0.5, 0.75, 0.98])
def test_half_of_what_is_wanted_is_helped_by_wax(gap: float) -> None:
    assert remedies("side", gap, SIDES) == [Advice(Remedy.WAX, "side")]


def test_less_than_half_takes_bare_edges_and_what_is_still_short_is_planed() -> None:
    """Each side gains half of both films: 0.2; at the top the one film there is: 0.2."""
    bare = Advice(Remedy.BARE, "side", edges=(Edge.LEFT, Edge.RIGHT))
    assert remedies("side", 0.49, SIDES) == [bare, Advice(Remedy.PLANE, "side", 0.4)]
    assert remedies("side", 0.4, SIDES) == [bare, Advice(Remedy.PLANE, "side", 0.4)]
    top = Advice(Remedy.BARE, "top", edges=(Edge.TOP,))
    assert remedies("top", 0.4, TOP) == [top, Advice(Remedy.PLANE, "top", 0.4)]
    assert remedies("top", -0.25, {}) == [Advice(Remedy.PLANE, "top", 1.3)]


@pytest.mark.parametrize(("film", "planed"), [(0.595, False), (0.61, False), (0.58, True)])
def test_what_is_short_by_less_than_can_be_felt_is_not_planed(film: float, planed: bool) -> None:
    found = remedies("top", 0.4, {Edge.TOP: film})
    assert (found[-1].remedy is Remedy.PLANE) is planed


def test_advice_in_words() -> None:
    assert Advice(Remedy.WAX, "side").say() == "wax both sides"
    assert Advice(Remedy.WAX, "side").mm == 0, "wax takes nothing off"
    assert Advice(Remedy.WAX, "top").say() == "wax the top and bottom edges"
    assert Advice(Remedy.BARE, "top", edges=(Edge.TOP,)).say() == "leave the top edge bare"
    both = Advice(Remedy.BARE, "top", edges=(Edge.TOP, Edge.BOTTOM))
    assert both.say() == "leave the top and bottom edges bare"
    plane = Advice(Remedy.PLANE, "top", 0.5)
    assert plane.say() == "plane 0.5 mm off the top edge before painting"
    assert plane.say(Measures.US) == "plane 0.020 in off the top edge before painting"
    assert Advice(Remedy.PLANE, "side", 0.5).say() == "plane 0.5 mm off each side before painting"
