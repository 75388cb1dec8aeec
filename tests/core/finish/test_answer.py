from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from partsbench.core.finish.answer import ANY_HOLD, Decision, decide, still_held
from partsbench.core.finish.findings import PRACTICE, Finding, Level
from partsbench.core.finish.masks import tape_off
from partsbench.core.finish.old_finish import CLEARED, LEAD_CAUTION, LEAD_CLEARED, Lead, OldFinish
from partsbench.core.finish.products import TinCard, TinWait
from partsbench.core.finish.progress import Mark, MarkKind, may_mark, progress
from partsbench.core.finish.situation import FaceFacts, Situation
from partsbench.core.finish.steps import FinishPath, Step
from partsbench.core.finish.waits import WaitFigures
from partsbench.core.outcomes import Answer
from partsbench.core.piece.spot import Spot
from tests.support.faces import (
    PRODUCTS,
    SHOP,
    START,
    at,
    damp,
    face,
    hours,
    path,
    step,
    through,
)

PAINT = path("paint")
STAIN = path("stain", "conditioner_oil")


def asked(now, key, when, shop=SHOP, **facts) -> Situation:
    known = FaceFacts(Spot("D3", "front"), **{"old": OldFinish(Lead.BARE), **facts})
    return Situation(now, step(now.path, key), at(when), shop, known, confirmed=True)


def test_wait_says_until_when_why_and_whose_figure():
    said = decide(asked(through(PAINT, "colour_3"), "topcoat_1", "2 h"))
    assert (said.answer, said.until) == (Answer.WAIT, at("12 h"))
    assert said.because == "Colour coat 3, fuller first needs 12 h"
    assert "overnight" in said.source
    assert "from memory" in said.source
    assert [f.rule for f in said.held] == ["not dry yet"]


def test_wait_by_the_users_own_tin_names_it():
    tin = TinCard("the blue paint", "paint_water", {"recoat": TinWait(hours("4 h"))})
    shop = WaitFigures(PRODUCTS, {"paint_water": tin})
    said = decide(asked(through(PAINT, "colour_3"), "topcoat_1", "2 h", shop))
    assert (said.until, said.source) == (at("4 h"), "your tin card for the blue paint: 4 h")


def test_go_says_until_when_the_window_stays_open():
    said = decide(asked(through(STAIN, "wipe_condition"), "stain", "6 min"))
    assert (said.answer, said.until) == (Answer.GO, at("30 min"))
    wiped = "Wipe off the conditioner"
    assert said.because == f"Stain, in sections must follow {wiped} within 30 min"
    assert said.held == ()


def test_go_without_an_end_says_what_has_dried():
    said = decide(asked(through(PAINT, "colour_1"), "sand_220", "5 h"))
    assert (said.answer, said.until) == (Answer.GO, None)
    assert said.because.endswith("that has passed")
    fresh = decide(asked(face(PAINT), "wash", "0 h"))
    assert (fresh.answer, fresh.because, fresh.source) == (
        Answer.GO,
        "nothing under it has to dry",
        "",
    )


def test_late_says_the_way_back_and_moves_the_face_there():
    situation = asked(through(STAIN, "wipe_condition"), "stain", "31 min")
    said = decide(situation)
    assert (said.answer, said.until) == (Answer.LATE, None)
    assert "scuff lightly by hand at 220" in said.because
    assert "within 30 min to 2 h" in said.source and "within 10 min" in said.source
    assert "(trade press)" in said.source
    mark = recovery_mark(said, situation)
    assert mark == Mark("condition", at("31 min"), MarkKind.SENT_BACK)
    assert not may_mark(STAIN, situation.at.history, mark.step, mark.kind)


def test_late_for_a_topcoat_goes_on_to_a_scuff_and_back_nowhere():
    now = through(PAINT, "colour_3")
    situation = asked(now, "topcoat_1", "30 h")
    said = decide(situation)
    assert said.answer is Answer.LATE
    assert said.recover.step == "scuff_400"
    assert recovery_mark(said, situation) is None
    assert decide(asked(now, "scuff_400", "30 h")).answer is Answer.GO
    scuffed = progress(PAINT, [*now.history, Mark("scuff_400", at("30 h"))])
    assert decide(asked(scuffed, "topcoat_1", "31 h")).answer is Answer.GO


def test_a_hold_that_only_a_person_can_lift_stops_before_any_wait():
    said = decide(asked(through(PAINT, "rinse"), "sand_150", "1 h", old=OldFinish(Lead.UNKNOWN)))
    assert (said.answer, said.until) == (Answer.STOP, None)
    assert "lead" in said.because
    assert "local rules" in said.source


