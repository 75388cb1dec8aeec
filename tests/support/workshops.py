"""Random workshops with seeds, for the planner: tiny ones to try all plans of, and whole ones."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from random import Random

from partsbench import trade
from partsbench.core.finish.path import FinishPath, parse_paths
from partsbench.core.finish.progress import Mark, progress
from partsbench.core.finish.steps import Operation, Per
from partsbench.core.finish.waits import Air, WaitFigures
from partsbench.core.plan.making import Bundle, Ways, make
from partsbench.core.plan.workshop import (
    FromTo,
    Lag,
    Promised,
    SprayGun,
    Stint,
    Worker,
    Workshop,
)
from partsbench.services.known import climate

DAY = 24 * 60
WEEKS = 9

FRONT = ("front", "left edge", "right edge", "top edge", "bottom edge")
STEPS = ("wash", "sand", "prime", "sand", "colour")
"""What a coat costs in a shop: the last three again and again."""


def days(first: int, last: int, *, worked: int = 6, since: int = 8 * 60) -> tuple[FromTo, ...]:
    """Each day from one minute to another, the seventh off; the plan begins at `since` o'clock."""
    found = []
    for day in range(WEEKS * 7):
        if day % 7 >= worked:
            continue
        start, end = day * DAY + first - since, day * DAY + last - since
        if end > 0:
            found.append((max(start, 0), end))
    return tuple(found)


def worker(name: str = "me", only: tuple[str, ...] = (), first: int = 8 * 60, last: int = 18 * 60,
           quiet_from: int = 18 * 60) -> Worker:  # fmt: skip
    loud = days(first, min(last, quiet_from))
    return Worker(name, days(first, last), loud, only)


