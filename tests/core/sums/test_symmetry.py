from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.symmetry import Cell, Symmetry, front, pair
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE

HERON = [
    Cell("D1", 0, 0, 200, 150, "stained", "one knob"),
    Cell("D2", 210, 0, 390, 150, "painted", "one pull"),
    Cell("D3", 610, 0, 200, 150, "stained", "one knob"),
    Cell("D4", 0, 160, 400, 200, "painted", "two pulls"),
    Cell("D6", 410, 160, 400, 200, "painted", "two pulls"),
]


def test_a_front_that_answers_itself() -> None:
    assert answered(Symmetry, front(HERON)).sentence == "Left and right answer each other."


def test_a_break_in_finish_and_one_in_pulls() -> None:
    odd = [
        *HERON[:3],
        HERON[3],
        replace(HERON[4], finish="stained", pull=""),
    ]
    answer = answered(Symmetry, front(odd))
    assert answer.breaks[0].sentence == "D4 is painted, its mirror D6 is stained."
    assert answer.breaks[1].sentence == "D4 has two pulls, its mirror D6 has none."
    assert answer.sentence == "D4 is painted, its mirror D6 is stained. 1 more break."


def test_a_wanted_break_is_kept_apart() -> None:
    odd = [*HERON[:4], replace(HERON[4], finish="stained")]
    answer = answered(Symmetry, front(odd, wanted={"D6"}))
    assert answer.breaks == ()
    assert len(answer.wanted) == 1


def test_a_cell_without_a_mirror_is_named() -> None:
    answer = answered(Symmetry, front([*HERON[:4], replace(HERON[4], width=300)]))
    assert [b.sentence for b in answer.breaks] == ["D4 has no mirror.", "D6 has no mirror."]


def test_a_mirrored_pair_of_nightstands() -> None:
    left = [Cell("L1", 0, 0, 100, 90, "painted"), Cell("L2", 110, 0, 300, 90, "stained")]
    right = [Cell("R1", 0, 0, 300, 90, "stained"), Cell("R2", 310, 0, 100, 90, "stained")]
    answer = answered(Symmetry, pair(left, right))
    assert [b.sentence for b in answer.breaks] == ["L1 is painted, its mirror R2 is stained."]
    more = answered(Symmetry, pair(left, [*right, Cell("R3", 0, 100, 410, 90, "painted")]))
    assert "R3 has no mirror." in [b.sentence for b in more.breaks]


@given(
    st.lists(
        st.tuples(
            st.integers(0, 8),
            st.integers(0, 8),
            st.sampled_from(["painted", "stained"]),
            st.sampled_from(["", "knob"]),
        ),
        min_size=1,
        max_size=6,
        unique_by=lambda cell: (cell[0], cell[1]),
    )
)
def test_a_front_beside_its_own_mirror_image_never_breaks(
    drawn: list[tuple[int, int, str, str]],
) -> None:
    one = [Cell(f"a{i}", x * 50, y * 50, 40, 40, f, p) for i, (x, y, f, p) in enumerate(drawn)]
    mirrored = [replace(c, name=c.name.replace("a", "b"), x=1000 - c.x - c.width) for c in one]
    assert answered(Symmetry, pair(one, mirrored)).breaks == ()


@pytest.mark.parametrize("value", NONSENSE)
def test_drawings_that_cannot_be(value: Any) -> None:
    for field in ("width", "height"):
        if value != 1e30:
            assert field in refused(front([replace(HERON[0], **{field: value})]))
    assert refused(front([])) == "front: has no openings."


@pytest.mark.parametrize(("off", "answers"), [(3.0, True), (-3.0, True), (3.01, False)])
@pytest.mark.parametrize("size", ["y", "width", "height"])
def test_three_millimetres_are_within_a_hand_made_front(
    size: str, off: float, answers: bool
) -> None:
    left = Cell("L1", 0, 0, 100, 90, "painted")
    right = replace(left, name="R1", x=200, **{size: getattr(left, size) + off})
    found = answered(Symmetry, pair([left], [replace(right, x=0)]))
    assert (found.breaks == ()) is answers


def test_more_than_one_break_more_and_a_pull_on_one_side_only() -> None:
    odd = [replace(HERON[0], finish="painted", pull=""), *HERON[1:4]]
    odd.append(replace(HERON[4], pull="one pull"))
    said = [b.sentence for b in answered(Symmetry, front(odd)).breaks]
    assert said[1] == "D1 has no pull, its mirror D3 has one knob."
    assert answered(Symmetry, front(odd)).sentence.endswith(" 2 more breaks.")


def test_a_drawing_that_cannot_be_is_refused_on_either_side_of_a_pair() -> None:
    bad = [replace(HERON[0], width=-1.0)]
    assert "width of D1" in refused(pair(bad, HERON))
    assert "width of D1" in refused(pair(HERON, bad))