def test_a_room_that_leaves_no_time_is_told_with_the_wait():
    said = decide(asked(through(PAINT, "colour_3"), "topcoat_1", "2 h", damp(3)))
    assert (said.answer, said.until) == (Answer.WAIT, at("36 h"))
    assert said.because.endswith("it will be too late before it is ready")


def test_warnings_do_not_change_the_word():
    said = decide(asked(through(PAINT, "sand_150"), "colour_1", "5 h", bleeds=True))
    assert said.answer is Answer.GO
    assert "may bleed" in [f.rule for f in said.warnings]


def recovery_mark(decision: Decision, s: Situation) -> Mark | None:
    """The mark that moves a face to the step a missed window sends it back to; None when nothing
    goes back: the step that mends it lies ahead, or is this step done with care."""
    recover = decision.recover
    at = s.path.index(recover.step) if recover else None
    if recover is None or at is None or at >= s.at.place:
        return None
    return Mark(recover.step, s.now, MarkKind.SENT_BACK)


@dataclass
class Bench:
    """A face on which whatever is not held gets recorded; late ones are moved as told."""

    path: FinishPath
    marks: list[Mark]
    now: datetime

    def scan(self, key: str) -> Decision | None:
        if may_mark(self.path, self.marks, key):
            return None
        known = progress(self.path, self.marks)
        bare = FaceFacts(old=OldFinish(Lead.BARE))
        situation = Situation(known, step(self.path, key), self.now, SHOP, bare, confirmed=True)
        said = decide(situation)
        if not said.held:
            self.marks.append(Mark(key, self.now))
        elif back := recovery_mark(said, situation):
            self.marks.append(back)
        return said


def table(on: FinishPath) -> dict[tuple[str, str], tuple[timedelta | None, timedelta | None]]:
    """What the path table says of each pair of steps, read straight from it."""
    found = {}
    for place, after in enumerate(on.steps):
        for before in on.steps[:place]:
            named = next((a for a in after.after if a.step == before.key), None)
            ends = (named or before).earliest, (named or before).latest
            mends = before.missed and before.missed.step == after.key and after.optional
            mends = mends and named is None
            found[before.key, after.key] = (ends[0], None if mends else ends[1])
    return found


def followed(on: FinishPath, standing: list[Mark]) -> list[tuple[Mark, Mark]]:
    """Pairs of standing marks that the table binds: neighbours, and steps named in `after`."""
    pairs = list(pairwise(standing))
    for i, mark in enumerate(standing):
        wanted = on.step(mark.step)
        named = {a.step for a in wanted.after}
        pairs += [(m, mark) for m in standing[:i] if m.step in named]
    return pairs


SCANS = st.lists(
    st.tuples(st.integers(0, 30), st.sampled_from([1, 7, 12, 60, 300, 1500, 4500])),
    min_size=20,
    max_size=80,
)
CASES = st.sampled_from(
    [
        path("paint", "seam"),
        path("stain", "seam", "conditioner_oil", "old_finish"),
        path("stain", "conditioner_water"),
        path("dye_stain"),
        path("chalk_wax"),
        path("shellac_paint", "third_topcoat"),
    ]
)


@settings(deadline=None)
@given(CASES, SCANS)
def test_no_order_of_scans_reaches_a_state_that_the_path_table_forbids(on, scans):
    bench = Bench(on, [], START)
    allowed = table(on)
    for pick, minutes in scans:
        bench.now += timedelta(minutes=minutes)
        now = progress(on, bench.marks)
        likely: tuple[Step, ...] = now.choices if pick % 3 else on.steps
        bench.scan(likely[pick % len(likely)].key if likely else on.steps[0].key)
        standing = list(progress(on, bench.marks).done)
        places = [on.index(m.step) for m in standing]
        assert places == sorted(set(places))
        passed = set(range(places[-1])) - set(places) if places else set()
        assert all(on.steps[i].optional for i in passed)
        for before, after in followed(on, standing):
            earliest, latest = allowed[before.step, after.step]
            gone = after.at - before.at
            assert earliest is None or gone >= earliest, (before, after)
            missed = next(
                (a.missed for a in on.step(after.step).after if a.step == before.step),
                on.step(before.step).missed,
            )
            with_care = missed is not None and missed.step == after.step
            assert latest is None or gone <= latest or with_care, (before, after)


