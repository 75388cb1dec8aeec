"""What every command shares: which book, who is at work, the clock, and how answers are printed."""

from __future__ import annotations

import contextlib
import json
import os
import re
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any, TypeVar

import click

from partsbench import app, files
from partsbench.core.finish.durations import parse_duration
from partsbench.core.naming import spread
from partsbench.core.outcomes import Done, HalfDone, Outcome, Refused, Tone
from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import no_book_yet, not_written
from partsbench.services import shop as shops
from partsbench.services.shop import Shop

F = TypeVar("F", bound=Callable[..., Any])
T = TypeVar("T")

OK, NO, BAD, UNSAID = 0, 1, 2, 3
"""Exit codes: done; answered with no (not complete, refused, nothing found); bad input; done as
asked, but the answer could not be written."""

_NOT_A_NO = frozenset({Tone.UNKNOWN, Tone.MISREAD})


class BadInputError(Exception):
    """What was asked cannot be: the sentence says what and where, and nothing was changed."""


@dataclass
class CallSettings:
    """The settings of one call. `book` is None until an option or the usual place says which."""

    clock: Callable[[], datetime] = shops.machine_clock
    book: Path | None = None
    who: str = ""


def _set_book(ctx: click.Context, _: click.Parameter, value: Path | None) -> None:
    if value is not None:
        ctx.find_root().obj.book = value


def _set_who(ctx: click.Context, _: click.Parameter, value: str | None) -> None:
    if value is not None:
        ctx.find_root().obj.who = value


def book_options(command: F, *, at_top: bool = False) -> F:
    """`--book` and `--who`, taken before a command and after it alike."""
    who = click.option(
        "--who",
        metavar="NAME",
        envvar="PARTSBENCH_WHO" if at_top else None,
        callback=_set_who,
        expose_value=False,
        help="Who is at work, for the history. Also from PARTSBENCH_WHO.",
    )
    book = click.option(
        "--book",
        metavar="FILE",
        type=click.Path(path_type=Path),
        envvar="PARTSBENCH_BOOK" if at_top else None,
        callback=_set_book,
        expose_value=False,
        help="The book to work in. Also from PARTSBENCH_BOOK; else the user's own.",
    )
    if isinstance(command, click.Command):
        _reads_negatives(command)
    return book(who(command))


_HIDDEN = "\x1f"
_NEGATIVE = re.compile(r"-[.,]?\d")


def _reads_negatives(command: click.Command) -> None:
    """`-5 mm` is told as a size and `-5C` read as a temperature: no option begins with a digit.

    The minus is hidden from the parser of options, and put back into what it read.
    """
    usual = command.make_parser

    def make_parser(ctx: click.Context) -> Any:
        parser = usual(ctx)
        parse = parser.parse_args

        def parse_args(args: list[str]) -> Any:
            opts, left, order = parse(
                [f"{_HIDDEN}{arg}" if _NEGATIVE.match(arg) else arg for arg in args]
            )
            return {name: _as_typed(v) for name, v in opts.items()}, _as_typed(left), order

        parser.parse_args = parse_args  # type: ignore[method-assign]
        return parser

    command.make_parser = make_parser  # type: ignore[method-assign]


def _as_typed(value: Any) -> Any:
    if isinstance(value, str):
        return value.removeprefix(_HIDDEN)
    return type(value)(map(_as_typed, value)) if isinstance(value, list | tuple) else value


json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON.")
PDF_TO_WRITE = "The PDF to write."
pdf_option = click.option(
    "--out", "file", required=True, metavar="FILE", type=click.Path(path_type=Path),
    help=PDF_TO_WRITE,
)  # fmt: skip
piece_option = click.option("--piece", default="", help="The piece at work, by tag or codename.")
paper_option = click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    help="What it is printed on; else the shop's own paper.",
)
at_option = click.option(
    "--at", metavar="TIME", default="", help="When it was done: 14:20, yesterday 9:05, 20 min ago."
)


def book_path(desk: CallSettings) -> Path:
    """The book meant: the one given, or the one in the user's data folder."""
    return desk.book or app.usual_book()


def pot_life_of(text: str) -> timedelta | None:
    """A pot life as it was typed; None when none was."""
    life = parse_duration(text) if text else None
    if text and life is None:
        raise BadInputError(f"--pot-life: “{text}” is no length of time, as in 4 h.")
    return life


def open_book(ctx: click.Context, *, may_be_new: bool = False) -> Shop:
    """The shop of this call, closed when the command ends; its book is made if it may be new."""
    desk: CallSettings = ctx.find_root().obj
    path = book_path(desk)
    if not files.is_there(path):
        if not may_be_new:
            raise BadInputError(no_book_yet(path))
        if desk.book is None:
            path.parent.mkdir(parents=True, exist_ok=True)
    return _opened(ctx, path)


