"""Cups: what is in the gun, from which lots, in which ratio; made once, and made again."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from math import isfinite

from partsbench.core.finish.cups import Cup, Poured, StoredCup
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.shown_times import moment
from partsbench.core.sums.mix import Recipe
from partsbench.core.verbs import Sort, WallCode, wall_code
from partsbench.core.wording import notes, plural, sentences
from partsbench.services.known import climate
from partsbench.services.shop import Shop, writing
from partsbench.services.sums.habits import habits
from partsbench.services.sums.mixing import mix_of
from partsbench.store import mixes as rows
from partsbench.store.journal import change

COATINGS = frozenset({"water", "oil", "shellac", "wax"})
"""The films of what a cup can hold; stripper, glue, filler and cleaner are no coats."""


@writing
def make(
    shop: Shop,
    name: str,
    poured: Sequence[Poured],
    *,
    tint: float = 0.0,
    thinned: float = 0.0,
    strained: bool = False,
    sheen: str = "",
    pot_life: timedelta | None = None,
    volume_ml: float | None = None,
    note: str = "",
    product: str = "",
) -> StoredCup | Refused:
    """Write down a mix; the cup gets a number and a code. `tint` and `thinned` are %.

    `product` is its class as on the finish paths: what a face takes is held against it.
    """
    fault = _fault(name, poured, tint, thinned, volume_ml) or _no_class(product)
    if fault:
        return fault
    now = shop.clock()
    cup = Cup("", name.strip(), tuple(poured), now, tint, thinned, strained, sheen.strip(),
              shop.who, pot_life, product.strip())  # fmt: skip
    with change(shop.book, "", now, shop.who) as entry:
        number = rows.add_cup(entry, shop.book, cup, volume_ml, note.strip())
        entry.sentence = f"Cup {number} mixed: {cup.name}"
    made = rows.cup(shop.book, number)
    assert made is not None
    return made


def find(shop: Shop, asked: str | int) -> StoredCup | Refused:
    """A cup by its code on the wall, or by its number."""
    code = wall_code(str(asked))
    if code and code.sort is not Sort.CUP:
        return Refused(f"“{asked}” is the code of no cup.")
    text = str(asked).strip().lower().removeprefix("cup").strip()
    number = code.number if code else int(text) if text.isdecimal() else 0
    found = rows.cup(shop.book, number) if 0 < number < 10**9 else None
    return found or Refused(f"There is no cup “{asked}” in this book.")


def listed(shop: Shop, only_full: bool = True) -> list[StoredCup]:
    """Cups, the newest first."""
    return rows.cups(shop.book, only_full)


def code(cup: StoredCup) -> str:
    """What is scanned for this cup."""
    return str(WallCode(Sort.CUP, cup.number))


def shown(shop: Shop, asked: str | int) -> Outcome:
    """What a scan of a cup tells: what is in it, and what it may not go on."""
    found = find(shop, asked)
    if isinstance(found, Refused):
        return Outcome(Answer.STOP, Tone.UNKNOWN, found.sentence)
    return Outcome(Answer.GO, Tone.ASK, words(found, shop), code=code(found))


def _poured_words(poured: Poured) -> str:
    many, of = f"{poured.parts:g}", poured.product
    parts = plural(poured.parts, f"1 part {of}", f"{many} parts {of}")
    return f"{parts} (lot {poured.lot})" if poured.lot else parts


def words(stored: StoredCup, shop: Shop) -> str:
    """`Cup 3: blue, 2 parts paint (lot 17), 5 % tint: painted faces only. Not strained.`"""
    cup = stored.cup
    poured = ", ".join(map(_poured_words, cup.poured))
    told = [f"Cup {stored.number}: {cup.name}, {poured}"]
    if cup.product:
        told.append(class_name(cup.product))
    if cup.thinned:
        told.append(f"thinned {cup.thinned:g} %")
    if cup.tinted:
        told.append(f"{cup.tint:g} % tint, for painted faces only")
    state = ""
    if stored.emptied_at:
        state = f"Empty since {moment(stored.emptied_at, shop.clock())}."
    elif cup.is_over(shop.clock()):
        state = "Over its pot life."
    return sentences(
        f"{notes(*told)}.",
        "" if cup.product else "Nobody said what class of product it is.",
        "" if cup.strained else "Not strained.",
        state,
    )


def recipe(shop: Shop, asked: str | int, volume_ml: float) -> Recipe | Refused:
    """The same mix at another volume, each part within 1 % of itself."""
    found = find(shop, asked)
    if isinstance(found, Refused):
        return found
    return mix_of(habits(shop), {p.product: p.parts for p in found.cup.poured}, volume_ml)


@writing
def make_again(shop: Shop, asked: str | int, volume_ml: float) -> StoredCup | Refused:
    """A new cup of the same mix at another volume, not yet strained."""
    found = find(shop, asked)
    if isinstance(found, Refused):
        return found
    measured = recipe(shop, asked, volume_ml)
    if isinstance(measured, Refused):
        return measured
    lots = {p.product: p.lot for p in found.cup.poured}
    poured = [Poured(product, lots[product], ml) for product, ml in measured.amounts]
    old = found.cup
    return make(
        shop, old.name, poured, tint=old.tint, thinned=old.thinned, sheen=old.sheen,
        pot_life=old.pot_life, volume_ml=measured.total_ml, note=f"cup {found.number} made again",
        product=old.product,
    )  # fmt: skip


@writing
def strained(shop: Shop, asked: str | int) -> Done | Refused:
    """The mix was strained."""
    found = find(shop, asked)
    if isinstance(found, Refused):
        return found
    with change(shop.book, f"Cup {found.number} strained", shop.clock(), shop.who) as entry:
        entry.update("cup", found.id, {"strained": 1})
    return Done(f"Cup {found.number} strained.")


@writing
def empty(shop: Shop, asked: str | int) -> Done | Refused:
    """The mix is used up or thrown away. When that was is said once: it stands."""
    found = find(shop, asked)
    if isinstance(found, Refused):
        return found
    now = shop.clock()
    if found.emptied_at:
        since = moment(found.emptied_at, now)
        return Refused(f"Cup {found.number} was empty already, since {since}: that stands.")
    with change(shop.book, f"Cup {found.number} empty", now, shop.who) as entry:
        rows.empty_cup(entry, found.id, now)
    return Done(f"Cup {found.number} is empty.")


def poured_from(text: str) -> Poured | Refused:
    """What was poured as typed: `colour:2` or `colour:2:lot 17`."""
    name, _, rest = text.partition(":")
    parts, _, lot = rest.partition(":")
    try:
        amount = float(parts)
    except ValueError:
        amount = 0.0
    if not name.strip() or not isfinite(amount) or amount <= 0:
        return Refused(f"“{text}”: write what was poured as name:parts or name:parts:lot.")
    return Poured(name.strip(), lot.strip().removeprefix("lot").strip(), amount)


def classes() -> dict[str, str]:
    """Key and name of each class of product that a cup can hold: what a finish path puts on."""
    return {key: p.name for key, p in climate.products().items() if p.film in COATINGS}


def class_name(key: str) -> str:
    known = climate.products().get(key)
    return known.name if known else key


def _no_class(product: str) -> Refused | None:
    if not product.strip() or product.strip() in classes():
        return None
    return Refused(f"“{product}” is no class of product; there are {', '.join(classes())}.")


def _fault(
    name: str, poured: Sequence[Poured], tint: float, thinned: float, volume: float | None
) -> Refused | None:
    if not name.strip():
        return Refused("Give the mix a name.")
    if not poured:
        return Refused("Say what was poured, and how many parts of each.")
    if len({p.product for p in poured}) < len(poured):
        return Refused("One product stands twice in this mix.")
    if any(not isfinite(p.parts) or p.parts <= 0 for p in poured):
        return Refused("The parts of a mix are numbers above 0.")
    if not (0 <= tint <= 100 and 0 <= thinned <= 100):
        return Refused("Tint and thinning are 0 to 100 %.")
    if volume is not None and not 0 < volume <= 20_000:
        return Refused("A cup holds up to 20,000 ml.")
    return None
