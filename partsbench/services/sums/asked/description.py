"""How a sum is described, once: what is asked and noted, in the words of window and command."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from partsbench.core.outcomes import Done, Refused
from partsbench.core.sums.shown import Measures
from partsbench.core.sums.units import number
from partsbench.services.shop import Shop
from partsbench.services.sums.habits import Habits, habits
from partsbench.services.sums.told import Told

T = TypeVar("T")
Values = Mapping[str, str]
"""What was typed, by the keys of its fields; "" where nothing was, "yes" for a flag."""
Answering = Callable[[Shop, str, Values], Told | Refused]
Noting = Callable[[Shop, str, Values], Done | Refused]


@dataclass(frozen=True, slots=True)
class Word:
    """How the command takes a field: by an option `--rh`, or an argument in its place, `paper`."""

    name: str
    help: str = ""
    required: bool = False
    flag: bool = False
    many: bool = False
    """An argument of any number of names."""
    strict: bool = False
    """One of the choices of the field, and nothing else."""
    empty: bool = False
    """Given empty it is noted all the same: it takes back what was noted."""
    metavar: str | None = None


@dataclass(frozen=True, slots=True)
class SumField:
    """One field: its key, its words, an example to type, and the choices where there are some.

    `us` is the example in a shop that reads US units; empty: the same. Without a label the window
    has no such field, without a word the command has none.
    """

    key: str
    label: str = ""
    hint: str = ""
    word: Word | None = None
    choices: tuple[str, ...] = ()
    us: str = ""
    usual: str = ""
    """What counts where nothing was said."""
    whole: tuple[int, int] | None = None
    """It is a whole number, from the least to the most."""

    def example(self, measures: Measures) -> str:
        """What stands in the empty field of this shop."""
        return self.us if self.us and measures is Measures.US else self.hint


@dataclass(frozen=True, slots=True)
class Misfilled(Refused):
    """What is wrong with these fields; window and command say it behind their names for them."""

    fields: tuple[str, ...]


ONE_AT_A_TIME = "say one at a time."


@dataclass(frozen=True, slots=True)
class AtBench:
    """What answers from the shop's settings alone: no piece is needed, and no book."""

    reckon: Callable[[Habits, Values], Told | Refused]
    asks_shop: bool = True
    """False: not even a setting is asked."""

    def __call__(self, shop: Shop, _tag: str, values: Values) -> Told | Refused:
        return self.reckon(habits(shop), values)


@dataclass(frozen=True, slots=True)
class SumEntry:
    """Something to note that makes an answer better: fields, and what keeps them."""

    title: str
    fields: tuple[SumField, ...]
    keep: Noting
    now: Callable[[Shop], Values] | None = None
    """What is kept already, to be shown and changed; None for what is noted afresh each time."""
    command: str = ""
    """The command that notes it, and what it does."""
    about: str = ""

    @property
    def asks(self) -> tuple[SumField, ...]:
        """The fields of the window."""
        return _labelled(self.fields)

    def note(self, shop: Shop, tag: str, values: Values) -> Done | Refused:
        """Keep what stands in the fields of the window."""
        return _from_window(self.asks, values, lambda typed: self.keep(shop, tag, typed))


@dataclass(frozen=True, slots=True)
class SumQuestion:
    """A decision. `fields` are read by the answer at once; `of_piece` needs a piece at work."""

    key: str
    title: str
    question: str
    found: Answering
    fields: tuple[SumField, ...] = ()
    entries: tuple[SumEntry, ...] = ()
    of_piece: bool = True
    picture: bool = False
    sheet: bool = False
    """It can be written as a PDF, and two scans compare sheet and front."""
    command: str = ""
    """The command that asks it, and what it does; without a title the window does not ask."""
    about: str = ""
    units: bool = False
    """The command takes `--units`."""
    notes: SumEntry | None = None
    """What the command notes before it answers."""
    asked_first: bool = False
    """What is asked stands before what is noted, and is understood before anything is noted."""
    silent: tuple[str, ...] = ()
    """Where one of these was said, what was noted is told and no answer follows."""

    @property
    def asks(self) -> tuple[SumField, ...]:
        """The fields of the window."""
        return _labelled(self.fields)

    def answer(self, shop: Shop, tag: str, values: Values) -> Told | Refused:
        """Answer what stands in the fields of the window."""
        return _from_window(self.asks, values, lambda typed: self.found(shop, tag, typed))


def named(found: T, names: Mapping[str, str]) -> T | Refused:
    """What was found; of misfilled fields the names are said, too."""
    if not isinstance(found, Misfilled):
        return found
    *some, last = (names[key] for key in found.fields)
    those = f"{', '.join(some)} and {last}" if some else last
    return Refused(f"{those}: {found.sentence}")


def amount_in(text: str, what: str) -> float | Refused | None:
    """An amount as typed; None when none was."""
    return number(text, what) if text.strip() else None


def whole_in(text: str) -> int | None:
    """A whole number whose field has seen to it that it is one; None when none was typed."""
    return int(text) if text else None


def told(found: T | Refused, tell: Callable[[T], Told]) -> Told | Refused:
    """An answer as it is shown."""
    return found if isinstance(found, Refused) else tell(found)


def tells(
    find: Callable[..., T | Refused], tell: Callable[..., Told], *keys: str, in_units: bool = False
) -> Answering:
    """Answers of a piece from these fields, in this order; `in_units` tells it in the shop's."""
    return lambda shop, tag, typed: told(
        find(shop, tag, *(typed[key] for key in keys)),
        lambda good: tell(good, habits(shop).measures) if in_units else tell(good),
    )


def keeps(act: Callable[..., Done | Refused], *keys: str) -> Noting:
    """Notes of a piece what was typed into these fields, in this order."""
    return lambda shop, tag, typed: act(shop, tag, *(typed[key] for key in keys))


def reckons(find: Callable[..., T | Refused], tell: Callable[..., Told], *keys: str) -> AtBench:
    """Answers from these fields, in this order, read and told in the units that are asked for."""
    return AtBench(
        lambda own, typed: told(
            find(*(typed[key] for key in keys), own.measures), lambda good: tell(good, own.measures)
        )
    )


def _labelled(fields: Sequence[SumField]) -> tuple[SumField, ...]:
    return tuple(field for field in fields if field.label)


def _from_window(
    asks: Sequence[SumField], values: Values, act: Callable[[Values], T | Refused]
) -> T | Refused:
    typed = {ask.key: values.get(ask.key, "") or ask.usual for ask in asks}
    bad = next(filter(None, (_no_whole(ask, typed[ask.key]) for ask in asks)), None)
    return named(bad or act(typed), {ask.key: ask.label for ask in asks})


def _no_whole(ask: SumField, text: str) -> Misfilled | None:
    if ask.whole is None or not text:
        return None
    least, most = ask.whole
    if text.isdecimal() and len(text) < 9 and least <= int(text) <= most:
        return None
    return Misfilled(f"“{text}” is no whole number from {least} to {most}.", (ask.key,))
