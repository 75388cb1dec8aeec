from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from partsbench.core.finish.grits import (
    BETWEEN_SOURCE,
    COARSEST_BEFORE_LAST_COAT,
    COARSEST_LAST,
    FINEST_BEFORE_STAIN,
    GRIT_SOURCE,
    is_jump,
)
from partsbench.trade import load

GRITS = load("grits")
GRAIN = {g["number"]: g["micron"]["value"] for g in GRITS["grit"] if g["system"] == "P"}


# Usual sequences of pages (diyproject.ai: 80, 120, 150, 180, 220; craftedwoodcreations.com:
# 80, 150, 220, 320) are no jumps; 80 to 220 is.
@pytest.mark.parametrize("steps", [(80, 120, 150, 180, 220), (80, 150, 220, 320), (150, 220)])
def test_the_usual_sequences_are_no_jumps(steps):
    assert not any(is_jump(a, b) for a, b in pairwise(steps))


def test_skipping_from_80_to_220_is_one():
    assert is_jump(80, 220)
    assert not is_jump(120, 240)
    assert is_jump(150, 320)
    assert not is_jump(None, 220)
    assert not is_jump(220, 80)


@pytest.mark.parametrize(("before", "after"), list(combinations(sorted(GRAIN), 2)))
def test_numbers_judge_a_jump_as_grain_sizes_do(before, after):
    """Away from the edge of "about double" both tell the same (ISO 6344 averages, P scale)."""
    ratio = GRAIN[before] / GRAIN[after]
    if not 1.8 < ratio < 2.35:
        assert is_jump(before, after) is (ratio > 2)


def test_where_sanding_stops_is_what_the_sources_beside_it_say():
    assert f"{FINEST_BEFORE_STAIN} and stop" in GRIT_SOURCE.text
    assert f"150 to {COARSEST_LAST} for a penetrating stain" in GRIT_SOURCE.text
    assert f"{COARSEST_BEFORE_LAST_COAT} to 320" in BETWEEN_SOURCE.text


@pytest.mark.parametrize(("before", "after", "jump"), [(100, 210, False), (100, 211, True)])
def test_about_double_is_up_to_twice_and_a_tenth(before, after, jump):
    assert is_jump(before, after) is jump
