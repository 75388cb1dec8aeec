from __future__ import annotations

from math import inf
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.orphans import Doubt, Match, Matches, cost, match
from partsbench.core.sums.plays import KnownPair, KnownSizes, learn
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE


def drawer(name: str, **sizes: float) -> KnownSizes:
    return KnownSizes(name, {size.replace("_", " "): mm for size, mm in sizes.items()})


def at_home(play: float = 2.0, count: int = 5) -> list[KnownPair]:
    """So many known drawers with this play in width and height."""
    return [
        (
            drawer(f"opening 1{i}", width=600 + i, left_height=150, right_height=150),
            drawer(f"D1{i}", width=600 + i - play, left_height=150 - play, right_height=150 - play),
        )
        for i in range(count)
    ]


LOOSE = [
    drawer("opening 4", width=600.7, right_height=150.0, left_height=155),
    drawer("opening 6", width=600.9, right_height=150.0, left_height=150),
]


def test_the_likeliest_the_runner_up_and_what_to_measure() -> None:
    orphan = drawer("the orphan", width=599, right_height=148)
    answer = answered(Matches, match([orphan], LOOSE, at_home()))
    assert answer.sentence == (
        "Most likely opening 6 (1.9 mm play). "
        "Opening 4 is not ruled out: measure the left height of the orphan. "
        "Play learnt from 5 drawers whose home is known: width 2.0 mm; height 2.0 mm."
    )
    assert answer.lacks == ("left height of the orphan",)


def test_the_measurement_asked_for_settles_it() -> None:
    orphan = drawer("the orphan", width=599, right_height=148, left_height=153)
    found = answered(Matches, match([orphan], LOOSE, at_home())).matches[0]
    assert (found.home, found.runner_up, found.told_apart) == ("opening 4", None, True)
    assert found.sentence == "Most likely opening 4 (1.7 mm play)."


@pytest.mark.parametrize("play", [1.0, 3.0, 4.0, 5.0])
def test_the_play_of_the_piece_decides_not_what_is_usual_elsewhere(play: float) -> None:
    """The nearest opening is another's: with 2 mm for everything it was called clear."""
    homes = [drawer(f"{mm:g}", width=mm) for mm in (596.0, 601.0, 606.0, 611.0)]
    orphan = drawer("A", width=606 - play)
    found = answered(Matches, match([orphan], homes, at_home(play))).matches[0]
    assert (found.home, found.told_apart) == ("606", True)


def test_without_a_known_drawer_nothing_is_claimed() -> None:
    homes = [drawer("near", width=601), drawer("far", width=640)]
    answer = answered(Matches, match([drawer("A", width=599)], homes))
    found = answer.matches[0]
    assert (found.home, found.doubt, found.told_apart) == ("near", Doubt.NO_PLAY, False)
    assert answer.sentence == (
        "Likeliest near (2.0 mm play), not told apart: how much play these drawers have is not "
        "known. First measure the width of a drawer whose home is known and its opening."
    )
    assert answer.lacks[0] == "width of a drawer whose home is known and its opening"


def test_a_drawer_that_is_home_is_named_to_be_measured_first() -> None:
    """Opening 8 is measured already, so D8 alone is asked for, before opening 7 with D7."""
    homes = [drawer("near", width=601), drawer("far", width=609)]
    known = [(drawer("opening 7"), drawer("D7")), (drawer("opening 8", width=700), drawer("D8"))]
    answer = answered(Matches, match([drawer("A", width=599)], homes, known))
    assert answer.next_measurement == answer.matches[0].next_measurement
    assert answer.sentence.endswith("not known. First measure the width of D8.")
    assert answer.lacks[0] == "width of D8"
    measured = [known[0], (known[1][0], drawer("D8", width=697.5))]
    then = answered(Matches, match([drawer("A", width=599)], homes, measured))
    assert then.matches[0].told_apart
    assert then.sentence.endswith("from 1 drawer whose home is known: width 2.5 mm.")


def test_play_in_another_direction_is_no_play() -> None:
    known = [(drawer("opening 7", depth=420), drawer("D7", depth=400))]
    homes = [drawer("near", width=601, depth=420), drawer("far", width=640, depth=420)]
    found = answered(Matches, match([drawer("A", width=599)], homes, known)).matches[0]
    assert found.doubt is Doubt.NO_PLAY


def test_an_orphan_without_sizes_is_measured_first() -> None:
    answer = answered(
        Matches, match([KnownSizes("A")], [drawer("1", width=601), drawer("2", width=9)])
    )
    assert answer.sentence.endswith(
        "First measure it, and a drawer whose home is known with its opening."
    )


