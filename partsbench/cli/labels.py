"""Labels on paper, and reading them back from pictures."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from partsbench.cli.base import (
    NO,
    OK,
    BadInputError,
    book_options,
    good,
    json_option,
    names_in,
    new_file,
    open_book,
    pdf_option,
    piece_of,
    say,
    say_json,
    written_whole,
)
from partsbench.core.wording import plural
from partsbench.services.shown import labels as sheets

PATIENCE_SECONDS = 5.0

if TYPE_CHECKING:
    from partsbench.services.heard.reading import Seen


@click.command("labels")
@click.argument("tag")
@pdf_option
@click.option("--stock", default="", help="Label stock by name; else plain paper, by size.")
@click.option("--start", default=1, type=int, help="First free label of a used sheet.")
@click.option("--offset", default="0,0", metavar="X,Y", help="How far the printer is out, in mm.")
@click.option("--homes", is_flag=True, help="Labels for the insides of the openings too.")
@click.option("--only", default="", metavar="NAMES", help="Only these: D5,D7,H3.")
@click.option("--reprint", is_flag=True, help="New labels for lost ones; the old are told.")
@json_option
@click.pass_context
def labels(
    ctx: click.Context,
    tag: str,
    file: Path,
    stock: str,
    start: int,
    offset: str,
    homes: bool,
    only: str,
    reprint: bool,
    as_json: bool,
) -> int:
    """Write a sheet of labels in the order of taking apart.

    Every page is read back by an independent decoder first; a label that it cannot read is
    refused.
    """
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    target = new_file(ctx.find_root().obj, file)
    sheet = good(
        sheets.make_sheet(
            shop,
            piece.tag,
            only=names_in(only),
            homes=homes,
            reprint=reprint,
            stock=stock or sheets.usual_stock(shop),
            start=start,
            offset=_offset(offset),
        )
    )
    with written_whole(target, sheet.pdf):
        done = good(sheets.hand_out(shop, sheet))
    if as_json:
        say_json({"file": str(file), "pages": sheet.pages, "codes": list(sheet.codes)})
    else:
        pages = plural(sheet.pages, "1 page", f"{sheet.pages} pages")
        say(f"{done.sentence} {file}: {pages}, each label read back.")
    return OK


@click.command("stocks")
@json_option
@click.pass_context
def stocks(_: click.Context, as_json: bool) -> int:
    """List the label stocks."""
    found = sheets.stock_names()
    if as_json:
        say_json(
            [
                {
                    "name": name,
                    "title": title,
                    "per_page": sheets.labels_per_page(name),
                    "source": sheets.stock_source(name),
                }
                for name, title in found.items()
            ]
        )
        return OK
    for name, title in found.items():
        say(f"{name:<14} {title}")
    for source in dict.fromkeys(filter(None, map(sheets.stock_source, found))):
        say(f"From: {source}. Measure the sheet in hand.")
    return OK


@click.command("read")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@json_option
@click.pass_context
def read(ctx: click.Context, files: tuple[Path, ...], as_json: bool) -> int:
    """Read the labels in pictures and PDF files. Only codes that the book has are given.

    A label too far gone to be read is told with a question mark and counts as not read. Exit code
    1 when a file shows none, 2 when one is no picture or PDF; the others are read.
    """
    from partsbench.services.heard.reading import read_files

    results = read_files(open_book(ctx), files, _Patience().on_page)
    if as_json:
        say_json([_seen_row(r) for r in results])
    else:
        for result in results:
            if not result.fault:
                say(f"{result.file}: {_seen_words(result)}")
    faults = [r.fault for r in results if r.fault]
    if faults:
        raise BadInputError(" ".join(faults))
    return OK if all(r.codes for r in results) else NO


class _Patience:
    """Says how far a long file is, so that nobody takes the program for stuck."""

    def __init__(self) -> None:
        self._last = time.monotonic()

    def on_page(self, file: Path, page: int) -> None:
        now = time.monotonic()
        if now - self._last >= PATIENCE_SECONDS:
            self._last = now
            click.echo(f"partsbench: {file}: page {page}…", err=True)


def _seen_row(seen: Seen) -> dict[str, object]:
    probable = [{"code": p.code, "sentence": p.sentence, "chance": p.chance} for p in seen.probable]
    return {"file": seen.file, "codes": list(seen.codes), "probable": probable}


def _seen_words(seen: Seen) -> str:
    """The codes; after them, with a question mark each, what has to be looked at by a person."""
    guesses = [f"{g.code}? (probably {g.name}: compare it with the part)" for g in seen.probable]
    return " ".join([*seen.codes, *guesses]) or "no code of this book"


def _offset(text: str) -> tuple[float, float]:
    try:
        x, y = (float(word) for word in text.split(","))
    except ValueError:
        raise BadInputError(f"--offset: “{text}” is not two sizes in mm, as in 1.5,-0.5.") from None
    return x, y


COMMANDS = {c.name: book_options(c) for c in (labels, stocks, read)}
