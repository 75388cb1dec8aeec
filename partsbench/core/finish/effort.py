"""Active minutes of work: reckoned here and nowhere else, from figures that say what they are per.

A figure is per part (a drawer, however many of its faces are worked), per face, per m², or per
batch (the gun set up and cleaned). The shop's own pace, once there is enough of it, wins over all
of them but the last: it is told from one record to the next, and the gun stands ready by then.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from statistics import median

from partsbench.core.finish.clocks import said_source
from partsbench.core.finish.steps import Operation, Per, Step
from partsbench.core.key_words import choice_word
from partsbench.core.wording import and_list

ENOUGH_OWN_TIMES = 5
SHORTEST_WORK = 0.5  # minutes; less lies between two records, not in the work
LEAST_SHARE = 0.25  # of the figure; parts recorded quicker than that were done before

OwnKey = tuple[Operation, Per] | tuple[Operation, Per, str]
"""What was done, on any part; or on parts of one kind, by the letter of their labels."""

Own = Mapping[OwnKey, Sequence[float]]
"""The shop's own minutes a part or a face. Of a kind of part with too few of its own, those of all
kinds count."""


@dataclass(frozen=True, slots=True)
class Worked:
    """One step on one face: of which part (`D3`), and how large it is, m²."""

    step: Step
    part: str = ""
    face: str = ""
    m2: float = 0.0

    @property
    def kind(self) -> str:
        """The letter of the part: `D` of `D3`."""
        return self.part[:1]


def faces_apart(faces: Iterable[str]) -> int:
    """How many faces of a part are worked by themselves: edges go with the front, or together."""
    others = sum(not face.endswith(" edge") for face in faces)
    return max(others, 1)


def effort(batch: Sequence[Worked], own: Own | None = None) -> timedelta | None:
    """Hands-on time for all that is done in one go; None where no figure is known."""
    paces = {of: own_pace(of[0], own or {}, of[1]) for of in {(w.step, w.kind) for w in batch}}
    parts: dict[str, list[Worked]] = {}
    for worked in batch:
        parts.setdefault(worked.part, []).append(worked)
    minutes = max((step.minutes_per_batch or 0 for step, _ in paces), default=0)
    minutes += sum(_on_part(some, paces) for some in parts.values())
    return timedelta(minutes=minutes) if minutes else None


def effort_alone(step: Step, own: Own) -> timedelta:
    """The same for one face as a batch of its own. Nothing where no figure is known."""
    minutes = (step.minutes_per_batch or 0) + _counted(step, own_pace(step, own), 1)
    return timedelta(minutes=minutes)


def _on_part(some: Sequence[Worked], paces: Mapping[tuple[Step, str], float | None]) -> float:
    """Minutes on one part. Where steps differ between its faces, the longest of them counts."""
    faces = faces_apart(w.face for w in some)
    longest = area = 0.0
    for worked in some:
        step, pace = worked.step, paces[worked.step, worked.kind]
        longest = max(longest, _counted(step, pace, faces))
        area += (step.minutes_per_m2 or 0) * worked.m2 if pace is None else 0
    return longest + area


def _counted(step: Step, pace: float | None, faces: int) -> float:
    """Minutes on a part of which so many faces are worked by themselves, area left out."""
    if pace is None:
        return (step.minutes_per_part or 0) + (step.minutes_per_face or 0) * faces
    return pace if step.per is Per.PART else pace * faces


def told_from(step: Step, own: Own) -> str:
    """Where the minutes of a step are from: `Wash: 8 min a part (5 to 10 min a drawer: …)`."""
    pace = own_pace(step, own)
    figures = {
        "part": step.minutes_per_part,
        "face": step.minutes_per_face,
        "m2": step.minutes_per_m2,
    }
    said = [_figure(step, per, minutes) for per, minutes in figures.items() if minutes]
    if pace is not None:
        said = [f"{pace:.1f} min a {choice_word(step.per)}, the shop's own pace"]
    if step.minutes_per_batch:
        said.append(_figure(step, "batch", step.minutes_per_batch))
    return f"{step.name}: {and_list(said)}" if said else ""


def _figure(step: Step, per: str, minutes: float) -> str:
    source = said_source(step.source_of(f"minutes_per_{per}"))
    unit = "m²" if per == "m2" else choice_word(per)
    pace = f"{minutes:g} min a {unit}"
    return f"{pace} ({source})" if source else pace


def own_pace(step: Step, own: Own, kind: str = "") -> float | None:
    """The shop's own minutes for this step, a part or a face; None while there are too few."""
    mine = own_times_for(step, own, kind)
    return median(mine) if len(mine) >= ENOUGH_OWN_TIMES else None


def own_times_for(step: Step, own: Own, kind: str = "") -> list[float]:
    """The shop's own times for this step: on parts of that kind where there are enough of them,
    else on parts of any.

    Parts recorded one straight after another at the end of a batch tell nothing of the work.
    """
    figure = step.minutes_per_part if step.per is Per.PART else step.minutes_per_face
    least = max(SHORTEST_WORK, LEAST_SHARE * (figure or 0))

    def believed(key: OwnKey) -> list[float]:
        return [minutes for minutes in own.get(key, ()) if minutes >= least]

    of_kind = believed((step.operation, step.per, kind)) if kind else []
    return of_kind if len(of_kind) >= ENOUGH_OWN_TIMES else believed((step.operation, step.per))
