"""The hurried: tries every step at once, is held at each right place, and then waits as told."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.outcomes import Answer, Done, Outcome
from partsbench.services.acts import masks
from partsbench.services.acts.returning import bring_home
from partsbench.services.acts.teardown import take_out
from partsbench.services.known import facts, old_finish
from partsbench.services.known.old_finish import Saying
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.shops import lay_out, made
from tests.support.walk import Walk, golden, proven

PARTS = ["D1", "D2", "C1"]
OLD = "old finish not answered"
MASK = "neighbour's mask not known"
EARLY = ("not dry yet",)
OVER_OIL = ("water over oil too soon",)

HELD = [
    ("D1", "sand_150", (OLD, *EARLY)),
    ("D2", "sand_150", (OLD, *EARLY)),
    ("C1", "sand_150", (OLD, *EARLY)),
    ("D1", "sand_150", EARLY),
    ("D2", "strip", EARLY),
    ("C1", "strip", EARLY),
    ("D2", "scrape", EARLY),
    ("C1", "scrape", EARLY),
    ("D2", "sand_150", EARLY),
    ("C1", "sand_150", EARLY),
    ("D1", "sand_220", EARLY),
    ("D1", "sand_400", EARLY),
    ("D1", "topcoat_1", EARLY),
    ("D2", "wipe", EARLY),
    ("C1", "wipe", EARLY),
    ("D2", "clear_1", OVER_OIL),
    ("C1", "mask", ("tape too soon",)),
    ("D1", "sand_between_1", EARLY),
    ("C1", "mask", ("window closed", "tape too soon")),
    ("C1", "mask", ("window closed",)),
    ("C1", "sand_220", EARLY),
    ("C1", "sand_400", EARLY),
    ("C1", "topcoat_1", EARLY),
    ("C1", "sand_between_1", EARLY),
    ("C1", "unmask", ("tape not to come off yet",)),
    ("C1", "clear_1", (MASK, *OVER_OIL)),
    ("C1", "clear_1", OVER_OIL),
    ("D2", "sand_320_1", EARLY),
    ("D2", "sand_320_2", EARLY),
    ("C1", "sand_320_1", EARLY),
    ("C1", "sand_320_2", EARLY),
]
"""Each refusal once, in the order in which it was first met."""


@pytest.fixture
def walk(shop: Shop, clock: SetClock) -> Walk:
    """A painted and a stained drawer, a painted rail under a stained top; nothing is known."""
    paths = [("paint", ["D1", "C1 rails"]), ("stain", ["D2", "C1 top"])]
    piece = made(lay_out(shop, "Larch", "2", height=300, paths=paths, known={}))
    assert isinstance(facts.say(shop, piece.tag, "conditioner", "none"), Done)
    assert isinstance(facts.say(shop, piece.tag, "repairs", "none"), Done)
    return Walk(shop, clock, piece.tag)


def hurry(walk: Walk, short: str) -> Outcome:
    """One record after another, with whatever is asked called so, until something holds."""
    while True:
        said = walk.record(short, confirmed=True)
        walk.rags()
        if not said.recorded or said.then is None:
            return said
        walk.work()


def told(walk: Walk, held: list[Outcome]) -> str:
    """What holds is read, and answered or waited for: the part whose wait is over, "" for none."""
    for said in held:
        if OLD in said.held:
            free = Saying(old="clear", test="tested free", how="laboratory", where="C1 back",
                          by="Wren", on=walk.clock.now)  # fmt: skip
            walk.say("what is on it", old_finish.say(walk.shop, walk.tag, free))
            return ""
        if MASK in said.held:
            names = [f"{said.part} {face}" for face in said.faces]
            for name in names:
                walk.say("a brush line", masks.not_needed(walk.shop, walk.tag, name))
            return ""
    late = [said for said in held if said.answer is Answer.LATE]
    for said in late:
        walk.mend(said)
    if late:
        return ""
    first = min(
        (said for said in held if said.until), key=lambda said: said.until or walk.clock.now
    )
    assert first.until is not None
    too_soon = first.until - timedelta(minutes=1)
    if too_soon > walk.clock.now:
        walk.until(too_soon)
        assert not walk.record(first.part, confirmed=True).recorded, "a minute is too soon"
    walk.until(first.until)
    return first.part


def test_whoever_hurries_is_held_at_each_step_and_loses_nothing(walk: Walk) -> None:
    take_out(walk.shop, walk.tag, PARTS[:2])
    ready = ""
    while due := list(dict.fromkeys(short for short, _ in walk.due(PARTS))):
        if ready:
            assert walk.record(ready, confirmed=True).recorded, "and as told it is in time"
            walk.work()
        stopped = [hurry(walk, short) for short in due]
        held = [said for said in stopped if said.held]
        ready = told(walk, held) if held else ""
    for short in PARTS[:2]:
        said = walk.say(f"home {short}", bring_home(walk.shop, walk.tag, short))
        assert isinstance(said, Outcome) and said.recorded
    assert list(dict.fromkeys(walk.refused)) == HELD, "\n".join(
        map(repr, dict.fromkeys(walk.refused))
    )
    assert walk.shop.book.row("SELECT count(*) FROM insisted")[0] == 0
    whole, sentence = proven(walk)
    assert whole, sentence
    golden("the_hurried", walk.lines)
