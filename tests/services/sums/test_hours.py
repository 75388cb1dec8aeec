"""Hours of a piece: by the clock, as corrected, and what nobody timed as it is told everywhere."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from partsbench.core.finish.effort import effort
from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.hours import HoursWorked, HowTimed
from partsbench.services.acts import bench, loads
from partsbench.services.books.pieces import give_path
from partsbench.services.rules.clocks import Group
from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from partsbench.services.shown.ribbon import ribbon
from partsbench.services.sums import money
from partsbench.services.sums.habits import set_habit
from partsbench.services.sums.hours import (
    begin_work,
    correct_hours,
    end_work,
    hours_in,
    running,
    spent_words,
    tell_hours,
)
from partsbench.services.sums.money import Ledger
from tests.support.at_bench import load_done, record
from tests.support.clock import SetClock
from tests.support.evening import Worker
from tests.support.finishing import do
from tests.support.shops import heron, lay_out, made

NINE = [f"D{n}" for n in range(1, 10)]


def worked(shop: Shop, piece: Piece, clock: SetClock, step: str, minutes: float) -> None:
    for done in (
        begin_work(shop, piece.tag, step),
        clock.pass_time(minutes=minutes),
        end_work(shop, piece.tag),
    ):
        assert not isinstance(done, Refused), done


def hours_of(shop: Shop, piece: Piece) -> HoursWorked:
    found = hours_in(shop, piece.tag)
    assert isinstance(found, HoursWorked), found
    return found


def told(shop: Shop, piece: Piece) -> tuple[float, float, float]:
    """Hours measured, corrected and estimated; the ledger and the floor price say the same."""
    found = hours_of(shop, piece)
    on = money.ledger(shop, piece.tag)
    assert isinstance(on, Ledger)
    assert on.hours == found
    assert f"{found.total:.1f} h in it" in on.sentence or not found.total
    floor = money.floor_price(shop, piece.tag, "60")
    assert not isinstance(floor, Refused)
    assert floor.price == pytest.approx(60 * found.total)
    return tuple(pytest.approx(found.known(how)) for how in HowTimed)  # type: ignore[return-value]


@pytest.fixture
def chest(shop: Shop) -> Piece:
    """Nine drawers, a front with four edges each, all to be painted."""
    return made(lay_out(shop, "Heron", "3 3 3", paths=[("paint", ["drawers"])]))


def the_task(shop: Shop, piece: Piece, step: str) -> Group:
    """What the day says of a step: all of it is one task."""
    (found,) = [g for g in day(shop, tags=[piece.tag]).clocks if g.step.key == step]
    return found


# Nine drawers washed in one go


def test_nine_drawers_in_one_wash_are_told_alike_by_day_hours_and_ledger(
    shop: Shop, clock: SetClock, chest: Piece
) -> None:
    """9 drawers of 8 min, whatever faces they have, and however the washing was recorded."""
    told_before = the_task(shop, chest, "wash").work
    (block,) = ribbon(day(shop, tags=[chest.tag])).blocks
    assert told_before == block.ends - block.starts == timedelta(minutes=72)
    clock.pass_time(minutes=72)
    worker = Worker(shop, clock, chest.tag)
    worker.verb("WASHED")
    for short in NINE:
        assert worker.part(short).recorded
    assert told(shop, chest) == (0, 0, 1.2)
    assert hours_of(shop, chest).sentence == "You have 1.2 h in it, all of it estimated."


@pytest.mark.parametrize("apart", [0, 0.5, 1.5, 8, 25])
def test_it_does_not_matter_how_quickly_they_are_recorded(
    shop: Shop, clock: SetClock, chest: Piece, apart: float
) -> None:
    """At once, at the end, or as they are washed. Only what is slower or quicker by a clock that
    can be believed is the shop's own pace, and then the day says it too."""
    for short in NINE:
        clock.pass_time(minutes=apart)
        record(shop, short, here=chest.tag)
    wanted = {25: 9 * 25 / 60}.get(apart, 1.2)
    assert told(shop, chest) == (0, 0, wanted)
    again = made(lay_out(shop, "Quill", "3 3 3", paths=[("paint", ["drawers"])]))
    assert the_task(shop, again, "wash").minutes == pytest.approx(wanted * 60)


def test_a_clock_that_ran_is_what_counts(shop: Shop, clock: SetClock, chest: Piece) -> None:
    worker = Worker(shop, clock, chest.tag)
    worker.verb("START WORK")
    begun = clock.now
    clock.pass_time(minutes=50)
    worker.verb("WASHED")
    for short in NINE:
        worker.part(short)
    worker.verb("STOP WORK")
    ran = (clock.now - begun) / timedelta(hours=1)
    assert told(shop, chest) == (ran, 0, 0)
    assert "estimated" not in hours_of(shop, chest).sources
    assert hours_of(shop, chest).lacks == ()