def test_the_margin_is_the_misfits_apart() -> None:
    """Plays 2.5 and 3.8; what each is worth is checked in test_plays and against scipy."""
    homes, orphan = (
        [drawer("near", width=601.5), drawer("far", width=602.8)],
        drawer("A", width=599),
    )
    found = answered(Matches, match([orphan], homes, at_home())).matches[0]
    assert (found.home, found.runner_up) == ("near", "far")
    near, far = (cost(orphan, home, learn(at_home())) for home in homes)
    assert found.margin == pytest.approx(far - near)
    assert 1 < found.margin < 3


def test_many_that_are_somewhat_worse_are_together_not_ruled_out() -> None:
    """Each alone is 30 times less likely; eight of them together are not."""
    near, far = drawer("near", width=601), drawer("far", width=604.5)
    one = answered(Matches, match([drawer("A", width=599)], [near, far], at_home())).matches[0]
    assert one.told_apart
    eight = [drawer(f"far {i}", width=604.5) for i in range(8)]
    found = answered(Matches, match([drawer("A", width=599)], [near, *eight], at_home()))
    assert found.matches[0].margin == pytest.approx(one.margin)
    assert found.matches[0].doubt is Doubt.RIVAL


def test_a_home_that_lacks_the_size_is_not_clear_before_it_is_measured() -> None:
    """A slip of 10 mm in the orphan's height puts every measured home off, its own too."""
    homes = [drawer(f"{i}", width=601, left_height=150) for i in range(3)]
    orphan = drawer("A", width=599, left_height=138)
    found = answered(Matches, match([orphan], [*homes, drawer("4", width=601)], at_home()))
    assert found.matches[0].home == "4"
    assert found.matches[0].doubt is Doubt.RIVAL
    assert found.next_measurement is not None
    assert found.next_measurement.sentence == "Measure the left height of 4."


def test_a_home_that_lacks_the_size_is_measured_though_no_other_is_left() -> None:
    homes = [drawer("1", width=601, left_height=130), drawer("4", width=601)]
    orphan = drawer("A", width=599, left_height=148)
    found = answered(Matches, match([orphan], homes, at_home())).matches[0]
    assert (found.home, found.runner_up, found.doubt) == ("4", None, Doubt.RIVAL)
    assert found.sentence == "Most likely 4 (2.0 mm play). First measure the left height of 4."


def test_a_size_that_no_opening_has_hinders_nothing() -> None:
    homes = [drawer("near", width=601), drawer("far", width=609)]
    orphan = drawer("A", width=599, depth=400)
    assert answered(Matches, match([orphan], homes, at_home())).matches[0].told_apart


def test_a_size_in_which_both_homes_agree_is_not_asked_for() -> None:
    homes = [drawer(name, width=601, left_height=150) for name in "12"]
    found = answered(Matches, match([drawer("A", width=599)], homes, at_home())).matches[0]
    assert found.next_measurement is None
    assert "look for an old mark, or try both" in found.sentence


def test_play_unlike_that_of_known_drawers_is_not_clear() -> None:
    found = answered(Matches, match([drawer("A", width=570)], [drawer("1", width=601)], at_home()))
    assert found.matches[0].doubt is Doubt.UNLIKE
    assert found.matches[0].sentence == (
        "Likeliest 1 (31.0 mm play), not told apart: known drawers have other play; take its sizes "
        "again, it may belong to another piece."
    )


def test_a_known_drawer_noted_wrong_is_told_and_teaches_nothing() -> None:
    wrong = (drawer("opening 9", width=600), drawer("D9", width=640))
    answer = answered(
        Matches, match([drawer("A", width=599)], [drawer("1", width=601)], [*at_home(), wrong])
    )
    assert answer.plays["width"].seen_mm == (2.0,) * 5
    assert "width of D9 or opening 9 once more: as noted it does not go in" in answer.lacks


def test_two_of_a_size_cannot_be_told_apart() -> None:
    orphans = [drawer("orphan A", width=599), drawer("orphan B", width=599.1)]
    homes = [drawer("opening 2", width=601), drawer("opening 3", width=601.1)]
    answer = answered(Matches, match(orphans, homes, at_home()))
    assert answer.ambiguous == (("orphan A", "orphan B"),)
    assert "orphan A and orphan B cannot be told apart." in answer.sentence
    assert answer.next_measurement is None
    assert "look for an old mark, or try both" in answer.matches[0].sentence


