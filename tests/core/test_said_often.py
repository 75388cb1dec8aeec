"""Sentences that are said in several places, where they part."""

from __future__ import annotations

from partsbench.core import said_often


def test_a_face_that_was_not_named_is_asked_for() -> None:
    assert said_often.no_face("C1", "", ("left", "top")) == "Say which face of C1: left, top."
    assert said_often.no_face("C1", "lid", ("left", "top")) == (
        "C1 has no face “lid”; it has left, top."
    )


def test_what_comes_next_and_what_is_missing_end() -> None:
    assert said_often.next_out("D2") == "Next: D2."
    assert said_often.next_out("") == "Everything is out."
    assert said_often.still_missing(2) == "2 still missing."
    assert said_often.still_missing(0) == said_often.EVERYTHING_HOME