def test_an_evening_correction_is_what_counts(shop: Shop, clock: SetClock, chest: Piece) -> None:
    worked(shop, chest, clock, "washing", 1)
    begin_work(shop, chest.tag, "washing")
    clock.pass_time(minutes=50)
    for short in NINE:
        record(shop, short, here=chest.tag)
    end_work(shop, chest.tag)
    clock.pass_time(hours=6)
    assert isinstance(correct_hours(shop, chest.tag, "washing", "65"), Done)
    assert told(shop, chest) == (0, 65 / 60, 0)
    assert isinstance(correct_hours(shop, chest.tag, "washing", ""), Done)
    assert told(shop, chest) == (51 / 60, 0, 0)


def test_an_estimate_is_corrected_by_the_name_it_is_shown_under(
    shop: Shop, clock: SetClock, chest: Piece
) -> None:
    for short in NINE:
        record(shop, short, here=chest.tag)
    assert isinstance(correct_hours(shop, chest.tag, "wash", "65"), Done)
    assert told(shop, chest) == (0, 65 / 60, 0)
    assert hours_of(shop, chest).sources[0] == "corrected by hand"


def test_what_lies_under_a_clock_is_no_step_to_be_corrected(
    shop: Shop, clock: SetClock, chest: Piece
) -> None:
    """Else the correction would count on top of the clock."""
    begin_work(shop, chest.tag, "washing")
    clock.pass_time(minutes=50)
    record(shop, "D1", here=chest.tag)
    end_work(shop, chest.tag)
    refused = correct_hours(shop, chest.tag, "Wash", "65")
    assert isinstance(refused, Refused)
    assert refused.sentence == "No work called “Wash” is recorded; there is washing."


def test_marks_made_after_the_clock_was_stopped_count_what_lies_after_it(
    shop: Shop, clock: SetClock, chest: Piece
) -> None:
    """The clock was stopped, then all was recorded: those minutes alone come on top. The first part
    is scanned twice, as it asks what has to be so."""
    worked(shop, chest, clock, "washing", 75)
    worker = Worker(shop, clock, chest.tag)
    worker.verb("WASHED")
    for short in NINE:
        worker.part(short)
    assert told(shop, chest) == (1.25, 0, 11 * 40 / 3600)


def test_a_clock_on_another_piece_covers_nothing_here(
    shop: Shop, clock: SetClock, chest: Piece
) -> None:
    other = made(lay_out(shop, "Quill", "2", paths=[("paint", ["drawers"])]))
    begin_work(shop, other.tag, "sanding")
    clock.pass_time(minutes=75)
    record(shop, "D1", here=chest.tag)
    end_work(shop, other.tag)
    assert told(shop, chest) == (0, 0, 8 / 60)
    assert told(shop, other) == (1.25, 0, 0)


# One estimate for all that ask


def test_a_load_is_told_and_counted_with_the_gun_set_up_once(
    shop: Shop, clock: SetClock, chest: Piece
) -> None:
    """9 fronts of 2 min, and 25 for the gun: in the day, the ribbon, the load and the hours."""
    for short in NINE:
        do(shop, chest, short, "wash", "rinse", at=clock.now - timedelta(days=2))
        do(shop, chest, short, "sand_150")
    clock.pass_time(hours=1)
    before = hours_of(shop, chest).total
    task, block = the_task(shop, chest, "colour_1"), ribbon(day(shop, tags=[chest.tag])).blocks[-1]
    proposed = loads.propose(shop, chest.tag)
    assert task.minutes == 25 + 9 * 2
    assert block.ends - block.starts == proposed.work == task.work
    assert proposed.sentence.endswith(", 43 min.")
    load = loads.start(shop, chest.tag)
    assert not isinstance(load, Refused)
    said = load_done(shop, load.number)
    assert isinstance(said, Outcome) and said.recorded, said
    assert hours_of(shop, chest).total - before == pytest.approx(43 / 60)


def test_two_loads_of_one_coat_are_set_up_once_in_the_ribbon(
    shop: Shop, clock: SetClock, chest: Piece
) -> None:
    """They wait since different times, so they are two tasks; the gun is cleaned after both."""
    for minutes, some in ((0, NINE[:4]), (3, NINE[4:])):
        for short in some:
            do(shop, chest, short, "wash", "rinse", at=clock.now - timedelta(days=2))
            do(shop, chest, short, "sand_150", at=clock.now + timedelta(minutes=minutes - 10))
    blocks = ribbon(day(shop, tags=[chest.tag])).blocks
    assert [(b.ends - b.starts) / timedelta(minutes=1) for b in blocks] == [25 + 4 * 2, 5 * 2]