def test_an_old_mark_decides_between_equal_sizes() -> None:
    sizes = {"width": 599.0}
    orphans = [
        KnownSizes("A", sizes, frozenset({"III"})),
        KnownSizes("B", sizes, frozenset({"II"})),
    ]
    homes = [
        KnownSizes("opening 2", {"width": 601.0}, frozenset({"II"})),
        KnownSizes("opening 3", {"width": 601.0}, frozenset({"III"})),
    ]
    found = answered(Matches, match(orphans, homes))
    assert [m.home for m in found.matches] == ["opening 3", "opening 2"]
    assert all(m.margin == pytest.approx(12) for m in found.matches)
    assert all(m.told_apart for m in found.matches), "a mark needs no play"


def test_a_mark_that_two_homes_bear_does_not_stand_for_the_play() -> None:
    orphan = KnownSizes("A", {"width": 599.0}, frozenset({"II"}))
    homes = [
        KnownSizes(name, {"width": mm}, frozenset({"II"})) for name, mm in (("1", 601), ("2", 640))
    ]
    found = answered(Matches, match([orphan], homes)).matches[0]
    assert (found.home, found.doubt) == ("1", Doubt.NO_PLAY)


def test_what_is_lacking_and_what_does_not_agree_by_hand() -> None:
    """Three sizes lacking at 0.5, a wrong mark at 6, two words of wear at 1."""
    seen = KnownSizes(
        "A", {"top width": 9, "bottom width": 9, "depth": 9}, frozenset("I"), frozenset("w")
    )
    assert cost(seen, KnownSizes("1"), learn([])) == pytest.approx(1.5)
    other = KnownSizes("1", {}, frozenset("X"), frozenset("v"))
    assert cost(seen, other, learn([])) == pytest.approx(1.5 + 6 + 2)
    one_end = KnownSizes("1", {"top width": 9 + learn([])["width"].usual_mm})
    assert cost(seen, one_end, learn([])) == pytest.approx(1.0)


def test_wear_counts_less_than_a_mark() -> None:
    orphan = KnownSizes("A", {"width": 599.0}, frozenset({"II"}), frozenset({"left runner worn"}))
    homes = [
        KnownSizes("worn", {"width": 601.0}, frozenset({"I"}), frozenset({"left runner worn"})),
        KnownSizes("marked", {"width": 601.0}, frozenset({"II"}), frozenset({"right runner worn"})),
    ]
    assert answered(Matches, match([orphan], homes)).matches[0].home == "marked"


def test_a_drawer_larger_than_every_opening_belongs_elsewhere() -> None:
    answer = answered(Matches, match([drawer("A", width=640)], [drawer("1", width=601)]))
    assert answer.matches[0].home is None
    assert not answer.matches[0].told_apart
    assert "may belong to another piece" in answer.sentence


def test_more_orphans_than_homes_leave_one_over() -> None:
    orphans = [drawer("A", width=599), drawer("B", width=560)]
    answer = answered(Matches, match(orphans, [drawer("1", width=601)]))
    assert [m.home for m in answer.matches] == ["1", None]


def test_two_orphans_for_one_home_may_be_changed() -> None:
    orphans = [drawer("A", width=599), drawer("B", width=599.3)]
    found = answered(Matches, match(orphans, [drawer("1", width=601)], at_home())).matches
    assert [m.home for m in found] == ["1", None]
    assert not found[0].told_apart
    assert found[0].sentence == "Most likely 1 (2.0 mm play). Another orphan may belong there."


def test_orphans_that_could_change_homes_at_some_cost_are_not_told_apart() -> None:
    """Two drawers and their openings 2 mm apart: right is some 20 times as likely as changed."""
    orphans = [drawer("A", width=599), drawer("B", width=601)]
    homes = [drawer("1", width=601), drawer("2", width=603)]
    answer = answered(Matches, match(orphans, homes, at_home()))
    assert [m.home for m in answer.matches] == ["1", "2"]
    assert 2 < answer.matches[0].margin < 3.4
    assert answer.ambiguous == (("A", "B"),)


def test_one_orphan_one_home_has_no_rival() -> None:
    homes = [drawer("1", width=601)]
    found = answered(Matches, match([drawer("A", width=599)], homes, at_home())).matches[0]
    assert found == Match("A", "1", None, inf, 2.0)


def test_the_best_measurement_of_several_orphans_is_said_once() -> None:
    orphans = [drawer("A", width=599), drawer("B", width=599)]
    homes = [drawer("1", width=601, right_height=140), drawer("2", width=601, right_height=150)]
    said = answered(Matches, match(orphans, homes, at_home())).sentence
    assert said == (
        "0 of 2 orphans have one clear home. A and B cannot be told apart. "
        "Measure the right height of A. "
        "Play learnt from 5 drawers whose home is known: width 2.0 mm."
    )