def in_book(ctx: click.Context, act: Callable[[Shop], T | Refused]) -> T:
    """What `act` gives in the book of this call, which is made when there is none.

    A new book is rehearsed in memory first, so that what is refused leaves no file behind.
    """
    desk: CallSettings = ctx.find_root().obj
    path = book_path(desk)
    if not files.is_there(path):
        rehearsal = good(shops.open_shop(Path(":memory:"), desk.clock))
        with contextlib.closing(rehearsal):
            good(act(rehearsal))
    return good(act(open_book(ctx, may_be_new=True)))


def _opened(ctx: click.Context, path: Path) -> Shop:
    desk: CallSettings = ctx.find_root().obj
    opened = good(shops.open_shop(path, desk.clock, desk.who))
    for sentence in opened.told:
        click.echo(visible(f"partsbench: {sentence}"), err=True)
    ctx.call_on_close(opened.close)
    if desk.book is None:
        opened.copies_folder = app.usual_copies()
    from partsbench.services.books.copies import daily

    for sentence in daily(opened):
        click.echo(f"partsbench: {sentence}", err=True)
    return opened


def good(found: T | Refused) -> T:
    """What was found; BadInputError with the sentence of a refusal."""
    if isinstance(found, Refused):
        raise BadInputError(found.sentence)
    return found


def piece_of(shop: Shop, asked: str) -> Piece:
    return good(shops.find_piece(shop, asked))


def time_of(shop: Shop, text: str) -> datetime | None:
    """The time that `--at` states; None when it was not given."""
    from partsbench.services.acts.bench import stated

    return good(stated(shop, text)) if text else None


def known_or_bad(outcome: Outcome) -> Outcome:
    """The outcome, unless what was scanned is no code or in no job: that is bad input."""
    if outcome.tone in _NOT_A_NO:
        raise BadInputError(" ".join(filter(None, (outcome.sentence, outcome.because))))
    return outcome


_STEERS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""What steers a terminal, or makes the letters after it run the other way."""


def visible(text: str) -> str:
    """The text with such characters written out, as `\\u001b`: what was typed, or read from a file,
    must not clear the screen or write over what is told."""
    return _STEERS.sub(_written_out, text)


def _written_out(found: re.Match[str]) -> str:
    return f"\\u{ord(found[0]):04x}"


class _Output:
    """Standard output until it takes no more: what a command records does not depend on it."""

    fault: OSError | None = None

    def say(self, text: str) -> None:
        try:
            click.echo(visible(text))
        except OSError as error:
            self.fault = error
            self.turn_away()

    def turn_away(self) -> None:
        """What is still to be said goes nowhere, also what waits to be written at the end."""
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


OUTPUT = _Output()


def say(text: str = "") -> None:
    OUTPUT.say(text)


def say_json(data: Any) -> None:
    OUTPUT.say(json.dumps(data, ensure_ascii=False, indent=1))


def say_done(done: Done | Refused, as_json: bool = False) -> int:
    """Print what a change did; a refusal is bad input."""
    if isinstance(done, HalfDone):
        say_json({"sentence": done.sentence, "tag": ""}) if as_json else say(done.sentence)
        return NO
    sentence = good(done)
    say_json({"sentence": sentence.sentence, "tag": sentence.tag}) if as_json else say(
        sentence.sentence
    )
    return OK


def now_of_call() -> datetime:
    """The present as the command at work takes it."""
    desk: CallSettings = click.get_current_context().find_root().obj
    return desk.clock()


def iso(at: datetime | None) -> str | None:
    """A time for JSON: ISO 8601 in the machine's zone, with its offset."""
    return at.astimezone().isoformat(timespec="seconds") if at else None


def paper_of(shop: Shop, asked: str | None) -> str:
    """The paper that `--paper` names, else the shop's own."""
    from partsbench.services.sums.habits import habits

    return asked or habits(shop).word("paper", "a4")


def names_in(text: str) -> list[str]:
    """`D1,D3 front,P1-P4` as its names."""
    return [each for name in text.split(",") if name.strip() for each in spread(name)]


def new_file(desk: CallSettings, path: Path) -> Path:
    """A file that may be written: a new or a plain one, in a folder that is there, not the book."""
    fault = files.target_fault(path)
    if fault:
        raise BadInputError(fault.sentence)
    book = book_path(desk)
    if files.is_there(path) and any(
        path.samefile(f) for f in shops.files_of_book(book) if files.is_there(f)
    ):
        raise BadInputError(f"{path} is the book, or belongs to it.")
    return path


@contextlib.contextmanager
def written_whole(path: Path, data: bytes) -> Iterator[None]:
    """Puts `data` on the disk, runs what is inside, and only then lets it take its name.

    So a file is whole or not there, and what the inside refuses leaves none.
    """
    try:
        with files.draft(path, data):
            yield
    except OSError as error:
        raise BadInputError(not_written(path, files.why(error))) from error
