"""How long the shop's own work takes, told from one record to the next."""

from __future__ import annotations

import random
from itertools import groupby, pairwise

import pytest

from partsbench.core.finish.steps import Operation
from partsbench.services import work
from partsbench.services.shop import Shop
from partsbench.store.journal import text_time
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import code, lay_out, made


def test_the_time_between_two_parts_is_the_work_on_the_second(shop: Shop, clock: SetClock) -> None:
    piece = made(lay_out(shop, "Heron", "3", paths=[("paint", ["drawers"])]))
    for short, minutes in (("D1", 10.0), ("D2", 5.0), ("D3", 0.0)):
        assert record(shop, code(piece, short)).recorded
        clock.pass_time(minutes=minutes)
    (faces,) = {len([f for f in piece.part(s).faces if f.path == "paint"]) for s in ("D2", "D3")}
    found = work.own_times(shop, clock.now)
    assert found == {Operation.WASH: [pytest.approx(10 / faces), pytest.approx(5 / faces)]}


def test_any_evening_is_told_as_by_going_through_its_marks(shop: Shop, clock: SetClock) -> None:
    """The same from the table of marks, one after another."""
    rng = random.Random(5)
    named = [("paint", ["drawers"])]
    labels = [
        code(piece, short)
        for piece in (made(lay_out(shop, name, "3", paths=named)) for name in ("Heron", "Quill"))
        for short in ("D1", "D2", "D3")
    ]
    for _ in range(12):
        for label in rng.sample(labels, 5):
            record(shop, label, insist="by chance")
            clock.pass_time(minutes=rng.choice([0, 0.2, 1, 3, 8, 45]))
    marks = [
        (r["at"], r["tag"], r["part"], r["step"], r["path"])
        for r in shop.book.rows(
            "SELECT mark.at, tag, part.id AS part, step, path FROM mark "
            "JOIN face ON face.id = mark.face JOIN part ON part.id = face.part "
            "JOIN piece ON piece.id = part.piece ORDER BY mark.at, mark.id"
        )
    ]
    sizes = [(key, len(list(same))) for key, same in groupby(marks, key=lambda m: m[:4])]
    assert len({key for key, _ in sizes}) == len(sizes)
    paths = {mark[:4]: mark[4] for mark in marks}
    wanted: dict[Operation, list[float]] = {}
    for (a, _), (b, faces) in pairwise(sizes):
        gap = text_time(b[0]) - text_time(a[0])
        if a[3] == b[3] and a[1:3] != b[1:3] and work.SHORTEST_GAP <= gap <= work.LONGEST_GAP:
            operation = shop.path(paths[b]).step(b[3]).operation
            wanted.setdefault(operation, []).append(gap.total_seconds() / 60 / faces)
    assert sum(map(len, wanted.values())) > 5
    assert work.own_times(shop, clock.now) == wanted
