"""What has to be known of a piece before work begins: its old finish, its wood, its hardware."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from partsbench.core.key_words import fact_words
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.census import Condition
from partsbench.core.sums.wood import find_wood
from partsbench.core.wording import clauses, listed
from partsbench.services.known import old_finish
from partsbench.services.rules.marking import fix_numbers
from partsbench.services.shop import Shop, writing
from partsbench.services.sums import shipped
from partsbench.services.sums.census import expected
from partsbench.services.sums.ground import SumGround, ground, named
from partsbench.store import figures
from partsbench.store.journal import change

GOOD = Condition.GOOD.name.lower()


@dataclass(frozen=True, slots=True)
class FirstThing:
    """One of them: what it is, what is known, and whether that is an answer.

    `key` is that of the window's action that asks for it.
    """

    key: str
    title: str
    next: str
    says: str
    answered: bool


def first_things(shop: Shop, tag: str) -> tuple[FirstThing, ...]:
    """In the order of asking; hardware only where the piece has some. () without such a piece."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return ()
    asked = [_old_finish(shop, on.piece), _wood(shop, on)]
    return (*asked, *([_hardware(shop, on)] if expected(on.piece) else []))


def _old_finish(shop: Shop, piece: Piece) -> FirstThing:
    said = old_finish.records(shop, piece.tag)
    told = clauses(dict.fromkeys(fact_words(fact.key, fact.value) for fact in said[-3:]))
    unknown = "Old finish not known yet: until it is, nothing is sanded or scraped dry."
    title, coming = "Old finish and its test", "Next: old finish and its test"
    return FirstThing("old-finish", title, coming, told or unknown, bool(said))


def _wood(shop: Shop, on: SumGround) -> FirstThing:
    names = []
    for (family, number), (key, _) in figures.woods(shop.book, on.key).items():
        wood = find_wood(shipped.woods(), key)
        of = short_number(Family(family), number)
        names.append(f"{of} {key if isinstance(wood, Refused) else wood.name}")
    unknown = "Wood not known yet: how far it swells cannot be told."
    told = listed(names) or unknown
    return FirstThing("wood", "The wood", "Next: the wood", told, bool(names))


def _hardware(shop: Shop, on: SumGround) -> FirstThing:
    wanted = sum(sum(kinds.values()) for kinds in expected(on.piece).values())
    counted = sum(row.count for row in figures.hardware(shop.book, on.key))
    told = f"{counted} of {wanted} counted" if counted else f"{wanted} to count: none counted yet"
    title, coming = "Pulls, knobs and plates", "Next: pulls, knobs and plates"
    return FirstThing("hardware", title, coming, f"{told}.", counted > 0)


def counted_now(shop: Shop, tag: str) -> dict[tuple[str, str], tuple[int, int]]:
    """(front, kind) → how many are fitted, and how many are counted as good."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return {}
    have = {
        (short_number(Family(row.family), row.number), row.kind): row.count
        for row in figures.hardware(shop.book, on.key)
        if row.condition == GOOD
    }
    return {
        (front, kind): (wanted, have.get((front, kind), 0))
        for front, kinds in expected(on.piece).items()
        for kind, wanted in kinds.items()
    }


@writing
def count_good(shop: Shop, tag: str, counts: Mapping[tuple[str, str], int]) -> Done | Refused:
    """So many of each kind on each front are there and good: one change of the book."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    wanted = expected(on.piece)
    rows = figures.hardware(shop.book, on.key)
    for (front, kind), number in counts.items():
        fitted = wanted.get(front, {}).get(kind, 0)
        others = sum(
            row.count
            for row in rows
            if (short_number(Family(row.family), row.number), row.kind) == (front, kind)
            and row.condition != GOOD
        )
        if not 0 <= number <= fitted - others:
            has = f"{front} is fitted with {fitted} × {kind}"
            has = f"{has}, and {others} are counted as not good" if others else has
            return Refused(f"{has}; {number} is no count.")
    total = sum(counts.values())
    sentence = f"{on.piece.codename}: {total} pulls, knobs and plates counted as good"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        fix_numbers(shop, entry, on.piece)
        for (front, kind), number in counts.items():
            place = named(on.piece, front)
            assert not isinstance(place, Refused)
            row = {"piece": on.key, "family": place[0].value, "number": place[1], "kind": kind,
                   "condition": GOOD}  # fmt: skip
            if number:
                figures.put(entry, "hardware", row, {"count": number})
            else:
                figures.drop(entry, "hardware", row)
    return Done(f"{sentence}.", tag)


def wood_names() -> list[str]:
    """The woods and boards of the table, by the names that `wood` takes."""
    return sorted(wood.name for wood in shipped.woods().values())
