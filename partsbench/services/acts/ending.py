"""Closing an open loop: what ends it is recorded on all the parts that it stands open on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from partsbench.core.finish.loops import RAGS, Loop, open_loops
from partsbench.core.finish.steps import Operation
from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.wording import capital, listed
from partsbench.services.acts import bench
from partsbench.services.known.state import FaceState, piece_state
from partsbench.services.rules import loops
from partsbench.services.shop import Shop

_WORDS = {
    Operation.RINSE: ("Rinsed", "rinsed"),
    Operation.RESIDUE: ("Wiped off", "wiped off"),
    Operation.WIPE: ("Wiped", "wiped"),
    Operation.UNMASK: ("Tape off", "tape off"),
}
"""What the button says, and what was done, after the name of a part."""


@dataclass(frozen=True, slots=True)
class Ending:
    """One way to close a loop: what the button says, what is recorded, and how that is told."""

    words: str
    did: str = ""
    rags: str = ""
    operation: Operation | None = None


def endings(loop: Loop) -> tuple[Ending, ...]:
    """The ways to close a loop; () when that wants more than a word."""
    if loop.say == RAGS:
        return (
            Ending("Spread flat", rags=loops.FLAT),
            Ending("In water, closed can", rags=loops.WATER),
        )
    if loop.ends is None:
        return ()
    word, did = _WORDS.get(loop.ends, (capital(loop.ends.value), loop.ends.value))
    return (Ending(word, did, operation=loop.ends),)


def end(
    shop: Shop, loop: Loop, ending: Ending, tags: list[str], at: datetime | None = None
) -> Done | Outcome | Refused:
    """Close `loop`, on the pieces looked at: the first refusal of a part, or what was recorded."""
    if ending.rags:
        return loops.answer_rags(shop, ending.rags)
    assert ending.operation is not None
    done: list[str] = []
    for tag in tags:
        piece = shop.piece(tag)
        if piece is None:
            continue
        for short, part in piece_state(shop, piece).parts.items():
            mine = [f for f in part.faces if _stands_open(loop, tag, short, f)]
            if not mine:
                continue
            code = str(piece.code(part.part))
            said = bench.record(
                shop, code, here=tag, at=at, operations=frozenset({ending.operation})
            )
            if isinstance(said, Refused) or not said.recorded:
                return said
            done.append(f"{piece.codename} {short}")
    if not done:
        return Refused("Nothing stands open there any more.")
    return Done(f"{listed(done)}: {ending.did}.", tags[0] if len(tags) == 1 else "")


def _stands_open(loop: Loop, tag: str, short: str, face: FaceState) -> bool:
    if tag != loop.tag or short not in loop.parts:
        return False
    return any(x.say == loop.say for x in open_loops("", face.progress))
