"""From the fields of a page to the use cases that answer them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from partsbench.core.outcomes import Done, Refused
from partsbench.core.sums.units import Measures, number
from partsbench.services.acts import returning
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop, find_piece
from partsbench.services.sums import (
    allotment,
    census,
    choice,
    drill,
    gap,
    holes,
    litres,
    masking,
    measure,
    mixing,
    ordering,
    orphan,
    small,
    standing,
)
from partsbench.services.sums.habits import habits, set_habit, understood
from partsbench.services.sums.told import Told
from partsbench.ui.sums.decisions import Values

T = TypeVar("T")


def _told(found: T | Refused, tell: Callable[[T], Told]) -> Told | Refused:
    return found if isinstance(found, Refused) else tell(found)


def measures(shop: Shop) -> Measures:
    return habits(shop).measures


def will_it_fit(shop: Shop, tag: str, values: Values) -> Told | Refused:
    only = values["drawer"].upper().split()
    return _told(gap.forecast(shop, tag, only), gap.tell_forecast)


def whose(shop: Shop, tag: str, _: Values) -> Told | Refused:
    return _told(orphan.whose(shop, tag), orphan.tell_orphans)


def counted(shop: Shop, tag: str, _: Values) -> Told | Refused:
    show = measures(shop)
    found = census.census(shop, tag)
    return found if isinstance(found, Refused) else census.tell_census(found, show)


def ordered(shop: Shop, tag: str, values: Values) -> Told | Refused:
    today = shop.clock().astimezone().date()
    day = ordering.day_of(values["needed"], today) if values["needed"] else None
    if isinstance(day, Refused):
        return day
    lead = _whole(values["lead"], "lead time")
    if isinstance(lead, Refused):
        return lead
    found = ordering.order(shop, tag, needed_on=day, lead_days=lead)
    show = measures(shop)
    return found if isinstance(found, Refused) else ordering.tell_order(found, show)


def allotted(shop: Shop, tag: str, values: Values) -> Told | Refused:
    price = number(values["price"], "price") if values["price"] else 0.0
    if isinstance(price, Refused):
        return price
    show = measures(shop)
    found = allotment.allot(shop, tag, values["kind"], price)
    return found if isinstance(found, Refused) else allotment.tell_allotment(found, show)


def judged(shop: Shop, tag: str, _: Values) -> Told | Refused:
    return _told(holes.choices(shop, tag), holes.tell_choices)


def where_to_drill(shop: Shop, tag: str, values: Values) -> drill.Drilling | Refused:
    if not values["part"]:
        return Refused("Say which front is to be drilled, as in D5.")
    return drill.where_to_drill(
        shop,
        tag,
        values["part"],
        pull=values["pull"],
        spacing=values["spacing"],
        count=2 if values["count"] == "2" else 1,
        from_top=values["from_top"],
        from_side=values["from_side"],
    )


def drilled(shop: Shop, tag: str, values: Values) -> Told | Refused:
    return _told(where_to_drill(shop, tag, values), drill.tell_drilling)


def mixed(shop: Shop, tag: str, values: Values) -> Told | Refused:
    coats = _whole(values["coats"], "coats")
    if isinstance(coats, Refused):
        return coats
    only = [name.strip() for name in values["only"].split(",") if name.strip()]
    found = litres.to_mix(shop, tag, values["path"], only=only, wet=values["wet"], coats=coats)
    return _told(found, litres.tell_mixing)


def mixed_again(shop: Shop, _: str, values: Values) -> Told | Refused:
    ratio = mixing.read_recipe(values["recipe"])
    if isinstance(ratio, Refused):
        return ratio
    own = habits(shop)
    found = mixing.mix_again(own, ratio, values["volume"])
    return found if isinstance(found, Refused) else mixing.tell_recipe(found, own.measures)


def masked(shop: Shop, tag: str, _: Values) -> Told | Refused:
    return _told(masking.mask_paper(shop, tag), masking.tell_mask_paper)


def levelled(shop: Shop, tag: str, values: Values) -> Told | Refused:
    rock = values["rock"]
    found = standing.level(shop, tag, values["corner"] if rock else "", rock)
    return found if isinstance(found, Refused) else standing.tell_level(found, measures(shop))


def mirrored(shop: Shop, tag: str, values: Values) -> Told | Refused:
    other = values["other"]
    twin = find_piece(shop, other) if other else None
    if isinstance(twin, Refused):
        return twin
    return _told(standing.pattern(shop, tag, twin.tag if twin else ""), standing.tell_pattern)


def tipped(shop: Shop, tag: str, _: Values) -> Told | Refused:
    found = standing.tip_over(shop, tag)
    return found if isinstance(found, Refused) else standing.tell_tip_over(found, measures(shop))


def swapped(shop: Shop, tag: str, _: Values) -> Told | Refused:
    piece = find_piece(shop, tag)
    if isinstance(piece, Refused):
        return piece
    state = piece_state(shop, piece)
    rows = tuple(
        (move.part, str(move.target) if isinstance(move.target, int) else "the bench")
        for move in returning.moves_home(state)
    )
    sources = ("the scans of what sits where", "every chain of swapped parts, one move each")
    return Told(returning.moves_sentence(state), ("part", "to home"), rows, sources=sources)


def moist(shop: Shop, _: str, values: Values) -> Told | Refused:
    show = measures(shop)
    found = small.moisture(values["temp"], values["rh"], show)
    return found if isinstance(found, Refused) else small.tell_moisture(found, show)


def moved(shop: Shop, _: str, values: Values) -> Told | Refused:
    show = measures(shop)
    found = small.movement(
        values["wood"], values["cut"], values["size"], values["start"], values["end"], show
    )
    return found if isinstance(found, Refused) else small.tell_movement(found, show)


def covered(shop: Shop, _: str, values: Values) -> Told | Refused:
    show = measures(shop)
    found = small.coverage(values["solids"], values["film"], values["transfer"], show)
    return found if isinstance(found, Refused) else small.tell_coverage(found, show)


def gritty(shop: Shop, _: str, values: Values) -> Told | Refused:
    return _told(small.grit(values["paper"]), lambda found: small.tell_grit(found, measures(shop)))


def dew(shop: Shop, _: str, values: Values) -> Told | Refused:
    show = measures(shop)
    found = small.dew_point(values["temp"], values["rh"], show)
    return found if isinstance(found, Refused) else small.tell_dew_point(found, show)


# What is noted


def note_size(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return measure.measure(shop, tag, values["of"], values["what"], values["size"])


def note_thickness(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return measure.measure(shop, tag, values["of"], "thickness", values["size"])


def note_leg(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return measure.measure(shop, tag, values["of"], "height", values["size"])


def note_carcase(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return measure.measure(shop, tag, "C1", values["what"], values["size"])


def note_mass(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return standing.weigh(shop, tag, values["mass"])


def note_wood(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return measure.set_wood(shop, tag, values["of"].split(), values["wood"], values["cut"])


def note_orphan(shop: Shop, tag: str, values: Values) -> Done | Refused:
    sizes = {what: values[what] for what in ("width", "left", "right", "depth")}
    return orphan.note_orphan(shop, tag, values["name"], sizes, values["mark"], values["wear"])


def drop_orphan(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return orphan.drop_orphan(shop, tag, values["name"])


def note_count(shop: Shop, tag: str, values: Values) -> Done | Refused:
    count = _whole(values["count"], "count")
    if count is None or isinstance(count, Refused):
        return count or Refused("Say how many there are.")
    return census.count(
        shop,
        tag,
        values["of"],
        values["kind"],
        count,
        condition=values["condition"],
        spacing=values["spacing"],
        thread=values["thread"],
        screw=values["screw"],
    )


def note_pull(shop: Shop, tag: str, values: Values) -> Done | Refused:
    if not values["spacing"]:
        return Refused("Say how far its holes are apart; 0 for a knob.")
    return choice.consider(
        shop,
        tag,
        values["name"],
        values["spacing"],
        plate=values["plate"],
        foot=values["foot"],
        thread=values["thread"],
        depth=values["depth"],
    )


def drop_pull(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return choice.consider(shop, tag, values["name"], "")


def note_holes(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return choice.note_holes(shop, tag, values["of"], values["places"])


def note_veto(shop: Shop, tag: str, values: Values) -> Done | Refused:
    if not values["survivor"] or not values["place"]:
        return Refused("Say which survivor, and in which place it is not wanted.")
    wanted = values["wanted"] == "yes"
    return allotment.veto(shop, tag, values["survivor"], values["place"], wanted)


def want_break(shop: Shop, tag: str, values: Values) -> Done | Refused:
    return standing.want_break(shop, tag, values["of"], values["meant"] != "no")


def note_habits(shop: Shop, _: str, values: Values) -> Done | Refused:
    """Keep those of the shop's own figures that were changed."""
    own = habits(shop)
    now = own.typed
    changed = {name: text for name, text in values.items() if text != now.get(name, "")}
    for name, text in changed.items():  # All is understood before anything is kept.
        found = understood(name, text, own.measures)
        if isinstance(found, Refused):
            return found
    done: Done | Refused = Refused("Nothing was changed.")
    for name, text in changed.items():
        done = set_habit(shop, name, text)
        if isinstance(done, Refused):
            return done
    return done


def habits_now(shop: Shop) -> Values:
    """The shop's own figures as typed."""
    return habits(shop).typed


def _whole(text: str, what: str) -> int | Refused | None:
    if not text.strip():
        return None
    found = number(text, what)
    if isinstance(found, Refused) or found != int(found):
        return Refused(f"{what}: “{text}” is no whole number.")
    return int(found)
