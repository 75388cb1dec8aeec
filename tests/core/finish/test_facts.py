from __future__ import annotations

import pytest

from partsbench.core.finish.facts import (
    AWAY,
    KIND,
    KINDS,
    NO_MASK,
    cases,
    fact_fault,
    lead_of,
    suited,
)
from partsbench.core.finish.situation import Lead
from partsbench.trade import load_paths
from tests.support.faces import PATHS


def keys(path, only_due: bool = False) -> list[str]:
    return [s.key for s in path.steps if not (only_due and s.optional)]


def test_every_case_of_a_shipped_path_can_be_said():
    known = {
        case
        for kind in KINDS.values()
        for answer in kind.answers or ("1",)
        for case in cases({kind.key: answer}, seam=True)[0]
    }
    asked = {
        s["only_when"] for doc in load_paths().values() for s in doc["step"] if "only_when" in s
    }
    assert asked <= known


@pytest.mark.parametrize(
    ("facts", "due", "gone"),
    [
        ({"conditioner": "oil"}, "condition", "condition_water"),
        ({"conditioner": "water"}, "condition_water", "condition"),
        ({"seal coat": "yes"}, "seal", ""),
        ({"old finish": "clear"}, "strip", ""),
        ({"old finish": "none"}, "", "strip"),
        ({"repairs": "open"}, "repair", ""),
        ({"repairs": "none"}, "", "repair"),
    ],
)
def test_what_is_known_makes_steps_due_or_leaves_them_out(facts, due, gone):
    path = suited(PATHS["stain"], facts, seam=False)
    assert due in [*keys(path, only_due=True), ""]
    assert gone not in keys(path)


def test_what_is_not_known_stays_open():
    assert suited(PATHS["stain"], {}, seam=False) is PATHS["stain"]
    path = suited(PATHS["paint"], {"veneer": "yes"}, seam=False)
    assert keys(path) == keys(PATHS["paint"])


def test_a_seam_makes_masking_due():
    path = suited(PATHS["paint"], {}, seam=True)
    assert {"mask", "unmask"} <= set(keys(path, only_due=True))


def test_a_step_that_was_recorded_is_never_left_out_of_the_path():
    facts = {"conditioner": "none"}
    assert "condition" not in keys(suited(PATHS["stain"], facts, False))
    path = suited(PATHS["stain"], facts, False, frozenset({"condition"}))
    assert "condition" in keys(path)


def test_old_paint_that_nobody_tested_is_lead_unknown():
    assert lead_of({"old finish": "none"}) is Lead.NO_OLD_PAINT
    assert lead_of({"old finish": "clear", "age": "before 1978"}) is Lead.NO_OLD_PAINT
    assert lead_of({"old finish": "paint"}) is Lead.UNKNOWN
    assert lead_of({"old finish": "unknown"}) is Lead.UNKNOWN
    assert lead_of({"old finish": "paint", "lead": "tested free"}) is Lead.TESTED_FREE
    assert lead_of({"lead": "wet"}) is Lead.WET


def test_what_nobody_has_said_is_not_asked_and_of_a_likely_age_not_known():
    assert lead_of({}) is Lead.NOT_ASKED
    assert lead_of({"age": "1978 or later"}) is Lead.NOT_ASKED
    assert lead_of({"age": "before 1978"}) is Lead.UNKNOWN
    assert lead_of({"age": "unknown"}) is Lead.UNKNOWN
    assert lead_of({"age": "before 1978", "lead": "tested free"}) is Lead.TESTED_FREE


@pytest.mark.parametrize("key", list(KINDS))
def test_every_answer_that_is_offered_is_taken_and_others_are_told(key):
    words = {AWAY: ("2026-12-04", "back"), KIND: ("chest", "perhaps", "nan")}
    open_ = words.get(key, ("450", "12.5"))
    for answer in KINDS[key].answers or open_:
        assert fact_fault(key, answer) == ""
    for nonsense in ("perhaps", "", "nan", "-3"):
        assert fact_fault(key, nonsense) or nonsense in words.get(key, ())


def test_what_is_not_asked_is_told_with_what_is():
    assert "veneer" in fact_fault("weather", "yes")
    assert fact_fault(f"{NO_MASK}C1 rails", "yes") == ""
    assert fact_fault(f"{NO_MASK}C1 rails", "maybe")
