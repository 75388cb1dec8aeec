"""Ready for a second language: every sentence stands whole, once, with named parameters."""

from __future__ import annotations

import pytest

from tests.support import words
from tests.support.words import Kind

LEFT = {
    "core/finish/facts.py: no mask: ": "a key of the book: what follows is a face's name",
    "store/tries.py: {r} ": "a key: the piece's row before the number of a part",
    "ui/bench/wording.py: _LISTED.sub(_counted, sentence)": (
        "the history keeps sentences; a long list of faces in one is counted where it is shown"
    ),
    "ui/bench/wording.py:  ({len} faces)": "the same",
    "ui/speech.py: manner_of(answer).word.capitalize()": "a voice spells what is all capitals",
}
"""What could not be translated yet, and why. It may only grow shorter."""


def test_no_sentence_is_glued_cut_or_written_twice() -> None:
    new = [str(fault) for fault in words.all_faults() if fault.place not in LEFT]
    assert not new, "could not be translated:\n" + "\n".join(new)


def test_what_was_mended_leaves_the_list() -> None:
    assert set(LEFT) <= {fault.place for fault in words.all_faults()}


def test_a_message_has_the_names_of_its_parameters() -> None:
    module = words.parsed('def f(n):\n    return f"{n.part} needs {hours(n):.1f} h."', "x.py")
    assert [m.text for _, m in words.messages(module)] == ["{part} needs {hours} h."]


@pytest.mark.parametrize(
    ("source", "kind"),
    [
        ('say("Wait" + until)', Kind.PLUS),
        ('said += f", then {step}"', Kind.PLUS),
        ('said = f", then {step}"', Kind.FRAGMENT),
        ('said = f"{said} "', Kind.FRAGMENT),
        ('said = f"{n} hole{\'\' if n == 1 else \'s\'} to drill"', Kind.INSIDE),
        ('said = f"{n} {kind}s to buy"', Kind.INSIDE),
        ('said = f"{name} is home{more}{rest}."', Kind.INSIDE),
        ('said = f"{name} is {\'done\' if done else \'open\'}."', Kind.INSIDE),
        ('def f():\n    at = "left" if a else "right"\n    return f"It is {at} now."', Kind.INSIDE),
        ('said = " and ".join(names)', Kind.JOINED),
        ('said = outcome.sentence.removesuffix(" now")', Kind.CUT),
        ('said = status.capitalize()', Kind.CUT),
        ('said = text[:1].upper() + text[1:]', Kind.CUT),
        ('said = f"{step.name.lower()} comes next"', Kind.CUT),
        ('said = LISTED.sub("", outcome.sentence)', Kind.CUT),
        ('said = f"made on {day:%d %b}"', Kind.DATE),
    ],
)  # fmt: skip
def test_what_could_not_be_translated_is_found(source: str, kind: Kind) -> None:
    assert kind in {fault.kind for fault in words.faults(words.parsed(source, "x.py"))}


@pytest.mark.parametrize(
    "source",
    [
        'say(f"{part} is home. Next: {step}.")',
        'said = plural(n, "1 hole", f"{n} holes")',
        'said = sentences(f"{part} is home.", f"Next: {step}." if step else "")',
        'say(f"  Warning: {line}")',
        'rows = book.rows("SELECT id FROM part WHERE piece = ?" + more)',
        'if text.startswith("load "): pass',
        'box.setSuffix(" min")',
        'widget.setStyleSheet("QLabel { color: " + colour + "; border: 1px }")',
    ],
)
def test_what_stands_whole_is_let_pass(source: str) -> None:
    assert list(words.faults(words.parsed(source, "x.py"))) == []
