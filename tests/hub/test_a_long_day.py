"""A shop with many phones that vanish, come back, send twice and lie about the time: a day of it.

Nothing is lost, nothing is recorded twice, and the book is sound.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from random import Random
from typing import Any
from uuid import UUID

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.piece.piece import Piece
from partsbench.hub.clerk import Clerk, Counter
from partsbench.hub.hand import OutOfTurn
from partsbench.hub.sent import Deed, Sent
from partsbench.services.acts.history import history
from partsbench.services.heard import devices
from partsbench.services.shop import Shop
from partsbench.store import checking
from tests.support.clock import SetClock
from tests.support.shops import code, lay_out, made

DEVICES, HOURS, SEED = 8, 24, 20261128


@dataclass
class Wanderer:
    """A device as its page behaves: what it does is kept in a row and sent in order, until each is
    answered. `away` while it is out of reach; `lies` about how long ago something was."""

    device: devices.Device
    chance: Random
    lies: bool
    away: bool = False
    number: int = 0
    seen: int = 0
    row: deque[tuple[Sent, Any]] = field(default_factory=deque)
    answered: dict[str, bool] = field(default_factory=dict)

    def does(self, text: str, at: Any) -> None:
        mark = str(UUID(int=self.chance.getrandbits(128)))
        self.row.append((Sent(0, mark, Deed.SCAN, seen=self.seen, text=text, typed=True), at))

    def send(self, at: Counter, clock: SetClock) -> None:
        """All that is kept, the oldest first; now and then an answer is lost on its way."""
        while self.row and not self.away:
            act, made = self.row[0]
            age = int((clock.now - made).total_seconds() * 1000)
            if self.lies:
                age = max(0, age + self.chance.choice([-3_600_000, 0, 7_200_000, 90_000]))
            sent = Sent(self.number + 1, act.mark, act.doing, age, act.seen, act.text, typed=True)
            reply = at.hand(self.device).act(sent)
            if isinstance(reply, OutOfTurn):
                self.number = reply.expects - 1
                continue
            if self.chance.random() < 0.15:
                continue  # the answer is lost: it is sent again with its mark
            self.row.popleft()
            self.number, self.seen = reply["number"], reply["seen"]
            recorded = any(each["recorded"] for each in reply["outcomes"])
            assert self.answered.setdefault(act.mark, recorded) == recorded
            self.away = self.chance.random() < 0.03


@pytest.mark.parametrize("seed", [SEED, SEED + 1])
def test_nothing_is_lost_and_nothing_twice(
    shop: Shop, clock: SetClock, tmp_path: Path, seed: int,
    record_property: Callable[[str, object], None],
) -> None:  # fmt: skip
    chance = Random(seed)
    labels = [code(p, f"D{n}") for p in _pieces(shop) for n in range(1, 8)]
    clerk = Clerk(tmp_path / "b.partsbench", clock)
    assert clerk.open() is None
    wanderers = [_paired(shop, n, Random(seed + n)) for n in range(DEVICES)]
    began = shop.book.newest()

    def a_while(at: Counter) -> None:
        for each in wanderers:
            each.send(at, clock)

    for _ in range(HOURS * 12):
        clock.pass_time(minutes=5)
        who = chance.choice(wanderers)
        label = chance.choice(labels)
        for _ in range(chance.choice([1, 2, 2, 2, 3])):
            who.does(label, clock.now)
        if chance.random() < 0.2:
            who.away = not who.away
        if chance.random() < 0.04:
            clerk.ask_now(lambda at: at.hands.clear())  # the hub was started anew
        clerk.ask_now(a_while)
    for each in wanderers:
        each.away = False
    while any(each.row for each in wanderers):
        for each in wanderers:
            each.away = False
        clerk.ask_now(a_while)
    clerk.close()
    _is_sound(shop, wanderers, began)
    answered = [each.answered for each in wanderers]
    record_property("acts", sum(map(len, answered)))
    record_property("recorded", sum(sum(each.values()) for each in answered))


def _pieces(shop: Shop) -> list[Piece]:
    drawers = [f"D{n}" for n in range(1, 8)]
    paths = {"Heron": "paint", "Quill": "stain", "Wren": "paint"}
    return [
        made(lay_out(shop, name, "2 2 3", paths=[(path, drawers)])) for name, path in paths.items()
    ]


def _paired(shop: Shop, number: int, chance: Random) -> Wanderer:
    paired = devices.pair(shop, f"phone {number}", f"Person {number}")
    assert not isinstance(paired, Refused)
    return Wanderer(paired.device, chance, lies=number % 3 == 0)


def _is_sound(shop: Shop, wanderers: list[Wanderer], began: int) -> None:
    recorded = sum(sum(each.answered.values()) for each in wanderers)
    entries = [e for e in history(shop, limit=5000) if e.id > began]
    assert recorded == len(entries) > 30
    for each in wanderers:
        mine = [e for e in entries if e.who == each.device.person]
        assert len(mine) == sum(each.answered.values())
    marks = shop.book.rows("SELECT face, step, count(*) AS times FROM mark WHERE kind = 'done' "
                           "GROUP BY face, step HAVING times > 1")  # fmt: skip
    assert [tuple(m) for m in marks] == []
    times = [e.at for e in reversed(entries)]
    assert times == sorted(times)
    assert checking.faults(shop.book) == []
    assert timedelta() <= shop.clock() - times[-1]