def test_a_coat_that_opens_hours_later_is_set_up_anew(
    shop: Shop, clock: SetClock, chest: Piece
) -> None:
    """12 h after the third coat: D1 may have its topcoat in an hour, D2 in three."""
    for short, hours_ago in (("D1", 11), ("D2", 9)):
        do(shop, chest, short, "wash", "rinse", "sand_150", "colour_1", "sand_220", "colour_2",
           "sand_400", "colour_3", at=clock.now - timedelta(hours=hours_ago))  # fmt: skip
    blocks = [b for b in ribbon(day(shop, tags=[chest.tag])).blocks if b.gun]
    assert [b.what.partition(":")[0] for b in blocks] == ["Heron D1", "Heron D2"]
    assert [(b.ends - b.starts) / timedelta(minutes=1) for b in blocks] == [27, 27]


def test_hours_are_at_the_shops_own_pace_of_when_it_was_worked_on(
    shop: Shop, clock: SetClock, chest: Piece
) -> None:
    """Five drawers of five minutes are a pace. A month later the day knows it no more, and the
    hours of what was done are what they were."""
    for short in NINE[:6]:
        record(shop, short, here=chest.tag)
        clock.pass_time(minutes=5)
    task = the_task(shop, chest, "wash")
    assert task.minutes == pytest.approx(3 * 5)
    assert told(shop, chest) == (0, 0, 6 * 5 / 60)
    assert "Wash: 5.0 min a part, the shop's own pace" in hours_of(shop, chest).sources
    clock.pass_time(days=40)
    assert the_task(shop, chest, "wash").minutes == 3 * 8
    assert told(shop, chest) == (0, 0, 6 * 5 / 60)


def test_a_drawer_of_two_finishes_is_washed_once(shop: Shop, clock: SetClock) -> None:
    piece = made(lay_out(shop, "Larch", "1", paths=[("stain", ["D1"])]))
    made(give_path(shop, piece.tag, "paint", ["D1 left edge", "D1 right edge"]))
    assert the_task(shop, piece, "wash").minutes == 8
    for _ in range(2):
        assert record(shop, "D1", here=piece.tag).recorded
    assert told(shop, piece) == (0, 0, 8 / 60)


def test_every_step_of_every_face_is_counted_as_the_plan_counts_it(
    shop: Shop, clock: SetClock
) -> None:
    """A top, four legs, a carcase and drawers on two paths, brought some steps on by the day: the
    hours add up to what the day said of each task before it was done."""
    piece = made(
        lay_out(shop, "Heron", "2", legs=4, top=True,
                paths=[("paint", ["D1", "legs", "C1 left side", "C1 right side", "C1 rails"]),
                       ("clear", ["D2", "top"])])
    )  # fmt: skip
    wanted = 0.0
    for _ in range(25):
        today = day(shop, tags=[piece.tag])
        clock.pass_time(hours=1)  # each task is a go of its own
        if not today.tasks:
            clock.pass_time(hours=11)
            continue
        group = today.tasks[0].group
        wanted += group.minutes or 0
        for part, face in group.faces:
            said = record(shop, part.part.short, here=piece.tag, face=face.name,
                                step=group.step.key, insist="tried, it is ready")  # fmt: skip
            assert said.recorded, said
    assert wanted > 200
    assert hours_of(shop, piece).known(HowTimed.ESTIMATED) == pytest.approx(wanted / 60)


def test_what_the_day_says_is_what_effort_says(shop: Shop, chest: Piece) -> None:
    from partsbench.services.rules.clocks import worked as on_face

    group = the_task(shop, chest, "wash")
    batch = [on_face(chest, group.step, p.part, f.name) for p, f in group.faces]
    assert len(batch) == 45
    assert group.work == effort(batch)


# How each figure is known


def test_rows_and_figures_say_how_they_are_known(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "sanding", 90)
    worked(shop, piece, clock, "Wash", 30)
    correct_hours(shop, piece.tag, "sanding", "120")
    clock.pass_time(hours=3)
    record(shop, "D1", here=piece.tag)
    shown = tell_hours(hours_of(shop, piece))
    assert shown.rows == (
        ("sanding", "2.0 h", "corrected by hand"),
        ("Wash", "0.5 h", "measured by the clock"),
        ("Wash", "0.1 h", "estimated"),
    )
    assert shown.sentence == (
        "You have 2.6 h in it, 2.0 of it corrected by hand and 0.1 of it estimated."
    )
    assert [shown.data[k] for k in ("measured", "corrected", "estimated")] == [
        0.5, 2.0, pytest.approx(8 / 60),
    ]  # fmt: skip
    assert shown.data["steps"] == {
        "sanding": {"corrected": 2.0},
        "Wash": {"measured": 0.5, "estimated": pytest.approx(8 / 60)},
    }
    assert shown.data["by_step"] == {"sanding": 2.0, "Wash": pytest.approx(0.5 + 8 / 60)}
    assert shown.sources[:3] == ("measured by the clock", "corrected by hand", "estimated")


