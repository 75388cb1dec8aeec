"""The same mix again at another volume, and tins of the shop's stock."""

from __future__ import annotations

from collections.abc import Mapping

from partsbench.core.outcomes import Done, Refused
from partsbench.core.sums import tins, units
from partsbench.core.sums.mix import Recipe, recipe
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.sums.tins import Materials, Tin
from partsbench.core.wording import plural
from partsbench.services.shop import Shop, writing
from partsbench.services.sums.ground import ground
from partsbench.services.sums.habits import Habits
from partsbench.services.sums.told import Told, good, told_of
from partsbench.store import figures
from partsbench.store.figures import TinRow
from partsbench.store.journal import change, time_text

USUAL_STEP_ML = 2.0


def mix_again(own: Habits, ratio: Mapping[str, float], volume: str) -> Recipe | Refused:
    """A recipe (`clear` 26, `colour` 3, `water` 1) at another volume, in steps of the cup."""
    read = units.volume(volume, own.measures)
    if isinstance(read, Refused):
        return read.told_in(own.measures)
    return mix_of(own, ratio, read.value)


def mix_of(own: Habits, ratio: Mapping[str, float], ml: float) -> Recipe | Refused:
    """A recipe at another volume in ml, in steps of the shop's cup."""
    return good(recipe(ratio, ml, own.number("cup step", USUAL_STEP_ML)), own.measures)


def read_recipe(text: str) -> dict[str, float] | Refused:
    """`26 clear, 3 colour, 1 water` as shares by name."""
    found: dict[str, float] = {}
    for part in text.split(","):
        number, _, name = part.strip().partition(" ")
        share = units.number(number, "part of the recipe")
        if isinstance(share, Refused):
            return share
        if not name.strip():
            return Refused(f"“{part.strip()}” names no product: write 26 clear, 3 colour.")
        found[name.strip()] = found.get(name.strip(), 0.0) + share
    return found


def tell_recipe(found: Recipe, measures: units.Measures = units.Measures.METRIC) -> Told:
    rows = [(name, units.show_limit(ml, "ml", measures)) for name, ml in found.amounts]
    data = {"amounts_ml": dict(found.amounts), "total_ml": found.total_ml,
            "worst_error": found.worst_error}  # fmt: skip
    return told_of(found, measures, head=("product", "amount"), rows=rows, data=data)


@writing
def stock_tin(
    shop: Shop, name: str, holds: str, *, price: float | None = None, empty: str = ""
) -> Done | Refused:
    """A tin of the shop: what it holds when full, by volume, or by weight with the empty tin's."""
    called = " ".join(name.split())
    if not called or len(called) > 60:
        return Refused("A tin needs a name of 1 to 60 characters.")
    full = read_level(holds)
    bare = read_level(empty) if empty.strip() else None
    if isinstance(full, Refused):
        return full
    if isinstance(bare, Refused):
        return bare
    if bare and bare[1] != full[1]:
        return Refused("Full and empty tin are both by volume or both by weight.")
    own = bare[0] if bare else 0.0
    bad = first(
        amount("what the tin holds", full[0], above=own, most=999_999),
        None if price is None else amount("price", price, above=0, most=1_000_000),
    )
    if bad:
        return bad
    values = {"price": price, "unit": full[1], "holds": full[0], "empty": own,
              "holds_typed": holds.strip()}  # fmt: skip
    with change(shop.book, f"Tin {called}: {holds.strip()}", shop.clock(), shop.who) as entry:
        figures.put(entry, "tin", {"name": called}, values)
    return Done(f"Tin {called}: holds {holds.strip()}.")


@writing
def use_tin(shop: Shop, tag: str, name: str, after: str, before: str = "") -> Done | Refused:
    """What a piece took out of a tin: its measure before (else as it was last left) and after."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    tin = figures.tin(shop.book, " ".join(name.split()))
    if tin is None:
        return Refused(f"There is no tin “{name}” in stock.")
    left = read_level(after)
    had = read_level(before) if before.strip() else (_level(shop, tin), tin.unit)
    if isinstance(left, Refused):
        return left
    if isinstance(had, Refused):
        return had
    if left[1] != tin.unit or had[1] != tin.unit:
        if tin.unit == "ml":
            return Refused(f"{tin.name} is kept by volume: measure it so.")
        return Refused(f"{tin.name} is kept by weight: measure it so.")
    used = tins.materials([Tin(tin.name, tin.price, tin.holds, had[0], left[0], tin.empty)])
    if isinstance(used, Refused):
        return used
    sentence = f"{on.piece.codename}: {had[0] - left[0]:g} {tin.unit} out of {tin.name}"
    row = {"piece": on.key, "tin": tin.id, "before": had[0], "after": left[0],
           "typed": after.strip(), "at": time_text(shop.clock())}  # fmt: skip
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        entry.insert("tin_use", row)
    return Done(f"{sentence}.", tag)


def materials(shop: Shop, key: int) -> Materials | Refused:
    """What the tins used on a piece have cost; never nothing for what came from stock."""
    return tins.materials(
        [
            Tin(u.tin.name, u.tin.price, u.tin.holds, u.before, u.after, u.tin.empty)
            for u in figures.tin_uses(shop.book, key)
        ]
    )


def tell_tins(shop: Shop) -> Told:
    """The stock: each tin, its price, and what it last held."""
    rows = []
    data: dict[str, object] = {}
    for tin in figures.tins(shop.book):
        level = _level(shop, tin)
        price = "" if tin.price is None else f"{tin.price:g}"
        rows.append((tin.name, tin.holds_typed, f"{level:g} {tin.unit}", price))
        data[tin.name] = {"left": level, "unit": tin.unit, "holds": tin.holds, "price": tin.price}
    count = plural(len(rows), "1 tin in stock", f"{len(rows)} tins in stock")
    lacks = tuple(f"the price of {r[0]}" for r in rows if not r[3])
    return Told(
        f"{count}.", ("tin", "full", "now", "price"), tuple(rows), lacks, data={"tins": data}
    )


def read_level(text: str) -> tuple[float, str] | Refused:
    """A volume or a weight as typed, in ml or g; the unit must be written."""
    by_volume = units.volume(text, what="level")
    by_weight = units.weight(text, what="level")
    if text.strip() and text.strip()[-1].isdigit():
        return wrong("level", f"{text.strip()!r} has no unit: write 650 ml or 840 g")
    if not isinstance(by_volume, Refused):
        return by_volume.value, "ml"
    return by_weight if isinstance(by_weight, Refused) else (by_weight.value, "g")


def _level(shop: Shop, tin: TinRow) -> float:
    last = figures.last_level(shop.book, tin.id)
    return tin.holds if last is None else last
