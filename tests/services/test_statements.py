"""What one event asks of the book: each question once, and no more of them than were counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from partsbench.core.outcomes import Refused
from partsbench.services.acts import bench, places
from partsbench.services.books import pieces
from partsbench.services.heard.session import Session
from partsbench.services.known.clock_doubt import doubts
from partsbench.services.shop import Shop
from partsbench.store.clock_runs import runs
from tests.support.clock import SetClock
from tests.support.shops import code, heron

SHOWN, RECORDED = 23, 35


def statements(shop: Shop, session: Session, label: str) -> list[str]:
    told: list[str] = []
    shop.book.connection.set_trace_callback(told.append)
    session.scan(label)
    shop.book.connection.set_trace_callback(None)
    return told


def test_a_look_asks_nothing_twice_and_a_record_little(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    session = Session(shop, piece.tag)
    for short in ("D1", "D1", "D3"):
        clock.pass_time(seconds=5)
        session.scan(code(piece, short))
    clock.pass_time(seconds=5)
    record = statements(shop, session, code(piece, "D3"))
    assert session.answers[-1].recorded
    clock.pass_time(seconds=5)
    look = statements(shop, session, code(piece, "D2"))
    twice = [text for text, count in Counter(look).items() if count > 1]
    assert twice == []
    assert len(look) <= SHOWN, len(look)
    assert len(record) <= RECORDED, len(record)


def test_the_next_record_of_a_part_asks_as_little(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    session = Session(shop, piece.tag)
    for _ in range(3):
        clock.pass_time(seconds=5)
        session.scan(code(piece, "D1"))
    clock.pass_time(seconds=5)
    record = statements(shop, session, code(piece, "D1"))
    assert session.answers[-1].recorded
    assert len(record) <= RECORDED, len(record)


def test_what_stands_as_it_was_is_not_asked_again_and_what_changed_is(
    shop: Shop, clock: SetClock
) -> None:
    """The runs of the clock are known after a record, unless the clock was set before it."""
    piece = heron(shop)
    session = Session(shop, piece.tag)
    for _ in range(3):
        clock.pass_time(seconds=5)
        session.scan(code(piece, "D1"))
    clock.pass_time(seconds=5)
    with shop.book.one_reading():
        assert len(runs(shop.book)) == 1
        session.scan(code(piece, "D1"))
        assert session.answers[-1].recorded
        assert len(runs(shop.book)) == 1
    clock.pass_time(days=-400)
    with shop.book.one_reading():
        assert len(runs(shop.book)) == 1
        pieces.edit_part(shop, piece.tag, "D2", note="after a dead battery")
        assert len(runs(shop.book)) == 2


def test_a_doubtful_history_is_not_read_for_one_part(shop: Shop, clock: SetClock) -> None:
    """A book that rested for long is in doubt as a whole, however much is in it."""
    piece = heron(shop)
    session = Session(shop, piece.tag)
    for _ in range(3):
        clock.pass_time(seconds=5)
        session.scan(code(piece, "D1"))
    took = []
    for entries in (20, 300):
        for number in range(entries):
            clock.pass_time(seconds=5)
            assert not isinstance(
                places.put(shop, f"rack {number}", ["D2"], here=piece.tag), Refused
            )
        rested = clock.now
        clock.pass_time(days=200)
        assert doubts(shop)
        took.append(steps_of(shop, lambda: bench.look(shop, "D1", here=piece.tag)))
        clock.now = rested
    few, many = took
    assert many < 1.2 * few, took


def steps_of(shop: Shop, act: Callable[[], object]) -> int:
    """How many hundred steps SQLite takes for it."""
    counted = [0]

    def count() -> int:
        counted[0] += 1
        return 0

    shop.book.connection.set_progress_handler(count, 100)
    act()
    shop.book.connection.set_progress_handler(None, 0)
    assert counted[0] > 5
    return counted[0]
