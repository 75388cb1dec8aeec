"""People and places that have a code on the wall."""

from __future__ import annotations

from collections.abc import Sequence

from partsbench.core.finish.steps import Operation
from partsbench.core.outcomes import Done, Refused
from partsbench.core.said_often import NOBODY_HAS_IT
from partsbench.core.verbs import Sort, WallCode
from partsbench.services.shop import Shop, writing
from partsbench.store import room as rows
from partsbench.store.journal import change
from partsbench.store.room import Person, Place

LONGEST_NAME = 40


@writing
def add_person(shop: Shop, name: str, only: Sequence[str] = ()) -> Person | Refused:
    """A person with a code; `only` limits a helper to these operations."""
    words = " ".join(name.split())
    if not 0 < len(words) <= LONGEST_NAME:
        return Refused(f"A name has 1 to {LONGEST_NAME} characters.")
    if any(p.name.casefold() == words.casefold() for p in rows.people(shop.book, here=False)):
        return Refused(f"“{words}” has a code already.")
    wrong = [word for word in only if word not in set(Operation)]
    if wrong:
        return Refused(f"“{wrong[0]}” is no operation; there are {', '.join(Operation)}.")
    with change(shop.book, f"{words} has a code", shop.clock(), shop.who) as entry:
        number = rows.add_person(entry, shop.book, words, only)
    return Person(number, words, tuple(only))


def people(shop: Shop) -> list[Person]:
    return rows.people(shop.book)


def person(shop: Shop, number: int) -> Person | None:
    return next((p for p in rows.people(shop.book) if p.number == number), None)


def may_do(found: Person | None, operation: Operation) -> bool:
    """False when a helper is limited to other operations."""
    return found is None or not found.only or operation.value in found.only


@writing
def leaves(shop: Shop, number: int) -> Done | Refused:
    """Somebody no longer works here; what they did stays under their name."""
    found = person(shop, number)
    if found is None:
        return Refused(NOBODY_HAS_IT)
    with change(shop.book, f"{found.name} left", shop.clock(), shop.who) as entry:
        rows.update_person(entry, shop.book, number, {"here": 0})
    return Done(f"{found.name} left.")


@writing
def add_place(shop: Shop, name: str) -> Place | Refused:
    """A place in the shop with a code."""
    words = " ".join(name.split())
    if not 0 < len(words) <= LONGEST_NAME:
        return Refused(f"A place needs a name of 1 to {LONGEST_NAME} characters.")
    if any(p.name.casefold() == words.casefold() for p in rows.places(shop.book)):
        return Refused(f"“{words}” has a code already.")
    with change(shop.book, f"{words} has a code", shop.clock(), shop.who) as entry:
        number = rows.add_place(entry, shop.book, words)
    return Place(number, words)


def places(shop: Shop) -> list[Place]:
    return rows.places(shop.book)


def place(shop: Shop, number: int) -> Place | None:
    return next((p for p in rows.places(shop.book) if p.number == number), None)


def person_code(found: Person) -> str:
    return str(WallCode(Sort.PERSON, found.number))


def place_code(found: Place) -> str:
    return str(WallCode(Sort.PLACE, found.number))
