"""Where the surviving originals of a piece go, and where they are not wanted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from partsbench.core.naming import few
from partsbench.core.outcomes import Done, Refused
from partsbench.core.sums import pulls, units
from partsbench.core.sums.pulls import Allotment, PullPlace
from partsbench.services.shop import Shop, writing
from partsbench.services.sums.census import (
    COUNT,
    KINDS,
    counts_data,
    hardware,
    kind_of,
    mind,
    taken,
)
from partsbench.services.sums.ground import SumGround, fronts, ground
from partsbench.services.sums.told import Told, good, told_of
from partsbench.store import figures
from partsbench.store.journal import change

HIDDEN_SEEN = 0.05
"""How much a front behind a door is looked at; the lowest row of the outside is over 0.2."""


def allot(shop: Shop, tag: str, kind: str, price: float) -> Allotment | Refused:
    """Where the survivors of a kind go so that a mismatch is least seen: whole rows, top first."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    if kind not in KINDS:
        return Refused(f"“{kind}” is none of {', '.join(KINDS)}.")
    places = places_for(on, kind)
    if not places:
        return Refused(f"No drawer or door of {on.piece.codename} is fitted with a {kind}.")
    counted = taken(shop, on)
    if isinstance(counted, Refused):
        return counted
    census, rows = counted
    spare = int(on.habits.number("spare pulls", 1))
    vetoes = figures.vetoes(shop.book, on.key)
    found = pulls.allot(census.of(kind), hardware(rows), places, price, spare, vetoes)
    return good(found, on.measures)


@writing
def veto(
    shop: Shop, tag: str, survivor: str, place: str, wanted: bool = False, kind: str = ""
) -> Done | Refused:
    """Not this survivor in that place, or after all; of this kind, where one is said."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    row = _vetoed(shop, on, survivor, place) if wanted else _barred(shop, on, survivor, place, kind)
    if isinstance(row, Refused):
        return row
    name, where = row
    may, may_not = f"{name} may go on {where}", f"{name} not on {where}"
    sentence = f"{on.piece.codename}: {may if wanted else may_not}"
    named = {"piece": on.key, "survivor": name, "place": where}
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        if wanted:
            figures.drop(entry, "veto", named)
        else:
            figures.put(entry, "veto", named, {})
    return Done(f"{sentence}.", tag)


def tell_allotment(found: Allotment, measures: units.Measures = units.Measures.METRIC) -> Told:
    """One row for each place, then the originals that have none."""
    rows = [*((place, name) for name, place in found.kept), *((p, "new") for p in found.new_places)]
    data = {"kept": [{"survivor": s, "place": p} for s, p in found.kept],
            "new_places": list(found.new_places), "left_over": list(found.left_over),
            "spare": found.spare, "cost": found.cost, "full_cost": found.full_cost,
            "counts": counts_data([found.count])}  # fmt: skip
    return told_of(
        found,
        measures,
        head=("place", "takes"),
        rows=[*sorted(rows), *(("left over", name) for name in few(found.left_over))],
        lacks=() if found.count.counted else (COUNT,),
        caution=mind([found.count], measures),
        data=data,
    )


def places_for(on: SumGround, kind: str) -> list[PullPlace]:
    """Where such a thing sits; the middle of the front is looked at most."""
    found = []
    height = on.piece.front.height
    for part in fronts(on.piece):
        opening = on.piece.front.opening(part.home.number)
        assert opening is not None
        _, y, _, high = on.piece.front.box(opening.span)
        hidden = opening.behind is not None
        seen = HIDDEN_SEEN if hidden else 1 - 0.8 * (y + high / 2) / height
        row = "inside" if hidden else str(opening.span.row + 1)
        own = [c for c in on.piece.children(part.short) if kind_of(c) == kind]
        spots = Counter(fitting.home.spot for fitting in own)
        for fitting in own:
            spot = fitting.home.spot
            name = spot if spots[spot] == 1 else fitting.short
            found.append(PullPlace(f"{part.short} {name}".strip(), row, seen))
    return found


def _barred(
    shop: Shop, on: SumGround, survivor: str, place: str, kind: str
) -> tuple[str, str] | Refused:
    """The names of a survivor that is counted and of a place that takes its kind."""
    items = hardware(figures.hardware(shop.book, on.key))
    thing = next((item for item in items if _plain(item.name) == _plain(survivor)), None)
    if thing is None:
        return Refused(
            f"There is no survivor “{survivor.strip()}”; {_there_is([i.name for i in items])}"
        )
    if not thing.usable:
        return Refused(f"{thing.name} goes on nowhere.")
    if kind and thing.kind != kind:
        return Refused(f"{thing.name} is no {kind}: ask for its own kind.")
    places = [p.name for p in places_for(on, thing.kind)]
    where = next((name for name in places if _plain(name) == _plain(place)), None)
    if where is None:
        return Refused(f"No {thing.kind} goes on “{place.strip()}”; {_there_is(places)}")
    return thing.name, where


def _vetoed(shop: Shop, on: SumGround, survivor: str, place: str) -> tuple[str, str] | Refused:
    """A veto that is kept; its survivor may be there no more."""
    for name, where in sorted(figures.vetoes(shop.book, on.key)):
        if (_plain(name), _plain(where)) == (_plain(survivor), _plain(place)):
            return name, where
    return Refused(f"Nothing was said against {survivor.strip()} on {place.strip()}.")


def _there_is(names: Iterable[str]) -> str:
    known = list(names)
    return f"there are: {'; '.join(few(known))}." if known else "nothing is counted yet."


def _plain(name: str) -> str:
    return " ".join(name.replace(",", " ").lower().split())
