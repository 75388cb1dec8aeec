"""Scans in any order: nothing that a path forbids is ever recorded without being insisted upon."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from partsbench.core.finish.clocks import window
from partsbench.core.finish.progress import Mark, MarkKind, may_mark, progress
from partsbench.core.verbs import FACES, REASONS, VERBS, Sort, WallCode
from partsbench.services.acts import bench
from partsbench.services.heard.session import Session
from partsbench.services.known import climate, facts
from partsbench.services.known.state import piece_state
from partsbench.services.rules import answers
from partsbench.services.shop import Shop
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import heron, shop_at

SCANS = st.one_of(
    st.sampled_from(["D1", "D2", "T1"]),
    st.sampled_from(["D1", "D2", "T1"]),
    st.sampled_from([v.code for v in VERBS]),
    st.sampled_from([r.code for r in REASONS]),
    st.sampled_from([str(WallCode(Sort.FACE, i + 1)) for i, _ in enumerate(FACES[:4])]),
)
WAITS = st.sampled_from([2, 2, 30, 400, 3700, 13 * 3600, 80 * 3600])


@pytest.mark.long
@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(scans=st.lists(st.tuples(SCANS, WAITS), min_size=5, max_size=60))
def test_no_order_of_scans_records_what_the_path_forbids(
    tmp_path_factory: pytest.TempPathFactory, scans: list[tuple[str, int]]
) -> None:
    clock = SetClock()
    shop = shop_at(tmp_path_factory.mktemp("any") / "b.partsbench", clock)
    tag = heron(shop).tag
    facts.say(shop, tag, "conditioner", "oil", ["D2"])
    session = Session(shop, tag)
    for text, seconds in scans:
        clock.pass_time(seconds=seconds)
        session.scan(text)
    # UNDO scanned often enough takes back that the piece was taken in.
    if shop.piece(tag) is not None:
        check_every_mark(shop, tag)
    assert shop.book.faults() == []
    shop.close()


def check_every_mark(shop: Shop, tag: str) -> None:
    """Each mark that was not insisted upon was in order, and inside its window when it was made."""
    piece = shop.piece(tag)
    assert piece is not None
    waits = answers.waits_of(shop, shop.clock())
    for part in piece_state(shop, piece).parts.values():
        for face in part.faces:
            before: list[Mark] = []
            for stored in face.marks:
                mark = Mark(stored.step, stored.at, MarkKind(stored.kind), stored.insisted)
                if not mark.insisted:
                    assert not may_mark(face.path, before, mark.step, mark.kind)
                    step = face.path.step(mark.step)
                    assert step is not None
                    at = progress(face.path, before)
                    within = window(at, step, waits)
                    if mark.kind is MarkKind.DONE:
                        assert not within.is_early(mark.at), (part.part.short, face.name, mark)
                        missed = within.missed
                        mends = missed is not None and missed.step == step.key
                        assert mends or not within.is_late(mark.at), (part.part.short, mark)
                before.append(mark)
            assert face.progress.ignored == ()


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    good=st.tuples(st.floats(5, 35), st.floats(10, 95)),
    colder=st.floats(0, 10),
    damper=st.floats(0, 4),
)
def test_worse_air_never_opens_a_wait_earlier(
    tmp_path_factory: pytest.TempPathFactory,
    good: tuple[float, float],
    colder: float,
    damper: float,
) -> None:
    clock = SetClock()
    shop = shop_at(tmp_path_factory.mktemp("air") / "b.partsbench", clock)
    tag = heron(shop).tag
    for step in ("wash", "rinse", "sand_150", "colour_1"):
        assert record(shop, "D1", here=tag, step=step, insist="a property").recorded
    plain = bench.look(shop, "D1", here=tag).until
    climate.note(shop, *good)
    first = bench.look(shop, "D1", here=tag).until
    clock.pass_time(seconds=1)
    climate.note(shop, good[0] - colder, good[1] + damper)
    second = bench.look(shop, "D1", here=tag).until
    assert plain is not None and first is not None and second is not None
    assert plain <= first <= second + timedelta(seconds=1)
    shop.close()
