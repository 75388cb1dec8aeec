"""How much to mix, tins, hours, money, and the care sheet."""

from __future__ import annotations

from pathlib import Path

import click

from partsbench.cli.base import (
    NO,
    OK,
    BadInputError,
    book_options,
    good,
    in_book,
    json_option,
    names_in,
    new_file,
    open_book,
    paper_of,
    paper_option,
    pdf_option,
    say,
    say_done,
    say_json,
    written_whole,
)
from partsbench.cli.telling import at, money_of, own_habits, tell, tell_after, told_by
from partsbench.core.sums.money import BadCase
from partsbench.services.sums import care, hours, litres, mixing, money, quoting
from partsbench.services.sums.ordering import day_of


@click.command("mix")
@click.argument("tag")
@click.argument("path", default="")
@click.option("--only", default="", metavar="NAMES", help="Only these: D1,D3 front.")
@click.option("--wet", default="", help="Wet film you lay: “4 mil”, 100 µm.")
@click.option("--coats", type=click.IntRange(1, 20), help="Coats of each product; else the path's.")
@json_option
@click.pass_context
def mix(
    ctx: click.Context, tag: str, path: str, only: str, wet: str, coats: int | None, as_json: bool
) -> int:
    """How much of each product to mix for the faces on a finish path, split into cups."""
    shop, piece = at(ctx, tag)
    found = litres.to_mix(shop, piece.tag, path, only=names_in(only), wet=wet, coats=coats)
    return tell(litres.tell_mixing(good(found)), as_json)


@click.command("mix-again")
@click.argument("recipe")
@click.argument("volume")
@json_option
@click.pass_context
def mix_again(ctx: click.Context, recipe: str, volume: str, as_json: bool) -> int:
    """The same mix at another volume, its ratio kept within 1 %: “26 clear, 3 colour” 60ml."""
    ratio = good(mixing.read_recipe(recipe))
    own = own_habits(ctx)
    found = good(mixing.mix_again(own, ratio, volume))
    return tell(mixing.tell_recipe(found, own.measures), as_json)


@click.command("tins")
@click.argument("name", default="")
@click.argument("holds", default="")
@click.option("--price", default="", help="What the full tin costs.")
@click.option("--empty", default="", help="By weight: what the empty tin weighs.")
@json_option
@click.pass_context
def tins(ctx: click.Context, name: str, holds: str, price: str, empty: str, as_json: bool) -> int:
    """The stock of tins; with NAME and HOLDS (“750 ml”, “1.2 kg”) one more is noted."""
    if name and not holds:
        raise BadInputError("Say what the full tin holds: 750 ml, or 1.2 kg with --empty.")
    done = None
    if name:
        cost = money_of(price, "price")
        done = in_book(
            ctx, lambda shop: mixing.stock_tin(shop, name, holds, price=cost, empty=empty)
        )
    shop = open_book(ctx)
    return tell_after(done, lambda: mixing.tell_tins(shop), as_json)


@click.command("use-tin")
@click.argument("tag")
@click.argument("name")
@click.option("--left", required=True, help="What the tin measures now.")
@click.option("--before", default="", help="What it measured before; else as it was last left.")
@json_option
@click.pass_context
def use_tin(ctx: click.Context, tag: str, name: str, left: str, before: str, as_json: bool) -> int:
    """Note what a piece took out of a part-used tin; it is never free of charge."""
    shop, piece = at(ctx, tag)
    return say_done(mixing.use_tin(shop, piece.tag, name, left, before), as_json)


@click.command("money")
@click.argument("tag")
@click.argument("what", type=click.Choice(list(money.KINDS)))
@click.argument("amount", default="")
@click.option("--note", default="", help="What tells it from another sum of its kind.")
@click.option("--take-back", is_flag=True, help="It was no such sum.")
@json_option
@click.pass_context
def note_money(
    ctx: click.Context, tag: str, what: str, amount: str, note: str, take_back: bool, as_json: bool
) -> int:
    """Note a cost, an offer, an agreed price or change, or what a piece sold for."""
    shop, piece = at(ctx, tag)
    if not amount and not take_back:
        raise BadInputError(f"{what}: is missing; say how much.")
    text = "" if take_back else amount
    return say_done(money.note_money(shop, piece.tag, what, text, note), as_json)


