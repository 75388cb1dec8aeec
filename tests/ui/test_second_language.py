"""The window in a made-up language: each word on it is a message, or a key that is known as one."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

from tests.support.second_language import OPEN, marked, own_words, unmarked

ROOT = Path(__file__).parents[2]
LOOKS = (
    "sample-start", "sample-layout", "sample-map", "sample-find", "apart-out", "work-bench-D1",
    "work-load", "work-day", "work-ledger", "home-return-wrong",
)  # fmt: skip
LEFT = {
    "middle": "a place of the front: worded in the core, beside left and right",
    "example": "the piece that is drawn before there is one",
}
"""Words on the screen that are neither messages nor keys, and where they come from."""
MOST_CUT = 30


def in_other_words(*looks: str) -> dict[str, dict[str, str]]:
    """What stands on these pages in no marks, and what is cut there, by text."""
    ran = subprocess.run(
        [sys.executable, "-m", "tests.support.second_language", "--json", *looks],
        cwd=ROOT,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        timeout=180,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    found: dict[str, dict[str, str]] = json.loads(ran.stdout.splitlines()[-1])
    return found


def test_each_word_on_the_window_is_a_message_or_a_known_key() -> None:
    found = in_other_words(*LOOKS)
    strange = {
        text: where
        for text, where in found["bare"].items()
        if not set(own_words(text)) <= LEFT.keys()
    }
    assert not strange, "could not be translated:\n" + "\n".join(
        f"{where}: {text}" for text, where in strange.items()
    )
    cut = {text: where for text, where in found["cut"].items() if OPEN in text}
    assert cut, "a third longer, some words of a button are cut: is it looked at at all?"
    assert len(cut) <= MOST_CUT, cut


def test_what_stands_in_no_marks_is_found() -> None:
    assert unmarked(f"{marked('Record')} of D1, {marked('a step')} and more") == "of D1,  and more"
    assert own_words("of D1 and more") == ["of", "and", "more"]
