"""`demo`: the main job on a sample."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import click

from partsbench import app
from partsbench.cli.base import NO, OK, BadInputError, say
from partsbench.cli.window import has_display, missing_libraries, open_window


@click.command("demo")
@click.option(
    "--out", "folder", metavar="DIR", type=click.Path(path_type=Path), help="Where the files go."
)
@click.option(
    "--window/--no-window",
    default=None,
    help="Open the window on the sample afterwards; usual with a display and a terminal.",
)
def demo(folder: Path | None, window: bool | None) -> int:
    """Run the main job on a sample, in a book of its own, and say what happened.

    Takes in a tall chest, prints labels, reads them back, scans every part out, records every
    step, brings the parts home with two drawers swapped, shows the moves, finishes, and leaves
    book, label sheet, proof sheet and pictures of the pages in DIR.
    """
    from partsbench import demo as main_job

    if folder is None:
        folder = Path(tempfile.mkdtemp(prefix="partsbench-demo-"))
    try:
        folder.mkdir(parents=True, exist_ok=True)
        done = main_job.run(folder, say)
    except main_job.DemoError as error:
        click.echo(f"partsbench demo: {error}", err=True)
        return NO
    except OSError as error:
        raise BadInputError(f"{folder}: {error.strerror or error}.") from error
    fault = missing_libraries(on_screen=False)
    if fault:
        click.echo(f"partsbench: {fault}", err=True)
    if window is None:
        window = has_display() and sys.stdin.isatty() and sys.stdout.isatty()
    return open_window(done.book) if window else OK


@click.command("sample")
@click.option("--anew", is_flag=True, help="Begin from the start, with an empty sample.")
def sample(anew: bool) -> int:
    """Open the window on a sample to be done step by step, with no printer and no scanner.

    It has a book of its own and can be left at any moment; the next time it goes on where it was.
    """
    book = app.sample_book()
    if anew:
        for each in (book, *(book.with_name(f"{book.name}-{end}") for end in ("wal", "shm"))):
            each.unlink(missing_ok=True)
    return open_window(book, make_folder=True, guided=True)


COMMANDS = {c.name: c for c in (demo, sample)}
