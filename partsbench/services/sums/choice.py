"""Old holes and pulls to choose from, noted as they were typed."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from partsbench.core.outcomes import Done, Refused
from partsbench.core.sums import units
from partsbench.core.sums.fronts import Point
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.sums.screws import DEEPEST_THREAD_MM
from partsbench.core.wording import plural
from partsbench.services.rules.marking import fix_numbers
from partsbench.services.shop import Shop, writing
from partsbench.services.sums import shipped
from partsbench.services.sums.census import wider_than_all
from partsbench.services.sums.ground import SumGround, front_of, fronts, ground
from partsbench.store import figures
from partsbench.store.journal import change

MOST_HOLES = 60
"""In one front (our own limit)."""
ONE_HOLE_MM = 1.0
"""Nearer centres are one hole, said twice."""


@writing
def note_holes(shop: Shop, tag: str, asked: str, text: str) -> Done | Refused:
    """The screw holes in a front: `102,90 198,90`, from the left and from the top edge.

    In inches each number bears its own sign: `4",3 1/2" 7 3/4",3 1/2"` with `;` between holes.
    The empty text says there are none noted.
    """
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    found = front_of(on, asked)
    if isinstance(found, Refused):
        return found
    part, size = found
    read = _points(text, on, size)
    if isinstance(read, Refused):
        return read
    many = len(read)
    holes = plural(many, "1 hole in the front", f"{many} holes in the front")
    sentence = f"{on.piece.codename} {part.short}: {holes}"
    row = {"piece": on.key, "family": part.family.value, "number": part.number}
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        fix_numbers(shop, entry, on.piece)
        figures.drop(entry, "hole", row)
        rows = [{**row, "place": i, "x_mm": p.x, "y_mm": p.y, "typed": typed}
                for i, (p, typed) in enumerate(read, 1)]  # fmt: skip
        entry.insert_all("hole", rows)
    return Done(f"{sentence}.", tag)


@writing
def consider(
    shop: Shop,
    tag: str,
    name: str,
    spacing: str = "",
    *,
    plate: str = "",
    foot: str = "",
    each: int = 1,
    thread: str = "",
    depth: str = "",
    price: float | None = None,
    lead_days: int | None = None,
) -> Done | Refused:
    """A pull to judge: spacing (0 for a knob), backplate `120 x 40`, foot, how many on a front.

    The empty spacing takes it off the list.
    """
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    called = " ".join(name.split())
    if not called or len(called) > 40:
        return Refused("A candidate needs a name of 1 to 40 characters.")
    named = {"piece": on.key, "name": called}
    if not spacing.strip():
        with change(shop.book, f"{called} is out of the choice", shop.clock(), shop.who, tag) as e:
            if not figures.drop(e, "candidate", named):
                return Refused(f"There is no candidate “{called}”.")
        return Done(f"{called} is out of the choice.", tag)
    values = _candidate(on, spacing, plate, foot, each, thread, depth, price, lead_days)
    if isinstance(values, Refused):
        return values.told_in(on.measures)
    sentence = f"{on.piece.codename}: {called} is in the choice"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        figures.put(entry, "candidate", named, values)
    return Done(f"{sentence}.", tag)


def _points(
    text: str, on: SumGround, size: tuple[float, float]
) -> list[tuple[Point, str]] | Refused:
    pairs = text.split(";") if ";" in text else text.split()
    found: list[tuple[Point, str]] = []
    for pair in pairs:
        if not pair.strip():
            continue
        words = pair.split(",")
        if len(words) != 2:
            return Refused(f"“{pair.strip()}” is no hole: write 102,90 from left and top edge.")
        x, y = (units.length(word, on.measures, "hole") for word in words)
        if isinstance(x, Refused):
            return x.told_in(on.measures)
        if isinstance(y, Refused):
            return y.told_in(on.measures)
        point = Point(x.value, y.value)
        bad = _no_hole(point, [p for p, _ in found], size, on.measures)
        if bad:
            return Refused(f"“{pair.strip()}” {bad}.")
        found.append((point, pair.strip()))
    if len(found) > MOST_HOLES:
        return Refused(f"{len(found)} holes in one front: more than {MOST_HOLES} cannot be kept.")
    return found


def _no_hole(
    at: Point, others: Sequence[Point], size: tuple[float, float], measures: units.Measures
) -> str:
    """Why there can be no hole there; "" when there can."""
    if not (0 < at.x < size[0] and 0 < at.y < size[1]):
        width, height = (units.show_length(mm, measures) for mm in size)
        return f"lies outside a front of {width} × {height}"
    twice = any(hypot(at.x - p.x, at.y - p.y) < ONE_HOLE_MM for p in others)
    return "stands there twice" if twice else ""


def _candidate(
    on: SumGround,
    spacing: str,
    plate: str,
    foot: str,
    each: int,
    thread: str,
    depth: str,
    price: float | None,
    lead_days: int | None,
) -> dict[str, object] | Refused:
    wide, _, high = plate.lower().replace("×", "x").partition("x")
    mm: dict[str, float] = {}
    for what, text in (("spacing", spacing), ("plate_width", wide), ("plate_height", high or wide),
                       ("foot", foot), ("thread_depth", depth)):  # fmt: skip
        if not text.strip() or text.strip() == "0":
            mm[what] = 0.0
            continue
        found = units.length(text, on.measures, what.replace("_", " "))
        if isinstance(found, Refused):
            return found
        mm[what] = found.value
    bad = first(
        wider_than_all(on, mm["spacing"], fronts(on.piece)),
        amount("thread depth", mm["thread_depth"], least=0, most=DEEPEST_THREAD_MM, unit="mm"),
        *(
            amount(what.replace("_", " "), value, least=0, most=1000, unit="mm")
            for what, value in mm.items()
        ),
        wrong("plate", f"“{plate.strip()}” has one side only: write 120 x 40, or nothing")
        if bool(mm["plate_width"]) != bool(mm["plate_height"])
        else None,
        amount("pulls on a front", each, least=1, most=2),
        None if price is None else amount("price", price, least=0, most=100_000),
        None if lead_days is None else amount("lead time", lead_days, least=0, most=730),
        None
        if not thread or thread in shipped.threads()
        else wrong("thread", f"{thread} is none of {', '.join(shipped.threads())}"),
    )
    return bad or {
        "spacing_mm": mm["spacing"],
        "spacing_typed": spacing.strip(),
        "plate_width_mm": mm["plate_width"],
        "plate_height_mm": mm["plate_height"],
        "foot_mm": mm["foot"],
        "each": each,
        "thread": thread,
        "thread_depth_mm": mm["thread_depth"] or None,
        "price": price,
        "lead_days": lead_days,
    }
