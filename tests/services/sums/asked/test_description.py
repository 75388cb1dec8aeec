"""A sum described once: what both may type, and how a field that is wrong is named in each."""

from __future__ import annotations

import pytest

from partsbench.core.outcomes import Refused
from partsbench.services.shop import Shop
from partsbench.services.sums.asked import bench, earning, fitting, hardware
from partsbench.services.sums.asked.description import (
    Misfilled,
    SumEntry,
    SumField,
    SumQuestion,
    Values,
    Word,
    named,
)
from partsbench.services.sums.told import Told

COMMANDED = (*bench.COMMANDED, *fitting.COMMANDED, *hardware.COMMANDED, *earning.COMMANDED)
WINDOW_ONLY = {"survivor", "place", "wanted", "of", "meant"}
"""A veto and a break of symmetry are one option each in the command, and fields in the window."""
COMMAND_ONLY = {"found", "veto", "allow", "wanted", "unwanted", "drop", "take_back"}
"""Those options, and flags that the window has a button or an empty field for."""


def described(asked: SumQuestion | SumEntry) -> tuple[SumField, ...]:
    notes = asked.notes if isinstance(asked, SumQuestion) else None
    return (*asked.fields, *(notes.fields if notes else ()))


def test_what_the_command_asks_the_window_asks_too() -> None:
    shown = [a for a in COMMANDED if a.title]
    assert len(shown) == 21
    ours = {f.key for a in shown for f in described(a) if f.label and not f.word}
    theirs = {f.key for a in shown for f in described(a) if f.word and not f.label}
    assert (ours, theirs) == (WINDOW_ONLY, COMMAND_ONLY)


def test_no_two_words_of_a_command_are_one() -> None:
    for asked in COMMANDED:
        fields = described(asked)
        words = [f.word.name for f in fields if f.word]
        assert len(words) == len(set(words)), asked.command
        keys = [f.key for f in fields if f.word]
        assert len(keys) == len(set(keys)), asked.command
    assert len({a.command for a in COMMANDED}) == len(COMMANDED)


def test_fields_are_named_in_a_row() -> None:
    names = {"a": "--one", "b": "--two", "c": "--three"}
    assert named(Misfilled("say it.", ("a",)), names) == Refused("--one: say it.")
    assert named(Misfilled("say it.", ("a", "b", "c")), names) == Refused(
        "--one, --two and --three: say it."
    )
    plain = Refused("No.")
    assert named(plain, names) is plain


def echo(_: Shop, __: str, typed: Values) -> Told | Refused:
    return Told(" ".join(f"{k}={v}" for k, v in typed.items()))


ASKED = SumQuestion(
    "k", "Title", "Why?", echo,
    (SumField("coats", "Coats of each", whole=(1, 20)), SumField("cut", "Sawn", usual="mixed"),
     SumField("drop", word=Word("--drop", flag=True))),
)  # fmt: skip


def test_the_window_fills_in_what_is_usual_and_has_no_field_without_a_label(shop: Shop) -> None:
    assert [a.key for a in ASKED.asks] == ["coats", "cut"]
    assert ASKED.answer(shop, "", {"cut": "", "drop": "yes"}).sentence == "coats= cut=mixed"
    assert ASKED.answer(shop, "", {"coats": "20", "cut": "flat"}).sentence == "coats=20 cut=flat"


@pytest.mark.parametrize("typed", ["0", "21", "-1", "1.5", "two", "²", "9" * 400, "nan"])
def test_what_is_no_whole_number_of_the_range_is_told_by_its_label(shop: Shop, typed: str) -> None:
    assert ASKED.answer(shop, "", {"coats": typed}) == Refused(
        f"Coats of each: “{typed}” is no whole number from 1 to 20."
    )
