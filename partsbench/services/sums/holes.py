"""Pulls judged before they are bought: old holes reused, covered or filled, and what will show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from partsbench.core.finish.path import PathKind
from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import Part
from partsbench.core.piece.surfaces import THICKNESS, front_size
from partsbench.core.sums import drilling, units
from partsbench.core.sums.fronts import OldFront, Point, Pull
from partsbench.core.sums.holes import HolePlan, plan_holes
from partsbench.core.sums.places import PullLook
from partsbench.core.sums.refusal import SumAnswer, amount
from partsbench.core.sums.screws import LONGEST_SCREW_MM, Screw, screw, warnings
from partsbench.core.sums.spacings import MEASURED_WITHIN_MM, Over
from partsbench.services.shop import Shop, find_short
from partsbench.services.sums import shipped
from partsbench.services.sums.census import beside, expected, say_over
from partsbench.services.sums.ground import SumGround, fronts, ground
from partsbench.services.sums.told import Told, once
from partsbench.store import figures
from partsbench.store.figures import Candidate

FILLER_SHOWS = frozenset({PathKind.STAIN, PathKind.CLEAR})
CAUTION = (
    "Before drilling: eye protection, the front clamped on a backing block, "
    "and a try on scrap first."
)


@dataclass(frozen=True, slots=True)
class PullChoice:
    """One candidate on all fronts, and its screw for each thickness of front."""

    candidate: Candidate
    plan: HolePlan | Refused
    screws: Mapping[str, Screw | Refused]

    @property
    def over(self) -> tuple[Over, ...]:
        """The old spacings that it would sit in and that measuring tells from its own."""
        if isinstance(self.plan, Refused):
            return ()
        own = self.candidate.spacing_mm
        other = [mm for mm in self.plan.apart if abs(mm - own) > MEASURED_WITHIN_MM]
        return tuple(filter(None, (beside(own, mm, self.candidate.thread) for mm in other)))


@dataclass(frozen=True, slots=True)
class PullChoices:
    """All candidates, the one that shows least first; and what is only taken for granted."""

    measures: units.Measures
    choices: tuple[PullChoice, ...]
    lacks: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """The best one's own sentence, what the next one would do, and where the best one sits."""
        plans = [c.plan for c in self.choices if isinstance(c.plan, HolePlan)]
        if not plans:
            return "No candidate fits every front."
        said = " ".join(plan.sentence for plan in plans[:2])
        return f"{said} {plans[0].pull} alike on all: {self.look(plans[0])}."

    def look(self, plan: HolePlan) -> str:
        """Where it sits on every front: `62.0 mm from the top; doors: in the middle of …`."""
        outer = [look.say(self.measures) for look in plan.looks if look.group == "drawers"]
        others = [look for look in plan.looks if look.group != "drawers"]
        return ". ".join([*outer, *(f"{o.group}: {o.say(self.measures)}" for o in others)])


def choices(shop: Shop, tag: str, *, doors: bool = False) -> PullChoices | Refused:
    """Each candidate on every drawer front (on doors too if asked), and the screws it wants."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    candidates = figures.candidates(shop.book, on.key)
    if not candidates:
        return Refused("No candidate is noted: give a name and a hole spacing.")
    parts = [p for p in fronts(on.piece) if doors or p.family is Family.DRAWER]
    lacks: list[str] = []
    each = {
        short: min(sum(kinds.values()) - kinds.get("plate", 0), 2)
        for short, kinds in expected(on.piece).items()
    }
    old = [_old_front(shop, on, part, each.get(part.short, 0), lacks) for part in parts]
    found = [PullChoice(c, plan_holes(_pull(c), old), _screws(on, c, parts)) for c in candidates]
    return PullChoices(on.measures, tuple(sorted(found, key=_rank)), tuple(once(*lacks)))


def tell_choices(found: PullChoices) -> Told:
    """One row for each candidate and front."""
    rows: list[tuple[str, ...]] = []
    for choice in found.choices:
        name = choice.candidate.name
        if isinstance(choice.plan, Refused):
            rows.append((name, "", "", "", "", "", choice.plan.say(found.measures), ""))
            continue
        for front in choice.plan.fronts:
            fixed = choice.screws.get(front.front)
            rows.append(
                (
                    name,
                    front.front,
                    str(len(front.reused)),
                    str(len(front.covered)),
                    str(len(front.to_fill)),
                    str(front.to_drill),
                    f"{front.showing} will show" if front.showing else "none shows",
                    fixed.say(found.measures) if fixed else "",
                )
            )
    plans = [c.plan for c in found.choices if isinstance(c.plan, HolePlan)]
    screws = [s for c in found.choices for s in c.screws.values() if isinstance(s, Screw)]
    overs = [(c.candidate.name, o) for c in found.choices for o in c.over]
    mind = [say_over(f"{name}:", over, found.measures) for name, over in overs]
    answers: list[SumAnswer] = [*plans, *screws, *(over for _, over in overs)]
    return Told(
        found.sentence,
        ("pull", "front", "reused", "covered", "to fill", "to drill", "fillings", "screw"),
        tuple(rows),
        once(*found.lacks, *(lack for answer in answers for lack in answer.lacks)),
        once(*(source for answer in answers for source in answer.sources)),
        " ".join([*mind, CAUTION]),
        data={"pulls": [_data(c, found.measures) for c in found.choices]},
    )


def screw_at_hand(
    shop: Shop, tag: str, asked: str, candidate: str, thread: str, length: str
) -> tuple[str, ...] | Refused:
    """What is wrong with a screw at hand for a pull on one front; nothing when it serves."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    short = find_short(on.piece, asked)
    if isinstance(short, Refused):
        return short
    noted = [c for c in figures.candidates(shop.book, on.key) if c.name == candidate]
    part = on.piece.part(short)
    long = units.length(length, on.measures, "screw")
    if isinstance(long, Refused):
        return long.told_in(on.measures)
    bad = amount("screw", long.value, above=0, most=LONGEST_SCREW_MM, unit="mm")
    if bad:
        return bad.told_in(on.measures)
    if not noted:
        return Refused(f"There is no candidate “{candidate}”.")
    wanted = _screws(on, noted[0], [part]).get(short) if part else None
    if wanted is None:
        return Refused(f"For {short} and {candidate} the thickness or the thread is missing.")
    return (
        wanted.told_in(on.measures)
        if isinstance(wanted, Refused)
        else warnings(wanted, thread, long.value)
    )