def shop(seed: int, parts: int = 16, steps: int = 20, pieces: int = 4) -> Workshop:
    """So many parts in so many pieces, each part a chain of its own through coats and sandings."""
    random = Random(seed)
    stints: list[Stint] = []
    lags: list[Lag] = []
    mixes = [f"mix {n}" for n in range(pieces)]
    for part in range(parts):
        piece = f"P{part * pieces // parts}"
        add_chain(random, stints, lags, f"{part}", piece, mixes[part * pieces // parts], steps)
    people = [worker(last=random.choice((17, 18, 20)) * 60)]
    if random.random() < 0.3:
        people.append(Worker("helper", days(9 * 60, 13 * 60, worked=5), days(9 * 60, 13 * 60,
                      worked=5), ("sand", "wash")))  # fmt: skip
    promised = [
        Promised(f"P{n}", random.randint(5, 16) * DAY, random.choice((2.0, 10.0)))
        for n in range(pieces)
        if random.random() < 0.5
    ]
    return Workshop(
        tuple(stints),
        tuple(lags),
        tuple(people),
        SprayGun(10, 15, random.choice((400.0, 600.0))),
        {("dust", "spray"): random.choice((30, 60)), ("spray", "dust"): 60},
        random.choice((None, 8.0, 12.0)),
        tuple(promised),
    )


def add_chain(
    random: Random,
    stints: list[Stint],
    lags: list[Lag],
    name: str,
    piece: str,
    mix: str,
    steps: int,
) -> None:
    """The steps of one part or batch, with the waits between them."""
    scale = random.uniform(0.5, 2.0)
    begun = random.randrange(0, max(1, steps // 3)) if random.random() < 0.3 else 0
    before = ""
    for step in range(begun, steps):
        work = STEPS[step] if step < 2 else ("sand", "colour")[step % 2]
        key = f"{name}/{step}"
        coat = work == "colour"
        stints.append(
            Stint(
                key,
                piece,
                f"{name}: {work} {step}",
                max(2, round(random.uniform(3, 12) * scale)),
                work,
                room="shop" if work != "wash" else "",
                use={"sand": "dust", "colour": "spray"}.get(work, ""),
                loud=coat or work == "sand",
                mix=mix if coat else "",
                ml=round(random.uniform(30, 80) * scale) if coat else 0.0,
                m2=round(random.uniform(0.2, 0.8) * scale, 1) if coat else 0.0,
                lies=60 if coat else 0,
                soonest=random.choice((0, 0, 0, DAY)) if not before else 0,
            )
        )
        if before:
            least, most = _wait(random, stints[-2].work, work)
            lags.append(Lag(before, key, least, most, "it dries", "the window closes"))
        before = key


def _wait(random: Random, before: str, after: str) -> tuple[int, int | None]:
    if before == "wash":
        return random.choice((12, 18)) * 60, None
    if before == "colour":
        least = random.choice((2, 4, 4, 12)) * 60
        return least, least + 3 * DAY if random.random() < 0.15 else None
    return 0, DAY if random.random() < 0.4 else None


def tiny(seed: int) -> Workshop:
    """Five to seven stints, small enough to try every order and every way to share a cup."""
    random = Random(seed)
    stints: list[Stint] = []
    lags: list[Lag] = []
    for part in range(2):
        before = ""
        for step in range(random.choice((2, 3))):
            coat = random.random() < 0.5
            key = f"{part}/{step}"
            stints.append(
                Stint(
                    key,
                    f"P{part}",
                    key,
                    random.choice((5, 10, 20, 30)),
                    "colour" if coat else "sand",
                    room="shop",
                    use="spray" if coat else random.choice(("dust", "")),
                    loud=coat,
                    mix="m" if coat else "",
                    ml=random.choice((100, 200)) if coat else 0,
                    m2=random.choice((0.0, 1.0)) if coat else 0.0,
                    lies=30 if coat else 0,
                )
            )
            if before:
                least = random.choice((0, 0, 30, 60))
                most = least + random.choice((15, 60)) if random.random() < 0.3 else None
                lags.append(Lag(before, key, least, most))
            before = key
    promised = (Promised("P0", random.choice((60, 120)), 3.0),) if random.random() < 0.5 else ()
    return Workshop(
        tuple(stints),
        tuple(lags),
        (worker(last=random.choice((9, 10, 18)) * 60 + 30),),
        SprayGun(10, 15, 300.0),
        {("dust", "spray"): 20, ("spray", "dust"): 15},
        random.choice((None, 1.5)),
        promised,
    )


WORKS = ("sand", "strip", "wash", "colour", "hardware")
USES = {"sand": "dust", "strip": "fumes", "colour": "spray"}


def mixed(seed: int, parts: int = 4, steps: int = 4, people: int = 2) -> Workshop:
    """Small shops with everything that binds a plan: help for some work and work for two, three
    uses of two rooms, days, windows, work of no length, a rack and a cup soon full, short days."""
    random = Random(seed)
    stints: list[Stint] = []
    lags: list[Lag] = []
    for part in range(parts):
        before = ""
        for step in range(random.randint(2, steps)):
            work = random.choice(WORKS)
            coat, key = work == "colour", f"{part}/{step}"
            stints.append(
                Stint(
                    key,
                    f"P{part % 2}",
                    key,
                    0 if work == "hardware" else random.choice((5, 10, 20, 45)),
                    work,
                    hands=2 if people > 1 and work == "strip" and random.random() < 0.3 else 1,
                    room=random.choice(("shop", "shop", "shed")),
                    use=USES.get(work, ""),
                    loud=work in ("sand", "colour"),
                    mix=random.choice(("m", "n")) if coat else "",
                    ml=float(random.choice((60, 100))) if coat else 0.0,
                    m2=random.choice((0.0, 0.5, 1.0)) if coat else 0.0,
                    lies=random.choice((20, 90)) if coat else 0,
                    soonest=random.choice((0, 0, 40, DAY)) if not before else 0,
                    by=2 * DAY if random.random() < 0.1 else None,
                )
            )
            if before:
                least = random.choice((0, 0, 15, 120, 500))
                most = least + random.choice((30, 200)) if random.random() < 0.3 else None
                lags.append(Lag(before, key, least, most))
            before = key
    helper = Worker("Wren", days(9 * 60, 11 * 60), days(10 * 60, 11 * 60), ("sand", "strip"))
    return Workshop(
        tuple(stints),
        tuple(lags),
        tuple(
            # Two weeks are enough, and quicker than nine.
            replace(w, here=w.here[:12], loud=w.loud[:12])
            for w in (worker(last=12 * 60, quiet_from=11 * 60 + 30), helper)[:people]
        ),
        SprayGun(10, 15, 200.0),
        {("dust", "spray"): 20, ("spray", "dust"): 15, ("fumes", "spray"): 30,
         ("dust", "fumes"): 5},
        random.choice((None, 1.5)),
        (Promised("P1", random.choice((120, DAY)), 3.0),),
    )  # fmt: skip


def dense(seed: int, people: int) -> Workshop:
    """So much work that hands, gun, rooms and rack bind more than any chain."""
    found = mixed(seed, parts=9, steps=3, people=people)
    stints = tuple(replace(s, by=None, soonest=s.soonest // 10) for s in found.stints)
    lags = tuple(replace(x, least=x.least // 10, most=None) for x in found.lags)
    return replace(found, stints=stints, lags=lags, promised=())


def big(seed: int, pieces: int = 5, faces: int = 300) -> Workshop:
    """So many pieces with so many faces, in the batches in which they are worked: fronts, frames,
    drawer sides and edges of a piece, by what fits into one go."""
    random = Random(seed)
    stints: list[Stint] = []
    lags: list[Lag] = []
    left = faces
    for piece in range(pieces):
        mine = left // (pieces - piece)
        left -= mine
        batches = max(1, round(mine / random.uniform(6, 12)))
        steps = random.choice((9, 12, 14))
        for batch in range(batches):
            add_chain(random, stints, lags, f"{piece}.{batch}", f"P{piece}", f"mix {piece}", steps)
    promised = [
        Promised(f"P{n}", random.randint(6, 18) * DAY, random.choice((2.0, 10.0)))
        for n in range(pieces)
        if random.random() < 0.5
    ]
    return Workshop(
        tuple(stints),
        tuple(lags),
        (worker(last=random.choice((17, 18, 20)) * 60),),
        SprayGun(10, 15, 600.0),
        {("dust", "spray"): 30, ("spray", "dust"): 60},
        None,
        tuple(promised),
    )


def of_paths(
    seed: int, parts: int = 16, pieces: int = 4, alone: bool = True, whole: bool = False
) -> Workshop:
    """Parts on the shipped finish paths, each somewhere on its way, in a shop with its own pace,
    air and hours. alone: each part is worked by itself; else in the batches of the planner.
    whole: nothing is begun, and of the longest paths 18 to 20 steps are due."""
    random = Random(seed)
    paths = parse_paths(trade.load_paths())
    told = [p for p in paths.values() if p.steps]
    if whole:
        told = [_long(paths[key]) for key in LONG]
    now = datetime(2026, 11, 30, 8, 0, tzinfo=UTC)
    bundles = []
    for piece in range(pieces):
        path = random.choice(told)
        if not whole and random.random() < 0.5:
            path = path.suited(frozenset({"old_finish"}), frozenset())
        count = (piece + 1) * parts // pieces - piece * parts // pieces
        begun = not whole and random.random() < 0.5
        place = random.randrange(4)
        names = ("front",) if alone else FRONT
        faces = [
            (f"D{n + 1}", name, m2 if name == "front" else m2 / 20)
            for n in range(count // len(names))
            for m2 in (random.uniform(0.08, 0.3),)
            for name in names
        ]
        groups = [[f] for f in faces] if alone else _by_way(random, faces)
        for some in groups:
            marks = []
            if begun:
                steps = [s for s in path.steps if not s.optional][: place + random.randrange(2)]
                at = now - timedelta(hours=14 + len(steps))
                marks = [Mark(s.key, at + timedelta(hours=n)) for n, s in enumerate(steps)]
            bundles.append(Bundle(f"P{piece}", f"P{piece}", tuple(some), progress(path, marks)))
    pace = random.uniform(0.8, 1.6)
    own = {
        (o, per): [minutes * pace] * 5
        for o, per, minutes in (
            (Operation.SAND, Per.FACE, 5.0),
            (Operation.COLOUR, Per.FACE, 3.0),
            (Operation.WASH, Per.PART, 9.0),
            (Operation.CLEAR, Per.FACE, 3.0),
        )
    }
    air = Air(random.choice((1.0, 1.0, 1.3)))
    ways = Ways(
        WaitFigures(climate.products(), air=air), own, ml_per_m2=lambda _: 150.0, cup_ml=600.0
    )
    done = make(bundles, ways, now)
    last = random.choice((17, 18, 20)) * 60
    promised = tuple(
        Promised(f"P{n}", random.randint(9, 20) * DAY, random.choice((2.0, 10.0)))
        for n in range(pieces)
        if random.random() < 0.4
    )
    return Workshop(
        done.stints,
        done.lags,
        (worker(last=last),),
        SprayGun(10, 15, 600.0),
        {("dust", "spray"): 60, ("spray", "dust"): 30},
        None,
        promised,
    )


LONG = {
    "paint": (),
    "shellac_paint": (),
    "stain": ("condition_water", "wipe_condition_water", "stain_2", "wipe_2", "touch_up"),
    "dye_stain": ("raise_grain", "sand_raised", "repair", "touch_up"),
}
"""Paths of 18 to 20 steps, with what is left out of those that are optional."""


def _long(path: FinishPath) -> FinishPath:
    """The path with all those steps due."""
    out = LONG[path.key]
    return replace(path, steps=tuple(replace(s, optional=s.key in out) for s in path.steps))


def _by_way(
    random: Random, faces: list[tuple[str, str, float]]
) -> list[list[tuple[str, str, float]]]:
    """Some groups of faces that stand alike."""
    groups: list[list[tuple[str, str, float]]] = [[] for _ in range(random.choice((1, 2, 3)))]
    which = {part: random.choice(groups) for part, _, _ in faces}
    for face in faces:
        which[face[0]].append(face)
    return [g for g in groups if g]
