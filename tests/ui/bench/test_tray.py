from __future__ import annotations

from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import Home, HomeKind, Part
from partsbench.services.acts import teardown
from partsbench.services.acts.returning import missing
from partsbench.services.books import pieces
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.ui.bench.tray import by_sort, tray_lines
from tests.support.shops import lay_out, made

LOOSE = Home(HomeKind.ON_PIECE, spot="loose")


def some(family: Family, name: str, *numbers: int) -> list[Part]:
    return [Part(family, number, LOOSE, name=name) for number in numbers]


def test_parts_are_told_by_sort_and_name() -> None:
    pulls = some(Family.PULL, "pull", *range(1, 11), 13)
    knobs = some(Family.PULL, "knob", 11, 12)
    rest = [*some(Family.LOCK, "key", 2), *some(Family.TOP, "", 1), *some(Family.SHELF, "", 1, 2)]
    assert by_sort([*pulls, *knobs, *rest]) == (
        "pulls P1–P10, P13; knobs P11, P12; key K2; top T1; shelves S1, S2"
    )


def test_each_bag_is_told_by_what_is_in_it() -> None:
    bags = [*some(Family.BAG, "screws of the pulls", 1), *some(Family.BAG, "hinges", 2)]
    assert by_sort(bags) == "bags B1 screws of the pulls, B2 hinges"


def test_of_parts_that_are_alike_it_is_told_how_many(shop: Shop) -> None:
    piece = made(lay_out(shop, "Heron", "2 2", pulls=1))
    piece = made(pieces.make_alike(shop, piece.tag, ["P1", "P2", "P3", "P4"]))
    teardown.take_out(shop, piece.tag, ["P1", "P2", "P3"])
    state = piece_state(shop, piece)
    assert "Not yet back:  3 of 4 pulls, any of them" in tray_lines(state, missing(state))
