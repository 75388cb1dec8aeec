"""The pages of help: Markdown beside this file, for the repository, the window and the command.

A page is `KEY.md`: a title, one line that says what it is about, then sections. Each command stands
on one page, as an entry of its own that begins "- `command". A page of the window is helped by the
page of the same key.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files

_HERE = files(__name__)

ORDER = (
    "first-job", "start", "layout", "labels", "scanning", "hub", "teardown", "bench", "wall",
    "load", "finish", "day", "plan", "week", "map", "return", "pieces", "sums", "hardware",
    "small-sums",
    "ledger", "book", "window", "commands", "limits", "cautions",
)  # fmt: skip
"""The pages in the order of the work."""

_BLOCK = re.compile(r"(?=^##? |^- )", re.MULTILINE)
_HEADING = re.compile(r"^##? (.+)$", re.MULTILINE)
_ENTRY = re.compile(r"^- `([a-z][a-z_-]*)[ `]")


@dataclass(frozen=True, slots=True)
class HelpPage:
    """One page; `text` is all of it, in Markdown."""

    key: str
    title: str
    about: str
    text: str


@dataclass(frozen=True, slots=True)
class Passage:
    """A part of a page that can be found: a section, or one entry of a list.

    `of` is the command, or view of the book, that an entry is of; "" when it is none.
    """

    page: HelpPage
    heading: str
    text: str
    of: str = ""


@cache
def pages() -> tuple[HelpPage, ...]:
    """Every page, in the order of the work."""
    return tuple(_page(key) for key in ORDER)


def page(key: str) -> HelpPage | None:
    """The page of that key; None if there is none."""
    return next((p for p in pages() if p.key == key), None)


@cache
def passages() -> tuple[Passage, ...]:
    """Every passage of every page, in order."""
    return tuple(passage for each in pages() for passage in _passages(each))


def entry(name: str) -> Passage | None:
    """What the pages say of one command or view of the book; None if they say nothing."""
    return next((p for p in passages() if p.of == name), None)


def find(words: str) -> tuple[Passage, ...]:
    """The passages that hold every one of the words, those that are named by them first.

    A word is found where another begins with it: “label” finds “labels”, not “unlabelled”.
    """
    asked = [re.compile(rf"(?<![a-z0-9]){re.escape(w)}") for w in words.lower().split()]
    if not asked:
        return ()
    found = [p for p in passages() if all(w.search(_searched(p)) for w in asked)]
    return tuple(sorted(found, key=lambda p: not all(w.search(_named(p)) for w in asked)))


def _searched(passage: Passage) -> str:
    return f"{passage.page.title} {passage.heading} {passage.text}".lower()


def _named(passage: Passage) -> str:
    return f"{passage.heading} {passage.of}".lower()


def _page(key: str) -> HelpPage:
    text = (_HERE / f"{key}.md").read_text(encoding="utf-8")
    title, about, _ = text.split("\n\n", 2)
    return HelpPage(key, title.removeprefix("# "), " ".join(about.split()), text)


def _passages(whole: HelpPage) -> list[Passage]:
    found: list[Passage] = []
    heading = whole.title
    fenced = False
    for block in _BLOCK.split(whole.text):
        if fenced:  # what looks like a heading or a list inside an example belongs to it
            before = found.pop()
            found.append(replace(before, text=f"{before.text}\n{block}"))
        elif block.strip():
            titled, named = _HEADING.match(block), _ENTRY.match(block)
            heading = titled[1] if titled else heading
            found.append(Passage(whole, heading, block.strip(), named[1] if named else ""))
        fenced ^= block.count("```") % 2 == 1
    return found
