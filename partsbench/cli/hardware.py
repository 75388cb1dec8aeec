"""Pulls counted, judged, ordered and allotted; holes noted; drilling sheets."""

from __future__ import annotations

from pathlib import Path

import click

from partsbench.cli.base import (
    NO,
    OK,
    BadInputError,
    book_options,
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
    say_done,
    say_json,
    written_whole,
)
from partsbench.cli.telling import at, measures_of, money_of, tell, tell_after, told_by
from partsbench.core.outcomes import Answer, Refused
from partsbench.core.wording import plural
from partsbench.services.sums import allotment, census, choice, drill, holes, ordering


@click.command("census")
@click.argument("tag")
@click.argument("part", default="")
@click.argument("kind", default="")
@click.argument("count", default="", required=False)
@click.option("--condition", type=click.Choice(census.CONDITIONS),
              help="How good they are: good, if nothing is said.")  # fmt: skip
@click.option("--spacing", default="", help="From hole to hole; 0 for a knob.")
@click.option("--thread", default="", help="Thread of the screws: 8-32, M4.")
@click.option("--screw", default="", help="Length of the screws.")
@json_option
@click.pass_context
def count(
    ctx: click.Context,
    tag: str,
    part: str,
    kind: str,
    count: str,
    condition: str | None,
    spacing: str,
    thread: str,
    screw: str,
    as_json: bool,
) -> int:
    """Count hardware (`D5 pull 2`), or say what is usable, broken and missing."""
    shop, piece = at(ctx, tag)
    done = None
    if part or kind or count or condition or spacing or thread or screw:
        if not part or not kind or not count.isdecimal() or len(count) > 4:
            raise BadInputError("Say on what, which kind and how many: D5 pull 2.")
        done = census.count(
            shop, piece.tag, part, kind, int(count),
            condition=condition or "good", spacing=spacing, thread=thread, screw=screw,
        )  # fmt: skip
    show = measures_of(shop)
    ask = told_by(
        lambda found: census.tell_census(found, show), lambda: census.census(shop, piece.tag)
    )
    return tell_after(done, ask, as_json)


@click.command("order")
@click.argument("tag")
@click.option(
    "--needed",
    default="",
    help="The day they are needed: 2026-12-04, “in 10 days”; else as planned.",
)
@click.option("--lead", type=click.IntRange(0, 730), help="The supplier's lead time in days.")
@json_option
@click.pass_context
def order(ctx: click.Context, tag: str, needed: str, lead: int | None, as_json: bool) -> int:
    """What to buy, with spares, and the last day to order it."""
    shop, piece = at(ctx, tag)
    today = shop.clock().astimezone().date()
    day = good(ordering.day_of(needed, today)) if needed else None
    found = good(ordering.order(shop, piece.tag, needed_on=day, lead_days=lead))
    return tell(ordering.tell_order(found, measures_of(shop)), as_json)


@click.command("allot")
@click.argument("tag")
@click.option("--kind", default="pull", help="pull, knob or plate.")
@click.option("--price", default="0", help="What a new one costs.")
@click.option("--veto", default="", metavar="SURVIVOR=PLACE", help="Not this one there.")
@click.option("--allow", default="", metavar="SURVIVOR=PLACE", help="After all this one there.")
@json_option
@click.pass_context
def allot(
    ctx: click.Context, tag: str, kind: str, price: str, veto: str, allow: str, as_json: bool
) -> int:
    """Where the surviving originals go, so that a mismatch is least seen."""
    shop, piece = at(ctx, tag)
    if veto and allow:
        raise BadInputError("--veto and --allow: say one at a time.")
    said = veto or allow
    survivor, sign, place = said.partition("=")
    if said and not (sign and survivor.strip() and place.strip()):
        option = "--veto" if veto else "--allow"
        raise BadInputError(f"{option}: “{said}” is no SURVIVOR=PLACE.")
    cost = money_of(price, "price") or 0.0
    show = measures_of(shop)
    ask = told_by(
        lambda found: allotment.tell_allotment(found, show),
        lambda: allotment.allot(shop, piece.tag, kind, cost),
    )
    good(ask())  # All that was given is understood before anything is noted.
    done = allotment.veto(shop, piece.tag, survivor, place, bool(allow), kind) if said else None
    return tell_after(done, ask, as_json)


