"""How much to mix, tins, hours, money, and the care sheet.

Those described for the window too are made from that; ledger and care sheet write files.
"""

from __future__ import annotations

from pathlib import Path

import click

from partsbench.cli.asking import sum_commands
from partsbench.cli.base import (
    NO,
    OK,
    good,
    json_option,
    new_file,
    paper_of,
    paper_option,
    pdf_option,
    say,
    say_json,
    written_whole,
)
from partsbench.cli.telling import at, tell
from partsbench.services.sums import care, money
from partsbench.services.sums.asked.earning import COMMANDED


@click.command("ledger")
@click.argument("tag")
@click.option("--csv", "file", metavar="FILE", type=click.Path(path_type=Path),
              help="Write it as a table for an invoice.")  # fmt: skip
@json_option
@click.pass_context
def ledger(ctx: click.Context, tag: str, file: Path | None, as_json: bool) -> int:
    """Hours, costs, offers and the floor price of a piece."""
    shop, piece = at(ctx, tag)
    if file:
        target = new_file(ctx.find_root().obj, file)
        with written_whole(target, good(money.invoice_csv(shop, piece.tag)).encode("utf-8-sig")):
            pass
    return tell(money.tell_ledger(good(money.ledger(shop, piece.tag))), as_json)


@click.command("care-sheet")
@click.argument("tag")
@pdf_option
@paper_option
@json_option
@click.pass_context
def care_sheet(ctx: click.Context, tag: str, file: Path, paper: str | None, as_json: bool) -> int:
    """Write the care sheet: dates from the real last coats. Exit code 1 while not finished."""
    shop, piece = at(ctx, tag)
    target = new_file(ctx.find_root().obj, file)
    found = good(care.care(shop, piece.tag))
    with written_whole(target, good(care.care_sheet(found, paper_of(shop, paper)))):
        pass
    if as_json:
        told = care.tell_care(found)
        say_json({**told.data, "file": str(file), "sentence": told.sentence})
    else:
        say(found.sentence)
        say(f"{file}: care sheet of {piece.codename} {piece.tag}.")
    return OK if found.dates and not found.unfinished else NO


COMMANDS = sum_commands(COMMANDED, ledger, care_sheet)
