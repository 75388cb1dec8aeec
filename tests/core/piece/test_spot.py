from __future__ import annotations

import json

import pytest

from partsbench.core.piece.spot import WHOLE, Spot


@pytest.mark.parametrize(
    ("typed", "spot"),
    [
        ("D1 front", Spot("D1", "front")),
        (" d1   Top  EDGE ", Spot("D1", "top edge")),
        ("d5", Spot("D5")),
        ("legs Outside", Spot("legs", "outside")),
        ("", WHOLE),
    ],
)
def test_a_name_is_read_as_people_type_it(typed: str, spot: Spot) -> None:
    assert Spot.of(typed) == spot


@pytest.mark.parametrize("spot", [Spot("D10", "left edge"), Spot("C1"), WHOLE])
def test_what_is_shown_is_read_back_as_the_same(spot: Spot) -> None:
    assert Spot.of(str(spot)) == spot
    assert Spot.of(spot) is spot


def test_it_is_shown_as_text_and_by_no_accident_as_a_list() -> None:
    spot = Spot("D1", "front")
    assert f"{spot}" == "D1 front"
    assert (str(Spot("C1")), str(WHOLE)) == ("C1", "")
    with pytest.raises(TypeError):
        json.dumps(spot)
