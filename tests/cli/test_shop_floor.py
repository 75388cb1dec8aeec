"""Tins, people, places and power cuts in words."""

from __future__ import annotations

from tests.cli.conftest import Call


def test_tins_are_told_until_they_are_used_up(good: Call, call: Call, tag: str) -> None:
    assert good("tin").out.startswith("No tin has a card. Classes: ")
    good("tin", "Loam", "--product", "paint_chalk", "--wait", "recoat=4 h..24 h",
         "--wait", "tape=24 h", "--wait", "stain=..10 min")  # fmt: skip
    assert good("tin").out == (
        "Loam (paint_chalk): recoat 4 h to 24 h, tape from 24 h, stain up to 10 min\n"
    )
    assert good("tin", "Loam", "--used-up").out == "The tin card of Loam no longer counts.\n"
    assert "No tin has a card" in good("tin").out
    again = call("tin", "Loam", "--used-up")
    assert (again.code, "no tin card “Loam”" in again.err) == (2, True)


def test_codes_for_the_wall_are_listed(good: Call, tag: str) -> None:
    assert good("rack").out == "No place has a code yet.\n"
    assert good("person").out == "Nobody has a code yet.\n"
    assert good("rack", "--json").json == []
    good("rack", "rack 1")
    good("person", "Wren", "--only", "sand")
    (rack,), (wren,) = good("rack", "--json").json, good("person", "--json").json
    assert (rack["name"], wren["name"]) == ("rack 1", "Wren")
    assert good("rack").out == f"{rack['code']}  rack 1\n"
    assert good("person").out == f"{wren['code']}  Wren\n"


def test_a_power_cut_without_its_times_is_asked_for(good: Call, call: Call, tag: str) -> None:
    before = good("history", "--json").json
    for words in (("", ""), ("8:00", ""), ("", "8:10")):
        ran = call("power-cut", *words)
        assert (ran.code, "from when to when" in ran.err) == (2, True)
    assert good("history", "--json").json == before
