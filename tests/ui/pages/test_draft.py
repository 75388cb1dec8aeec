from __future__ import annotations

from partsbench.core.outcomes import Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.pages.codenames import NAMES, free_codename
from partsbench.ui.pages.draft import Draft, counted, drawn
from tests.support.shops import lay_out


def test_what_is_drawn_is_what_is_taken_in(shop: Shop) -> None:
    draft = Draft("2 2 3", "Heron", "dresser", "900", '30"', 4, True, 2, True)
    shown = drawn(draft)
    taken = lay_out(
        shop, "Heron", "2 2 3", width=900, height=762, legs=4, equal_legs=True, pulls=2, top=True
    )
    assert isinstance(shown, Piece)
    assert isinstance(taken, Piece)
    assert shown.front == taken.front
    assert shown.parts == taken.parts
    assert shown.corners == taken.corners
    assert counted(shown) == "7 drawers, 14 pulls, 4 legs, 1 top"


def test_a_size_that_cannot_be_read_names_the_field() -> None:
    fault = drawn(Draft("2", height="tall"))
    assert isinstance(fault, Refused)
    assert "Height" in fault.sentence


def test_codenames_are_offered_once_each_and_never_run_out() -> None:
    taken: list[str] = []
    for _ in range(len(NAMES) + 3):
        taken.append(free_codename(taken))
    assert len({name.casefold() for name in taken}) == len(taken)
    assert taken[len(NAMES)] == f"{NAMES[0]} 2"
    assert free_codename([NAMES[0].upper()]) == NAMES[1]
