"""The patient: does each thing when it may be done, answers what is asked, and is never held."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from partsbench.core.outcomes import Answer, Done, Outcome
from partsbench.services.acts import masks
from partsbench.services.acts.returning import bring_home, missing
from partsbench.services.acts.teardown import take_out
from partsbench.services.known import facts, old_finish
from partsbench.services.known.old_finish import Saying
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.shops import lay_out, made
from tests.support.walk import Walk, golden, proven

PARTS = ["D1", "D2", "D3", "C1"]
HOME_BY = datetime(2031, 3, 19, tzinfo=UTC)
"""A day more than it takes by the paths' own waits, the seven days to touching among them."""
MASK_ASKED = "neighbour's mask not known"
WAITS = {"not dry yet", "water over oil too soon"}
BEGAN = datetime.min.replace(tzinfo=UTC)
NEVER = datetime.max.replace(tzinfo=UTC)


@pytest.fixture
def walk(shop: Shop, clock: SetClock) -> Walk:
    """Painted, stained and clear drawers; a painted rail under a stained top, tape between."""
    paths = [("paint", ["D1", "C1 rails"]), ("stain", ["D2", "C1 top"]), ("clear", ["D3"])]
    piece = made(lay_out(shop, "Heron", "1 2", height=600, paths=paths, known={}))
    return Walk(shop, clock, piece.tag)


def asked_first(walk: Walk) -> None:
    """What is on it, a test with its record, and the cases of each face."""
    shop, tag = walk.shop, walk.tag
    walk.say("what is on it", old_finish.say(shop, tag, Saying(old="clear")))
    tested = Saying(test="tested free", how="laboratory", where="C1 back", by="Wren",
                    on=walk.clock.now)  # fmt: skip
    walk.say("the test", old_finish.say(shop, tag, tested))
    for key, value, places in (
        ("bleeds", "no", []), ("repairs", "none", []), ("patch tested", "yes", []),
        ("conditioner", "oil", ["D2"]), ("conditioner", "none", ["C1"]),
    ):  # fmt: skip
        said = facts.say(shop, tag, key, value, places)
        assert isinstance(said, Done), said


def quietly(walk: Walk, short: str, heard: set[Outcome], **how: str) -> Outcome:
    """A look that is kept in the story only where it says something new besides `go on`."""
    before = len(walk.lines)
    seen = walk.look(short, **how)
    if seen.answer is Answer.GO or seen in heard:
        del walk.lines[before:]
    heard.add(seen)
    return seen


def heeded(walk: Walk, short: str, heard: set[Outcome]) -> tuple[Outcome, str]:
    """What is next on a part, and of which face; where its scuff would go stale, of another one."""
    seen = quietly(walk, short, heard)
    if not any(words.startswith("scuff later: ") for words in seen.warnings):
        return seen, ""
    face = next(f for _, f in walk.due([short]) if f not in seen.faces)
    return quietly(walk, short, heard, face=face), face


def dust_settles(walk: Walk, seen: Outcome) -> datetime | None:
    """When what is asked of the dust will be so; None when it is, or when nothing is asked."""
    asked = any("The dust has settled" in check for check in seen.checks)
    sanded = [m.at for p in PARTS for f in walk.faces(p) for m in f.marks if "sand" in m.step]
    settles = max(sanded, default=BEGAN) + timedelta(hours=1)
    return settles if asked and walk.clock.now < settles else None


def brush_line(walk: Walk, short: str, seen: Outcome) -> None:
    """The one thing that stops a look: how the clear coat ends at the seam. It is answered."""
    assert MASK_ASKED in seen.held and set(seen.held) <= {MASK_ASKED, *WAITS}, seen
    for face in seen.faces:
        said = masks.not_needed(walk.shop, walk.tag, f"{short} {face}")
        assert isinstance(walk.say("a brush line", said), Done)


def turn(walk: Walk, heard: set[Outcome]) -> bool:
    """The thing is done whose window closes first of all that may be done; False when nothing may.

    Then the clock goes to where the first wait is over.
    """
    shorts = dict.fromkeys(short for short, _ in walk.due(PARTS))
    if not shorts:
        return False
    every = {short: heeded(walk, short, heard) for short in shorts}
    seen = {short: said for short, (said, _) in every.items()}
    asked = [short for short, said in seen.items() if said.answer is Answer.STOP]
    for short in asked:
        brush_line(walk, short, seen[short])
    if asked:
        return True
    late = [said for said in seen.values() if said.answer is Answer.LATE]
    for said in late:
        walk.mend(said)
    if late:
        return True
    assert {s.answer for s in seen.values()} <= {Answer.GO, Answer.WAIT}, seen
    dust = {short: at for short, said in seen.items() if (at := dust_settles(walk, said))}
    may = [short for short in seen if seen[short].answer is Answer.GO and short not in dust]
    if may:
        urgent = min(may, key=lambda short: seen[short].until or NEVER)
        face = every[urgent][1]
        said = walk.confirmed(urgent, face=face) if face else walk.confirmed(urgent)
        assert said.recorded, said
        walk.work()
        walk.rags()
        return True
    waits = [said.until for said in seen.values() if said.answer is Answer.WAIT and said.until]
    walk.until(min((*waits, *dust.values())))
    return True


def test_whoever_waits_is_never_refused(walk: Walk) -> None:
    take_out(walk.shop, walk.tag, PARTS[:3])
    asked_first(walk)
    heard: set[Outcome] = set()
    while turn(walk, heard):
        pass
    walk.clock.pass_time(days=7)
    for short in PARTS[:3]:
        said = walk.say(f"home {short}", bring_home(walk.shop, walk.tag, short))
        assert isinstance(said, Outcome) and said.recorded and said.warnings == ()
    assert walk.refused == []
    # The rails are scuffed when the top bears tape, as it is advised: the scuff does not go stale.
    assert walk.mended == []
    assert walk.clock.now <= HOME_BY
    assert walk.shop.book.row("SELECT count(*) FROM insisted")[0] == 0
    state = walk.state()
    assert missing(state) == []
    whole, sentence = proven(walk)
    assert whole, sentence
    golden("the_patient", walk.lines)
