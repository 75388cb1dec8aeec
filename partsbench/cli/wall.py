"""Paper for the wall and the pocket: the verb sheet and the day sheet."""

from __future__ import annotations

from pathlib import Path

import click

from partsbench.cli.base import (
    OK,
    PDF_TO_WRITE,
    book_options,
    good,
    json_option,
    new_file,
    open_book,
    paper_of,
    paper_option,
    pdf_option,
    piece_of,
    say,
    say_json,
    written_whole,
)
from partsbench.core.verbs import REASONS, VERBS
from partsbench.services.books import restart
from partsbench.services.heard import wall
from partsbench.services.plan import evening

out_option = click.option(
    "--out", "file", metavar="FILE", type=click.Path(path_type=Path), help=PDF_TO_WRITE
)


@click.command("verbs")
@out_option
@paper_option
@json_option
@click.pass_context
def verbs(ctx: click.Context, file: Path | None, paper: str | None, as_json: bool) -> int:
    """The verbs of the bench and the reasons, as a list; with --out as codes for the wall."""
    if file is not None:
        shop = open_book(ctx)
        target = new_file(ctx.find_root().obj, file)
        with written_whole(target, good(wall.verb_sheet(shop, paper_of(shop, paper)))):
            pass
    found = [(v.code, v.name, v.says) for v in VERBS]
    found += [(r.code, r.name, f"a reason for {r.key}") for r in REASONS]
    if as_json:
        say_json([{"code": c, "name": n, "says": s} for c, n, s in found])
    elif file is not None:
        say(f"Verb sheet written to {file}.")
    else:
        for code, name, says in found:
            say(f"{code}  {name:<24} {says}")
    return OK


@click.command("day-sheet")
@click.argument("tags", nargs=-1)
@pdf_option
@paper_option
@json_option
@click.pass_context
def day_sheet(
    ctx: click.Context, tags: tuple[str, ...], file: Path, paper: str | None, as_json: bool
) -> int:
    """The day on paper, with boxes for a pencil: of the pieces in hand, or of those named."""
    shop = open_book(ctx)
    named = tuple(piece_of(shop, tag).tag for tag in tags)
    target = new_file(ctx.find_root().obj, file)
    tonight = evening.tonight(shop, named)
    said = tonight.sentence if tonight else ""
    with written_whole(target, good(wall.day_sheet(shop, named, paper_of(shop, paper), said))):
        restart.was_asked(shop)
    say_json({"file": str(file)}) if as_json else say(f"Day sheet written to {file}.")
    return OK


COMMANDS = {c.name: book_options(c) for c in (verbs, day_sheet)}
