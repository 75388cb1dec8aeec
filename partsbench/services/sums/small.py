"""The small sums at the bench, from what was typed: no piece is needed."""

from __future__ import annotations

from dataclasses import replace

from partsbench.core.outcomes import Refused
from partsbench.core.sums import climate, film, money, papers, units, wood
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import wrong
from partsbench.core.sums.units import Measures
from partsbench.services.sums import shipped
from partsbench.services.sums.told import Told, good, once, told_of

TRADE = Measures.METRIC


def moisture(
    temperature: str, humidity: str, measures: Measures = TRADE
) -> wood.Moisture | Refused:
    """The moisture that wood comes to in this air."""
    warm = units.temperature(temperature, measures)
    damp = units.percent(humidity, "humidity")
    if isinstance(warm, Refused):
        return warm.told_in(measures)
    if isinstance(damp, Refused):
        return damp.told_in(measures)
    return good(wood.moisture(warm.value, damp.value), measures)


def movement(
    species: str, cut: str, size: str, start: str, end: str, measures: Measures = TRADE
) -> wood.Movement | Refused:
    """How much a board of a wood changes across the grain between two moistures: each in %, or a
    region for the average of its homes."""
    found = wood.find_wood(shipped.woods(), species)
    way = wood.find_cut(cut)
    wide = units.length(size, measures, "size")
    begin = _moisture(start, "moisture at the start")
    close = _moisture(end, "moisture at the end")
    if isinstance(found, Refused):
        return found.told_in(measures)
    if isinstance(way, Refused):
        return way.told_in(measures)
    if isinstance(wide, Refused):
        return wide.told_in(measures)
    if isinstance(begin, Refused):
        return begin.told_in(measures)
    if isinstance(close, Refused):
        return close.told_in(measures)
    moved = good(wood.movement(wide.value, found, way, begin.value, close.value), measures)
    if isinstance(moved, Refused):
        return moved
    homes = (each.cited for each in (begin, close) if isinstance(each, Figure))
    return replace(moved, sources=once(*moved.sources, *homes))


def _moisture(text: str, what: str) -> units.TypedMeasure | Figure | Refused:
    """A moisture of wood in %, as typed or by the name of a region."""
    region = shipped.regions().get(text.strip().lower())
    if region:
        return region[1]
    found = units.percent(text, what)
    if isinstance(found, Refused):
        regions = ", ".join(f"{key} ({name})" for key, (name, _) in shipped.regions().items())
        return wrong(what, f"{text!r} is no share in %, and no region: {regions}")
    return found


def coverage(
    solids: str, dry_film: str, transfer: str, measures: Measures = TRADE
) -> film.Coverage | Refused:
    """How far a coating goes. `solids` is a share or a class of coatings, `transfer` a share or a
    tool's name, empty for all of it; an empty film is that of the class."""
    coating = shipped.coatings().get(solids.strip().lower())
    solid = coating or units.percent(solids, "solids")
    usual = coating.dry if coating and not dry_film.strip() else None
    thick = usual or units.film(dry_film, measures, "film")
    tool = shipped.transfers().get(transfer.strip().lower())
    lands = units.percent(transfer.strip() or "100", "transfer") if tool is None else None
    if isinstance(solid, Refused):
        return Refused(f"{solid.say(measures)} Classes: {', '.join(shipped.coatings())}.")
    if isinstance(thick, Refused):
        return thick.told_in(measures)
    if isinstance(lands, Refused):
        return Refused(f"{lands.say(measures)} Tools: {', '.join(shipped.transfers())}.")
    share = tool or (lands.value if lands else 100.0)
    of = solid if isinstance(solid, film.Coating) else solid.value
    found = good(film.coverage(of, thick.value, share), measures)
    if usual is None or isinstance(found, Refused):
        return found
    return replace(found, film_source=usual.cited)


def grit(paper: str) -> papers.Likeness | Refused:
    """What an abrasive paper of one system is in the other."""
    return good(papers.likeness(shipped.papers(), paper))


def dew_point(
    temperature: str, humidity: str, measures: Measures = TRADE
) -> climate.DewPoint | Refused:
    """The temperature at which this air wets a surface."""
    warm = units.temperature(temperature, measures)
    damp = units.percent(humidity, "humidity")
    if isinstance(warm, Refused):
        return warm.told_in(measures)
    if isinstance(damp, Refused):
        return damp.told_in(measures)
    return good(climate.dew_point(warm.value, damp.value), measures)


def offer(price: str, costs: str, hours: str, fee: str = "0") -> money.Offer | Refused:
    """What a price leaves, and its hourly rate."""
    figures: list[float] = []
    for what, text in (("price", price), ("costs", costs), ("hours", hours), ("fee", fee)):
        found = units.number(text.removesuffix("%").strip(), what)
        if isinstance(found, Refused):
            return found
        figures.append(found)
    asked, spent, worked, share = figures
    return good(money.offer(asked, money.Costs(other=spent), worked, share))


def tell_moisture(found: wood.Moisture, measures: Measures = TRADE) -> Told:
    least = units.show_temperature(-1, measures)
    valid = f"valid for 5 to 95 % humidity, from {least} on; trends, not measurements"
    return told_of(
        found,
        measures,
        valid=valid,
        data={"moisture": round(found.percent, 2), "unit": "%"},
    )


def tell_movement(found: wood.Movement, measures: Measures = TRADE) -> Told:
    return told_of(
        found,
        measures,
        valid=found.valid,
        data={
            "change_mm": round(found.change_mm, 3),
            "change_in": round(found.change_in, 4),
            "wood": found.wood,
            "cut": found.cut.value,
        },
    )


def tell_coverage(found: film.Coverage, measures: Measures = TRADE) -> Told:
    valid = "what lands on the work; waste in the gun and the pot comes on top"
    data = {
        "ft2_per_gal": round(found.ft2_per_gal, 1),
        "m2_per_l": round(found.m2_per_l, 2),
        "transfer": found.transfer,
        "transfer_ends": list(found.tool.ends) if found.tool else None,
        "solids": round(found.solids, 1),
        "solids_ends": list(found.coating.solids) if found.coating else None,
        "dry_um": round(found.dry_um, 2),
    }
    return told_of(found, measures, valid=valid, data=data)


def tell_grit(found: papers.Likeness, measures: Measures = TRADE) -> Told:
    data = {
        "paper": found.paper.name,
        "grain_um": found.paper.micron.value,
        "nearest": found.nearest.name,
        "nearest_um": found.nearest.micron.value,
    }
    valid = "average grains; papers of one number differ by maker, so keep to one system"
    return told_of(found, measures, valid=valid, data=data)


def tell_dew_point(found: climate.DewPoint, measures: Measures = TRADE) -> Told:
    least, most = (units.show_temperature(celsius, measures) for celsius in (-45, 60))
    valid = f"valid from {least} to {most} over water"
    data = {"dew_point_c": round(found.celsius, 2)}
    return told_of(found, measures, valid=valid, data=data)


def tell_offer(found: money.Offer, _: Measures = TRADE) -> Told:
    data = {
        "per_hour": round(found.per_hour, 2),
        "net": round(found.net, 2),
        "fees": round(found.fees, 2),
    }
    return told_of(found, data=data)
