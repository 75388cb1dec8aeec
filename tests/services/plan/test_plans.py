"""The plan of a book: made, checked, followed from record to record, promised and asked."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from icalendar import Calendar

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.plan.check import faults
from partsbench.core.plan.workshop import Booked, ShopPlan, Stint, Worker, Workshop
from partsbench.services.acts import history
from partsbench.services.books.pieces import give_path, mirror
from partsbench.services.known import facts
from partsbench.services.plan import asking, out, plans
from partsbench.services.plan.reading import NOBODY_TURNS, in_hand
from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from partsbench.services.sums.habits import set_habit
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes
from tests.support.shops import lay_out, made, shop_at

MONDAY = datetime(2031, 3, 3, 9, 0, tzinfo=UTC)


@pytest.fixture
def clock() -> SetClock:
    return SetClock(MONDAY)


@pytest.fixture
def shop(tmp_path: Path, clock: SetClock) -> Shop:
    shop = shop_at(tmp_path / "b.partsbench", clock)
    set_habit(shop, "work hours", "8:00 to 18:00")
    return shop


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return two_finishes(shop)


def planned(shop: Shop, **how: object) -> plans.PlanShown:
    return plans.plan(shop, seconds=0.4, **how)  # type: ignore[arg-type]


def test_every_step_that_is_left_is_planned_within_the_rules(shop: Shop, piece: Piece) -> None:
    shown = planned(shop)
    assert faults(shown.shop, shown.best.plan) == []
    names = [s.name for s in shown.shop.stints]
    assert any("Colour coat 3" in name for name in names)
    assert any("Wipe off the stain" in name for name in names)
    hours = [(p.start + 9 * 60) % 1440 for p in shown.best.plan.placed]
    assert min(hours) >= 8 * 60
    assert max(hours) <= 18 * 60
    assert shown.sentence.startswith("Everything is done ")


def test_fronts_are_worked_in_batches_and_loads(shop: Shop, piece: Piece) -> None:
    shown = planned(shop)
    washing = [s for s in shown.shop.stints if s.name.endswith(": Wash")]
    assert any("D1, D2, D3" in s.name for s in washing)
    coats = [s for s in shown.shop.stints if s.mix]
    assert coats
    assert all(0 < s.ml <= shown.shop.gun.cup_ml for s in coats)


def test_waits_are_those_of_the_finish_rules(shop: Shop, piece: Piece, clock: SetClock) -> None:
    for short in ("D1", "D2", "D3"):
        do(shop, piece, short, "wash", "rinse")
    clock.pass_time(hours=1)
    work = in_hand(shop, clock()).shop
    sanding = next(s for s in work.stints if "Sand filler level" in s.name and "D1" in s.name)
    assert sanding.soonest == 11 * 60  # rinsed an hour ago, dry after 12 h
    assert "12 h" in sanding.why_soonest


def test_a_plan_that_is_shown_again_does_not_move(shop: Shop, piece: Piece) -> None:
    first = planned(shop)
    again = planned(shop)
    assert again.changed == ""
    assert again.ends == first.ends
    assert [p.start for p in again.best.plan.placed] == [p.start for p in first.best.plan.placed]


@pytest.mark.parametrize(("stood", "stands"), [(60, 60), (61, 0)])
def test_a_new_plan_takes_its_place_only_where_it_is_better_by_more_than_an_hour(
    shop: Shop, stood: int, stands: int
) -> None:
    """Half an hour of work that could be done at once, and stood later."""
    here = ((0, 600),)
    work = Workshop((Stint("s", "A", "s", 30),), (), (Worker("me", here, here),))
    before = ShopPlan((Booked("s", stood, stood + 30, ("me",)),))
    shown = plans.planned(replace(in_hand(shop, MONDAY), shop=work), 0.1, before=before)
    assert [p.start for p in shown.best.plan.placed] == [stands]
    assert shown.best.cost == stands + 30
    assert (shown.changed == "") is (stood == stands)


def test_a_record_as_planned_moves_nothing(shop: Shop, piece: Piece, clock: SetClock) -> None:
    first = planned(shop)
    at = first.best.plan.placed[0]
    stint = next(s for s in first.shop.stints if s.key == at.stint)
    clock.now = MONDAY + timedelta(minutes=at.end)
    step = stint.key.split("|")[2]
    parts = stint.name.split(": ")[0].removeprefix("Heron ").split(", ")
    for short in parts:
        do(shop, piece, short, step)
    again = planned(shop)
    assert again.changed == ""


def test_a_lost_day_is_told_in_one_line(shop: Shop, piece: Piece, clock: SetClock) -> None:
    planned(shop)
    clock.pass_time(days=2)
    again = planned(shop)
    assert again.followed is not None
    assert again.followed.ends
    assert "Heron is done" in again.changed
    assert "\n" not in again.changed


def test_what_was_begun_and_not_ended_is_told_first_as_on_the_day(
    shop: Shop, piece: Piece, clock: SetClock
) -> None:
    assert planned(shop).hand.begun == ()
    do(shop, piece, "D1", "wash")
    begun = planned(shop)
    assert begun.sentences[0] == f"Begun and not ended: {day(shop).sentence}"
    assert day(shop).sentence == "Heron D1: washed but not rinsed."
    do(shop, piece, "D1", "rinse")
    assert planned(shop).hand.begun == ()


def test_a_window_that_no_time_is_found_for_is_told_first_with_its_end(
    shop: Shop, piece: Piece
) -> None:
    """Of a stint that must begin by then, after another, and that nobody has the hours for."""
    shown = planned(shop)
    a, b, c = shown.shop.stints[:3]
    work = replace(shown.shop, stints=(a, replace(b, by=77), c, *shown.shop.stints[3:]))
    missed = ((b.key, b.key), (a.key, b.key), (c.key, c.key))
    best = replace(shown.best, plan=replace(shown.best.plan, missed=missed))
    told = replace(shown, hand=replace(shown.hand, shop=work), best=best).sentences[:4]
    assert told[:3] == (
        f"{b.name}: no time was found for it before its window closes, Monday 03 Mar 10:17.",
        f"{b.name}: no time was found that keeps its window after {a.name}.",
        f"{c.name}: no time was found for it in the hours of the shop.",
    )
    assert told[3].startswith("Heron is done ")


def test_what_is_held_is_not_planned_but_told(shop: Shop) -> None:
    piece = made(lay_out(shop, "Quill", "1 1", paths=[("paint", ["D1"])], known={}))
    facts.say(shop, piece.tag, "old finish", "unknown", ["D1"])
    do(shop, piece, "D1", "wash", "rinse")
    shown = planned(shop, at=MONDAY + timedelta(days=2))
    assert any(h.tag == piece.tag for h in shown.held)
    assert any("held, and not planned" in s for s in shown.sentences)


def test_a_helper_is_used_at_her_hours_for_her_work(shop: Shop, piece: Piece) -> None:
    set_habit(shop, "helpers", "Wren: Mon to Sat 9:00 to 12:00 only wash, rinse")
    shown = planned(shop)
    mine = [p for p in shown.best.plan.placed if "Wren" in p.workers]
    works = {s.key: s.work for s in shown.shop.stints}
    assert mine
    assert {works[p.stint] for p in mine} <= {"wash", "rinse"}
    assert faults(shown.shop, shown.best.plan) == []


def test_hardware_comes_on_a_day(shop: Shop, piece: Piece) -> None:
    assert isinstance(facts.say(shop, piece.tag, "hardware comes", "2031-03-28"), Done)
    shown = planned(shop)
    end = MONDAY + timedelta(minutes=shown.ends[piece.tag])
    assert end.date().isoformat() == "2031-03-28"


def test_a_promise_is_noted_kept_and_undone(shop: Shop, piece: Piece) -> None:
    by = MONDAY + timedelta(days=18)
    assert isinstance(asking.note_promise(shop, piece.tag, by), Done)
    shown = planned(shop)
    assert [p.piece for p in shown.shop.promised] == [piece.tag]
    assert any("kept, with" in s for s in shown.sentences)
    history.undo(shop)
    assert planned(shop).shop.promised == ()


def test_a_promise_that_cannot_be_is_told_with_its_chain(shop: Shop, piece: Piece) -> None:
    told = plans.ask_promise(shop, piece.tag, MONDAY + timedelta(hours=9), seconds=0.4)
    assert isinstance(told, plans.PromiseTold)
    assert not told.kept
    assert told.unreachable is not None
    assert told.unreachable.chain[-1].end > 9 * 60
    # Each link begins no sooner than the one before it is done.
    chain = told.unreachable.chain
    assert all(a.end <= b.start for a, b in pairwise(chain))
    assert "no plan is earlier than" in told.sentence


def test_what_if(shop: Shop, piece: Piece) -> None:
    usual = planned(shop, keep=False)
    asked = [
        asking.question(shop, text, MONDAY)
        for text in ("helper Rook: Mon to Sun 8:00 to 18:00", "off 2031-03-04")
    ]
    helped, off = (q for q in asked if isinstance(q, asking.Question))
    with_help = plans.assumed_plan(shop, MONDAY, helped.change, helped.assumed, 0.4)
    assert with_help.ends[piece.tag] <= usual.ends[piece.tag]
    without = plans.assumed_plan(shop, MONDAY, off.change, off.assumed, 0.4)
    day = range(24 * 60 - 9 * 60, 2 * 24 * 60 - 9 * 60)
    assert all(p.start not in day for p in without.best.plan.placed)


@pytest.mark.parametrize(
    ("at", "words", "start"),
    [(9, "with tonight off from 15:00", 6 * 60), (16, "with tonight off", 0),
     (20, "with tonight off", 0)],
)  # fmt: skip
def test_tonight_off_begins_where_the_evening_does(
    shop: Shop, piece: Piece, at: int, words: str, start: int
) -> None:
    now = MONDAY.replace(hour=at)
    off = asking.question(shop, "off tonight", now)
    assert isinstance(off, asking.Question) and off.words == words
    here = Worker("you", ((0, 2000),), ((0, 2000),))
    left = off.change(Workshop((), workers=(here,))).workers[0].here
    assert left == tuple(x for x in ((0, start), ((32 - at) * 60, 2000)) if x[0] < x[1])


def test_what_if_a_tin_waits_and_a_piece_more(shop: Shop, piece: Piece) -> None:
    usual = planned(shop, keep=False)
    wait = asking.question(shop, "wait clear_water 24 h", MONDAY)
    assert isinstance(wait, asking.Question)
    slow = plans.assumed_plan(shop, MONDAY, wait.change, wait.assumed, 0.4)
    assert slow.best.proven.ends[piece.tag] > usual.best.proven.ends[piece.tag]
    like = asking.question(shop, "like Heron", MONDAY)
    assert isinstance(like, asking.Question)
    more = plans.assumed_plan(shop, MONDAY, like.change, like.assumed, 0.4)
    assert set(more.ends) == {piece.tag, f"{piece.tag}+1"}


@pytest.mark.parametrize(
    "text", ["", "helper", "helper Wren", "off someday", "like Nobody", "wait clear_water long",
             "wait honey 24 h", "sing a song", "off 2020-01-01"],
)  # fmt: skip
def test_what_cannot_be_asked_is_told(shop: Shop, piece: Piece, text: str) -> None:
    assert isinstance(asking.question(shop, text, MONDAY), Refused)


def test_the_calendar_has_all_work_and_the_cliffs(shop: Shop, piece: Piece) -> None:
    shown = planned(shop)
    read = Calendar.from_ical(out.calendar(shown))
    events = list(read.walk("VEVENT"))
    names = [str(e["summary"]) for e in events]
    assert any(n.startswith("Last start: ") for n in names)
    assert len({str(e["uid"]) for e in events}) == len(events)
    assert all(e.walk("VALARM") for e in events)
    loads = {p.load for p in shown.best.plan.placed if p.load}
    alone = [p for p in shown.best.plan.placed if not p.load]
    assert len([n for n in names if not n.startswith("Last")]) == len(loads) + len(alone)
    first = min(e["dtstart"].dt for e in events)
    assert first >= MONDAY


def test_the_table_has_a_row_for_each_stint(shop: Shop, piece: Piece) -> None:
    shown = planned(shop)
    rows = list(csv.DictReader(io.StringIO(out.table(shown))))
    assert len(rows) == len(shown.shop.stints)
    assert {r["tag"] for r in rows} == {piece.tag}


def test_nothing_in_hand_is_told(shop: Shop) -> None:
    shown = planned(shop)
    assert shown.sentence == "Nothing is left to do on the pieces in hand."
    assert shown.shop.stints == ()
    assert isinstance(shown.shop, Workshop)


def test_turning_a_carcase_wants_two_and_alone_that_is_said(shop: Shop) -> None:
    two_finishes(shop)
    assert NOBODY_TURNS not in plans.plan(shop, seconds=0.1).sentences
    assert isinstance(set_habit(shop, "turning", "5 min"), Done)
    assert NOBODY_TURNS in plans.plan(shop, seconds=0.1).sentences


def test_a_promise_that_is_kept_anyhow_moves_nobody(shop: Shop, piece: Piece) -> None:
    for name in ("Larch", "Quill", "Wren"):
        made(lay_out(shop, name, "3 3 3", paths=[("paint", ["drawers"])]))
    told = plans.ask_promise(shop, piece.tag, MONDAY + timedelta(days=40), seconds=0.2)
    assert isinstance(told, plans.PromiseTold)
    assert told.kept and told.others == () and told.unreachable is None
    assert "kept, with" in told.sentence


def test_a_promise_is_told_to_the_minute_that_was_promised(
    shop: Shop, piece: Piece, clock: SetClock
) -> None:
    """The plan counts whole minutes from now, and now has seconds."""
    clock.pass_time(seconds=44)
    by = MONDAY.replace(hour=18)
    told = plans.ask_promise(shop, piece.tag, by, seconds=0.1)
    assert isinstance(told, plans.PromiseTold) and not told.kept
    assert told.sentence.startswith("Heron cannot be done by Monday 03 Mar 18:00;")
    asking.note_promise(shop, piece.tag, by)
    assert any("cannot be done by Monday 03 Mar 18:00;" in s for s in planned(shop).sentences)


def test_a_piece_and_its_twin_are_told_apart_by_their_tags(shop: Shop, piece: Piece) -> None:
    assert planned(shop).shop.title(piece.tag) == "Heron"
    twin = made(mirror(shop, piece.tag))
    assert isinstance(give_path(shop, twin.tag, "paint", ["D1"]), Piece)
    shown = planned(shop)
    titles = {tag: f"Heron {tag}" for tag in (piece.tag, twin.tag)}
    assert {tag: shown.shop.title(tag) for tag in shown.ends} == titles
    assert all(s.name.startswith(f"{titles[s.piece]} D") for s in shown.shop.stints)


def test_a_plan_of_some_pieces_says_that_the_others_are_left_out(shop: Shop, piece: Piece) -> None:
    alone = "This is of Heron alone, as if nothing else were in the shop."
    assert alone not in planned(shop, tags=[piece.tag]).sentences
    made(lay_out(shop, "Larch", "1", paths=[("paint", ["D1"])]))
    assert alone in planned(shop, tags=[piece.tag]).sentences
    assert alone not in planned(shop).sentences


def test_a_piece_with_nothing_left_to_do_is_promised_for_nothing(shop: Shop) -> None:
    plain = made(lay_out(shop, "Rill", "2"))
    said = plans.ask_promise(shop, plain.tag, MONDAY + timedelta(days=9), seconds=0.1)
    assert said == Refused(f"{plain.tag} has nothing left to do, or no finish path.")
    assert asking.drop_promise(shop, plain.tag) == Refused("Rill is not promised.")


def test_the_solver_changes_no_plan_that_cannot_be_better(shop: Shop) -> None:
    two_finishes(shop)
    ours = plans.plan(shop, seconds=0.3, keep=False)
    both = plans.plan(shop, seconds=0.3, keep=False, with_solver=0.3)
    assert both.best.cost <= ours.best.cost
    assert both.best.proven.cost <= both.best.cost
    assert faults(both.shop, both.best.plan) == []
