"""The command line: `partsbench` opens the window, `partsbench COMMAND` works without a display."""

from __future__ import annotations

import contextlib
import importlib
import sys
from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path

import click

from partsbench import files
from partsbench.cli.base import (
    BAD,
    OK,
    OUTPUT,
    UNSAID,
    BadInputError,
    CallSettings,
    book_options,
    book_path,
    visible,
)
from partsbench.cli.finish_names import FINISH
from partsbench.cli.sum_names import SUMS
from partsbench.core.outcomes import BookDamagedError
from partsbench.services.shop import machine_clock

COMMANDS = {
    "demo": "demo",
    "sample": "demo",
    "lay-out": "pieces",
    "take-in": "pieces",
    "mirror": "pieces",
    "pieces": "listing",
    "parts": "pieces",
    "export": "pieces",
    "put-away": "pieces",
    "client": "pieces",
    "forget-client": "pieces",
    "path": "shaping",
    "add-part": "shaping",
    "edit-part": "shaping",
    "retire-part": "shaping",
    "fittings": "shaping",
    "legs": "shaping",
    "alike": "shaping",
    "rename": "shaping",
    "number-by": "shaping",
    "front": "front",
    "labels": "labels",
    "stocks": "labels",
    "read": "labels",
    "scan": "bench",
    "out": "bench",
    "stays-in": "bench",
    "send-back": "bench",
    "place": "bench",
    "find": "bench",
    "unseen": "bench",
    "paths": "bench",
    **FINISH,
    "plan": "planning",
    "promise": "planning",
    "return": "returning",
    "fit": "returning",
    "count-home": "returning",
    "eliminate": "returning",
    "proof": "returning",
    "history": "book",
    "what-time": "what_time",
    "undo": "book",
    "redo": "book",
    "correct": "book",
    "save-copy": "book",
    "copies": "copies",
    "restore": "copies",
    "check-book": "book",
    **SUMS,
    "hub": "hub",
    "devices": "hub",
    "help": "helping",
}
"""Command → the module of this package that holds it; loaded when it is called."""


class Commands(click.Group):
    """The commands, each loaded when it is called: the window must not wait for them."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"partsbench.cli.{COMMANDS[cmd_name]}")
        found: click.Command = module.COMMANDS[cmd_name]
        return found

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        # So the systems open a book that is clicked twice: its path behind the program's name.
        if args and _is_book(args[0]):
            args = ["--book", *args]
        return super().parse_args(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        # In the order of the work, not of the alphabet.
        rows = []
        for name in self.list_commands(ctx):
            command = self.get_command(ctx, name)
            if command:
                rows.append((name, command.get_short_help_str(100)))
        with formatter.section("Commands"):
            formatter.write_dl(rows)


def _is_book(word: str) -> bool:
    """A path that ends as books do, or one with a folder that leads to a file."""
    path = Path(word)
    return path.suffix.lower() == files.BOOK or (path.name != word and files.is_there(path))


def partsbench(ctx: click.Context) -> int | None:
    """Brings every drawer, leg and pull back to the place it wore into.

    Without a command the window opens; `partsbench FILE` opens it on that book. Exit codes: 0 done;
    1 answered with no (refused, not complete, nothing found); 2 bad input, told in one line, with
    nothing changed.
    """
    if ctx.invoked_subcommand is None:
        from partsbench.cli.window import open_window

        desk: CallSettings = ctx.obj
        return open_window(book_path(desk), desk.who, make_folder=desk.book is None)
    return None


main = click.group(cls=Commands, invoke_without_command=True)(
    book_options(click.pass_context(partsbench), at_top=True)
)


def run(argv: Sequence[str], clock: Callable[[], datetime] = machine_clock) -> int:
    """Runs one command and gives its exit code. Nothing a person types ends in a traceback."""
    _print_anything()
    OUTPUT.fault = None
    code = _run(argv, clock)
    if OUTPUT.fault is None or isinstance(OUTPUT.fault, BrokenPipeError):
        # Who closes the pipe has read enough.
        return code
    click.echo(
        f"partsbench: What was asked is done, but the answer could not be written: "
        f"{files.why(OUTPUT.fault)}.",
        err=True,
    )
    return UNSAID


def _run(argv: Sequence[str], clock: Callable[[], datetime]) -> int:
    desk = CallSettings(clock)
    try:
        done = main.main(list(argv), prog_name="partsbench", standalone_mode=False, obj=desk)
    except click.UsageError as error:
        where = error.ctx.command_path if error.ctx else "partsbench"
        return _bad(error.format_message(), where)
    except click.ClickException as error:
        return _bad(error.format_message())
    except (BadInputError, BookDamagedError) as error:
        return _bad(str(error))
    except OSError as error:
        return _bad(f"{error.filename or 'A file'}: {files.why(error)}.")
    except UnicodeEncodeError:
        return _bad("A word holds bytes that are no letters; nothing was changed.")
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped.", err=True)
        return 130
    except (LookupError, ValueError, TypeError, AttributeError, AssertionError, ArithmeticError):
        told = _damage_behind(desk)
        if not told:
            raise
        return _bad(told)
    except SystemExit:
        # So click ends when nobody reads its help any more.
        OUTPUT.turn_away()
        return OK
    return done if isinstance(done, int) else OK


def _damage_behind(desk: CallSettings) -> str:
    """The sentence for a fault that comes from a damaged book; empty for one of the program."""
    from partsbench.services.books.exchange import damage_behind
    from partsbench.services.shop import Shop, open_shop

    path = book_path(desk)
    found = open_shop(path, desk.clock) if files.is_there(path) else None
    if not isinstance(found, Shop):
        return found.sentence if found else ""
    with contextlib.closing(found):
        return damage_behind(found)


def _bad(sentence: str, where: str = "partsbench") -> int:
    click.echo(visible(f"{where}: {' '.join(sentence.split())}"), err=True)
    return BAD


def _print_anything() -> None:
    """A console that cannot show “ must not stop the work."""
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, ValueError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]
