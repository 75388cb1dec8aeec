from __future__ import annotations

import pytest

from partsbench.reading.bare import ACROSS, BEFORE_S, DOWN, MOVED, SHARE, BarePlaces, place_of

BENCH = bytes([120] * (ACROSS * DOWN))
PLACE = tuple(range(40, 52))
STEP = 0.1


def with_label(at: tuple[int, ...] = PLACE, grey: int = 200) -> bytes:
    return changed(BENCH, dict.fromkeys(at, grey))


def changed(blocks: bytes, greys: dict[int, int]) -> bytes:
    return bytes(greys.get(n, grey) for n, grey in enumerate(blocks))


def after_label(before: bytes = BENCH, label: bytes | None = None, seconds: float = 1.5,
                ) -> BarePlaces:  # fmt: skip
    """A bench that was free for so long, then had a label before it."""
    bare = BarePlaces()
    for n in range(round(seconds / STEP)):
        assert bare.look(before, n * STEP, {}, (), True) == frozenset()
    shown = with_label() if label is None else label
    assert bare.look(shown, seconds, {"D1": PLACE}, (), False) == frozenset()
    return bare


def away(bare: BarePlaces, blocks: bytes, known: tuple[str, ...] = ("D1",)) -> bool:
    return bare.look(blocks, 9.0, {}, known, False) == frozenset({"D1"})


def test_a_picture_as_before_shows_that_the_label_is_away() -> None:
    assert away(after_label(), BENCH)
    assert not away(after_label(), with_label())


def test_a_label_that_is_elsewhere_in_the_picture_is_not_away() -> None:
    for at in (tuple(range(100, 112)), PLACE[6:], tuple(range(100, 104))):
        assert not away(after_label(), with_label(at))


def test_next_to_nothing_may_be_new_elsewhere_and_nothing_in_its_place() -> None:
    most = len(PLACE) // SHARE
    assert away(after_label(), with_label(tuple(range(100, 100 + most))))
    assert not away(after_label(), with_label(tuple(range(100, 101 + most))))
    assert not away(after_label(), with_label(PLACE[:1]))


@pytest.mark.parametrize(("step", "said"), [(MOVED, True), (MOVED + 1, False)])
def test_noise_is_nothing_new(step: int, said: bool) -> None:
    assert away(after_label(), bytes(grey + step for grey in BENCH)) is said
    assert away(after_label(), bytes(grey - step for grey in BENCH)) is said


@pytest.mark.parametrize(("step", "said"), [(MOVED, False), (MOVED + 1, True)])
def test_a_label_that_looks_like_the_bench_is_never_seen_to_be_away(step: int, said: bool) -> None:
    assert away(after_label(label=with_label(grey=120 + step)), BENCH) is said
    assert away(after_label(label=with_label(grey=120 - step)), BENCH) is said


def test_the_bench_is_that_of_a_while_before_the_label_which_comes_as_a_blur() -> None:
    bare = after_label()
    for n in range(5):
        bare.look(with_label(), 20 + n * STEP, {}, (), True)
    bare.look(with_label(), 20.5, {"D1": PLACE}, (), False)
    assert away(bare, BENCH)


def test_without_a_free_bench_for_long_enough_nothing_is_known() -> None:
    assert not away(after_label(seconds=BEFORE_S), BENCH)
    assert away(after_label(seconds=BEFORE_S + 2 * STEP), BENCH)
    bare = BarePlaces()
    bare.look(with_label(), 0.0, {"D1": PLACE}, (), False)
    assert not away(bare, BENCH)


def test_the_newest_bench_counts() -> None:
    bare = after_label()
    lit = bytes(grey - 60 for grey in BENCH)
    for n in range(15):
        bare.look(lit, 20 + n * STEP, {}, (), True)
    bare.look(with_label(), 22.0, {"D1": PLACE}, (), False)
    assert not away(bare, BENCH)
    assert away(bare, lit)


def test_what_is_read_or_no_longer_known_is_not_told_and_another_camera_knows_nothing() -> None:
    assert after_label().look(BENCH, 9.0, {"D1": PLACE}, ("D1",), False) == frozenset()
    assert not away(after_label(), BENCH, known=())
    assert not away(after_label(), BENCH[:-1])


def test_the_place_of_a_symbol_is_its_blocks_and_the_paper_round_it() -> None:
    block = 10
    square = ((50, 50), (70, 50), (70, 70), (50, 70))
    found = place_of(square, ACROSS * block, DOWN * block)
    assert found == tuple(row * ACROSS + column for row in range(4, 9) for column in range(4, 9))


def test_a_place_ends_where_the_picture_ends() -> None:
    wide = ((-30.0, 0.0), (500.0, 0.0), (500.0, 600.0), (-30.0, 600.0))
    assert place_of(wide, 160, 120) == tuple(range(ACROSS * DOWN))
