"""Steps and paths as a face knows them: what is due for it, and which waits count."""

from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.finish.steps import After, FinishPath, Operation, PathKind, Per, Step
from partsbench.core.sources import Source, Status
from tests.support.faces import hours

WAIT = After("wash", hours("1 h"), only_when="damp")
PLAIN = Step("wash", "Wash", "washed", Operation.WASH)
CASE = Step(
    "seal", "Seal", "sealed", Operation.SEAL, optional=True, only_when="seam", after=(WAIT,)
)
PATH = FinishPath("own", "Own", PathKind.PAINT, (PLAIN, CASE))


@pytest.mark.parametrize(
    ("known", "optional", "waits_for"),
    [
        (set(), True, "damp"),
        ({"other"}, True, "damp"),
        ({"seam"}, False, "damp"),
        ({"damp"}, True, ""),
        ({"seam", "damp"}, False, ""),
    ],
)
def test_a_case_that_is_known_makes_its_step_due_and_its_wait_count(
    known: set[str], optional: bool, waits_for: str
) -> None:
    found = CASE.suited(frozenset(known))
    assert (found.optional, found.after[0].only_when) == (optional, waits_for)
    assert found.after[0].earliest == hours("1 h")


def test_of_two_waits_only_that_of_the_known_case_counts() -> None:
    both = replace(CASE, after=(replace(WAIT, only_when="old"), WAIT))
    found = both.suited(frozenset({"damp"}))
    assert [a.only_when for a in found.after] == ["old", ""]


def test_a_step_that_is_always_due_stays_as_it_is() -> None:
    assert PLAIN.suited(frozenset({"seam"})) is PLAIN
    assert not PLAIN.optional and not PLAIN.tinted
    free = replace(PLAIN, optional=True)
    assert free.suited(frozenset({"seam"})).optional, "optional for a reason of its own"


def test_a_path_for_a_face_has_the_steps_of_its_cases() -> None:
    def keys(path: FinishPath) -> list[str]:
        return [s.key for s in path.steps]

    assert keys(PATH.given(frozenset())) == ["wash"]
    assert keys(PATH.given(frozenset({"seam"}))) == ["wash", "seal"]
    no = frozenset({"seam"})
    assert keys(PATH.suited(frozenset(), no)) == ["wash"]
    assert PATH.suited(frozenset(), frozenset()) is PATH
    open_ = PATH.suited(frozenset({"other"}), frozenset())
    assert keys(open_) == ["wash", "seal"] and open_.steps[1].optional
    assert PATH.suited(frozenset({"other"}), frozenset()) is open_, "the very same path again"


def test_steps_are_found_by_their_keys() -> None:
    assert (PATH.step("seal"), PATH.index("seal")) == (CASE, 1)
    assert (PATH.step("sand"), PATH.index("sand")) == (None, None)
    twice = replace(PATH, steps=(PLAIN, CASE, replace(PLAIN, name="Again")))
    assert twice.index("wash") == 0, "the first of two"


def test_work_is_counted_by_the_part_where_its_figure_is() -> None:
    assert replace(PLAIN, minutes_per_part=8.0, minutes_per_face=2.0).per is Per.PART
    assert replace(PLAIN, minutes_per_face=2.0).per is Per.FACE
    assert PLAIN.per is Per.FACE


def test_the_paths_own_product_comes_first_of_what_a_step_takes() -> None:
    assert PLAIN.products == ()
    assert replace(PLAIN, takes=("b",)).products == ("b",)
    assert replace(PLAIN, product="a", takes=("b",)).products == ("a", "b")


def test_a_figure_has_its_own_source() -> None:
    grit = Source("a page", Status.TRADE_PRESS, "grit")
    step = replace(PLAIN, sources=(replace(grit, figure="latest"), grit))
    assert step.source_of("grit") == grit
    assert step.source_of("earliest") is None
