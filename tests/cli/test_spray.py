"""Loads and cups in words, as they are read at the spray booth's terminal."""

from __future__ import annotations

import pytest

from tests.cli.conftest import Call
from tests.cli.test_finish import to_colour
from tests.support.clock import SetClock


@pytest.fixture
def blue(good: Call) -> str:
    """The code of a strained mix of two things, good for 4 h."""
    return good("cup", "--mix", "blue", "--pour", "colour:9:17", "--pour", "water:1", "--strained",
                "--product", "paint_water", "--pot-life", "4 h", "--json").json["code"]  # fmt: skip


def test_cups_are_listed_until_they_are_empty(good: Call, tag: str, blue: str) -> None:
    good("cup", "--mix", "raw", "--pour", "colour:1", "--product", "paint_water")
    first, second = good("cup").out.splitlines()
    assert first.startswith("Cup 2: raw") and "Not strained." in first
    assert second.endswith(f"9 parts colour (lot 17), 1 part water, water-borne paint. {blue}")
    assert [c["number"] for c in good("cup", "--json").json] == [2, 1]
    assert good("cup", "2", "--strained").out == "Cup 2 strained.\n"
    assert "Not strained." not in good("cup", "2").out
    assert good("cup", "2", "--empty").out == "Cup 2 is empty.\n"
    assert [c["number"] for c in good("cup", "--json").json] == [1]
    assert "Empty since " in good("cup", "2").out
    good("cup", blue, "--empty")
    assert good("cup").out == "No cup is in use.\n"
    assert good("cup", "--json").json == []


def test_a_cup_is_made_again_at_another_volume(
    good: Call, call: Call, tag: str, blue: str, clock: SetClock
) -> None:
    unsaid = call("cup", "1", "--again")
    assert (unsaid.code, "how much to make" in unsaid.err) == (2, True)
    nothing = call("cup", "1", "--again", "--volume", "0")
    assert (nothing.code, "more than 0 ml" in nothing.err) == (2, True)
    assert [c["number"] for c in good("cup", "--json").json] == [1]
    recipe, cup = good("cup", blue, "--again", "--volume", "60").out.splitlines()
    assert recipe == "For 60 ml: 54 colour, 6 water."
    assert cup.startswith("Cup 2: blue, 54 parts colour (lot 17), 6 parts water")
    clock.pass_time(hours=5)
    assert "Over its pot life." in good("cup", "1").out


def test_what_is_no_cup_is_neither_strained_nor_emptied(
    good: Call, call: Call, tag: str, clock: SetClock
) -> None:
    to_colour(good, tag, clock, "D1")
    load = good("load", tag, "--start", "--json").json["code"]
    before = good("history", "--json").json
    for doing in (["--empty"], ["--strained"], ["--again", "--volume", "60"]):
        for which in ("9", "green", load):
            ran = call("cup", which, *doing)
            assert (ran.code, ran.out, "cup" in ran.err) == (2, "", True), ran
    assert good("history", "--json").json == before


def test_the_next_load_is_told_with_who_is_behind_and_what_still_waits(
    good: Call, tag: str, clock: SetClock
) -> None:
    to_colour(good, tag, clock, "D1", "D3")
    assert good("load", tag).out.startswith("Colour coat 1, thin: D1, D3, ")
    assert "load 1 coated, 5 faces, all except D3." in good(
        "load", tag, "--except", "D3", "--confirm"
    ).out  # fmt: skip
    first, *behind = good("load", tag).out.splitlines()
    assert first.startswith("Colour coat 1, thin: D3, ")
    assert "Behind: D3 front has 0 coats, most of its siblings 1." in behind
    clock.pass_time(hours=30)
    first, *rest = good("load", tag).out.splitlines()
    assert first == "No coat may go on yet."
    late = next(line for line in rest if line.startswith("LATE: D3 front."))
    assert "The scuff has gone stale" in late


def test_the_load_in_hand_is_told_by_number_and_code(
    good: Call, call: Call, tag: str, clock: SetClock
) -> None:
    to_colour(good, tag, clock, "D1", "D3")
    told = good("load", tag, "--start").out
    code = good("load", tag, "--start", "--json").json["code"]
    assert told.startswith(f"Load 1 ({code}): ") and "D1" in told
    assert call("load", tag, "--done", "--cup", code).err == (
        f"partsbench: “{code}” is the code of no cup.\n"
    )
