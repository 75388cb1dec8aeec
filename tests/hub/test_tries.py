"""Wrong tries at pairing wait longer and longer."""

from __future__ import annotations

from partsbench.hub.tries import FREE, LONGEST, MOST_KEPT, Tries


def test_each_wrong_try_doubles_the_wait_up_to_a_limit() -> None:
    tries, waits = Tries(), []
    for _ in range(15):
        tries.failed("a", 0.0)
        waits.append(tries.wait("a", 0.0))
    assert waits[:6] == [0, 0, 2, 4, 8, 16]
    assert waits[-1] == LONGEST
    assert tries.wait("a", LONGEST - 1) == 1
    assert tries.wait("a", LONGEST) == 0
    assert tries.wait("b", 0.0) == 0


def test_a_right_one_forgives() -> None:
    tries = Tries()
    for _ in range(FREE + 2):
        tries.failed("a", 0.0)
    tries.succeeded("a")
    assert tries.wait("a", 0.0) == 0


def test_many_addresses_do_not_fill_the_memory() -> None:
    tries = Tries()
    for number in range(MOST_KEPT * 2):
        tries.failed(str(number), 0.0)
    assert len(tries.wrong) == MOST_KEPT