@click.command("pulls")
@click.argument("tag")
@click.argument("name", default="")
@click.option("--spacing", default="", help="From hole to hole; 0 for a knob.")
@click.option("--plate", default="", help="Its backplate, width x height: “120 x 40”.")
@click.option("--foot", default="", help="Width of each foot.")
@click.option("--each", type=click.IntRange(1, 2), help="On a front not fitted yet: 1 or 2.")
@click.option("--thread", default="", help="Thread of its screws: 8-32, M4.")
@click.option("--depth", default="", help="How deep it is threaded.")
@click.option("--price", default="", help="What one costs.")
@click.option("--lead", type=click.IntRange(0, 730), help="The supplier's lead time in days.")
@click.option("--drop", is_flag=True, help="Out of the choice.")
@click.option("--doors", is_flag=True, help="On doors too.")
@json_option
@click.pass_context
def pulls(
    ctx: click.Context,
    /,
    tag: str,
    name: str,
    spacing: str,
    price: str,
    lead: int | None,
    each: int | None,
    drop: bool,
    doors: bool,
    as_json: bool,
    **words: str,
) -> int:
    """Judge pulls before they are bought: holes reused, covered, filled, and what will show."""
    shop, piece = at(ctx, tag)
    done = None
    said = any((spacing, price, lead is not None, each, *words.values()))
    if drop and said:
        raise BadInputError("--drop: say nothing more of a pull that is out of the choice.")
    if not name and (said or drop):
        raise BadInputError("Which pull? Give it a name: pulls TAG “bow” --spacing 96.")
    if name:
        if not spacing and not drop:
            raise BadInputError("--spacing: is missing; 0 for a knob.")
        done = choice.consider(
            shop, piece.tag, name, "" if drop else spacing,
            each=each or 1, price=money_of(price, "price"), lead_days=lead, **words,
        )  # fmt: skip
    ask = told_by(holes.tell_choices, lambda: holes.choices(shop, piece.tag, doors=doors))
    return tell_after(done, ask, as_json)


@click.command("holes")
@click.argument("tag")
@click.argument("part")
@click.argument("places", default="")
@json_option
@click.pass_context
def old_holes(ctx: click.Context, tag: str, part: str, places: str, as_json: bool) -> int:
    """Note the holes a front has, from its left and top edge: “102,90 198,90”; empty: none."""
    shop, piece = at(ctx, tag)
    return say_done(choice.note_holes(shop, piece.tag, part, places), as_json)


@click.command("drill-sheet")
@click.argument("tag")
@click.argument("part")
@pdf_option
@click.option("--pull", default="", help="A pull of the choice: its best place on this front.")
@click.option("--spacing", default="", help="Or from hole to hole; 0 for a knob.")
@click.option("--count", type=click.IntRange(1, 2), help="Pulls on the front: 1 or 2.")
@click.option("--from-top", default="", help="From the top edge; half the height if not said.")
@click.option("--from-side", default="", help="Of two pulls, from the sides.")
@paper_option
@json_option
@click.pass_context
def drill_sheet(
    ctx: click.Context,
    /,
    tag: str,
    part: str,
    file: Path,
    paper: str | None,
    pull: str,
    count: int | None,
    as_json: bool,
    **where: str,
) -> int:
    """Write a drilling sheet at true size, with bars to measure and a code of its own to scan."""
    shop, piece = at(ctx, tag)
    target = new_file(ctx.find_root().obj, file)
    if pull and (count or any(where.values())):
        raise BadInputError("--pull says where: leave out --spacing, --count and --from-….")
    found = good(drill.where_to_drill(shop, piece.tag, part, pull=pull, count=count or 1, **where))
    sheet = good(drill.drill_sheet(shop, piece.tag, found, paper or ""))
    with written_whole(target, sheet.pdf):
        pass
    told = drill.tell_drilling(found)
    if as_json:
        say_json({**told.data, "code": sheet.code, "file": str(file), "pages": sheet.pages,
                  "sentence": told.sentence, "lacks": list(told.lacks)})  # fmt: skip
        return OK
    tell(told, False)
    pages = plural(sheet.pages, "1 page", f"{sheet.pages} pages")
    say(f"{file}: {pages}; print at 100 %.")
    return OK


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
        say(f"{outcome.answer.value}. {outcome.sentence}")
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


COMMANDS = {
    c.name: book_options(c)
    for c in (count, order, allot, pulls, old_holes, drill_sheet, drill_check, screw)
}
