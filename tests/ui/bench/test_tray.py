from __future__ import annotations

from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import Home, HomeKind, Part
from partsbench.ui.bench.tray import by_sort

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
