"""A month with four pieces on a fast clock: what the plan says is done, and every promise checked.

The person does always what the plan has next, at its time, and takes from 0.8 to 1.3 of the
minutes that were planned (seeded), but does not dawdle while a window is about to close. Nothing is
insisted on: what the plan asks for, the bench must allow.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from random import Random

import pytest

from partsbench.core.outcomes import Answer, Outcome
from partsbench.core.plan.check import faults
from partsbench.services.acts import bench
from partsbench.services.books.pieces import give_path
from partsbench.services.known import facts
from partsbench.services.known.state import piece_state
from partsbench.services.plan import asking, plans
from partsbench.services.plan.plans import PlanShown
from partsbench.services.shop import Shop
from partsbench.services.sums.habits import set_habit
from tests.support.clock import SetClock
from tests.support.shops import lay_out, made, shop_at

MONDAY = datetime(2031, 3, 3, 8, 0, tzinfo=UTC)
PIECES = (
    ("Heron", "2 2", "paint", "old finish", "none"),
    ("Larch", "2 1", "clear", "old finish", "none"),
    ("Quill", "3", "paint", "bleeds", "yes"),
    ("Wren", "2 2", "stain", "conditioner", "oil"),
)
COMES = (0, 1, 4, 8)
"""Days after which each piece comes in."""

SPARE = timedelta(days=1)
"""A piece is promised for the evening of the day after that on which the plan has it done."""


@dataclass
class Month:
    """The shop, its clock, what was promised, when each piece was done, and what was refused."""

    shop: Shop
    clock: SetClock
    random: Random
    promised: dict[str, datetime] = field(default_factory=dict)
    proven: dict[str, datetime] = field(default_factory=dict)
    done: dict[str, datetime] = field(default_factory=dict)
    refused: list[str] = field(default_factory=list)
    late: list[str] = field(default_factory=list)
    moved: list[str] = field(default_factory=list)

    def plan(self, seconds: float = 0.05) -> PlanShown:
        shown = plans.plan(self.shop, seconds=seconds)
        assert faults(shown.shop, shown.best.plan) == []
        assert shown.best.plan.missed == (), shown.sentences
        if shown.changed:
            self.moved.append(shown.changed)
        return shown

    def take_in(self, number: int) -> None:
        name, rows, path, key, value = PIECES[number]
        piece = made(lay_out(self.shop, name, rows, paths=[(path, ["D1", "D2", "D3"])]))
        state = piece_state(self.shop, piece)
        rest = [s for s in state.parts if s not in ("D1", "D2", "D3")]
        give_path(self.shop, piece.tag, "raw", rest)
        facts.say(self.shop, piece.tag, key, value)
        shown = self.plan(0.5)
        end = MONDAY + timedelta(minutes=shown.ends[piece.tag]) + (shown.at - MONDAY)
        by = datetime.combine((end + SPARE).date(), time(18), tzinfo=UTC)
        told = plans.ask_promise(self.shop, piece.tag, by, seconds=0.4)
        assert isinstance(told, plans.PromiseTold)
        assert told.kept, told.sentence
        asking.note_promise(self.shop, piece.tag, by)
        self.promised[piece.tag] = by
        soonest = shown.best.proven.ends[piece.tag]
        self.proven[piece.tag] = shown.at + timedelta(minutes=soonest)

    def work(self, shown: PlanShown) -> None:
        """What the plan has next, at its time."""
        first = shown.best.plan.placed[0]
        same = [p for p in shown.best.plan.placed if p.load and p.load == first.load] or [first]
        stints = {s.key: s for s in shown.shop.stints}
        self.clock.now = max(self.clock.now, shown.at + timedelta(minutes=first.start))
        for booked in same:
            pace = self.random.uniform(0.8, 1.3)
            if any(s.by is not None and s.by < booked.start + 60 for s in shown.shop.stints):
                pace = min(pace, 1.0)
            minutes = stints[booked.stint].minutes * pace
            tag, _, step = booked.stint.split("|")
            names = shown.hand.faces[booked.stint]
            parts = {spot.part for spot in names}
            last = ""
            for name in names:
                short, face = name.part, name.face
                if short != last:
                    self.clock.now += timedelta(minutes=minutes / len(parts))
                last = short
                said = bench.record(self.shop, short, here=tag, face=face, step=step,
                                    confirmed=True)  # fmt: skip
                assert isinstance(said, Outcome)
                if said.answer is Answer.LATE and not said.recorded:
                    # Slower hands than planned: what the path says of a missed window is done.
                    self.late.append(f"{name}: {said.because}")
                    bench.send_back(self.shop, short, said.recover, "late", here=tag, face=face)
                elif not said.recorded:
                    self.refused.append(f"{self.clock.now:%a %d %H:%M} {name}: {said.because}")
            state = piece_state(self.shop, self.shop.piece(tag))  # type: ignore[arg-type]
            faces = [f for p in state.parts.values() for f in p.faces if f.path.steps]
            if all(f.progress.finished for f in faces):
                self.done[tag] = self.clock.now


@pytest.fixture(scope="module")
def month(tmp_path_factory: pytest.TempPathFactory) -> Month:
    folder: Path = tmp_path_factory.mktemp("month")
    clock = SetClock(MONDAY)
    shop = shop_at(folder / "b.partsbench", clock)
    set_habit(shop, "work hours", "8:00 to 18:00")
    set_habit(shop, "working days", "Mon to Sat")
    month = Month(shop, clock, Random(20310303))
    waiting = list(range(len(PIECES)))
    for _ in range(160):
        while waiting and clock.now >= MONDAY + timedelta(days=COMES[waiting[0]]):
            month.take_in(waiting.pop(0))
        shown = month.plan()
        if shown.best.plan.placed:
            month.work(shown)
        elif waiting:
            clock.now = MONDAY + timedelta(days=COMES[waiting[0]])
        else:
            break
    return month


def test_all_four_are_done_within_the_month(month: Month) -> None:
    assert len(month.done) == len(PIECES)
    assert max(month.done.values()) < MONDAY + timedelta(days=31)


def test_every_promise_was_kept(month: Month) -> None:
    late = {t: (month.done[t], by) for t, by in month.promised.items() if month.done[t] > by}
    assert late == {}


def test_no_piece_was_done_sooner_than_was_proven(month: Month) -> None:
    """The hands were at most a fifth quicker than planned; the waits were what they were."""
    for tag, at in month.proven.items():
        assert month.done[tag] > at - timedelta(hours=2)


def test_the_bench_allowed_all_that_the_plan_asked(month: Month) -> None:
    assert month.refused == []


def test_what_moved_was_said_in_one_line_each(month: Month) -> None:
    assert month.moved
    assert all("\n" not in line and len(line) < 600 for line in month.moved)
