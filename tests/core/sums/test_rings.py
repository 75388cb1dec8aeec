from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from partsbench.core.sums.rings import BENCH, Bench, Move, moves, places_needed, rings, sentence

State = tuple[tuple[int | None, ...], frozenset[int]]
"""Who sits in home 0, 1, 2 ... (None: empty), and who stands on the bench."""


def neighbours(state: State, places: int) -> Iterator[State]:
    """Every state one carry away; `places` is all the room there is on the bench."""
    seats, bench = state
    empty = [home for home, part in enumerate(seats) if part is None]
    for home, part in enumerate(seats):
        if part is None:
            continue
        left = (*seats[:home], None, *seats[home + 1 :])
        for target in empty:
            yield (*left[:target], part, *left[target + 1 :]), bench
        if len(bench) < places:
            yield left, bench | {part}
    for part in bench:
        for target in empty:
            yield (*seats[:target], part, *seats[target + 1 :]), bench - {part}


def distances(start: State, places: int) -> dict[State, int]:
    """The fewest carries from `start` to each state, by plain breadth-first search."""
    far = {start: 0}
    queue = deque([start])
    while queue:
        state = queue.popleft()
        for following in neighbours(state, places):
            if following not in far:
                far[following] = far[state] + 1
                queue.append(following)
    return far


def replay(seating: dict[int, int], done: list[Move[int, int]], places: int) -> dict[int, int]:
    """Who sits where after the moves; fails where a move is not possible."""
    seats = dict(seating)
    on_bench: set[int] = set()
    for move in done:
        if isinstance(move.source, Bench):
            on_bench.discard(move.part)
        else:
            assert seats.pop(move.source) == move.part
        if isinstance(move.target, Bench):
            on_bench.add(move.part)
        else:
            assert move.target not in seats
            seats[move.target] = move.part
        assert len(on_bench) <= places
    return seats


@pytest.mark.parametrize("free", [1, 2])
def test_every_order_of_seven_takes_the_fewest_moves_there_are(free: int) -> None:
    home = tuple(range(7))
    far = distances((home, frozenset()), free)  # moves can be taken back: as far there as back
    for order in permutations(range(7)):
        seating = dict(enumerate(order))
        done = moves(seating, {p: p for p in home}, free)
        assert replay(seating, done, free) == dict(enumerate(home))
        assert len(done) == far[(order, frozenset())]


@st.composite
def messes(draw: st.DrawFn) -> tuple[dict[int, int], dict[int, int], int]:
    """Up to five homes and five parts; some homes empty, some parts on the bench or homeless."""
    parts = draw(st.permutations(range(5)))
    homes = draw(st.permutations(range(5)))
    known, seated = draw(st.integers(0, 5)), draw(st.integers(0, 5))
    homes_of = dict(zip(range(known), homes, strict=False))
    return dict(zip(range(seated), parts, strict=False)), homes_of, draw(st.integers(1, 2))


@settings(deadline=None)  # the search that checks it may take its time
@given(messes())
def test_empty_homes_parts_on_the_bench_and_strangers(
    mess: tuple[dict[int, int], dict[int, int], int],
) -> None:
    seating, homes_of, free = mess
    free = max(free, places_needed(seating, homes_of))
    waiting = frozenset(p for p in homes_of if p not in seating.values())
    start = tuple(seating.get(home) for home in range(5)), waiting
    done = moves(seating, homes_of, free)
    after = replay(seating, done, len(waiting) + free)
    assert all(after[home] == part for part, home in homes_of.items())
    fewest = min(
        count
        for (seats, _), count in distances(start, len(waiting) + free).items()
        if all(seats[home] == part for part, home in homes_of.items())
    )
    assert len(done) == fewest


def test_a_ring_of_three_reads_as_one_says_it() -> None:
    seating = {"2": "D7", "5": "D2", "7": "D5"}
    homes_of = {"D2": "2", "D5": "5", "D7": "7"}
    done = moves({"5": "D2", "7": "D5", "2": "D7"}, homes_of)
    assert sentence(done) == "D2 to the bench, D5 to 5, D7 to 7, D2 to 2. Four moves."
    assert len(rings(seating, homes_of)) == 1


def test_several_rings_take_one_move_more_for_each() -> None:
    order = [1, 0, 3, 4, 2, 5]
    done = moves(dict(enumerate(order)), {p: p for p in range(6)})
    assert len(done) == 5 + 2
    assert sorted(map(len, rings(dict(enumerate(order)), {p: p for p in range(6)}))) == [2, 3]


def test_an_empty_home_saves_the_bench() -> None:
    done = moves({"4": "D3", "5": "D4"}, {"D3": "3", "D4": "4"}, free=0)
    assert done == [Move("D3", "4", "3"), Move("D4", "5", "4")]


def test_a_part_from_the_bench_goes_straight_home() -> None:
    assert moves({}, {"D1": "1"}) == [Move("D1", BENCH, "1")]


def test_a_stranger_stays_put_until_its_seat_is_wanted() -> None:
    assert moves({"1": "stranger", "2": "D2"}, {"D2": "2"}) == []
    assert moves({"2": "stranger"}, {"D2": "2"}) == [
        Move("stranger", "2", BENCH),
        Move("D2", BENCH, "2"),
    ]


def test_all_at_home_says_so() -> None:
    assert sentence(moves({"1": "D1"}, {"D1": "1"})) == "No part sits in a wrong home."


@pytest.mark.parametrize(
    ("seating", "homes_of", "free", "why"),
    [
        ({"1": "D2", "2": "D1"}, {"D1": "1", "D2": "2"}, 0, "need 1 free places, there are 0"),
        ({"1": "x", "2": "y"}, {"D1": "1", "D2": "2"}, 1, "need 2 free places, there are 1"),
        ({}, {"D1": "1", "D2": "1"}, 1, "two parts with one home"),
        ({"1": "D1", "2": "D1"}, {"D1": "1"}, 1, "one part in two seats"),
    ],
)
def test_what_cannot_be_is_refused(
    seating: dict[str, str], homes_of: dict[str, str], free: int, why: str
) -> None:
    with pytest.raises(ValueError, match=why):
        moves(seating, homes_of, free)


def test_one_move_is_one_and_ten_are_counted_in_figures() -> None:
    assert sentence(moves({"4": "D3"}, {"D3": "3"}, free=0)) == "D3 to 3. One move."
    nine = {place: (place + 1) % 9 for place in range(9)}
    assert sentence(moves(nine, {part: part for part in range(9)})).endswith(" 10 moves.")
    assert sentence(moves(nine, {part: part for part in range(9)})[:9]).endswith(" Nine moves.")


def test_a_bench_has_one_place_free_unless_more_is_said() -> None:
    """Two strangers sit where two drawers on the bench belong."""
    with pytest.raises(ValueError, match="need 2 free places"):
        moves({"1": "X1", "2": "X2"}, {"D1": "1", "D2": "2"})
