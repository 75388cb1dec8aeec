"""What changed is told of the piece that moved most, with work that takes longer than it did."""

from __future__ import annotations

from datetime import UTC, datetime

from partsbench.core.plan.change import Followed, Shift
from partsbench.core.plan.workshop import Booked, ShopPlan, Stint, Workshop
from partsbench.services.plan.changes import changed_words, longer_words

AT = datetime(2031, 3, 4, 8, tzinfo=UTC)
TITLES = {"H": "Heron", "Q": "Quill", "L": "Larch"}


def stint(place: str, minutes: int, does: str = "Wash") -> Stint:
    title = TITLES[place[0]]
    return Stint(f"{place}|{does}", place[0], f"{title}: {does}", minutes, does=does)


def shop(*stints: Stint) -> Workshop:
    return Workshop(stints, titles=TITLES)


def booked(does: str = "Wash", **minutes: int) -> ShopPlan:
    return ShopPlan(tuple(Booked(f"{key}|{does}", 0, m, ("you",), 0) for key, m in minutes.items()))


def test_nothing_is_said_where_nothing_moved() -> None:
    assert changed_words(Followed((), ()), shop(stint("H1", 20)), booked(H1=9), AT) == ""


def test_the_piece_that_moved_most_has_its_days_and_the_others_their_names() -> None:
    ends = (("H", 600, 630), ("Q", 600, 300), ("L", 600, 660))
    said = changed_words(Followed((), ends), shop(stint("H1", 20)), ShopPlan(()), AT)
    assert said == (
        "Quill is done Tue 04 Mar 13:00 and not Tue 04 Mar 18:00. "
        "Larch and Heron are done at other times, too."
    )


def test_one_other_piece_and_none() -> None:
    shift = (Shift("H1", "Heron: Wash", 0, 60, "nobody is here then"),)
    two = Followed(shift, (("H", 600, 660), ("Q", 600, 630)))
    said = changed_words(two, shop(stint("H1", 20)), ShopPlan(()), AT)
    assert said.endswith("because nobody is here then. Quill is done at another time, too.")
    assert changed_words(Followed(shift, ()), shop(stint("H1", 20)), ShopPlan(()), AT) == (
        "Heron: Wash moves to Tue 04 Mar 09:00, because nobody is here then."
    )


def test_a_step_that_takes_longer_everywhere_is_told_with_both_lengths() -> None:
    work = shop(stint("H1", 40), stint("Q1", 60), stint("H2", 90, "Sand"), stint("Q2", 10, "Sand"))
    before = ShopPlan((*booked(H1=20, Q1=30).placed, *booked("Sand", H2=60, Q2=11).placed))
    assert longer_words(work, before) == "Wash takes 1 h 40 in all and not 50 min."
    said = changed_words(Followed((), (("H", 600, 660),)), work, before, AT)
    assert said.endswith("18:00. Wash takes 1 h 40 in all and not 50 min.")


def test_one_stint_alone_and_a_few_minutes_say_nothing() -> None:
    assert longer_words(shop(stint("H1", 90)), booked(H1=20)) == ""
    few = shop(stint("H1", 27), stint("Q1", 27))
    assert longer_words(few, booked(H1=20, Q1=20)) == ""
    assert longer_words(few, booked(H1=20, Q1=19)) == "Wash takes 54 min in all and not 39 min."
    assert longer_words(few, booked(H1=42, Q1=42)) == "Wash takes 54 min in all and not 1 h 24."
    assert longer_words(few, booked(H1=27, Q1=60)) == "", "one of them is as it was"


def test_batches_that_were_made_anew_say_nothing() -> None:
    """As where the rack was set: what was one batch is three, and the first keeps its key."""
    parted = shop(stint("H1", 20), stint("H4", 20), stint("Q1", 20), stint("Q4", 20))
    whole = booked(H1=40, Q1=40)
    assert longer_words(parted, whole) == ""
    assert longer_words(shop(stint("H1", 40), stint("Q1", 40)), booked(H1=20, H4=20, Q1=20)) == ""
