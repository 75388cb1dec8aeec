"""What one event asks of the book: each question once, and no more of them than were counted."""

from __future__ import annotations

from collections import Counter

from partsbench.services.heard.session import Session
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.shops import code, heron

SHOWN, RECORDED = 26, 40


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
