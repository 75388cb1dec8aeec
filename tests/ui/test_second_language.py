"""The program in a made-up language: each word is a message, or a key that is known as one."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from partsbench.cli.group import COMMANDS
from tests.support.second_language import OPEN, marked, own_words, texts, unmarked

ROOT = Path(__file__).parents[2]
LOOKS = (
    "sample-start", "sample-layout", "sample-map", "sample-find", "apart-out", "work-bench-D1",
    "work-load", "work-day", "work-ledger", "home-return-wrong",
)  # fmt: skip
LEFT = {
    "said of a place in the front, beside left and right": {"middle"},
    "heads and rows of the sums, one word each": {
        "estimated", "faces", "hours", "what", "hardware", "materials", "delivery", "storage",
    },
    "what is typed, as an example": {"sanding", "blue", "satin"},
    "a person of the plan": {"You"},
    "a word of the teardown in capitals": {"OUT"},
}  # fmt: skip
"""Words on the screen that are neither messages nor keys, by where they come from; it may only grow
shorter."""
KNOWN = frozenset(word for words in LEFT.values() for word in words)
MOST_CUT = 15
"""So many texts of these pages are cut when they are a third longer."""


def in_other_words(*looks: str) -> dict[str, Any]:
    """What is seen on these pages (`second_language.Seen`), in a process of its own."""
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
    found: dict[str, Any] = json.loads(ran.stdout.splitlines()[-1])
    return found


def test_each_word_on_the_window_is_a_message_or_a_known_key() -> None:
    found = in_other_words(*LOOKS)
    strange = [text for text, words in found["bare"].items() if not KNOWN.issuperset(words)]
    assert not strange, "could not be translated:\n" + "\n".join(
        f"{found['where'][text]}: {text}" for text in strange
    )
    assert found["marked"] > 200, "next to nothing was looked at"
    cut = {text: where for text, where in found["cut"].items() if OPEN in text}
    assert len(cut) <= MOST_CUT, cut


def test_the_help_of_each_command_is_made_of_messages() -> None:
    found = in_other_words("--commands")
    assert found["bare"] == {}
    assert found["marked"] == len(COMMANDS)


def test_what_stands_in_no_marks_is_found() -> None:
    assert unmarked(f"{marked('Record')} of D1, {marked('a step')} and more") == "of D1,  and more"
    assert own_words("of D1 and more") == ["of", "and", "more"]


def test_a_text_too_long_for_its_label_is_cut(qtbot: QtBot) -> None:
    label = QLabel("Take it to the bench")
    qtbot.addWidget(label)
    label.resize(label.sizeHint())
    label.show()
    assert [is_cut for _, said, is_cut in texts(label) if said] == [False]
    label.resize(label.width() // 2, label.height())
    assert [is_cut for _, said, is_cut in texts(label) if said] == [True]
