"""A mix in use: when it was used up is said once."""

from __future__ import annotations

from partsbench.core.finish.cups import Poured, StoredCup
from partsbench.core.outcomes import Done, Refused
from partsbench.services.acts.history import history, undo
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from tests.support.clock import SetClock


def test_a_cup_that_is_empty_stays_empty_since_the_first_time(shop: Shop, clock: SetClock) -> None:
    made = cups.make(shop, "blue", [Poured("colour", "", 1)])
    assert isinstance(made, StoredCup)
    assert cups.empty(shop, 1) == Done("Cup 1 is empty.")
    first, noted = clock.now, history(shop)
    clock.pass_time(hours=2)
    again = cups.empty(shop, 1)
    assert isinstance(again, Refused)
    assert again.sentence == f"Cup 1 was empty already, since {first:%a %d %b %H:%M}: that stands."
    found = cups.find(shop, 1)
    assert isinstance(found, StoredCup) and found.emptied_at == first
    assert history(shop) == noted, "nothing new is there to be taken back"
    undo(shop)
    assert cups.empty(shop, 1) == Done("Cup 1 is empty.")
