from __future__ import annotations

import pytest

from partsbench.core.finish.facts import (
    ARRIVES,
    AWAY,
    KIND,
    KINDS,
    NO_MASK,
    cases,
    fact_fault,
    not_masked,
    suited,
)
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
