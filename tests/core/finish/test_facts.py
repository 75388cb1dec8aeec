from __future__ import annotations

from datetime import date

import pytest

from partsbench.core.finish.facts import (
    ARRIVES,
    AWAY,
    IN_MM,
    KIND,
    KINDS,
    LONGEST_KIND,
    NO_MASK,
    arrives_on,
    away_until,
    cases,
    face_facts,
    fact_fault,
    not_masked,
    suited,
)
from partsbench.core.finish.old_finish import Lead
from partsbench.core.finish.situation import FaceFacts
from partsbench.core.piece.spot import Spot
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


@pytest.mark.parametrize("key", list(KINDS))
def test_every_answer_that_is_offered_is_taken_and_others_are_told(key):
    words = {
        AWAY: ("2026-12-04", "back"),
        ARRIVES: ("2026-12-04",),
        KIND: ("chest", "perhaps", "nan"),
    }
    open_ = words.get(key, ("450", "12.5"))
    for answer in KINDS[key].answers or open_:
        assert fact_fault(key, answer) is None
    for nonsense in ("perhaps", "", "nan", "-3"):
        assert fact_fault(key, nonsense) or nonsense in words.get(key, ())


def test_what_is_not_asked_is_told_with_what_is():
    unknown = fact_fault("weather", "yes")
    assert unknown is not None and "veneer" in unknown.sentence
    assert fact_fault(f"{NO_MASK}C1 rails", "yes") is None
    assert fact_fault(f"{NO_MASK}C1 rails", "maybe")


def test_only_a_yes_spares_the_tape_beside_a_face():
    said = {f"{NO_MASK}C1 rails": "yes", f"{NO_MASK}D2 front": "no", "veneer": "yes"}
    assert not_masked(said) == {Spot("C1", "rails")}


@pytest.mark.parametrize("key", ["depth mm", "thickness mm"])
def test_a_size_is_over_nothing_and_at_most_ten_metres(key):
    said = {size: fact_fault(key, size) is None for size in ("0", "0.1", "10000", "10000.1")}
    assert said == {"0": False, "0.1": True, "10000": True, "10000.1": False}


def test_a_kind_is_one_short_word():
    assert fact_fault(KIND, "c" * LONGEST_KIND) is None
    for nonsense in ("c" * (LONGEST_KIND + 1), "1978"):
        said = fact_fault(KIND, nonsense)
        assert said is not None and "as in chest" in said.sentence


@pytest.mark.parametrize(
    ("facts", "yes", "no"),
    [
        ({}, set(), set()),
        ({"bleeds": "yes", "third topcoat": "no"}, {"bleeds"}, {"third_topcoat"}),
        ({"second stain": "yes", "seal coat": "no"}, {"second_stain"}, {"seal_coat"}),
        ({"conditioner": "oil"}, {"conditioner_oil"}, {"conditioner_water"}),
        ({"conditioner": "none"}, set(), {"conditioner_oil", "conditioner_water"}),
        ({"old finish": "paint"}, {"old_finish"}, set()),
        ({"old finish": "clear"}, {"old_finish"}, set()),
        ({"old finish": "none"}, set(), {"old_finish"}),
        ({"repairs": "open"}, {"repairs"}, set()),
        ({"repairs": "done"}, set(), set()),
        ({"repairs": "none"}, set(), {"repairs"}),
        ({"veneer": "yes"}, set(), set()),
    ],
)
def test_which_cases_are_known_to_be_so_and_which_not(facts, yes, no):
    assert cases(facts, seam=False) == (yes, no)
    assert cases(facts, seam=True) == (yes | {"seam"}, no)


@pytest.mark.parametrize(
    ("facts", "known"),
    [
        ({}, {}),
        ({"veneer": "yes", "silicone": "no"}, {"veneer": True}),
        ({"silicone": "yes", "veneer": "no"}, {"silicone": True}),
        ({"bleeds": "yes"}, {"bleeds": True, "bleeds_said": True}),
        ({"bleeds": "no"}, {"bleeds_said": True}),
        ({"patch tested": "yes"}, {"tested_patch": True}),
        ({"patch tested": "no"}, {}),
        ({"repairs": "open"}, {"repairs_open": True}),
        ({"repairs": "done"}, {}),
    ],
)
def test_facts_as_the_rules_read_them(facts, known):
    """What nobody said is not taken for so; whether it bleeds is also asked for."""
    unsaid = {"bleeds_said": False, "upright": False, "sand_backs": 2}
    found = face_facts(Spot("D1", "front"), facts, False, 2, found_elsewhere=False)
    assert found == FaceFacts(Spot("D1", "front"), found.old, **{**unsaid, **known})
    assert found.old.lead is Lead.NOT_SAID
    elsewhere = face_facts(Spot("D1", "front"), facts, True, 0, found_elsewhere=True)
    assert elsewhere.old.lead is not Lead.NOT_SAID and elsewhere.upright


def test_days_are_told_as_days():
    assert away_until({AWAY: "2026-12-04"}) == arrives_on({ARRIVES: "2026-12-04"})
    assert away_until({AWAY: "2026-12-04"}) == date(2026, 12, 4)
    assert away_until({AWAY: "back"}) is None
    assert (away_until({}), arrives_on({})) == (None, None)


def test_only_what_is_typed_in_mm_is_a_size():
    assert {"depth mm", "thickness mm"} == IN_MM
