"""One sentence for now, and why; clocks with their cliffs."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.finish.hands import Hands
from partsbench.core.outcomes import Answer
from partsbench.core.piece.spot import Spot
from partsbench.core.plan.workshop import Booked, ShopPlan
from partsbench.services.acts import bench
from partsbench.services.books.pieces import give_path
from partsbench.services.known import facts, plan_shown
from partsbench.services.rules import loops
from partsbench.services.rules.clocks import clocks_of, ready_words
from partsbench.services.shop import Shop
from partsbench.services.shown.day import day, in_hand
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import heron, lay_out, made, quill, shop_at
from tests.support.steps import bring


@pytest.fixture
def tag(shop: Shop) -> str:
    return heron(shop).tag


def test_a_book_without_work_says_so(shop: Shop) -> None:
    assert day(shop).sentence == "Nothing is waiting for you."


def test_faces_that_wait_together_are_one_clock(shop: Shop, tag: str) -> None:
    for short in ("D1", "D3"):
        for _ in range(2):
            record(shop, short, here=tag)
    today = day(shop)
    (wait,) = [g for g in today.clocks if g.said.answer is Answer.WAIT]
    assert (wait.where, wait.step.key) == ("Heron D1, D3", "sand_150")
    assert {t.group.where for t in today.tasks} == {"Heron D2, T1"}


def test_edges_that_wait_together_are_told_in_a_word(shop: Shop) -> None:
    """A stained front has its own wait; its four edges, painted, are one thing to a hand."""
    piece = made(lay_out(shop, "Larch", "1", paths=[("stain", ["D1"])]))
    edges = ["top edge", "bottom edge", "left edge", "right edge"]
    made(give_path(shop, piece.tag, "paint", [f"D1 {edge}" for edge in edges]))
    for _ in range(4):
        record(shop, "D1", here=piece.tag)
    groups = {g.where: g for g in day(shop, tags=[piece.tag]).clocks}
    assert set(groups) == {"Larch D1 front", "Larch D1 (4 edges)"}
    assert groups["Larch D1 (4 edges)"].names == tuple(Spot("D1", edge) for edge in edges)


def test_a_drawer_of_two_finishes_is_washed_once(shop: Shop) -> None:
    piece = made(lay_out(shop, "Larch", "1", paths=[("stain", ["D1 front"])]))
    made(give_path(shop, piece.tag, "paint", ["D1 left edge", "D1 right edge"]))
    (wash,) = day(shop, tags=[piece.tag]).tasks
    assert (wash.group.step.key, wash.group.minutes) == ("wash", 8)
    assert wash.group.names == (Spot("D1"),)


def test_a_window_that_closes_tomorrow_is_not_told_as_an_hour_of_today(
    shop: Shop, clock: SetClock
) -> None:
    """The last sanding of a face opens a window of 24 h: at the same hour, on the day after."""
    piece = made(lay_out(shop, "Larch", "1", paths=[("paint", ["D1"])]))
    bring(shop, clock, piece.tag, "D1", "colour_1")
    (first,) = day(shop, tags=[piece.tag]).tasks
    closes = first.group.closes
    assert closes is not None and closes - shop.clock() == timedelta(hours=24)
    assert first.sentence.endswith(f"before {closes.astimezone():%a %H:%M}.")


def test_why_says_whether_the_work_decides_the_end(shop: Shop, clock: SetClock, tag: str) -> None:
    today = day(shop, tags=[tag])
    end = today.ends[tag].astimezone()
    assert today.because == f"It decides the end: no sooner than {end:%A %d %b %H:%M}."
    for short in ("D2", "T1"):
        for _ in range(2):
            record(shop, short, here=tag)
    later = day(shop, tags=[tag])
    (first,) = later.tasks
    assert first.group.where == "Heron D1, D3"
    assert first.ends is not None and first.ends < later.ends[tag]
    mine, whole = first.ends.astimezone(), later.ends[tag].astimezone()
    assert later.because == (
        f"These are finished no sooner than {mine:%A %d %b %H:%M}, "
        f"the piece than {whole:%A %d %b %H:%M}."
    )


def test_what_the_plan_has_first_is_what_is_to_be_done(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    """Else Day and Week name different work for now; a window that closes still comes first."""
    other = made(lay_out(shop, "Larch", "1", paths=[("paint", ["D1"])])).tag
    assert day(shop).tasks[0].group.tag == tag
    for first, second in ((other, tag), (tag, other)):
        placed = (Booked(f"{first}|D1|wash", 0, 8, ("you",), 0),
                  Booked(f"{second}|D1|wash", 8, 16, ("you",), 0))  # fmt: skip
        plan_shown.keep(shop, ShopPlan(placed), clock())
        today = day(shop)
        assert [t.group.tag for t in today.tasks] == [first, second]
        assert today.sentence == today.tasks[0].sentence
    only = ShopPlan((Booked(f"{other}|D1|wash", 0, 8, ("you",), 0),))
    plan_shown.keep(shop, only, clock())
    assert [t.group.tag for t in day(shop).tasks] == [other, tag], "what it does not have is last"
    facts.say(shop, tag, "conditioner", "oil", ["D2"])
    bring(shop, clock, tag, "D2", "stain")
    clock.pass_time(minutes=25)
    assert day(shop).tasks[0].group.closes is not None


def test_what_does_not_fit_is_not_told_as_nothing(shop: Shop, tag: str) -> None:
    """Washing is done with gloves: dusty hands cannot, and 2 min are too short."""
    first = day(shop).sentence
    for found in (day(shop, hands=Hands.DUSTY), day(shop, minutes=2)):
        assert found.tasks == ()
        assert found.sentence == "Nothing for such hands in that time."
        assert found.because == f"Else: {first}"


def test_a_closing_window_is_what_is_to_be_done_and_says_when(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    facts.say(shop, tag, "conditioner", "oil", ["D2"])
    bring(shop, clock, tag, "D2", "stain")
    clock.pass_time(minutes=25)
    today = day(shop)
    assert today.sentence.startswith("Heron D2: Stain, in sections")
    assert "Its window closes at" in today.because
    assert [g.where for g in today.alarms] == ["Heron D2"]
    assert today.clocks[0].where == "Heron D2"


def test_the_warning_comes_as_early_as_the_work_takes(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "D1", "colour_1")
    (group,) = [g for g in day(shop).clocks if g.step.key == "colour_1"]
    assert group.closes is not None and group.warn_at is not None and group.work is not None
    assert group.closes - group.warn_at == group.work == timedelta(minutes=2 + 25)
    assert day(shop).alarms == ()
    clock.now = group.warn_at
    assert [g.where for g in day(shop).alarms] == ["Heron D1"]


def test_what_was_begun_and_not_ended_stands_at_the_top(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    record(shop, "D1", here=tag)
    today = day(shop)
    assert today.sentence == "Heron D1: washed but not rinsed."
    record(shop, "D1", here=tag)
    assert day(shop).loops == ()


def test_rags_are_asked_about_until_they_are_answered(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    facts.say(shop, tag, "conditioner", "none", ["D2"])
    bring(shop, clock, tag, "D2", "clear_1")
    assert day(shop).sentence.startswith("Oily rags: spread flat")
    loops.answer_rags(shop, loops.FLAT)
    assert not any("rags" in x.say for x in day(shop).loops)


def test_minutes_and_hands_leave_out_what_does_not_fit(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "D1", "sand_150")
    every = day(shop)
    assert {t.hands for t in every.tasks} == {Hands.DUSTY, Hands.GLOVES}
    assert {t.hands for t in day(shop, hands=Hands.DUSTY).tasks} == {Hands.DUSTY}
    assert [t.group.where for t in day(shop, minutes=5).tasks] == ["Heron D1"]


def test_a_missed_window_is_named_when_nothing_else_can_be_done(
    shop: Shop, clock: SetClock
) -> None:
    piece = made(lay_out(shop, "Larch", "1", paths=[("stain", ["D1"])]))
    facts.say(shop, piece.tag, "conditioner", "oil")
    bring(shop, clock, piece.tag, "D1", "stain")
    loops.answer_rags(shop, loops.WATER)
    clock.pass_time(hours=1)
    today = day(shop)
    assert today.sentence == "Larch D1: Stain, in sections is late."
    assert "condition again" in today.because


def test_when_everything_waits_the_next_time_is_said(shop: Shop, clock: SetClock) -> None:
    piece = made(lay_out(shop, "Larch", "1", paths=[("stain", ["D1"])]))
    for _ in range(2):
        record(shop, "D1", here=piece.tag)
    assert day(shop).sentence.startswith("Nothing before Tue 04 Mar 20:30: then Larch D1.") or \
        "then Larch D1." in day(shop).sentence  # fmt: skip


def test_only_pieces_in_hand_are_looked_at(shop: Shop, clock: SetClock, tag: str) -> None:
    record(shop, "D1", here=tag)
    clock.pass_time(days=60)
    other = quill(shop)
    assert in_hand(shop, clock.now) == [other.tag]
    assert "Heron" not in day(shop).sentence
    assert "Heron" in day(shop, tags=[tag]).sentence


def test_a_clock_that_was_set_back_is_told_and_the_waits_stay(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    for _ in range(2):
        record(shop, "D1", here=tag)
    until = bench.look(shop, "D1", here=tag).until
    clock.pass_time(hours=-3)
    assert any("3 h before the last record" in words for words in day(shop).said)
    said = bench.look(shop, "D1", here=tag)
    assert said.held == ("time in doubt",) and said.warnings[0].startswith("clock: The computer")
    clock.pass_time(hours=3)
    assert bench.look(shop, "D1", here=tag).until == until


def test_waits_survive_a_restart(shop: Shop, clock: SetClock, tag: str, book_path) -> None:
    for _ in range(2):
        record(shop, "D1", here=tag)
    until = bench.look(shop, "D1", here=tag).until
    clock.pass_time(minutes=38)
    again = shop_at(book_path, clock)
    assert bench.look(again, "D1", here=tag).until == until
    again.close()


def test_the_clocks_of_a_piece_give_six_answers_with_reasons(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "D1", "colour_1")
    record(shop, "D1", here=tag)
    front = next(c for c in clocks_of(shop, tag) if c.face == Spot("D1", "front"))
    assert (front.step, front.said.answer) == ("sand_220", Answer.WAIT)
    assert [r.ready.value for r in front.ready] == [
        "sand", "recoat", "tape", "handle", "touch", "service"]  # fmt: skip
    sand = ready_words(front.ready[0], clock.now)
    assert sand.startswith("sand: ")
    assert "Colour coat 1, thin" in sand
    assert "from memory" in sand


@pytest.mark.parametrize("zone", ["Europe/Berlin", "America/New_York"])
def test_a_change_of_the_hour_moves_no_wait(
    shop: Shop, clock: SetClock, tag: str, zone: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    import time
    from datetime import UTC, datetime

    monkeypatch.setenv("TZ", zone)
    time.tzset()
    try:
        # The night in which clocks go forward in that zone in 2031.
        night = {"Europe/Berlin": (3, 29, 23), "America/New_York": (3, 9, 2)}[zone]
        clock.now = datetime(2031, *night, tzinfo=UTC)
        for _ in range(2):
            record(shop, "D1", here=tag)
        until = bench.look(shop, "D1", here=tag).until
        assert until is not None
        assert until - clock.now == timedelta(hours=12)
        clock.pass_time(hours=11, minutes=59)
        assert bench.look(shop, "D1", here=tag).answer is Answer.WAIT
        clock.pass_time(minutes=1)
        assert bench.look(shop, "D1", here=tag).answer is Answer.GO
    finally:
        monkeypatch.undo()
        time.tzset()
