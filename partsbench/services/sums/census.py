"""The hardware of a piece counted: what it takes, what is usable, broken and missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from partsbench.core.key_words import choice_word, part_word
from partsbench.core.naming import few
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.fittings import FITTINGS, fittings
from partsbench.core.piece.furnish import MOST_PULLS
from partsbench.core.piece.parts import Part, many_of
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.surfaces import front_size
from partsbench.core.sums import census as counting
from partsbench.core.sums import units
from partsbench.core.sums.census import Census, Condition, Count, Hardware
from partsbench.core.sums.places import LEAST_EDGE_MM
from partsbench.core.sums.refusal import amount, because, first, wrong
from partsbench.core.sums.screws import LONGEST_SCREW_MM
from partsbench.core.sums.spacings import Over, over, say_spacing, told_apart
from partsbench.core.wording import or_list
from partsbench.services.rules.marking import fix_numbers
from partsbench.services.shop import Shop, writing
from partsbench.services.sums import shipped
from partsbench.services.sums.ground import SumGround, fronts, ground, named
from partsbench.services.sums.told import Told, told_of
from partsbench.store import figures
from partsbench.store.figures import Counted
from partsbench.store.journal import change

CONDITIONS = tuple(condition.name.lower() for condition in Condition)
KINDS = ("pull", "knob", "plate")
"""What drawers and doors are fitted with on their fronts."""
MOST_SPACING_MM = 1000.0
MOST_LOOSE = 100
"""Of one kind and condition in a bag, or with the carcase."""
COUNT = "the count: what is on each drawer, and how good it is"


@writing
def count(
    shop: Shop,
    tag: str,
    asked: str,
    kind: str,
    number: int,
    *,
    condition: str = "good",
    spacing: str = "",
    thread: str = "",
    screw: str = "",
) -> Done | Refused:
    """So many things of a kind and condition on a drawer or door; 0 takes the count back.

    `spacing` is the distance of the screw holes (0 for a knob), `screw` the screw's length.
    """
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    place = named(on.piece, asked)
    if isinstance(place, Refused):
        return place
    if condition not in CONDITIONS:
        return Refused(f"“{condition}” is none of {', '.join(CONDITIONS)}.")
    kind = _one_of(kind)
    short = short_number(*place)
    apart, long = _spacing(on, place, kind, spacing), _screw(on, screw)
    bad = first(
        None if kind else wrong("kind", f"is missing: {', '.join(FITTINGS)}"),
        wrong("kind", "is longer than 40 characters") if len(kind) > 40 else None,
        wrong("thread", "is longer than 20 characters") if len(thread.strip()) > 20 else None,
        amount("count", number, least=0),
    )
    if bad or isinstance(apart, Refused) or isinstance(long, Refused):
        found = next(r for r in (bad, apart, long) if isinstance(r, Refused))
        return found.told_in(on.measures)
    full = _too_many(on, figures.hardware(shop.book, on.key), place, kind, number, condition)
    if full:
        return full
    of, good = choice_word(kind), choice_word(condition)
    sentence = f"{on.piece.codename} {short}: {number} × {of}, {good}"
    row = {"piece": on.key, "family": place[0].value, "number": place[1], "kind": kind,
           "condition": condition}  # fmt: skip
    values = {"count": number} | _said(
        ({"spacing_mm": apart, "spacing_typed": spacing.strip()}, spacing),
        ({"thread": thread.strip()}, thread),
        ({"screw_mm": long, "screw_typed": screw.strip()}, screw),
    )
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        fix_numbers(shop, entry, on.piece)
        if number:
            figures.put(entry, "hardware", row, values)
        else:
            figures.drop(entry, "hardware", row)
    return Done(f"{sentence}.", tag)


def _said(*given: tuple[Mapping[str, object], str]) -> dict[str, object]:
    """The columns of what was typed: what is not said stays as it was."""
    return {key: value for columns, text in given if text.strip() for key, value in columns.items()}


def census(shop: Shop, tag: str) -> tuple[Census, list[Counted]] | Refused:
    """What is usable, broken and missing against what the piece is fitted with."""
    on = ground(shop, tag)
    return on if isinstance(on, Refused) else taken(shop, on)


def taken(shop: Shop, on: SumGround) -> tuple[Census, list[Counted]] | Refused:
    """The one count that census, order and allotment stand on, and the rows that it is from."""
    rows = figures.hardware(shop.book, on.key)
    found = counting.census(hardware(rows), expected(on.piece))
    return found.told_in(on.measures) if isinstance(found, Refused) else (found, rows)


def tell_census(found: tuple[Census, list[Counted]], measures: units.Measures) -> Told:
    """One row for each count, each spacing told from its neighbours."""
    census_now, rows = found
    lines = []
    lacks = list(census_now.lacks)
    for row in rows:
        told = told_apart(shipped.spacings(), row.spacing_mm) if row.spacing_mm else None
        name = "" if told is None or isinstance(told, Refused) else or_list(told.names)
        if told is not None and not isinstance(told, Refused):
            lacks += told.lacks
        lines.append(
            (
                short_number(Family(row.family), row.number),
                str(row.count),
                choice_word(row.kind),
                choice_word(row.condition),
                row.spacing_typed,
                name or (part_word("knob") if row.spacing_mm == 0 else ""),
                row.thread,
                row.screw_typed,
            )
        )
    if not census_now.counted:
        lacks.append(COUNT)
    return told_of(
        census_now,
        measures,
        head=("on", "count", "kind", "condition", "spacing", "which is", "thread", "screw"),
        rows=lines,
        lacks=few(lacks),
        caution=mind(census_now.counts, measures),
        data={
            "usable": dict(census_now.usable),
            "broken": dict(census_now.broken),
            "missing": dict(census_now.missing),
            "complete_sets": census_now.complete_sets,
            "mixed": list(census_now.mixed),
            "counts": counts_data(census_now.counts),
        },
    )


def counts_data(counts: Iterable[Count]) -> dict[str, dict[str, int]]:
    """What each kind is counted to, as every answer that stands on the count has it for JSON."""
    return {
        c.kind: {"wanted": c.wanted, "counted": c.counted, "usable": c.usable, "broken": c.broken,
                 "missing": c.missing, "not_counted": c.not_counted, "misfits": c.misfits,
                 "needed": c.needed}
        for c in counts
    }  # fmt: skip


def mind(counts: Iterable[Count], measures: units.Measures) -> str:
    """What is counted and not taken, and what spacings beside those of most mean."""
    return " ".join([*_besides(counts), *_beside_most(counts, measures)])


def _besides(counts: Iterable[Count]) -> Iterator[str]:
    beside = [f"{c.counted} × {choice_word(c.kind)}" for c in counts if c.counted and not c.wanted]
    if beside:
        yield f"Counted too, and not taken by any front: {', '.join(beside)}."


def _beside_most(counts: Iterable[Count], measures: units.Measures) -> Iterator[str]:
    for kind in counts:
        for mm in kind.over if kind.spacing else ():
            found = beside(mm, kind.spacing or 0.0, kind.thread)
            if found:
                yield say_over(f"A {choice_word(kind.kind)}:", found, measures)


def beside(pull_mm: float, holes_mm: float, thread: str = "") -> Over | None:
    """A pull over holes of another spacing, with its thread or, unknown, with each of the table."""
    known = shipped.threads()
    asked = [known[thread]] if thread in known else list(known.values())
    found = over(pull_mm, holes_mm, [(t.name, t.diameter) for t in asked], shipped.old_holes())
    return None if isinstance(found, Refused) else found


def say_over(what: str, found: Over, measures: units.Measures) -> str:
    """`A pull: 3-3/4 in over holes of 96 mm. It is 0.75 mm narrower …`"""
    known = shipped.spacings()
    own, old = (say_spacing(known, mm, measures) for mm in (found.pull_mm, found.holes_mm))
    return f"{what} {own} over holes of {old}. {found.say(measures)}"


def hardware(rows: Sequence[Counted]) -> list[Hardware]:
    """Each thing counted by itself, so that it can be given a place."""
    found = []
    for row in rows:
        host = short_number(Family(row.family), row.number)
        found += [
            Hardware(
                f"{row.kind} {place} of {host}, {row.condition}",
                host,
                row.kind,
                Condition[row.condition.upper()],
                row.spacing_mm,
                row.thread,
                row.screw_mm,
            )
            for place in range(1, row.count + 1)
        ]
    return found


def expected(piece: Piece) -> Mapping[str, Mapping[str, int]]:
    """What each drawer and door is fitted with: front → kind → how many."""
    return {
        part.short: dict(kinds)
        for part in fronts(piece)
        if (kinds := Counter(kind for c in piece.children(part.short) if (kind := kind_of(c))))
    }


def kind_of(part: Part) -> str:
    """What a part of a front is, whatever it is called besides; "" for what is no pull."""
    if part.family is not Family.PULL:
        return ""
    words = part.name.lower().split()
    return next((kind for kind in KINDS if kind in words), KINDS[0])


def _one_of(kind: str) -> str:
    """One word for one kind: `Pulls` are counted as `pull`."""
    word = " ".join(kind.lower().split())
    return next((one for one in FITTINGS if word in (one, many_of(one))), word)


def _too_many(
    on: SumGround,
    rows: Sequence[Counted],
    place: tuple[Family, int],
    kind: str,
    number: int,
    condition: str,
) -> Refused | None:
    """More than a place has room for; those counted there in other conditions count too."""
    if place[0] in (Family.BAG, Family.CARCASE):
        return amount("count", number, most=MOST_LOOSE)
    short = short_number(*place)
    room = _room(on.piece, short, kind)
    there = {r.condition: r.count for r in rows
             if (r.family, r.number, r.kind) == (place[0].value, place[1], kind)
             and r.condition != condition}  # fmt: skip
    if not number or number + sum(there.values()) <= room:
        return None
    had = ", ".join(f"{n} {how}" for how, n in there.items())
    has = f"{short} has room for {room} × {choice_word(kind)}"
    has = f"{has}, and {had} counted there already (0 takes them back)" if there else has
    return Refused(
        f"{has}: {number} cannot be on it. What is loose is counted with the carcase (C1) or a bag."
    )


def _room(piece: Piece, short: str, kind: str) -> int:
    """How many of a kind a part bears: as many as it is fitted with, else what can be drawn."""
    part = piece.part(short)
    if part is None:
        return MOST_PULLS
    own = expected(piece).get(short, {}).get(kind, 0) if kind in KINDS else 0
    return own or len(fittings(piece, short, kind)) or MOST_PULLS


def _spacing(
    on: SumGround, place: tuple[Family, int], kind: str, text: str
) -> float | Refused | None:
    """A hole spacing as typed, that has room on its front; None when it is not said."""
    if not text.strip():
        return None
    found = units.length(text, on.measures, "spacing")
    if isinstance(found, Refused):
        return found
    if kind == "knob" and found.value:
        return wrong("spacing", "a knob has one hole: write 0, or count it as a pull")
    part = on.piece.numbered(*place)
    front = [part] if part and part in fronts(on.piece) else []
    return wider_than_all(on, found.value, front) or found.value


def wider_than_all(on: SumGround, apart_mm: float, parts: Sequence[Part]) -> Refused | None:
    """Holes further apart than the widest of these fronts has room for; any without fronts."""
    bad = amount("spacing", apart_mm, least=0, most=MOST_SPACING_MM, unit="mm")
    sizes = [size for part in parts if (size := front_size(on.piece, part, on.mm()))]
    widest = max((width for width, _ in sizes), default=MOST_SPACING_MM)
    if bad or apart_mm + 2 * LEAST_EDGE_MM <= widest or not sizes:
        return bad
    which = parts[0].short if len(parts) == 1 else "the widest front"

    def why(measures: units.Measures) -> str:
        wide, apart = (units.show_length(mm, measures) for mm in (widest, apart_mm))
        return f"{apart} has no room on {which}: it is {wide} wide"

    return because("spacing", why)


def _screw(on: SumGround, text: str) -> float | Refused | None:
    if not text.strip():
        return None
    found = units.length(text, on.measures, "screw")
    if isinstance(found, Refused):
        return found
    return amount("screw", found.value, above=0, most=LONGEST_SCREW_MM, unit="mm") or found.value