@click.command("work")
@click.argument("tag")
@click.argument("step", default="")
@click.option("--again", is_flag=True, help="It is work done again.")
@click.option("--end", is_flag=True, help="Stop the clock.")
@json_option
@click.pass_context
def work(ctx: click.Context, tag: str, step: str, again: bool, end: bool, as_json: bool) -> int:
    """Start the clock on a piece (`work K7Q4 sanding`), or stop it."""
    shop, piece = at(ctx, tag)
    if end:
        return say_done(hours.end_work(shop, piece.tag), as_json)
    return say_done(hours.begin_work(shop, piece.tag, step, redo=again), as_json)


@click.command("hours")
@click.argument("tag")
@click.option("--step", default="", help="Correct this step …")
@click.option("--minutes", default="", help="… to so many minutes …")
@click.option("--day", default="", help="… on that day; else its latest.")
@json_option
@click.pass_context
def worked(ctx: click.Context, tag: str, step: str, minutes: str, day: str, as_json: bool) -> int:
    """Hours at work, without waiting; with --step and --minutes one day is put right."""
    shop, piece = at(ctx, tag)
    done = None
    if not step and (minutes or day):
        raise BadInputError("--step: is missing; say which step took so long.")
    if step:
        when = good(day_of(day, shop.clock().astimezone().date())) if day else None
        done = hours.correct_hours(shop, piece.tag, step, minutes, when)
    ask = told_by(hours.tell_hours, lambda: hours.hours_in(shop, piece.tag))
    return tell_after(done, ask, as_json)


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


@click.command("floor-price")
@click.argument("tag")
@click.option("--rate", default="", help="What an hour should earn; else as set.")
@json_option
@click.pass_context
def floor_price(ctx: click.Context, tag: str, rate: str, as_json: bool) -> int:
    """The lowest price that still pays the wanted hourly rate."""
    shop, piece = at(ctx, tag)
    found = good(money.ledger(shop, piece.tag))
    return tell(money.tell_floor(found, good(money.floor_at(found, rate))), as_json)


@click.command("ceiling")
@click.option("--price", required=True, help="What it will likely sell for.")
@click.option("--hours", "expected", required=True, help="Hours that it will take.")
@click.option("--costs", default="0", help="All costs but the piece itself.")
@click.option("--rate", default="", help="What an hour should earn; else as set.")
@click.option("--fault", default="", help="What may go wrong: “the side veneer lifts”.")
@click.option("--more-hours", default="0", help="Hours that this would take.")
@click.option("--more-costs", default="0", help="Costs that this would bring.")
@json_option
@click.pass_context
def ceiling(
    ctx: click.Context,
    price: str,
    expected: str,
    costs: str,
    rate: str,
    fault: str,
    more_hours: str,
    more_costs: str,
    as_json: bool,
) -> int:
    """The most to pay for a piece not yet bought, and the most in the bad case."""
    bad = None
    if fault:
        hours_more = money_of(more_hours, "more hours") or 0.0
        bad = BadCase(fault, hours_more, money_of(more_costs, "more costs") or 0.0)
    found = good(money.ceiling(own_habits(ctx), price, expected, costs, rate, bad))
    return tell(money.tell_ceiling(found), as_json)


@click.command("quote")
@click.option("--rate", default="", help="What an hour should earn; else as set.")
@click.option("--kind", default="", help="Of pieces of this kind, as said by `fact TAG kind`.")
@json_option
@click.pass_context
def quote(ctx: click.Context, rate: str, kind: str, as_json: bool) -> int:
    """A likely and a bad-case sum from the shop's own sold pieces, and how many they are."""
    return tell(quoting.tell_quote(good(quoting.quote(open_book(ctx), rate, kind))), as_json)


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


COMMANDS = {
    c.name: book_options(c)
    for c in (
        mix, mix_again, tins, use_tin, note_money, work, worked, ledger, floor_price, ceiling,
        quote, care_sheet,
    )
}  # fmt: skip
