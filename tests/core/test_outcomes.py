from __future__ import annotations

from partsbench.core.outcomes import HalfDone, NotYours, Refused
from partsbench.core.sums.shown import Measures

WIDE = Refused("width: 12 mm is too wide.", about="width", us='width: 1/2" is too wide.')


def test_a_no_is_told_in_the_units_of_the_shop() -> None:
    assert WIDE.say() == WIDE.told_in(Measures.METRIC).sentence == "width: 12 mm is too wide."
    assert WIDE.say(Measures.US) == WIDE.told_in(Measures.US).sentence == 'width: 1/2" is too wide.'
    plain = Refused("There is no part D9.")
    assert plain.told_in(Measures.US) == plain


def test_who_knows_the_place_puts_it_before() -> None:
    there = WIDE.at("front.columns")
    assert there.sentence == "front.columns: width: 12 mm is too wide."
    assert there.say(Measures.US) == 'front.columns: width: 1/2" is too wide.'
    assert there.about == "width"
    assert Refused("No.").at("paths").say(Measures.US) == "paths: No."


def test_what_it_is_about_and_other_units_make_no_other_no() -> None:
    assert Refused("width: 12 mm is too wide.") == WIDE


def test_a_no_that_is_answered_in_its_own_way_stays_what_it_is() -> None:
    assert NotYours("Ash did that.", 7).at("here") == NotYours("here: Ash did that.", 7)
    assert isinstance(HalfDone("One of two is in.").told_in(Measures.US), HalfDone)
