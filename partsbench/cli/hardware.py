"""Pulls counted, judged, ordered and allotted; holes noted; drilling sheets.

Those described for the window too are made from that; a sheet writes a file, and a front or a screw
that is checked ends with a no.
"""

from __future__ import annotations

from typing import Any

import click

from partsbench.cli.asking import SumWords, sum_commands
from partsbench.cli.base import (
    NO,
    OK,
    BadInputError,
    good,
    json_option,
    known_or_bad,
    new_file,
    open_book,
    paper_option,
    pdf_option,
    piece_of,
    piece_option,
    say,
    say_json,
    written_whole,
)
from partsbench.cli.telling import at, tell
from partsbench.core.key_words import word_of
from partsbench.core.outcomes import Answer, Refused
from partsbench.core.wording import plural
from partsbench.services.sums import drill, holes
from partsbench.services.sums.asked.hardware import COMMANDED, DRILL, where_to_drill

DRILLING = SumWords(DRILL.fields)


@click.command("drill-sheet")
@click.argument("tag")
@pdf_option
@paper_option
@json_option
@click.pass_context
def drill_sheet(ctx: click.Context, /, **given: Any) -> int:
    """Write a drilling sheet at true size, with bars to measure and a code of its own to scan."""
    shop, piece = at(ctx, given["tag"])
    target = new_file(ctx.find_root().obj, given["file"])
    typed = DRILLING.values(given)
    if typed["pull"] and any(typed[k] for k in ("count", "spacing", "from_top", "from_side")):
        raise BadInputError("--pull says where: leave out --spacing, --count and --from-….")
    found = good(where_to_drill(shop, piece.tag, typed))
    sheet = good(drill.drill_sheet(shop, piece.tag, found, given["paper"] or ""))
    with written_whole(target, sheet.pdf):
        pass
    told = drill.tell_drilling(found)
    if given["as_json"]:
        wrote = {"code": sheet.code, "file": str(given["file"]), "pages": sheet.pages}
        said = {"sentence": told.sentence, "lacks": list(told.lacks)}
        say_json({**told.data, **wrote, **said})
        return OK
    tell(told, False)
    pages = plural(sheet.pages, "1 page", f"{sheet.pages} pages")
    say(f"{given['file']}: {pages}; print at 100 %.")
    return OK


drill_sheet.params[2:2] = DRILLING.params.values()


@click.command("drill-check")
@click.argument("sheet")
@click.argument("front")
@piece_option
@json_option
@click.pass_context
def drill_check(ctx: click.Context, sheet: str, front: str, piece: str, as_json: bool) -> int:
    """Whether a front is the one that the sheet was drawn for: scan both, then drill."""
    shop = open_book(ctx)
    here = piece_of(shop, piece).tag if piece else ""
    found = drill.right_front(shop, sheet, front, here)
    outcome = known_or_bad(good(found))
    if as_json:
        say_json({"answer": outcome.answer.value, "sentence": outcome.sentence,
                  "tag": outcome.tag, "part": outcome.part})  # fmt: skip
    else:
        say(f"{word_of(outcome.answer)}. {outcome.sentence}")
    return OK if outcome.answer is Answer.GO else NO


@click.command("screw")
@click.argument("tag")
@click.argument("part")
@click.argument("pull")
@click.argument("thread")
@click.argument("length")
@json_option
@click.pass_context
def screw(
    ctx: click.Context, tag: str, part: str, pull: str, thread: str, length: str, as_json: bool
) -> int:
    """Whether a screw at hand serves for a pull of the choice on one front."""
    shop, piece = at(ctx, tag)
    found = holes.screw_at_hand(shop, piece.tag, part, pull, thread, length)
    if isinstance(found, Refused):
        raise BadInputError(found.sentence)
    if as_json:
        say_json({"serves": not found, "warnings": list(found)})
    else:
        say(" ".join(found) or "It serves.")
    return NO if found else OK


COMMANDS = sum_commands(COMMANDED, drill_sheet, drill_check, screw)
