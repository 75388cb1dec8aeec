"""People and places with codes for the wall: each name once, and nobody leaves who is not here."""

from __future__ import annotations

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.services.known import people
from partsbench.services.shop import Shop
from partsbench.store.room import Person, Place


@pytest.mark.parametrize("name", ["", "  ", "x" * 41])
def test_a_name_that_is_none_gets_no_code(shop: Shop, name: str) -> None:
    before = shop.book.newest()
    assert isinstance(people.add_person(shop, name), Refused)
    assert isinstance(people.add_place(shop, name), Refused)
    assert shop.book.newest() == before


def test_a_name_has_one_code_also_when_it_is_written_otherwise(shop: Shop) -> None:
    assert isinstance(people.add_person(shop, "Wren", ["sand"]), Person)
    assert isinstance(people.add_place(shop, "Rack  2"), Place)
    assert people.add_person(shop, " WREN ") == Refused("“WREN” has a code already.")
    assert people.add_place(shop, "rack 2") == Refused("“rack 2” has a code already.")
    assert [p.name for p in people.people(shop)] == ["Wren"]
    assert [p.name for p in people.places(shop)] == ["Rack 2"]


def test_somebody_leaves_once_and_the_name_stays_theirs(shop: Shop) -> None:
    wren = people.add_person(shop, "Wren")
    assert isinstance(wren, Person)
    assert people.leaves(shop, wren.number) == Done("Wren left.")
    assert people.people(shop) == []
    for number in (wren.number, 99):
        assert isinstance(people.leaves(shop, number), Refused)
    assert isinstance(people.add_person(shop, "wren"), Refused), "what they did is under that name"
