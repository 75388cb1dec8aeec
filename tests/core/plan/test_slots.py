"""Minutes as bits say what the same minutes say one by one."""

from __future__ import annotations

from random import Random

import pytest

from partsbench.core.plan.slots import LOOK, first, gap, outside, runs, starts, taken

DRAWN = [Random(seed) for seed in range(40)]


def minutes(bits: int) -> set[int]:
    return {t for t in range(bits.bit_length()) if bits >> t & 1}


def drawn(random: Random, most: int = 60) -> int:
    return random.getrandbits(most) & random.getrandbits(most)


def test_a_stretch_takes_its_minutes_up_to_its_end() -> None:
    assert minutes(taken([(2, 4), (7, 8)])) == {2, 3, 7}
    assert taken([(3, 3), (5, 4)]) == 0
    assert minutes(taken([(-3, 2)])) == {0, 1}
    assert taken([(-3, -1)]) == taken([(-3, 0)]) == 0
    assert minutes(taken([(0, 1)])) == {0}
    assert minutes(taken([(-1, 1), (0, 3)])) == {0, 1, 2}


def test_outside_is_every_other_minute_up_to_the_horizon() -> None:
    assert minutes(outside([(1, 3), (5, 6)], 8)) == {0, 3, 4, 6, 7}
    assert minutes(outside([(1, 30)], 8)) == {0}


@pytest.mark.parametrize("random", DRAWN)
def test_starts_are_those_with_so_many_free_minutes_behind_them(random: Random) -> None:
    busy, start, length = drawn(random), random.randrange(50), random.randrange(14)
    look = random.choice((1, 5, 30))
    assert minutes(starts(busy, start, length, look)) == {
        i
        for i in range(look)
        if not any(busy >> t & 1 for t in range(start + i, start + i + max(length, 1)))
    }


@pytest.mark.parametrize("random", DRAWN)
def test_runs_are_the_stretches_and_first_is_the_lowest(random: Random) -> None:
    bits = drawn(random)
    firsts, lasts = runs(bits)
    assert minutes(bits) == {t for a, b in zip(firsts, lasts, strict=True) for t in range(a, b + 1)}
    # They do not touch, and each has a minute at least.
    assert all(a <= b for a, b in zip(firsts, lasts, strict=True))
    assert all(b + 1 < a for a, b in zip(firsts[1:], lasts, strict=False))
    if bits:
        assert first(bits) == min(minutes(bits)) == firsts[0]
    assert runs(0) == ([], [])


@pytest.mark.parametrize("random", DRAWN)
def test_a_gap_is_the_first_with_so_many_free_minutes(random: Random) -> None:
    busy, start, length = drawn(random), random.randrange(50), random.randrange(14)
    at = gap(busy, start, length)
    free = [not any(busy >> t & 1 for t in range(a, a + max(length, 1))) for a in range(start, 99)]
    assert at == start + free.index(True)


@pytest.mark.parametrize("length", [1, LOOK - 1, LOOK, LOOK + 1, 3 * LOOK])
@pytest.mark.parametrize("before", [0, 1, LOOK - 1, LOOK, LOOK + 1, 2 * LOOK + 7])
def test_a_gap_is_found_however_far_and_long_it_is(before: int, length: int) -> None:
    short = 1 | (0b11 << max(length, 2) - 1)
    """Taken, a gap that is too short by one, taken; then for good."""
    busy = (((1 << before) - 1) << 100) | (short << before + 100)
    found = gap(busy, 100, length)
    assert not any(busy >> t & 1 for t in range(found, found + length))
    earlier = range(100, found)
    assert all(any(busy >> t & 1 for t in range(a, a + length)) for a in earlier)