def test_a_step_without_a_figure_is_missing_and_not_nothing(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    for _ in range(2):
        record(shop, "D1", here=piece.tag)
    assert "how long it takes: Rinse with clear water" in hours_of(shop, piece).lacks
    assert isinstance(correct_hours(shop, piece.tag, "Rinse with clear water", "12"), Done)
    assert told(shop, piece) == (0, 0.2, 8 / 60)


def test_a_floor_for_a_rate_follows_the_hours(shop: Shop, clock: SetClock, chest: Piece) -> None:
    set_habit(shop, "rate", "25")
    for short in NINE:
        record(shop, short, here=chest.tag)
    on = money.ledger(shop, chest.tag)
    assert isinstance(on, Ledger)
    assert on.sentence == ("You have 1.2 h in it, all of it estimated. Lowest for 25 an hour: 30.")
    assert on.floor is not None
    assert on.floor.sentence == "Lowest for 25 an hour: 30, over 1.2 h, all of it estimated."


# The clock, and what is put right


def test_waiting_is_not_counted(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "sanding", 90)
    clock.pass_time(hours=20)
    worked(shop, piece, clock, "staining", 30)
    found = hours_of(shop, piece)
    assert found.total == pytest.approx(2.0)
    assert found.by_step == pytest.approx({"sanding": 1.5, "staining": 0.5})


def test_starting_anew_ends_what_ran(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    begin_work(shop, piece.tag, "sanding")
    clock.pass_time(minutes=30)
    begin_work(shop, piece.tag, "staining")
    assert running(shop, piece.tag) == "staining"
    clock.pass_time(minutes=15)
    end_work(shop, piece.tag)
    assert running(shop, piece.tag) == ""
    assert hours_of(shop, piece).by_step == pytest.approx({"sanding": 0.5, "staining": 0.25})
    assert isinstance(end_work(shop, piece.tag), Refused)


def test_the_same_evening_it_can_be_put_right(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "sanding", 200)
    worked(shop, piece, clock, "sanding", 10)
    assert isinstance(correct_hours(shop, piece.tag, "sanding", "95"), Done)
    found = hours_of(shop, piece)
    assert found.total == pytest.approx(95 / 60)
    assert "corrected by hand" in found.sources
    assert isinstance(correct_hours(shop, piece.tag, "sanding", ""), Done)
    assert hours_of(shop, piece).total == pytest.approx(3.5)


@pytest.mark.parametrize(
    ("step", "minutes", "told"),
    [
        ("sailing", "5", "No work called"),
        ("sanding", "x", "cannot be read"),
        ("sanding", "2000", "more than 16 h"),
        ("sanding", "5", "No sanding is recorded on 2031-03-03"),
    ],
)
def test_corrections_that_cannot_be_are_refused(
    shop: Shop, clock: SetClock, step: str, minutes: str, told: str
) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "sanding", 30)
    day = date(2031, 3, 3) if "recorded on" in told else date(2031, 3, 4)
    refused = correct_hours(shop, piece.tag, step, minutes, day)
    assert isinstance(refused, Refused) and told in refused.sentence


def test_marks_alone_are_hours_too(shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    found = hours_of(shop, piece)
    assert found.total == pytest.approx(8 / 60)
    assert "when work began and ended: start and stop the clock" in found.lacks
    assert found.redo == 0


def test_work_done_again_is_shown_apart(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    clock.pass_time(hours=2)
    bench.send_back(shop, "D1", "wash", "greasy", here=piece.tag)
    record(shop, "D1", here=piece.tag)
    found = hours_of(shop, piece)
    assert found.redo == pytest.approx(8 / 60)
    assert found.total == pytest.approx(2 * 8 / 60)


def test_what_was_sent_back_or_left_out_is_no_work(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    do(shop, piece, "D1", "wash", "rinse", at=clock.now - timedelta(days=2))
    clock.pass_time(hours=2)
    assert record(shop, "D1", here=piece.tag, step="fill", skip=True).recorded
    assert bench.send_back(shop, "D1", "wash", "greasy", here=piece.tag).recorded
    assert hours_of(shop, piece).total == pytest.approx(8 / 60)
    assert hours_of(shop, piece).redo == 0


def test_work_too_short_for_a_tenth_of_an_hour_is_told_in_minutes() -> None:
    assert spent_words(6.5) == "6.5 h"
    assert spent_words(0.03) == "2 min"
    assert spent_words(0.004) == "1 min"
