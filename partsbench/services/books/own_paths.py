"""The shop's own finish paths: a shipped one copied, its text edited, checked and kept."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from partsbench import trade
from partsbench.core.finish import path_text
from partsbench.core.finish.path import FinishPath, Step
from partsbench.core.finish.path_text import AddStep, SayOfStep, StepEdit
from partsbench.core.finish.steps import NO_STEP_PATHS
from partsbench.core.outcomes import Done, Refused
from partsbench.core.wording import clauses, sentences
from partsbench.services.known import cautions
from partsbench.services.known.review import Reviewed, review_text
from partsbench.services.shop import Shop, read_path, writing
from partsbench.store import room as rows
from partsbench.store.journal import change


def text_of(shop: Shop, key: str) -> str | Refused:
    """The text of a path, shipped or own, to read or edit."""
    text = rows.own_path(shop.book, key) or trade.path_texts().get(key)
    return text or Refused(f"There is no finish path “{key}” with steps to copy.")


def copy_text(shop: Shop, key: str, new_key: str, name: str) -> str | Refused:
    """The text of a path under a new key and name, ready to edit. Nothing is kept yet."""
    text = text_of(shop, key)
    if isinstance(text, Refused):
        return text
    words = " ".join(name.split()).replace("\\", "").replace('"', "'")
    text = re.sub(r'(?m)^key = ".*"$', f'key = "{new_key}"', text, count=1)
    return re.sub(r'(?m)^name = ".*"$', f'name = "{words}"', text, count=1)


def check(text: str) -> Reviewed:
    """What the text says and what is wrong with it, by line and reason."""
    return review_text(text)


@dataclass(frozen=True, slots=True)
class StepOffer:
    """A step of a shipped path that another path may take over."""

    path: str
    step: Step
    block: str


def shipped_steps() -> tuple[StepOffer, ...]:
    """Every step of the shipped paths, path by path."""
    offers = []
    for text in trade.path_texts().values():
        read = read_path(text)
        assert isinstance(read, FinishPath), read
        texts = path_text.blocks(text)[1]
        offers += [StepOffer(read.name, s, b) for s, b in zip(read.steps, texts, strict=True)]
    return tuple(offers)


def edited(text: str, edit: StepEdit) -> str | Refused:
    """The text of an own path after one edit of its table, or why it cannot be so.

    Nothing is kept yet; the text that is refused stays as it was.
    """
    before = read_path(text)
    if isinstance(before, tuple):
        return Refused(f"The text has a fault, which comes first: {clauses(map(str, before))}")
    fault = _why_not(before) or _why_not_said(edit)
    if fault:
        return fault
    if len(path_text.blocks(text)[1]) != len(before.steps):
        return Refused("This path is written in a way of its own: edit its text.")
    new = path_text.apply_edit(text, edit)
    after = read_path(new)
    if isinstance(after, tuple):
        faults = clauses(str(replace(f, line=0)) for f in after)
        return Refused(f"That would not hold: {faults}.")
    return new


def adding(text: str, row: int, offer: StepOffer) -> AddStep:
    """The edit that puts a shipped step into `row`, under a key that is free there."""
    read = read_path(text)
    keys = [s.key for s in read.steps] if isinstance(read, FinishPath) else []
    return AddStep(row, path_text.block_for(offer.block, offer.step.key, keys, keys[:row]))


def _why_not_said(edit: StepEdit) -> Refused | None:
    """A caution that nobody wrote words for would be silent at the step."""
    if not isinstance(edit, SayOfStep) or edit.word != "cautions":
        return None
    strange = [w for w in re.findall(r'"(.*?)"', edit.value) if w not in cautions.texts()]
    known = ", ".join(cautions.texts())
    return Refused(f"There is no caution “{strange[0]}”; there are {known}.") if strange else None


@writing
def save(shop: Shop, text: str) -> Done | Refused:
    """Keep a path under the key it names; faces on it follow the new figures from now on."""
    read = read_path(text)
    if isinstance(read, tuple):
        return Refused("; ".join(map(str, read)) + ".")
    fault = _why_not(read)
    if fault:
        return fault
    now = shop.clock()
    with change(shop.book, f"Finish path {read.key} kept", now, shop.who) as entry:
        rows.put_own_path(entry, shop.book, read.key, text, now, shop.who)
    used = rows.faces_on_path(shop.book, read.key)
    follow = f"{used} faces follow it." if used else ""
    return Done(sentences(f"{read.name} is kept as {read.key}.", follow))


@writing
def drop(shop: Shop, key: str) -> Done | Refused:
    """Take an own path out, unless faces are on it."""
    used = rows.faces_on_path(shop.book, key)
    if used:
        return Refused(f"{used} faces are on “{key}”: give them another path first.")
    with change(shop.book, f"Finish path {key} taken out", shop.clock(), shop.who) as entry:
        if not rows.drop_own_path(entry, shop.book, key):
            return Refused(f"“{key}” is no path of your own.")
    return Done(f"Finish path {key} is taken out.")


def own(shop: Shop) -> dict[str, str]:
    """Key → text of the shop's own paths."""
    return rows.own_paths(shop.book)


def _why_not(path: FinishPath) -> Refused | None:
    if path.key in trade.path_texts() or path.key in NO_STEP_PATHS:
        return Refused(
            f"“{path.key}” is a shipped path, which stays as it is: give yours another key."
        )
    return None
