from __future__ import annotations

from datetime import timedelta

from partsbench.core.finish.schedule import Schedule, schedule
from partsbench.services.known import work
from partsbench.services.known.state import piece_state
from partsbench.services.rules import answers
from partsbench.services.rules.clocks import distinct, groups_of
from partsbench.services.rules.ends import FaceEnds
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes


def test_faces_planned_alone_end_as_they_do_together(shop: Shop, clock: SetClock) -> None:
    piece = two_finishes(shop)
    do(shop, piece, "D1", "wash", "rinse")
    do(shop, piece, "D4", "wash")
    own, waits = work.own_times(shop, clock.now), answers.waits_of(shop, clock.now)
    faces = distinct(groups_of(shop, piece_state(shop, piece), clock.now, own))
    assert len(faces) >= 3
    at_best = FaceEnds(waits, own)
    for hours in (0, 5, 40):
        when = clock.now + timedelta(hours=hours)
        together = schedule(faces, when, waits, own=own)
        assert isinstance(together, Schedule)
        assert at_best.of(faces, when) == together.ends
    assert at_best.of({}, clock.now) is None


def test_one_face_that_cannot_be_leaves_no_end(shop: Shop, clock: SetClock) -> None:
    """Stain over a conditioner whose window is long past."""
    piece = two_finishes(shop)
    do(shop, piece, "D4", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, piece, "D4", "sand_150", "sand_220", "condition", "wipe_condition")
    clock.pass_time(hours=3)
    own, waits = work.own_times(shop, clock.now), answers.waits_of(shop, clock.now)
    faces = distinct(groups_of(shop, piece_state(shop, piece), clock.now, own))
    assert not isinstance(schedule(faces, clock.now, waits, own=own), Schedule)
    assert FaceEnds(waits, own).of(faces, clock.now) is None
