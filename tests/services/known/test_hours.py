"""Quiet hours, hours of work and parts at an outside workshop, in the day and at the bench."""

from __future__ import annotations

from datetime import datetime, timedelta

from partsbench.core.outcomes import Answer, Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import bench
from partsbench.services.known import facts, hours
from partsbench.services.rules.ends import at_best
from partsbench.services.shop import Shop
from partsbench.services.shown import day
from partsbench.services.shown.ribbon import ribbon
from partsbench.services.sums import habits
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes
from tests.support.shops import code


def at_clock(clock: SetClock, hour: int, minute: int = 0) -> datetime:
    """Sets the clock to that hour of the shop's own day."""
    clock.now = clock.now.astimezone().replace(hour=hour, minute=minute)
    return clock.now


def ready_to_sand(shop: Shop, clock: SetClock) -> Piece:
    """D1 and D2 washed two days ago: sanding is due; D3 and D4 are to be washed."""
    piece = two_finishes(shop)
    do(shop, piece, "D1", "wash", "rinse", at=clock.now - timedelta(days=2))
    do(shop, piece, "D2", "wash", "rinse", at=clock.now - timedelta(days=2))
    return piece


def keep(shop: Shop, name: str, text: str) -> None:
    assert isinstance(habits.set_habit(shop, name, text), Done)


def steps(shown: day.Day) -> list[str]:
    return [t.group.step.key for t in shown.tasks]


def test_hours_are_read_as_set_and_refused_as_nonsense(shop: Shop) -> None:
    keep(shop, "work hours", "8:00 to 21:00")
    keep(shop, "quiet hours", "20-7")
    found = hours.hours_of(shop)
    assert (str(found.work), str(found.quiet)) == ("08:00 to 21:00", "20:00 to 07:00")
    assert isinstance(habits.set_habit(shop, "quiet hours", "at night"), Refused)


def test_in_quiet_hours_the_day_offers_no_sander(shop: Shop, clock: SetClock) -> None:
    ready_to_sand(shop, clock)
    at_clock(clock, 20, 30)
    assert "sand_150" in steps(day.day(shop))
    keep(shop, "quiet hours", "20:00 to 7:00")
    shown = day.day(shop)
    assert "sand_150" not in steps(shown) and "wash" in steps(shown)
    assert "Quiet hours, 20:00 to 07:00: no gun, no sander." in shown.notes
    at_clock(clock, 19, 58)
    assert "sand_150" not in steps(day.day(shop)), "it would run into the quiet hours"
    at_clock(clock, 19)
    assert "sand_150" in steps(day.day(shop))


def test_with_nothing_silent_to_do_the_day_says_when_noise_may_be_made(
    shop: Shop, clock: SetClock
) -> None:
    piece = ready_to_sand(shop, clock)
    for short in ("D3", "D4"):
        do(shop, piece, short, "wash", "rinse", at=clock.now - timedelta(days=2))
    keep(shop, "quiet hours", "20:00 to 7:00")
    at_clock(clock, 21)
    shown = day.day(shop)
    assert steps(shown) == [] and "07:00" in shown.sentence
    assert "quiet hours" in shown.because


def test_the_ends_keep_the_hours_of_work(shop: Shop, clock: SetClock) -> None:
    piece = ready_to_sand(shop, clock)
    at_clock(clock, 17)
    free = day.day(shop).ends[piece.tag]
    keep(shop, "work hours", "9:00 to 17:00")
    kept = day.day(shop).ends[piece.tag]
    assert kept > free
    assert 9 <= kept.astimezone().hour <= 17


def test_the_ribbon_puts_no_work_outside_the_hours(shop: Shop, clock: SetClock) -> None:
    ready_to_sand(shop, clock)
    keep(shop, "work hours", "8:00 to 19:00")
    start = at_clock(clock, 18, 50)
    blocks = ribbon(day.day(shop)).blocks
    for block in blocks:
        local = block.starts.astimezone()
        assert block.ends.astimezone() <= start.replace(hour=19, minute=0) or local.hour >= 8
    assert all(b.starts < start + timedelta(minutes=10) or b.starts.day != start.day
               for b in blocks)  # fmt: skip


def test_hours_that_no_window_fits_are_told_and_the_ends_are_those_without(
    shop: Shop, clock: SetClock
) -> None:
    ready_to_sand(shop, clock)
    free = day.day(shop).ends
    keep(shop, "work hours", "8:00 to 8:01")
    shown = day.day(shop)
    assert day.OVERTIME in shown.notes and shown.ends == free


def away(shop: Shop, piece: Piece, value: str, *names: str) -> Done | Refused:
    return facts.say(shop, piece.tag, "away until", value, names)


def test_a_part_at_an_outside_workshop_waits_and_nothing_else_does(
    shop: Shop, clock: SetClock
) -> None:
    piece = ready_to_sand(shop, clock)
    back = (clock.now + timedelta(days=9)).date()
    before = day.day(shop).ends[piece.tag]
    assert isinstance(away(shop, piece, f"{back}", "D2"), Done)
    look = bench.look(shop, code(piece, "D2"), here=piece.tag)
    assert look.answer is Answer.WAIT and look.until is not None
    assert look.until.astimezone().date() == back
    assert "outside workshop" in look.because
    assert not record(shop, code(piece, "D2"), here=piece.tag).recorded
    assert bench.look(shop, code(piece, "D1"), here=piece.tag).answer is Answer.GO
    shown = day.day(shop)
    assert all("D2" not in t.group.names for t in shown.tasks)
    assert shown.ends[piece.tag] > before
    assert shown.ends[piece.tag].astimezone().date() >= back
    away(shop, piece, "back", "D2")
    assert day.day(shop).ends[piece.tag] == before
    assert record(shop, code(piece, "D2"), here=piece.tag).recorded


def test_two_parts_away_until_two_days_are_told_apart(shop: Shop, clock: SetClock) -> None:
    piece = ready_to_sand(shop, clock)
    days = [(clock.now + timedelta(days=n)).date() for n in (5, 9)]
    away(shop, piece, f"{days[0]}", "D1")
    away(shop, piece, f"{days[1]}", "D2")
    found = {g.away.astimezone().date(): g.names for g in day.day(shop).clocks if g.away}
    assert {d: set(map(str, n)) for d, n in found.items()} == {days[0]: {"D1"}, days[1]: {"D2"}}


def test_a_day_that_is_none_is_refused(shop: Shop) -> None:
    piece = two_finishes(shop)
    for said in ("friday", "2026-13-01", "soon"):
        assert isinstance(away(shop, piece, said, "D1"), Refused)


def test_ends_for_other_sums_keep_the_hours_too(shop: Shop, clock: SetClock) -> None:
    keep(shop, "work hours", "9:00 to 17:00")
    assert str(at_best(shop, clock.now).hours.work) == "09:00 to 17:00"
