"""Seams and tape in words."""

from __future__ import annotations

import pytest

from tests.cli.conftest import Call


@pytest.fixture
def larch(good: Call) -> str:
    """A carcase with painted sides and rails under a stained top."""
    tag = good("lay-out", "Larch", "--rows", "1").last
    good("path", tag, "paint", "C1 rails", "C1 left side", "C1 right side")
    good("path", tag, "stain", "C1 top")
    return tag


def test_seams_are_told_with_their_length_and_the_tape_on_them(good: Call, larch: str) -> None:
    lines = good("mask", larch).out.splitlines()
    assert "C1 rails | C1 top: 0.90 m, not known" in lines
    assert lines[-1] == "8 seams to tape, 4.0 m; 1 needs no tape."
    good("mask", larch, "--on", "C1 top", "--tape", "blue", "--rating", "7 d")
    good("mask", larch, "--on", "C1 back", "--against", "C1 left side")
    lines = good("mask", larch).out.splitlines()
    assert "C1 rails | C1 top: 0.90 m, masked" in lines
    rated, unrated = lines[-2:]
    assert rated.startswith("On: C1 top against C1 rails, C1 left side, C1 right side, off by ")
    assert unrated == "On: C1 back against C1 left side"


def test_the_ways_from_stain_to_tape_are_told_with_their_hours(good: Call, larch: str) -> None:
    said = good("mask", larch, "--ways", "C1 top").out.splitlines()
    assert said[0].startswith("Straight on the stain: tape after 24 h;")
    assert said[1].startswith("Seal coat first: tape after 2 d;")
    assert good("mask", larch, "--ways", "C1 top", "--json").json == said


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--ways", "C1 lid"], "no face “lid”"),
        (["--ways", "Q9 top"], "no part “Q9”"),
        (["--on", "C1 top", "--rating", "soon"], "no length of time"),
        (["--on", "C1"], "Say which face of C1"),
        (["--off", "C1 back"], "No tape is on C1 back"),
        (["--not-needed", "C1 lid"], "no face “lid”"),
    ],
)
def test_what_cannot_be_taped_is_told(
    good: Call, call: Call, larch: str, words: list[str], said: str
) -> None:
    before = good("history", "--json").json
    ran = call("mask", larch, *words)
    assert (ran.code, ran.out, said in ran.err) == (2, "", True), ran
    assert good("history", "--json").json == before
