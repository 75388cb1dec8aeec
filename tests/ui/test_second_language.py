"""The program in a made-up language: each word is a message, and longer words are not cut."""

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
from tests.support.second_language import OPEN, SAYINGS, marked, own_words, tail, texts, unmarked

ROOT = Path(__file__).parents[2]
LOOKS = (
    "empty-layout", "sample-layout", "sample-map", "sample-masks", "sample-find",
    "sample-facts", "sample-client", "apart-out", "work-bench-D1", "work-load", "work-day",
    "work-ledger", "home-return-wrong",
)  # fmt: skip
LEFT = {
    "what is typed, as an example, or by a press": {"sanding", "blue", "satin", "now"},
    "said so in most languages": {"OK"},
    "a fact is told as it was typed": {
        "lead", "tested", "free", "laboratory", "chips", "of", "the", "base", "back", "edge",
        "and", "top", "by", "shop", "at", "intake",
    },
    "buttons of Qt's own, which Qt translates": {"Cancel", "Save", "Close"},
}  # fmt: skip
"""Words on the screen that are no messages, by where they come from; it may only grow shorter."""
KNOWN = frozenset(word for words in LEFT.values() for word in words)


def in_other_words(*words: str) -> dict[str, Any]:
    """What is seen on these pages (`second_language.Seen`), in a process of its own."""
    ran = subprocess.run(
        [sys.executable, "-m", "tests.support.second_language", "--json", *words],
        cwd=ROOT,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        timeout=290,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    found: dict[str, Any] = json.loads(ran.stdout.splitlines()[-1])
    return found


def test_each_word_on_the_window_is_a_message_and_none_is_cut() -> None:
    found = in_other_words(*LOOKS)
    strange = [text for text, words in found["bare"].items() if not KNOWN.issuperset(words)]
    assert not strange, "could not be translated:\n" + "\n".join(
        f"{found['where'][text]}: {text}" for text in strange
    )
    assert found["marked"] > 200, "next to nothing was looked at"
    assert found["cut"] == {}


def test_what_the_commands_say_of_a_piece_is_made_of_messages_alone() -> None:
    """No key is said as it stands: no face, family, place, state or answer."""
    found = in_other_words("--said")
    strange = {text for text, words in found["bare"].items() if not KNOWN.issuperset(words)}
    assert strange == set()
    assert found["marked"] > len(SAYINGS)


def test_in_json_every_key_stays_a_key() -> None:
    found = in_other_words("--kept")
    assert found["faces"] == ["D1 front", "D1 top edge"]
    assert {"drawer", "carcase", "leg"} <= set(found["families"])
    assert {"home", "out", "stays"} <= set(found["where"])
    assert "GO" in found["answers"]


def test_the_help_of_each_command_is_made_of_messages() -> None:
    found = in_other_words("--commands")
    assert found["bare"] == {}
    assert found["marked"] == len(COMMANDS)


def test_what_stands_in_no_marks_is_found() -> None:
    assert unmarked(f"{marked('Record')} of D1, {marked('a step')} and more") == "of D1,  and more"
    assert own_words("of D1 front and more") == ["of", "front", "and", "more"]
    assert own_words(f"{OPEN}ţĥé front óƒ D1~~⟧") == ["front"], "a key inside a message"


def test_a_text_is_a_third_longer_in_words_that_lines_can_break_between() -> None:
    long = "Kept apart from the parts and never printed on a label."
    longer = marked(long)
    assert len(longer.replace(" ", "")) >= len(long.replace(" ", "")) * 1.3
    assert max(map(len, tail(100).split())) <= 7


def test_a_text_too_long_for_its_label_is_cut(qtbot: QtBot) -> None:
    label = QLabel("Take it to the bench")
    qtbot.addWidget(label)
    label.resize(label.sizeHint())
    label.show()
    assert [is_cut for _, said, is_cut in texts(label) if said] == [False]
    label.resize(label.width() // 2, label.height())
    assert [is_cut for _, said, is_cut in texts(label) if said] == [True]


def test_a_text_that_wraps_is_cut_where_its_last_line_has_no_room(qtbot: QtBot) -> None:
    label = QLabel("Take it to the bench and let it dry until the evening")
    label.setWordWrap(True)
    qtbot.addWidget(label)
    label.resize(120, label.heightForWidth(120))
    label.show()
    assert [is_cut for _, said, is_cut in texts(label) if said] == [False]
    label.resize(120, label.height() // 2)
    assert [is_cut for _, said, is_cut in texts(label) if said] == [True]
