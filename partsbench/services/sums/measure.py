"""Taking sizes and naming woods: what was typed is kept beside the figure."""

from __future__ import annotations

from collections.abc import Sequence

from partsbench.core.key_words import choice_word
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.surfaces import named_sizes, size_names
from partsbench.core.sources import Status
from partsbench.core.sums import units
from partsbench.core.sums.refusal import amount
from partsbench.core.sums.wood import Cut, Wood, find_cut, find_wood
from partsbench.core.wording import plural
from partsbench.services.rules.marking import fix_numbers
from partsbench.services.shop import Shop, writing
from partsbench.services.sums import shipped
from partsbench.services.sums.ground import SumGround, ground, named
from partsbench.services.sums.told import Told
from partsbench.store import figures
from partsbench.store.figures import TypedSize
from partsbench.store.journal import change

SMALLEST_MM, LARGEST_MM = 0.1, 10_000.0


@writing
def measure(shop: Shop, tag: str, asked: str, what: str, text: str) -> Done | Refused:
    """One size of a part or home (`D5`, `H3`), as typed: `width` of a drawer is both its ends.

    The empty text forgets the size.
    """
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    found = named(on.piece, asked)
    if isinstance(found, Refused):
        return found
    family, number = found
    short = short_number(family, number)
    names = named_sizes(family, what)
    if not names:
        known = ", ".join(size_names(family))
        return Refused(f"There is no {what} to measure of {short}; there are {known}.")
    size = _size(text, f"{what} of {short}", on)
    if isinstance(size, Refused):
        return size
    sentence = f"{on.piece.codename} {short}: {choice_word(what)} {text.strip() or 'forgotten'}"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        fix_numbers(shop, entry, on.piece)
        for name in names:
            row = {"piece": on.key, "family": family.value, "number": number, "what": name}
            if size is None:
                figures.drop(entry, "measured", row)
            else:
                figures.put(entry, "measured", row, {"mm": size.mm, "typed": size.typed})
    return Done(f"{sentence}.", tag)


@writing
def set_wood(shop: Shop, tag: str, asked: Sequence[str], wood: str, cut: str) -> Done | Refused:
    """What parts are made of, and how it lies; without parts, the whole piece's.

    A wood or a board of the table, `veneer on` one, or a name with a coefficient of one's own.
    """
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    kind = find_wood(shipped.woods(), wood)
    way = find_cut(cut or Cut.MIXED)
    if isinstance(kind, Refused):
        return kind.told_in(on.measures)
    if isinstance(way, Refused):
        return way.told_in(on.measures)
    rows = []
    for name in asked or [c.short for c in on.piece.present if c.family is Family.CARCASE][:1]:
        found = named(on.piece, name)
        if isinstance(found, Refused):
            return found
        rows.append(found)
    who = ", ".join(asked) or "the whole piece"
    sentence = f"{on.piece.codename}: {who} of {_made_of(kind, way)}"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        if any(family is not Family.CARCASE for family, _ in rows):
            fix_numbers(shop, entry, on.piece)
        for family, number in rows:
            row = {"piece": on.key, "family": family.value, "number": number}
            figures.put(entry, "wood", row, {"wood": kind.key, "cut": way.value})
    return Done(f"{sentence}.", tag)


def _made_of(wood: Wood, cut: str) -> str:
    """`walnut, black, flat`; `MDF`; `pear, 0.0025 for each 1 % of moisture (your own figure)`"""
    if wood.radial.status is Status.OWN:
        own = wood.radial.cited
        return f"veneer on {own}" if wood.veneered else own
    return wood.name if wood.moves_alike else f"{wood.name}, {cut}"


def measured(shop: Shop, tag: str) -> Told | Refused:
    """Every size taken, as it was typed, and what parts are made of."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    rows = [
        (
            short_number(Family(family), number),
            what,
            size.typed,
            units.show_length(size.mm, on.measures, 1),
        )
        for (family, number), own in sorted(on.sizes.items())
        for what, size in own.items()
    ]
    woods = sorted(figures.woods(shop.book, on.key).items())
    for (family, number), (key, cut) in woods:
        kind = find_wood(shipped.woods(), key)
        said = kind.sentence if isinstance(kind, Refused) else _made_of(kind, cut)
        rows.append((short_number(Family(family), number), "wood", key, said))
    data = {
        "sizes": {
            short_number(Family(family), number): {
                what: {"mm": size.mm, "typed": size.typed} for what, size in own.items()
            }
            for (family, number), own in on.sizes.items()
        },
        "woods": {
            short_number(Family(family), number): {"wood": key, "cut": cut}
            for (family, number), (key, cut) in woods
        },
    }
    taken = len(rows) - len(woods)
    count = plural(taken, "1 size taken", f"{taken} sizes taken")
    return Told(f"{count}.", ("of", "what", "as typed", "which is"), tuple(rows), data=data)


def _size(text: str, what: str, on: SumGround) -> TypedSize | Refused | None:
    if not text.strip():
        return None
    found = units.length(text, on.measures, what)
    if isinstance(found, Refused):
        return found.told_in(on.measures)
    bad = amount(what, found.value, least=SMALLEST_MM, most=LARGEST_MM, unit="mm")
    return bad.told_in(on.measures) if bad else TypedSize(found.value, text.strip())
