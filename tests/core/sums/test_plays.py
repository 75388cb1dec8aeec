from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.plays import (
    BEFORE_MM,
    Gap,
    KnownPair,
    KnownSizes,
    expected,
    gap,
    learn,
    learnt_from,
    spoilt,
)
from partsbench.core.sums.units import Measures


def pair(name: str, play: float, size: str = "left height") -> KnownPair:
    return KnownSizes(f"opening {name}", {size: 150.0}), KnownSizes(
        f"D{name}", {size: 150.0 - play}
    )


def test_play_is_the_mean_of_the_ends_and_how_uneven_they_are() -> None:
    home = KnownSizes("opening 1", {"left height": 152, "right height": 150, "depth": 400})
    drawer = KnownSizes("D1", {"right height": 147.5, "left height": 149.0})
    assert gap(home, drawer, "height") == Gap(2.75, 2.5, 0.5)
    assert gap(home, drawer, "depth") is None
    assert gap(home, KnownSizes("D1", {"left height": 149.0}), "height") == Gap(3.0, 3.0, None)


def test_one_size_typed_for_both_ends_says_nothing_of_how_uneven_they_are() -> None:
    home = KnownSizes("opening 1", {"top width": 602, "bottom width": 602})
    drawer = KnownSizes("D1", {"top width": 600, "bottom width": 600})
    assert gap(home, drawer, "width") == Gap(2.0, 2.0, None)
    leaning = KnownSizes("opening 1", {"top width": 602, "bottom width": 603})
    assert gap(leaning, drawer, "width") == Gap(2.5, 2.0, -1.0)


def test_each_direction_is_learnt_by_itself() -> None:
    plays = learn([pair("1", 2.0), pair("2", 3.0), pair("2", 1.0, "top width")])
    assert plays["height"].seen_mm == (2.0, 3.0)
    assert plays["width"].seen_mm == (1.0,)
    assert plays["depth"].seen == ()


def test_nothing_known_is_what_old_furniture_has() -> None:
    for direction, (usual, varies) in BEFORE_MM.items():
        play = learn([])[direction]
        assert play.usual_mm == usual
        assert play.spread_mm == pytest.approx((varies**2 + 1) ** 0.5)


@pytest.mark.parametrize("direction", ["width", "height"])
def test_one_to_five_millimetres_are_expected_before_a_drawer_is_known(direction: str) -> None:
    play = learn([])[direction]
    tight, loose = play.misfit(Gap(1.0, 1.0)), play.misfit(Gap(5.0, 5.0))
    assert tight == pytest.approx(loose)
    assert tight < 0.5
    assert play.misfit(Gap(8.0, 8.0)) > 1


def test_the_figures_of_two_drawers_by_hand() -> None:
    """Variance (4 * 1 + 2 * 0.5²) / 5 = 0.9; weights 2 / 0.9 and 1 / 4 of 3.5 mm and 3 mm."""
    play = expected("height", [Gap(3.0, 3.0), Gap(4.0, 4.0)])
    weights = 2 / 0.9, 0.25
    assert play.usual_mm == pytest.approx((weights[0] * 3.5 + weights[1] * 3) / sum(weights))
    assert play.spread_mm == pytest.approx((0.9 + 1 / sum(weights)) ** 0.5)
    assert play.sure == 5


def test_uneven_ends_by_hand() -> None:
    """(4 * 1.5² + 1² + 3²) / 6 = 19 / 6."""
    play = expected("height", [Gap(3.0, 2.5, 1.0), Gap(3.0, 1.5, -3.0), Gap(3.0, 3.0)])
    assert play.uneven_mm == pytest.approx((19 / 6) ** 0.5)
    assert play.sure_of_ends == 6


@given(st.floats(1, 5), st.floats(0.3, 2))
def test_many_drawers_outweigh_what_is_usual(middle: float, off: float) -> None:
    play = expected("height", [Gap(middle + s * off, 0.0) for s in (-1, 1) * 200])
    assert play.usual_mm == pytest.approx(middle, abs=0.05)
    assert play.spread_mm == pytest.approx(off, rel=0.1)


def test_each_further_drawer_makes_surer() -> None:
    spreads = [expected("height", [Gap(2.0, 2.0)] * n).spread_mm for n in range(6)]
    assert spreads == sorted(spreads, reverse=True)
    assert spreads[0] > 2 > spreads[1] > 1 > spreads[5]


def test_a_misfit_is_nothing_for_the_usual_and_the_same_on_both_sides() -> None:
    play = expected("height", [Gap(2.0, 2.0)] * 3)
    assert play.misfit(Gap(play.usual_mm, 0.0)) == 0
    wide, tight = (play.misfit(Gap(play.usual_mm + off, 0.0)) for off in (1.5, -1.5))
    assert wide == pytest.approx(tight)
    assert 0.5 < wide < play.misfit(Gap(play.usual_mm + 3, 0.0))


def test_uneven_ends_are_a_misfit_of_their_own() -> None:
    play = expected("height", [Gap(2.0, 2.0, 0.0)] * 4)
    even, leaning = Gap(play.usual_mm, 0.0, 0.0), Gap(play.usual_mm, 0.0, 4.0)
    assert play.misfit(even) == 0
    assert play.misfit(leaning) == pytest.approx(play.misfit(Gap(play.usual_mm, 0.0, -4.0)))
    assert play.misfit(leaning) > 2


def test_one_end_alone_weighs_less_than_both() -> None:
    play = expected("height", [Gap(2.0, 2.0)] * 4)
    assert play.misfit(Gap(4.0, 4.0)) < play.misfit(Gap(4.0, 4.0, 0.0))


def test_a_known_drawer_that_cannot_go_in_teaches_nothing_and_is_told() -> None:
    """1.5 mm too large may be the season; more is a wrong size."""
    wrong, damp = pair("1", -1.6), pair("2", -1.5)
    assert learn([wrong, damp])["height"].seen_mm == (-1.5,)
    assert spoilt([wrong, damp, pair("3", 2.0)]) == (
        "height of D1 or opening 1 once more: as noted it does not go in",
    )


def test_it_is_said_what_the_play_was_learnt_from() -> None:
    three = learn([pair(str(i), mm) for i, mm in enumerate((2.1, 2.3, 3.4))])["height"]
    one = learn([pair("1", 1.0, "top width")])["width"]
    assert learnt_from([]) == ""
    assert learnt_from([one]) == ("Play learnt from 1 drawer whose home is known: width 1.0 mm.")
    assert learnt_from([three]) == (
        "Play learnt from 3 drawers whose home is known: height 2.6 mm, 2.1 mm to 3.4 mm."
    )
    assert "from 1 to 3 drawers" in learnt_from([three, one])
    assert "height 0.100 in" in learnt_from([three], Measures.US)
