from __future__ import annotations

from collections.abc import Iterable

import pytest

from partsbench.core.piece.codes import Code, Family
from partsbench.reading.held import (
    AGAIN_S,
    FORGOTTEN_S,
    GONE_S,
    MOST_TRIES,
    MOVED,
    STALL_S,
    STILL_S,
    WALL_LOOKS,
    Counts,
    HeldUp,
    Stillness,
)
from tests.support.wall import verb_named

D1, D2, D3, D4 = (str(Code("ZZZ9", Family.DRAWER, n)) for n in range(1, 5))
WALL = verb_named("UNDO").code
STEP = 0.1


def counted(held: HeldUp, looks: Iterable[tuple[str, ...]], *, begin: float = 0.0,
            bare: bool = False) -> list[str]:  # fmt: skip
    """What counts in looks a tenth of a second apart, of a picture that always moves. "D1 again"
    for what is only seen again; `bare`: what is not read is seen to be away."""
    said = []
    for n, texts in enumerate(looks):
        away = [c for c in (D1, D2, D3, D4, WALL) if bare and c not in texts]
        counts = held.look(texts, begin + n * STEP, bare=away)
        said += [*counts.new, *(f"{code} again" for code in counts.again)]
    return said


def test_a_label_counts_at_once_and_no_more_while_it_is_there() -> None:
    assert HeldUp().look([D1, D1], 0.0) == Counts((D1,))
    assert counted(HeldUp(), [(D1,)] * 100) == [D1]


@pytest.mark.parametrize(("away", "times"), [(GONE_S - 0.3, 1), (GONE_S + 0.3, 2)])
def test_it_counts_anew_only_after_it_was_seen_to_be_away_long_enough(
    away: float, times: int
) -> None:
    looks = [(D1,), *[()] * round(away / STEP), (D1,)]
    assert counted(HeldUp(), looks, bare=True) == [D1] * times


@pytest.mark.parametrize(("blurred", "said"), [(GONE_S - 0.3, []), (GONE_S + 0.3, [f"{D1} again"]),
                                               (30, [f"{D1} again"])])  # fmt: skip
def test_one_that_was_only_not_read_is_seen_again_and_no_scan(
    blurred: float, said: list[str]
) -> None:
    looks = [(D1,), *[()] * round(blurred / STEP), *[(D1,)] * 5]
    assert counted(HeldUp(), looks) == [D1, *said]


def test_after_a_minute_unread_it_counts_whatever_is_seen() -> None:
    looks = [(D1,), *[()] * round((FORGOTTEN_S + 0.3) / STEP), (D1,)]
    assert counted(HeldUp(), looks) == [D1, D1]


def test_it_is_away_when_another_came_and_it_was_not_read_for_long_enough() -> None:
    assert counted(HeldUp(), [(D1,), *[(D2,)] * 25, (D1,)]) == [D1, D2, D1]
    assert counted(HeldUp(), [(D1,), *[(D2,)] * 15, (D1,)]) == [D1, D2]
    short = [(D1,), (D2,), (D1, D2), *[(D2,)] * 25, (D1, D2)]
    assert counted(HeldUp(), short) == [D1, D2, f"{D1} again"]


def test_a_bare_place_must_be_bare_all_the_time() -> None:
    held = HeldUp()
    held.look([D1], 0.0)
    for n in range(1, 30):
        held.look([], n * STEP, bare=[D1] if n % 15 else [])
    assert held.look([D1], 3.0) == Counts(again=(D1,))


def test_short_absences_do_not_add_up() -> None:
    assert counted(HeldUp(), [(D1,), *[()] * 12] * 6) == [D1]
    assert counted(HeldUp(), [(D1,), *[()] * 12] * 6, bare=True) == [D1]


def test_a_label_that_lies_still_unread_is_not_away() -> None:
    held = HeldUp()
    assert held.look([D1], 0.0) == Counts((D1,))
    for n in range(1, 60):
        assert held.look([], n * STEP, moved=False) == Counts()
    assert held.look([D1], 6.0, moved=False) == Counts()


@pytest.mark.parametrize(("gap", "said"), [(1.5, Counts()), (30, Counts(again=(D1,))),
                                           (FORGOTTEN_S, Counts((D1,)))])  # fmt: skip
def test_a_camera_that_stalls_or_was_off_says_nothing_of_what_was_meanwhile(
    gap: float, said: Counts
) -> None:
    held = HeldUp()
    assert counted(held, [(D1,), ()]) == [D1]
    assert held.look([], gap + STEP) == Counts()
    assert held.look([D1], gap + 2 * STEP) == said


def test_an_absence_begins_anew_after_a_stall() -> None:
    held = HeldUp()
    counted(held, [(D1,), *[()] * 12])
    counted(held, [()] * 12, begin=1.2 + STALL_S + STEP)
    assert held.look([D1], 3.7) == Counts()