def _old_front(shop: Shop, on: SumGround, part: Part, count: int, lacks: list[str]) -> OldFront:
    """A front with its holes; those behind a door, and the doors, are looked at by themselves."""
    size = front_size(on.piece, part, on.mm())
    assert size is not None
    holes = figures.holes(shop.book, on.key).get((part.family.value, part.number))
    if holes is None:
        points = _from_census(shop, on, part, size)
        lacks.append(f"where the holes of {part.short} are")
    else:
        points = tuple(Point(x, y) for x, y in holes)
    face = part.face("front")
    shows = face is not None and shop.path(face.path).kind in FILLER_SHOWS
    opening = on.piece.front.opening(part.home.number)
    assert opening is not None
    group = "doors" if part.family is Family.DOOR else "inside" if opening.behind else "drawers"
    row = f"{group} {opening.behind} {opening.span.row} {opening.span.rows}"
    return OldFront(part.short, *size, points, shows, group, row, count)


def _from_census(
    shop: Shop, on: SumGround, part: Part, size: tuple[float, float]
) -> tuple[Point, ...]:
    """Holes where pulls of the counted spacing would sit, until somebody measures them."""
    fitted = expected(on.piece).get(part.short, {}).keys() - {"plate"}
    rows = [
        r
        for r in figures.hardware(shop.book, on.key)
        if (r.family, r.number) == (part.family.value, part.number)
        and r.spacing_mm is not None
        and (r.kind in fitted or (not fitted and r.kind != "plate"))
    ]
    count = min(sum(r.count for r in rows), 2)
    if not count or rows[0].spacing_mm is None:
        return ()
    found = drilling.centres(*size, rows[0].spacing_mm, count)
    return () if isinstance(found, Refused) else found.centres


def _pull(c: Candidate) -> Pull:
    return Pull(c.name, c.spacing_mm, c.plate_width_mm, c.plate_height_mm, c.each, c.foot_mm)


def _screws(on: SumGround, c: Candidate, parts: Sequence[Part]) -> dict[str, Screw | Refused]:
    thread = shipped.threads().get(c.thread)
    if thread is None:
        return {}
    return {
        part.short: screw(thread, shipped.engaged_diameters(), own.mm, 0, c.thread_depth_mm)
        for part in parts
        if (own := on.of(part).get(THICKNESS))
    }


def _rank(choice: PullChoice) -> tuple[int, int, int, int]:
    return (0, *choice.plan.rank) if isinstance(choice.plan, HolePlan) else (1, 0, 0, 0)


def _look(look: PullLook) -> dict[str, object]:
    """`from_top_mm` is null in the middle of the height; `from_side_share` is one of the width."""
    aside = look.aside
    return {
        "on": look.group,
        "from_top_mm": look.down.mm or None,
        "from_side_mm": aside.mm if aside and not aside.share else None,
        "from_side_share": aside.share if aside and aside.share else None,
    }


def _data(choice: PullChoice, measures: units.Measures) -> dict[str, object]:
    if isinstance(choice.plan, Refused):
        return {"name": choice.candidate.name, "refused": choice.plan.say(measures)}
    return {
        "name": choice.candidate.name,
        "sentence": choice.plan.sentence,
        "looks": [_look(look) for look in choice.plan.looks],
        "fronts": [
            {"front": f.front, "reused": len(f.reused), "covered": len(f.covered),
             "to_fill": len(f.to_fill), "to_drill": f.to_drill, "showing": f.showing,
             "centres": [[p.x, p.y] for p in f.centres]}
            for f in choice.plan.fronts
        ],
        "screws": {
            short: found.stock_mm if isinstance(found, Screw) else None
            for short, found in choice.screws.items()
        },
        "over": [
            {"pull_mm": o.pull_mm, "holes_mm": o.holes_mm, "off_mm": o.off_mm,
             "holes_wide_mm": dict(o.wants), "drilled_mm": o.drilled_mm, "goes_on": o.goes_on}
            for o in choice.over
        ],
    }  # fmt: skip
