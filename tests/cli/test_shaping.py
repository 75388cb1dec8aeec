from __future__ import annotations

import pytest

from partsbench.cli.shaping import SORTS
from tests.cli.conftest import Call, parts_of


def test_paths_are_given_to_parts_and_single_faces(good: Call, tag: str) -> None:
    good("path", tag, "clear", "D4", "D5 front", "legs")
    parts = parts_of(good, tag)
    shown = {f["name"] for f in parts["D4"]["faces"] if f["path"] == "clear"}
    assert shown == {"front", "top edge", "bottom edge", "left edge", "right edge"}
    assert [f["name"] for f in parts["D5"]["faces"] if f["path"] == "clear"] == ["front"]
    assert parts["L3"]["status"] == "Wash next"


def test_a_part_added_later_moves_no_number(good: Call, tag: str) -> None:
    before = {n: p["code"] for n, p in parts_of(good, tag).items()}
    said = good("add-part", tag, "bag", "--name", "screws", "--contents", "24 screws").out
    after = parts_of(good, tag)
    assert {n: p["code"] for n, p in after.items() if n in before} == before
    (new,) = set(after) - set(before)
    assert new == "B1"
    assert after["B1"]["code"] in said
    assert after["B1"]["contents"] == "24 screws"


@pytest.mark.parametrize("sort", sorted(set(SORTS) - {"drawer", "door", "leg"}))
def test_whatever_is_added_has_a_home(good: Call, tag: str, sort: str) -> None:
    good("add-part", tag, sort, "--on", "D1", "--spot", "middle")
    parts = parts_of(good, tag)
    new = max(parts, key=lambda n: list(parts).index(n) if "middle" in parts[n]["home"] else -1)
    assert parts[new]["home"] == "on D1, middle"
    assert parts[new]["home_code"] == parts["D1"]["code"]


def test_runners_live_in_an_opening(good: Call, tag: str) -> None:
    good("add-part", tag, "runner", "--in", "H3", "--spot", "left")
    assert parts_of(good, tag)["R1"]["home"] == "row 2, left, left"
    good("fittings", tag, "runner", "2", "D1")
    assert {"R1", "R2", "R3"} <= set(parts_of(good, tag))


def test_a_drawer_needs_a_home(call: Call, tag: str) -> None:
    assert call("add-part", tag, "drawer").code == 2
    assert call("add-part", tag, "drawer", "--in", "H99").code == 2


def test_words_about_a_part(good: Call, call: Call, tag: str) -> None:
    good("edit-part", tag, "D5", "--old-mark", "3", "--note", "runs tight", "--fragile")
    part = parts_of(good, tag)["D5"]
    assert (part["old_mark"], part["note"], part["fragile"]) == ("3", "runs tight", True)
    assert "old mark 3" in good("find", "3").out
    good("edit-part", tag, "D5", "--not-fragile")
    assert parts_of(good, tag)["D5"]["fragile"] is False
    assert call("edit-part", tag, "D5").code == 2


def test_a_retired_number_is_not_given_again(good: Call, call: Call, tag: str, tmp_path) -> None:
    good("labels", tag, "--out", tmp_path / "l.pdf")
    old = parts_of(good, tag)["D7"]["code"]
    good("retire-part", tag, "D7", "--reason", "new front made")
    assert "D7" not in parts_of(good, tag)
    ran = call("scan", old)
    assert ran.code == 1
    assert "new front made" in ran.out
    good("add-part", tag, "drawer", "--in", "H7")
    assert "D8" in parts_of(good, tag)


def test_fittings_legs_title_and_order(good: Call, call: Call, tag: str, tmp_path) -> None:
    good("fittings", tag, "knob", "1", "D1", "D2")
    assert sum(p["name"] == "knob" for p in parts_of(good, tag).values()) == 2
    good("legs", tag, "4", "--equal")
    assert parts_of(good, tag)["L1"]["group"] == "leg"
    good("rename", tag, "tall chest")
    assert good("pieces", "--json").json[0]["title"] == "tall chest"
    good("number-by", tag, "from the bottom")
    assert parts_of(good, tag)["D1"]["home"].startswith("row 3")
    good("labels", tag, "--out", tmp_path / "l.pdf")
    assert call("number-by", tag, "by row").code == 2
