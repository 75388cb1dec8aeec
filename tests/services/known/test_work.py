"""How long the shop's own work takes, told from one record to the next."""

from __future__ import annotations

import random
from datetime import timedelta
from itertools import groupby

import pytest

from partsbench.core.finish.steps import Operation, Per
from partsbench.services.known import work
from partsbench.services.shop import Shop
from partsbench.services.sums import hours
from partsbench.store.journal import text_time
from tests.support.at_bench import insist, record
from tests.support.clock import SetClock
from tests.support.shops import code, lay_out, made

WASHED = (Operation.WASH, Per.PART)


def test_the_time_between_two_parts_is_the_work_on_the_second(shop: Shop, clock: SetClock) -> None:
    piece = made(lay_out(shop, "Heron", "3", paths=[("paint", ["drawers"])]))
    for short, minutes in (("D1", 10.0), ("D2", 5.0), ("D3", 0.0)):
        assert record(shop, code(piece, short)).recorded
        clock.pass_time(minutes=minutes)
    found = work.own_times(shop, clock.now)
    minutes = [pytest.approx(10), pytest.approx(5)]
    assert found == {WASHED: minutes, (*WASHED, "D"): minutes}


def test_parts_that_are_recorded_at_once_tell_of_none(shop: Shop, clock: SetClock) -> None:
    """D1, then two drawers of one wash scanned one behind the other, then D4 alone."""
    piece = made(lay_out(shop, "Heron", "4", paths=[("paint", ["drawers"])]))
    for short, minutes in (("D1", 16.0), ("D2", 0.1), ("D3", 7.0), ("D4", 0.0)):
        assert record(shop, code(piece, short)).recorded
        clock.pass_time(minutes=minutes)
    found = work.own_times(shop, clock.now)
    assert found == {WASHED: [pytest.approx(7)], (*WASHED, "D"): [pytest.approx(7)]}


def test_a_face_that_is_worked_by_itself_is_one_whatever_edges_go_with_it(
    shop: Shop, clock: SetClock
) -> None:
    """A sanded front and its edges are one face, two sides of a carcase are two."""
    paths = [("clear", ["D1", "D2", "C1 left side", "C1 right side"])]
    piece = made(lay_out(shop, "Heron", "2", paths=paths))
    for short, minutes in (("D1", 10.0), ("D2", 12.0), ("C1", 0.0)):
        said = insist(shop, code(piece, short), step="sand_150")
        assert said.recorded, said
        clock.pass_time(minutes=minutes)
    assert work.own_times(shop, clock.now) == {
        (Operation.SAND, Per.FACE): [pytest.approx(10), pytest.approx(6)],
        (Operation.SAND, Per.FACE, "D"): [pytest.approx(10)],
        (Operation.SAND, Per.FACE, "C"): [pytest.approx(6)],
    }


def test_work_counts_for_three_weeks_to_the_second(shop: Shop, clock: SetClock) -> None:
    piece = made(lay_out(shop, "Heron", "2", paths=[("paint", ["drawers"])]))
    begun = clock.now
    assert record(shop, code(piece, "D1")).recorded
    clock.pass_time(minutes=10)
    assert record(shop, code(piece, "D2")).recorded
    minutes = [pytest.approx(10)]
    wash = {WASHED: minutes, (*WASHED, "D"): minutes}
    second = timedelta(seconds=1)
    for paces in (work.Paces(shop).at, lambda now: work.own_times(shop, now)):
        assert paces(clock.now) == wash and paces(clock.now - second) == {}
        assert paces(begun + work.LOOKED_BACK) == wash
        assert paces(begun + work.LOOKED_BACK + second) == {}


