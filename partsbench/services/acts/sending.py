"""Where a face goes back to, told from the reason and what stands on it."""

from __future__ import annotations

from dataclasses import replace

from partsbench.core.finish.clocks import standing_steps
from partsbench.core.finish.cups import StoredCup
from partsbench.core.finish.products import COATS, FILM
from partsbench.core.finish.progress import Progress
from partsbench.core.finish.steps import Operation, Step
from partsbench.core.outcomes import Outcome, Refused
from partsbench.core.said_often import A_HOME_WAS_SCANNED
from partsbench.core.verbs import Key, Reason, find_reason
from partsbench.services.acts import bench
from partsbench.services.acts.bench_words import refusal, which_side
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.known.state import PartState, part_state
from partsbench.services.shop import Shop


def back_to(at: Progress, reason: Reason) -> Step | None:
    """The step that a face goes back to: bare wood, or the sanding that its last coat asks for.

    After a coat the sanding lies ahead on the path, so the coat itself is done again; None when
    nothing stands on the face that could be taken back.
    """
    standing = [step for _, step in standing_steps(at)]
    if reason.bare:
        film = next((i for i, s in enumerate(standing) if s.operation in FILM), len(standing))
        return next((s for s in standing[:film] if s.operation is Operation.SAND), None)
    coats = [i for i, s in enumerate(standing) if s.operation in COATS]
    if not coats:
        return standing[-1] if standing else None
    before = [s for s in standing[: coats[-1]] if s.operation is Operation.SAND]
    return before[-1] if before else standing[coats[-1]]


def send_back_for(
    shop: Shop,
    text: str | KnownLabel,
    why: str,
    *,
    here: str = "",
    face: str = "",
    accept: bool = False,
    cup: StoredCup | None = None,
) -> Outcome | Refused:
    """Send a part's faces back to where a reason of the wall puts them.

    A missed window goes to the step that its path names; other reasons go by what stands.
    """
    reason = find_reason(why, Key.SEND_BACK)
    if reason is None:
        return Refused(f"“{why}” is no reason to send a face back.")
    known = identify(shop, text, here)
    if isinstance(known, Outcome):
        return known
    if known.part is None:
        return Refused(A_HOME_WAS_SCANNED)
    state = part_state(shop, known.piece, known.part)
    seen = bench.look(shop, text, here=here, face=face)
    late = seen.recover if reason.name == "missed window" else ""
    if late and not _is_behind(state, seen, late):
        return replace(refusal(known, _ahead(seen)), because=seen.because)
    names = face or (", ".join(seen.faces) if late else "")
    can = [f for f in state.faces if f.path.steps and back_to(f.progress, reason)]
    which = "" if names else which_side(known.part.short, can)
    if which:
        return refusal(known, which)
    target = late or _target(state, face or (seen.faces[0] if seen.faces else ""), reason)
    if not target:
        return Refused(f"Nothing on {known.part.short} can go back.")
    return bench.send_back(
        shop, text, target, reason.name, here=here, face=names, accept=accept, cup=cup
    )


def _is_behind(state: PartState, seen: Outcome, step: str) -> bool:
    """The step was done on the faces that a look was about; else it lies ahead of them."""
    return any(
        mark.step == step
        for face in state.faces
        if face.name in seen.faces
        for mark in face.progress.done
    )


def _ahead(seen: Outcome) -> str:
    """What mends a missed window is still to be done: nothing is taken back for it."""
    return f"Nothing goes back for that: what mends it is still to be done ({seen.step_name})."


def _target(state: PartState, face: str, reason: Reason) -> str:
    """The step for the named face, or for the most advanced one that has a finish."""
    named = [f for f in state.faces if f.path.steps and face in ("", f.name)]
    steps = [s for f in named if (s := back_to(f.progress, reason))]
    return steps[0].key if steps else ""
