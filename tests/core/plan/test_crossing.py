"""What an order of the work takes over from two that are known, and what is changed in one."""

from __future__ import annotations

from random import Random

import pytest

from partsbench.core.plan import crossing
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.workshop import SprayGun, Stint, Workshop
from tests.support import workshops

SEEDS = range(40)


def floor(*stints: Stint, cup: float = 250.0) -> Floor:
    return Floor(Workshop(stints, (), (workshops.worker(),), SprayGun(10, 15, cup)))


def stint(key: str, piece: str = "A", mix: str = "", ml: float = 0.0) -> Stint:
    return Stint(key, piece, key, 10, "colour" if mix else "sand", mix=mix, ml=ml)


THREE = floor(*(stint(f"{p}{n}", p) for p in "ABC" for n in (1, 2)))


def test_some_pieces_are_of_the_one_and_the_others_of_the_other() -> None:
    one, two = [1.0] * 6, [2.0] * 6
    found = {tuple(crossing.by_piece(THREE, one, two, Random(s))) for s in SEEDS}
    assert all(x[0] == x[1] and x[2] == x[3] and x[4] == x[5] for x in found)
    assert {x[::2] for x in found} == {
        (1, 2, 2), (2, 1, 2), (2, 2, 1), (1, 1, 2), (1, 2, 1), (2, 1, 1),
    }  # fmt: skip
    alone = floor(stint("a"), stint("b"))
    assert crossing.by_piece(alone, [1.0, 2.0], [3.0, 4.0], Random(0)) == [1.0, 2.0]


def turn(turns: list[float]) -> str:
    return "".join("abcd"[i] for i in sorted(range(len(turns)), key=lambda i: turns[i]))


def test_up_to_a_moment_the_order_is_of_the_one_and_then_of_the_other() -> None:
    """One is abcd, the other dcba: the first so many stay and the rest turn round, or the first
    turn round and the rest stay."""
    one, two = [0.0, 10.0, 20.0, 30.0], [30.0, 20.0, 10.0, 0.0]
    found = {turn(crossing.by_time(one, two, Random(s))) for s in SEEDS}
    later = {"adcb", "abdc", "abcd"}
    sooner = {"abcd", "bacd", "cbad", "dcba"}
    assert found == later | sooner


@pytest.mark.parametrize("seed", SEEDS)
def test_what_comes_first_stays_before_what_comes_later(seed: int) -> None:
    random = Random(seed)
    one, two = ([float(random.randrange(2000)) for _ in range(6)] for _ in range(2))
    found = crossing.by_time(one, two, random)
    kept = [
        at
        for at in one
        if max(f for f, a in zip(found, one, strict=True) if a <= at)
        <= min((f for f, a in zip(found, one, strict=True) if a > at), default=1e9)
    ]
    assert kept, "at one moment nothing passes over it"


def test_a_move_takes_a_batch_or_a_stretch_of_a_piece_or_one_along() -> None:
    turns = [0.0, 100.0, 200.0, 300.0, 400.0, 500.0]
    batches = ((0, 1), (2, 3))
    seen = set()
    for seed in range(400):
        found = crossing.moved(THREE, turns, batches, Random(seed))
        seen.add(tuple(i for i in range(6) if found[i] != turns[i]))
    assert {(0,), (1,), (0, 1), (2, 3), (4,), (5,), (4, 5)} <= seen
    assert turns == [0.0, 100.0, 200.0, 300.0, 400.0, 500.0], "the one that is known stays"


def test_a_move_is_sooner_or_later_by_minutes_up_to_days() -> None:
    by = [crossing.moved(floor(stint("a")), [0.0], (), Random(s))[0] for s in range(300)]
    assert min(by) < -1440
    assert max(by) > 1440
    assert min(abs(x) for x in by) < 60


COATS = floor(
    stint("a", mix="m", ml=100.0), stint("b", mix="m", ml=100.0), stint("c", mix="m", ml=100.0),
    stint("n", mix="n", ml=100.0), stint("d"),
)  # fmt: skip


def loads(batches: crossing.Batches) -> set[crossing.Batches | None]:
    start = [0.0, 10.0, 20.0, 30.0, 40.0]
    return {crossing.other_loads(COATS, start, batches, Random(s)) for s in range(200)}


def test_another_load_joins_what_is_alike_in_the_order_of_its_starts() -> None:
    assert loads(()) == {((0, 1),), ((0, 2),), ((1, 2),), None}


def test_a_load_lets_one_go_or_takes_another_as_far_as_the_cup_goes() -> None:
    found = loads(((0, 1),))
    assert () in found, "one of two is taken out"
    assert {((0, 2),), ((1, 2),)} <= found, "one goes over to another cup"
    assert all(x is None or all(len(load) == 2 for load in x) for x in found)


def test_where_nothing_is_sprayed_there_is_no_other_load() -> None:
    assert crossing.other_loads(THREE, [0.0] * 6, (), Random(0)) is None


def test_what_comes_out_is_what_came_out_before() -> None:
    """Pinned: other shares of the ways give turns that are as right, and that only a long
    comparison would show to be worse. Of three hundred, all added up by their places."""
    one, two = [0.0, 90.0, 190.0, 300.0, 400.0, 4000.0], [500.0, 30.0, 310.0, 9.0, 11.0, 60.0]

    def all_of(turns: list[list[float]]) -> int:
        return round(sum((i + 1) * t for each in turns for i, t in enumerate(each)))

    draws = [Random(s) for s in range(300)]
    assert (
        all_of([crossing.by_piece(THREE, one, two, r) for r in draws]),
        all_of([crossing.by_time(one, two, r) for r in draws]),
        all_of([crossing.moved(THREE, one, ((0, 1), (2, 3)), r) for r in draws]),
    ) == (4428124, 7182878, 8314661)
    made = [crossing.other_loads(COATS, one[:5], ((0, 1),), r) for r in draws]
    assert [made.count(some) for some in (None, (), ((0, 2),), ((1, 2),))] == [176, 81, 18, 25]


def test_a_moment_itself_belongs_to_what_comes_first() -> None:
    """At the last moment of all, nothing comes later."""
    one, two = [5.0, 5.0], [7.0, 1.0]
    assert {tuple(crossing.by_time(one, two, Random(s))) for s in SEEDS} == {(5, 5), (5, -1)}
