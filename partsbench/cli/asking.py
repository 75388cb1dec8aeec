"""A command made from the description of a sum, which the window is made from too."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import click

from partsbench.cli.base import (
    BadInputError,
    book_options,
    good,
    in_book,
    json_option,
    open_book,
    say_done,
)
from partsbench.cli.telling import at, own_habits, tell, tell_after, units_option
from partsbench.core.outcomes import Done, Refused
from partsbench.core.sums.units import Measures
from partsbench.services.shop import Shop
from partsbench.services.sums.asked.description import (
    AtBench,
    SumEntry,
    SumField,
    SumQuestion,
    Word,
    named,
)
from partsbench.services.sums.habits import NONE_SET, Habits
from partsbench.services.sums.told import Told

Given = Mapping[str, Any]
"""What click has read, by its own names."""


class SumWords:
    """The words of a command for some fields: what click reads them by, and what was typed."""

    def __init__(self, fields: Sequence[SumField]) -> None:
        typed = [(field, field.word) for field in fields if field.word]
        self.params = {field.key: _param(field, how) for field, how in typed}
        self.names = {field.key: _name(how) for field, how in typed}

    def values(self, given: Given) -> dict[str, str]:
        """What was typed, by key."""
        return {key: _text(self._raw(given, key), name) for key, name in self.names.items()}

    def said(self, given: Given, fields: Sequence[SumField]) -> bool:
        """Whether anything was typed for one of these."""
        return any(
            self._raw(given, f.key) is not None if f.word.empty else self.values(given)[f.key]
            for f in fields
            if f.word
        )

    def _raw(self, given: Given, key: str) -> Any:
        return given[self.params[key].name or ""]


def sum_commands(
    asked: Sequence[SumQuestion | SumEntry], *written: click.Command
) -> dict[str, click.Command]:
    """The commands of these, by name, with those of the same topic that are written out."""
    made = [*map(_command, asked), *written]
    return {command.name or "": book_options(command) for command in made}


def _command(asked: SumQuestion | SumEntry) -> click.Command:
    words = SumWords(_fields(asked))

    @click.pass_context
    def run(ctx: click.Context, /, **given: Any) -> int:
        if isinstance(asked, SumEntry):
            shop, piece = at(ctx, given["tag"])
            done = asked.keep(shop, piece.tag, words.values(given))
            return say_done(named(done, words.names), given["as_json"])
        if isinstance(asked.found, AtBench):
            own = _own(ctx, asked.found, given.get("given_units"))
            found = asked.found.reckon(own, words.values(given))
            return tell(named(found, words.names), given["as_json"])
        return _answered(ctx, asked, words, given)

    made = click.Command(asked.command, callback=run, help=asked.about)
    if isinstance(asked, SumEntry) or asked.of_piece:
        made.params.append(click.Argument(["tag"]))
    made.params += words.params.values()
    in_units = isinstance(asked, SumQuestion) and asked.units
    return json_option(units_option(made) if in_units else made)


def _fields(asked: SumQuestion | SumEntry) -> tuple[SumField, ...]:
    """Those of a command, in the order of its help."""
    if isinstance(asked, SumEntry) or asked.notes is None:
        return asked.fields
    noted = asked.notes.fields
    return (*asked.fields, *noted) if asked.asked_first else (*noted, *asked.fields)


def _own(ctx: click.Context, bench: AtBench, units: str | None) -> Habits:
    """The shop's settings, with the units that were asked for."""
    if units:
        return replace(NONE_SET, measures=Measures(units))
    return own_habits(ctx) if bench.asks_shop else NONE_SET


def _answered(ctx: click.Context, asked: SumQuestion, words: SumWords, given: Given) -> int:
    """Note what was given, if anything, and answer."""
    values = words.values(given)
    noting = asked.notes if asked.notes and words.said(given, asked.notes.fields) else None
    done: Done | Refused | None = None

    def keep(shop: Shop) -> Done | Refused | None:
        return named(noting.keep(shop, tag, values), words.names) if noting else None

    def answer() -> Told | Refused:
        return named(asked.found(shop, tag, values), words.names)

    if asked.of_piece:
        shop, piece = at(ctx, given["tag"])
        tag = piece.tag
        if asked.asked_first:
            good(answer())
        done = keep(shop)
    else:
        tag = ""
        done = in_book(ctx, keep) if noting else None
        shop = open_book(ctx)
    if done is not None and any(values[key] for key in asked.silent):
        return say_done(done, given["as_json"])
    return tell_after(done, answer, given["as_json"])


def _name(how: Word) -> str:
    return how.name if how.name.startswith("-") else how.name.upper()


def _param(field: SumField, how: Word) -> click.Parameter:
    kind: Any = click.IntRange(*field.whole) if field.whole else str
    if how.strict:
        kind = click.Choice([choice for choice in field.choices if choice])
    if how.name.startswith("-"):
        plain = kind is str and not (how.empty or how.flag)
        # What is required has no default at all: to click even None is one.
        usual: Any = {} if how.required else {"default": field.usual if plain else None}
        return click.Option(
            [how.name],
            is_flag=how.flag or None,
            type=None if how.flag else kind,
            required=how.required,
            metavar=how.metavar,
            help=how.help,
            **usual,
        )
    if how.many:
        return click.Argument([how.name], nargs=-1)
    if how.required:
        return click.Argument([how.name], type=kind)
    return click.Argument([how.name], type=kind, default="", required=False)


def _text(raw: Any, name: str) -> str:
    if isinstance(raw, tuple):
        if not all(each.strip() for each in raw):
            raise BadInputError(f"{name}: a name is empty.")
        return " ".join(raw)
    if isinstance(raw, bool):
        return "yes" if raw else ""
    return "" if raw is None else str(raw)