def test_any_evening_is_told_as_by_going_through_its_marks(shop: Shop, clock: SetClock) -> None:
    """The same from the table of marks, one after another."""
    rng = random.Random(5)
    named = [("paint", ["drawers"])]
    labels = [
        code(piece, short)
        for piece in (made(lay_out(shop, name, "3", paths=named)) for name in ("Heron", "Quill"))
        for short in ("D1", "D2", "D3")
    ]
    for _ in range(12):
        for label in rng.sample(labels, 5):
            record(shop, label, insist="by chance")
            clock.pass_time(minutes=rng.choice([0, 0.2, 1, 3, 8, 45]))
    marks = [
        (r["at"], r["tag"], r["part"], r["step"], r["path"])
        for r in shop.book.rows(
            "SELECT mark.at, tag, part.id AS part, step, path FROM mark "
            "JOIN face ON face.id = mark.face JOIN part ON part.id = face.part "
            "JOIN piece ON piece.id = part.piece ORDER BY mark.at, mark.id"
        )
    ]
    done = [key for key, _ in groupby(marks, key=lambda m: m[:4])]
    assert len(set(done)) == len(done)
    paths = {mark[:4]: mark[4] for mark in marks}
    by_part = {Operation.WASH, Operation.MASK, Operation.UNMASK}
    wanted: dict[tuple[object, ...], list[float]] = {}
    for a, b, c in zip(done, done[1:], [*done[2:], done[-1]], strict=False):
        gap = text_time(b[0]) - text_time(a[0])
        soon = text_time(c[0]) - text_time(b[0]) < work.SHORTEST_GAP
        if soon and b[3] == c[3] and b[1:3] != c[1:3]:
            continue  # several at once: the time before them is the work on all
        if a[3] == b[3] and a[1:3] != b[1:3] and work.SHORTEST_GAP <= gap <= work.LONGEST_GAP:
            operation = shop.path(paths[b]).step(b[3]).operation
            of = (operation, Per.PART if operation in by_part else Per.FACE)
            for key in (of, (*of, "D")):
                wanted.setdefault(key, []).append(gap.total_seconds() / 60)
    assert sum(map(len, wanted.values())) > 5
    assert work.own_times(shop, clock.now) == wanted


def test_at_any_moment_many_are_told_as_one(shop: Shop, clock: SetClock) -> None:
    """All records read at once, and for each moment the three weeks before it: the ends too."""
    piece = made(lay_out(shop, "Heron", "3", paths=[("paint", ["drawers"])]))
    moments = []
    for days in (0, 9, 12, 20):
        clock.pass_time(hours=24 * days)
        for short in ("D1", "D2", "D3"):
            record(shop, code(piece, short), insist="by chance")
            moments.append(clock.now)
            clock.pass_time(minutes=4)
    ends = [m + work.LOOKED_BACK for m in moments]
    near = [m + timedelta(seconds=s) for m in (*moments, *ends) for s in (-1, 0, 1)]
    paces = work.Paces(shop)
    found = [paces.at(moment) for moment in near]
    assert found == [work.own_times(shop, moment) for moment in near]
    assert len({sum(map(len, own.values())) for own in found}) > 3


def clocked(shop: Shop, clock: SetClock, tag: str, minutes: float, *shorts: str) -> None:
    """Washed with the clock running, and recorded at its end, all at once."""
    hours.begin_work(shop, tag, "washing")
    clock.pass_time(minutes=minutes)
    for short in shorts:
        assert record(shop, short, here=tag).recorded
    hours.end_work(shop, tag)


def test_the_clock_tells_what_was_recorded_at_once_under_it(shop: Shop, clock: SetClock) -> None:
    piece = made(lay_out(shop, "Heron", "3", paths=[("paint", ["drawers"])]))
    clocked(shop, clock, piece.tag, 21, "D1", "D2", "D3")
    assert work.own_times(shop, clock.now) == {
        WASHED: [pytest.approx(7)], (*WASHED, "D"): [pytest.approx(7)]
    }  # fmt: skip
    assert work.own_times(shop, clock.now + work.LOOKED_BACK) == {}


def test_the_clock_says_nothing_of_two_kinds_or_of_what_tells_by_itself(
    shop: Shop, clock: SetClock
) -> None:
    piece = made(lay_out(shop, "Heron", "3", paths=[("paint", ["drawers", "C1"])]))
    clocked(shop, clock, piece.tag, 30, "D1", "C1")
    assert work.own_times(shop, clock.now) == {}
    clock.pass_time(hours=2)
    hours.begin_work(shop, piece.tag, "washing")
    for short in ("D2", "D3"):
        clock.pass_time(minutes=6)
        assert record(shop, short, here=piece.tag).recorded
    hours.end_work(shop, piece.tag)
    assert work.own_times(shop, clock.now)[WASHED] == [pytest.approx(6)], "not the clock as well"


def test_work_done_again_is_no_pace(shop: Shop, clock: SetClock) -> None:
    piece = made(lay_out(shop, "Heron", "3", paths=[("paint", ["drawers"])]))
    hours.begin_work(shop, piece.tag, "washing", redo=True)
    clock.pass_time(minutes=20)
    assert record(shop, "D1", here=piece.tag).recorded
    hours.end_work(shop, piece.tag)
    assert work.own_times(shop, clock.now) == {}
