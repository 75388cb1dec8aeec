from __future__ import annotations

from PySide6.QtCore import QRect

from partsbench.ui.piece_view.neighbours import Way, neighbour

GRID = {f"{x}{y}": QRect(x * 100, y * 50, 96, 46) for x in range(3) for y in range(3)}


def test_in_a_plain_grid_each_way_leads_to_the_tile_beside() -> None:
    assert neighbour("11", Way.LEFT, GRID) == "01"
    assert neighbour("11", Way.RIGHT, GRID) == "21"
    assert neighbour("11", Way.UP, GRID) == "10"
    assert neighbour("11", Way.DOWN, GRID) == "12"


def test_there_and_back_in_a_grid_is_where_one_began() -> None:
    for there, back in ((Way.LEFT, Way.RIGHT), (Way.UP, Way.DOWN)):
        for key in GRID:
            found = neighbour(key, there, GRID)
            if found:
                assert neighbour(found, back, GRID) == key


def test_at_the_edge_there_is_none() -> None:
    assert neighbour("00", Way.LEFT, GRID) is None
    assert neighbour("00", Way.UP, GRID) is None


def test_from_a_wide_tile_one_comes_to_the_nearest_below_it() -> None:
    places = {
        "wide": QRect(0, 0, 300, 40),
        "left": QRect(0, 50, 90, 40),
        "middle": QRect(105, 50, 90, 40),
        "right": QRect(210, 50, 90, 40),
    }
    assert neighbour("wide", Way.DOWN, places) == "middle"
    assert neighbour("right", Way.UP, places) == "wide"