def test_several_orphans_without_a_known_drawer() -> None:
    orphans = [drawer("A", width=599), drawer("B", width=649)]
    homes = [drawer("1", width=601), drawer("2", width=651)]
    said = answered(Matches, match(orphans, homes)).sentence
    assert said == (
        "0 of 2 orphans have one clear home. How much play these drawers have is not known. "
        "Measure the width of a drawer whose home is known and its opening."
    )


def test_many_pairs_are_counted_not_read_out() -> None:
    orphans = [drawer(f"D{i}", width=599) for i in range(5)]
    homes = [drawer(f"{i}", width=601) for i in range(5)]
    answer = answered(Matches, match(orphans, homes))
    assert len(answer.ambiguous) == 10
    assert "Nor can 7 more pairs." in answer.sentence


def test_an_orphan_left_over_is_no_pair() -> None:
    orphans = [drawer("A", width=599), drawer("B", width=599)]
    answer = answered(Matches, match(orphans, [drawer("1", width=601)]))
    assert answer.ambiguous == ()


@given(st.permutations(range(8)), st.lists(st.floats(-0.3, 0.3), min_size=8, max_size=8))
def test_drawers_that_differ_enough_all_find_home(order: list[int], error: list[float]) -> None:
    homes = [drawer(f"{i}", width=500 + 5 * i) for i in range(8)]
    orphans = [drawer(f"of {i}", width=498 + 5 * i + error[i]) for i in order]
    answer = answered(Matches, match(orphans, homes, at_home(count=8)))
    assert [m.home for m in answer.matches] == [f"{i}" for i in order]
    assert all(m.told_apart for m in answer.matches)
    assert answer.ambiguous == ()


@given(
    st.lists(st.floats(590, 610), min_size=2, max_size=5),
    st.lists(st.floats(590, 610), min_size=2, max_size=5),
)
def test_margins_are_never_negative_and_homes_never_shared(
    drawers: list[float], openings: list[float]
) -> None:
    orphans = [drawer(f"o{i}", width=mm) for i, mm in enumerate(drawers)]
    homes = [drawer(f"h{i}", width=mm) for i, mm in enumerate(openings)]
    answer = answered(Matches, match(orphans, homes))
    taken = [m.home for m in answer.matches if m.home is not None]
    assert len(taken) == len(set(taken))
    assert all(m.margin >= 0 for m in answer.matches)


@pytest.mark.parametrize("value", NONSENSE)
def test_sizes_that_cannot_be(value: Any) -> None:
    said = refused(match([drawer("A", width=value)], [drawer("1", width=601)]))
    assert said.startswith("width of A: ")


def test_nobody_and_nowhere() -> None:
    assert refused(match([], [drawer("1", width=601)])) == "orphans: there are none."
    assert refused(match([drawer("A", width=601)], [])) == "open homes: there are none."


def test_of_several_one_without_a_known_play_is_told_of_all() -> None:
    clear = Match("the drawer", "opening 1", None, inf, 2.0)
    unknown = Match("the other", "opening 2", None, 1.0, 2.0, Doubt.NO_PLAY)
    told = Matches((clear, unknown), (), None, {}, ()).sentence
    assert told == (
        "1 of 2 orphans have one clear home. How much play these drawers have is not known."
    )
    assert "is not known" not in Matches((clear, clear), (), None, {}, ()).sentence


def test_three_pairs_are_read_out_and_a_fourth_is_counted() -> None:
    two = (Match("a", "1", None, inf, None),) * 2
    pairs = tuple((f"a{n}", f"b{n}") for n in range(5))
    for many, more in ((3, ""), (4, "Nor can 1 more pairs."), (5, "Nor can 2 more pairs.")):
        told = Matches(two, pairs[:many], None, {}, ()).sentence
        assert told.count("cannot be told apart") == 3
        assert told.endswith(more or "a2 and b2 cannot be told apart.")


@pytest.mark.parametrize(
    ("match_", "told"),
    [
        (Match("A", None, None, inf, None, Doubt.NOWHERE),
         "A fits no open home: it may belong to another piece."),
        (Match("A", "opening 1", None, inf, None), "Most likely opening 1."),
        (Match("A", "opening 1", None, inf, 1.9), "Most likely opening 1 (1.9 mm play)."),
        (Match("A", "opening 1", None, 1.0, None, Doubt.RIVAL),
         "Most likely opening 1. Another orphan may belong there."),
        (Match("A", "opening 1", "opening 2", 1.0, None, Doubt.RIVAL),
         "Most likely opening 1. Opening 2 is not ruled out: look for an old mark, or try both."),
    ],
)  # fmt: skip
def test_a_match_in_words(match_: Match, told: str) -> None:
    assert match_.sentence == told
    assert match_.told_apart is (match_.doubt is None)
