from __future__ import annotations

import pytest

from tests.cli.conftest import Call, parts_of


def openings(good: Call, tag: str) -> dict:
    return {o["home"]: o for o in good("front", tag, "--json").json["openings"]}


def test_it_shows_homes_kinds_and_sizes(good: Call, tag: str) -> None:
    shown = openings(good, tag)
    assert list(shown) == [f"H{n}" for n in range(1, 8)]
    assert shown["H5"]["part"] == "D5"
    assert shown["H1"]["width_mm"] == 450
    assert shown["H5"]["width_mm"] == 300
    assert "450 × 200 mm" in good("front", tag).out


def test_a_door_with_drawers_behind_it(good: Call, tag: str) -> None:
    good("front", tag, "kind", "H6", "door")
    door = next(h for h, o in openings(good, tag).items() if o["kind"] == "door")
    good("front", tag, "behind", door, "1 1")
    hidden = [o for o in openings(good, tag).values() if o["behind"]]
    assert len(hidden) == 2
    parts = parts_of(good, tag)
    assert sum(p["family"] == "drawer" for p in parts.values()) == 8
    assert parts["G1"]["home"] == "row 3, middle"


def test_splitting_joining_and_filling(good: Call, tag: str) -> None:
    good("front", tag, "split", "H7", "rows")
    assert len(openings(good, tag)) == 8
    good("front", tag, "join", "H1", "H2")
    assert openings(good, tag)["H1"]["width_mm"] == 900
    good("front", tag, "remove", "H1")
    assert len(openings(good, tag)) == 6
    good("front", tag, "fill")
    assert len(openings(good, tag)) == 7
    good("front", tag, "rows", "3 1")
    assert len(openings(good, tag)) == 4


def test_a_size_in_inches(good: Call, tag: str) -> None:
    good("front", tag, "height", "H1", "8 in")
    assert openings(good, tag)["H1"]["height_mm"] == pytest.approx(203.2)
    assert openings(good, tag)["H2"]["height_mm"] == pytest.approx(203.2)


@pytest.mark.parametrize(
    "words",
    [
        "bend H1", "split H99 rows", "split H1 sideways", "split H1", "join H1", "join H1 H7",
        "kind H1 gate", "behind H1 2", "behind", "width H1 none", "width H1", "remove", "fill",
        "rows x", "split H1 rows many",
    ],
)  # fmt: skip
def test_what_cannot_be_is_told_and_changes_nothing(call: Call, tag: str, words: str) -> None:
    before = call("front", tag, "--json").out
    ran = call("front", tag, *words.split())
    assert (ran.code, ran.err.count("\n")) == (2, 1), ran
    assert call("front", tag, "--json").out == before