def test_a_patient_bench_brings_every_path_to_its_end():
    """The gate above is no wall: waiting as told, each path can be finished."""
    for on in (path("paint"), STAIN, path("clear"), path("dye_stain"), path("chalk_wax")):
        bench = Bench(on, [], START)
        for _ in range(200):
            due = progress(on, bench.marks).next
            if due is None:
                break
            said = bench.scan(due.key)
            assert said.answer in (Answer.GO, Answer.WAIT), said
            bench.now = max(bench.now, said.until) if said.answer is Answer.WAIT else bench.now
        assert progress(on, bench.marks).finished, on.key


def test_a_part_at_an_outside_workshop_waits_until_it_is_back_or_longer_for_its_film():
    now = through(PAINT, "colour_1")
    still_wet = decide(asked(now, "sand_220", "1 h")).until
    assert still_wet is not None
    for back, until in ((at("1 h") + timedelta(days=3), at("1 h") + timedelta(days=3)),
                        (at("1 h") + timedelta(minutes=1), still_wet)):  # fmt: skip
        said = decide(replace(asked(now, "sand_220", "1 h"), away=back))
        assert (said.answer, said.away, said.until) == (Answer.WAIT, True, until)
    back = decide(replace(asked(now, "sand_220", "5 h"), away=at("5 h")))
    assert (back.answer, back.away) == (Answer.GO, False)


def test_what_holds_what_is_checked_and_what_is_warned_of_are_told_apart():
    found = tuple(Finding(level, level.value, "because", PRACTICE) for level in Level)
    said = Decision(Answer.STOP, step(PAINT, "wash"), None, "", "", found)
    assert [f.level for f in said.held] == [Level.HOLD]
    assert [f.level for f in said.checks] == [Level.CHECK]
    assert {f.level for f in said.warnings} == {Level.WARN, Level.ADVISE}


def test_nobody_is_told_to_wait_for_a_test_that_was_made():
    sanding = asked(face(PAINT), "sand_150", "0 h")
    assert LEAD_CAUTION in sanding.step.cautions
    for lead in Lead:
        known = replace(sanding, facts=replace(sanding.facts, old=OldFinish(lead)))
        said = decide(known)
        wanted = LEAD_CLEARED if lead in CLEARED else LEAD_CAUTION
        assert [m for m in said.minds if m.startswith("lead")] == [wanted], lead
        assert len(said.minds) == len(sanding.step.cautions)


def test_tape_waits_for_the_last_of_the_faces_at_it_and_goes_by_the_clock_alone():
    """Paint sets in an hour; of two faces at the tape the second got its topcoat at 2 h."""
    seam = path("paint", "seam")
    stained = through(path("stain", "seam"), "mask", "0 h")
    windows = {
        Spot(short, "front"): tape_off(through(seam, "topcoat_2", when), SHOP)
        for short, when in (("D1", "1 h"), ("D2", "2 h"))
    }
    said = decide(replace(asked(stained, "unmask", "2 h 59 min"), tape=windows))
    assert (said.answer, said.until) == (Answer.WAIT, at("3 h"))
    assert said.because == "D2 front: Tinted topcoat 2, thin first needs 1 h"
    said = decide(replace(asked(stained, "unmask", "3 h"), tape=windows))
    assert said.answer is Answer.GO


def findings_of(*rules: str) -> list[Finding]:
    return [Finding(Level.HOLD, rule, "because", PRACTICE) for rule in rules]


@pytest.mark.parametrize(
    ("rules", "insisted", "left", "lifted"),
    [
        (["a"], {ANY_HOLD: "why"}, [], {"a": "why"}),
        (["a", "a"], {ANY_HOLD: "why"}, [], {"a": "why"}),
        (["a", "b"], {ANY_HOLD: "why"}, ["a", "b"], {}),
        (["a", "b"], {"b": "so"}, ["a"], {"b": "so"}),
        (["a", "b"], {"b": "so", ANY_HOLD: "why"}, [], {"a": "why", "b": "so"}),
        (["a", "b", "c"], {"b": "so", ANY_HOLD: "why"}, ["a", "c"], {"b": "so"}),
        (["a"], {"z": "so"}, ["a"], {}),
        (["a"], {"a": ""}, ["a"], {}),
        (["a"], {ANY_HOLD: ""}, ["a"], {}),
        ([], {ANY_HOLD: "why"}, [], {}),
    ],
)
def test_a_reason_lifts_the_hold_it_names_and_one_without_a_name_the_only_one(
    rules, insisted, left, lifted
):
    held, reasons = still_held(findings_of(*rules), insisted)
    assert ([f.rule for f in held], reasons) == (left, lifted)
