"""The hardware of a piece counted: what is usable, what is missing, where survivors go."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date, timedelta

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.sums import pulls, units
from partsbench.core.sums.pulls import Allotment, Census, Condition, Hardware
from partsbench.core.sums.refusal import Refusal, amount, first
from partsbench.core.sums.spacings import told_apart
from partsbench.services.bench import fix_numbers
from partsbench.services.shop import Shop, writing
from partsbench.services.sums import shipped
from partsbench.services.sums.ground import Ground, fronts, ground, named
from partsbench.services.sums.told import Told, few, good, refused, told_of
from partsbench.store import figures
from partsbench.store.figures import Counted
from partsbench.store.journal import change

CONDITIONS = ("good", "worn", "bent", "broken")
KINDS = frozenset({"pull", "knob", "plate"})
"""What drawers and doors are fitted with on their fronts."""
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
    kind = kind.strip().lower()
    apart = _optional(spacing, on, "spacing")
    long = _optional(screw, on, "screw")
    bad = first(
        None if kind else Refusal("kind", "is missing: pull, knob, plate"),
        Refusal("kind", "is longer than 40 characters") if len(kind) > 40 else None,
        apart if isinstance(apart, Refusal) else None,
        long if isinstance(long, Refusal) else None,
        amount("count", number, least=0, most=100),
    )
    if bad or isinstance(apart, Refusal) or isinstance(long, Refusal):
        return refused(bad or Refusal("count", "is missing"), on.measures)
    short = short_number(*place)
    sentence = f"{on.piece.codename} {short}: {number} × {kind}, {condition}"
    row = {"piece": on.key, "family": place[0].value, "number": place[1], "kind": kind,
           "condition": condition}  # fmt: skip
    values = {"count": number, "spacing_mm": apart, "spacing_typed": spacing.strip(),
              "thread": thread.strip(), "screw_mm": long, "screw_typed": screw.strip()}  # fmt: skip
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        fix_numbers(shop, entry, on.piece)
        if number:
            figures.put(entry, "hardware", row, values)
        else:
            figures.drop(entry, "hardware", row)
    return Done(f"{sentence}.", tag)


def census(shop: Shop, tag: str) -> tuple[Census, list[Counted]] | Refused:
    """What is usable, broken and missing against what the piece is fitted with."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    rows = figures.hardware(shop.book, on.key)
    found = pulls.census(hardware(rows), expected(on.piece))
    return refused(found, on.measures) if isinstance(found, Refusal) else (found, rows)


def tell_census(found: tuple[Census, list[Counted]], measures: units.Measures) -> Told:
    """One row for each count, each spacing told from its neighbours."""
    census_now, rows = found
    lines = []
    lacks = list(census_now.lacks)
    for row in rows:
        told = told_apart(shipped.spacings(), row.spacing_mm) if row.spacing_mm else None
        name = "" if told is None or isinstance(told, Refusal) else " or ".join(told.names)
        if told is not None and not isinstance(told, Refusal):
            lacks += told.lacks
        lines.append(
            (
                short_number(Family(row.family), row.number),
                str(row.count),
                row.kind,
                row.condition,
                row.spacing_typed,
                name or ("knob" if row.spacing_mm == 0 else ""),
                row.thread,
                row.screw_typed,
            )
        )
    if not rows:
        lacks.append(COUNT)
    return told_of(
        census_now,
        measures,
        head=("on", "count", "kind", "condition", "spacing", "which is", "thread", "screw"),
        rows=lines,
        lacks=few(lacks),
        data={
            "usable": dict(census_now.usable),
            "broken": dict(census_now.broken),
            "missing": dict(census_now.missing),
            "complete_sets": census_now.complete_sets,
            "mixed": list(census_now.mixed),
        },
    )


def allot(shop: Shop, tag: str, kind: str, price: float) -> Allotment | Refused:
    """Where the survivors of a kind go so that a mismatch is least seen: whole rows, top first."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    rows = [r for r in figures.hardware(shop.book, on.key) if r.kind == kind]
    places = _places(on, kind)
    if not places:
        return Refused(f"No drawer or door of {on.piece.codename} is fitted with a {kind}.")
    spare = int(on.habits.number("spare pulls", 1))
    vetoes = figures.vetoes(shop.book, on.key)
    found = pulls.allot(hardware(rows), places, price, spare, vetoes)
    return good(found, on.measures)


@writing
def veto(shop: Shop, tag: str, survivor: str, place: str, wanted: bool = False) -> Done | Refused:
    """Not this survivor in that place, or after all."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    row = {"piece": on.key, "survivor": survivor.strip(), "place": place.strip()}
    sentence = f"{on.piece.codename}: {survivor} {'may go' if wanted else 'not'} on {place}"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        if wanted:
            figures.drop(entry, "veto", row)
        else:
            figures.put(entry, "veto", row, {})
    return Done(f"{sentence}.", tag)


def tell_allotment(found: Allotment) -> Told:
    rows = [*((place, name) for name, place in found.kept), *((p, "new") for p in found.new_places)]
    data = {"kept": [{"survivor": s, "place": p} for s, p in found.kept],
            "new_places": list(found.new_places), "spare": found.spare, "cost": found.cost,
            "full_cost": found.full_cost}  # fmt: skip
    return told_of(found, head=("place", "takes"), rows=sorted(rows), data=data)


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


def expected(piece: Piece) -> dict[str, dict[str, int]]:
    """What each drawer and door is fitted with: front → kind → how many."""
    return {
        part.short: dict(kinds)
        for part in fronts(piece)
        if (kinds := Counter(_kind(c) for c in piece.children(part.short) if _kind(c) in KINDS))
    }


def _places(on: Ground, kind: str) -> list[pulls.Place]:
    """Where such a thing sits; the middle of the front is looked at most."""
    found = []
    height = on.piece.front.height
    for part in fronts(on.piece):
        opening = on.piece.front.opening(part.home.number)
        assert opening is not None
        _, y, _, high = on.piece.front.box(opening.span)
        seen = 1 - 0.8 * (y + high / 2) / height if height else 1.0
        hidden = opening.behind is not None
        for fitting in on.piece.children(part.short):
            if _kind(fitting) == kind:
                spot = fitting.home.spot
                name = f"{part.short} {spot}".strip()
                row = "inside" if hidden else str(opening.span.row + 1)
                found.append(pulls.Place(name, row, 0.05 if hidden else seen))
    return found


def _kind(part: Part) -> str:
    return part.name.lower() if part.family is Family.PULL else ""


def _optional(text: str, on: Ground, what: str) -> float | Refusal | None:
    if not text.strip():
        return None
    if text.strip() == "0":
        return 0.0
    found = units.length(text, on.measures, what)
    if isinstance(found, Refusal):
        return found
    return amount(what, found.value, above=0, most=1000, unit="mm") or found.value


def day_of(text: str, today: date) -> date | Refused:
    """A day as typed: `2026-12-04`, or `in 10 days`."""
    words = text.lower().split()
    soon = len(words) == 3 and words[0] == "in" and words[2] in ("days", "day")
    if soon and words[1].isdecimal() and len(words[1]) <= 4:
        return today + timedelta(days=int(words[1]))
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        return Refused(f"“{text}” is no day: write 2026-12-04, or in 10 days.")