def test_two_labels_count_each_and_three_not_at_all() -> None:
    assert counted(HeldUp(), [(D1, D2)] * 5) == [D1, D2]
    held = HeldUp()
    assert counted(held, [(D1, D2, D3)] * 5) == []
    assert held.crowded


def test_a_sheet_that_is_read_by_halves_still_counts_for_nothing() -> None:
    assert counted(HeldUp(), [(D1, D2, D3), (D4,), (D2,), (D4, D1)] * 20) == []


def test_a_sheet_that_stayed_long_is_a_sheet_to_its_last_look() -> None:
    assert counted(HeldUp(), [*[(D1, D2, D3)] * 40, *[(D4,)] * 15]) == []


def test_after_the_sheet_is_away_a_label_counts_again() -> None:
    held = HeldUp()
    counted(held, [(D1, D2, D3)])
    assert counted(held, [(D4,)] * 30, begin=STEP) == [D4]
    assert not held.crowded


def test_a_code_of_the_wall_must_be_read_alone_and_more_than_once() -> None:
    assert counted(HeldUp(), [(WALL,)] * (WALL_LOOKS - 1)) == []
    assert counted(HeldUp(), [(WALL,)] * WALL_LOOKS) == [WALL]
    assert counted(HeldUp(), [(WALL,)] * 30) == [WALL]
    assert counted(HeldUp(), [(WALL, D1)] * 30) == [D1]
    blurred = [*[(WALL,)] * WALL_LOOKS, *[()] * 25, *[(WALL,)] * 9]
    assert counted(HeldUp(), blurred) == [WALL]
    assert counted(HeldUp(), blurred, bare=True) == [WALL, WALL]


def test_what_the_last_resort_read_counts_once_and_is_then_only_seen_again() -> None:
    held = HeldUp()
    assert held.found([D1]) == Counts((D1,))
    assert counted(held, [()] * 60) == []
    assert held.found([D1]) == Counts()
    held.nothing_left()
    assert held.found([D1]) == Counts(again=(D1,))
    assert held.found([D1]) == Counts()
    counted(held, [()] * 25, begin=10.0, bare=True)
    assert held.found([D1]) == Counts((D1,))


def test_what_the_last_resort_read_and_is_then_read_plainly_is_the_same_label() -> None:
    held = HeldUp()
    held.found([D1])
    assert counted(held, [(D1,)] * 5) == []
    assert counted(held, [*[()] * 25, (D1,)], begin=1.0) == [f"{D1} again"]


def test_a_guess_is_asked_about_once_and_counts_when_it_is_read() -> None:
    held = HeldUp()
    assert held.found([D1], asked=True) == Counts((D1,))
    assert held.found([D1], asked=True) == Counts()
    assert held.look([D1], 0.0) == Counts((D1,))


def test_a_guess_that_was_taken_does_not_count_once_more() -> None:
    held = HeldUp()
    held.found([D1], asked=True)
    held.took(D1)
    held.took(D2)
    assert held.look([D1], 0.0) == Counts()
    assert held.look([D1, D2], 0.1) == Counts((D2,))


# What stands still

GREY = bytes([100] * 12)
OTHER = bytes([100] * 11 + [100 + MOVED + 1])
SAME = bytes([100] * 11 + [100 + MOVED])


def tries(still: Stillness, blocks: bytes, seconds: float, *, read: bool = False) -> list[float]:
    """When the last resort is tried on a picture that stands, a look each 0.1 s."""
    wanted = []
    for n in range(round(seconds / STEP)):
        still.look(blocks, n * STEP, read)
        if still.wants_more(n * STEP):
            wanted.append(n * STEP)
    return wanted


def test_what_stands_is_tried_after_a_while_and_not_for_ever() -> None:
    still = Stillness()
    wanted = tries(still, GREY, 20)
    assert wanted == pytest.approx([STILL_S + n * AGAIN_S for n in range(MOST_TRIES)], abs=0.11)
    assert still.worn_out
    still.look(OTHER, 20.0, read=False)
    assert not still.worn_out
    assert still.wants_more(21.0)


def test_what_is_read_or_was_found_is_not_tried() -> None:
    assert tries(Stillness(), GREY, 5, read=True) == []
    still = Stillness()
    tries(still, GREY, 1)
    still.settle()
    assert tries(still, GREY, 5) == []


def test_only_a_change_that_is_larger_than_noise_begins_anew() -> None:
    still = Stillness()
    assert still.look(GREY, 0.0, read=True)
    assert not still.look(SAME, 0.1, read=False)
    assert not still.wants_more(5.0)
    assert still.look(OTHER, 5.0, read=False)
    assert not still.wants_more(5.0 + STILL_S - 0.1)
    assert still.wants_more(5.0 + STILL_S + 0.1)
