"""Loads and cups: what the gun coats next, and with what."""

from __future__ import annotations

from contextlib import AbstractContextManager, nullcontext
from pathlib import Path

import click

from partsbench.cli.base import (
    OK,
    BadInputError,
    at_option,
    book_options,
    good,
    iso,
    json_option,
    names_in,
    new_file,
    open_book,
    piece_of,
    pot_life_of,
    say,
    say_done,
    say_json,
    time_of,
    written_whole,
)
from partsbench.cli.bench import confirm_option, insist_option, told
from partsbench.cli.rows import JsonRow
from partsbench.core.finish.cups import StoredCup
from partsbench.core.key_words import word_of
from partsbench.services.acts import loads
from partsbench.services.acts.loads import Proposal
from partsbench.services.heard import wall
from partsbench.services.shop import Shop
from partsbench.services.sums import cups, mixing
from partsbench.services.sums.habits import habits
from partsbench.store.mixes import StoredLoad


@click.command("load")
@click.argument("tag")
@click.option("--only", default="", metavar="NAMES", help="These faces and no others: D1,D3 front.")
@click.option("--start", is_flag=True, help="Take it as the load in hand, under a number.")
@click.option("--done", is_flag=True, help="Record the load in hand, or this one, as coated.")
@click.option("--except", "but", default="", metavar="NAMES", help="All but these: D4,D9.")
@click.option(
    "--cup", "mix", default="", metavar="CUP", help="The mix that is used: 3, or its code."
)
@insist_option
@confirm_option
@click.option("--ml-per-sqm", default=0.0, type=click.FloatRange(min=0), help="Mix for a m².")
@click.option("--cup-ml", default=0.0, type=click.FloatRange(min=0), help="What the gun holds.")
@click.option("--strip", metavar="FILE", type=click.Path(path_type=Path),
              help="Write the tally strip of the load in hand.")  # fmt: skip
@at_option
@json_option
@click.pass_context
def load(
    ctx: click.Context,
    tag: str,
    only: str,
    start: bool,
    done: bool,
    but: str,
    mix: str,
    insist: tuple[str, ...],
    confirm: bool,
    ml_per_sqm: float,
    cup_ml: float,
    strip: Path | None,
    at: str,
    as_json: bool,
) -> int:
    """What the gun coats next, stragglers first. Records nothing without --start or --done."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    cup = good(cups.find(shop, mix)) if mix else None
    when = time_of(shop, at)
    if not (start or done or strip or but):
        return _proposed(loads.propose(shop, piece.tag, ml_per_sqm, cup_ml, cup),
                         as_json)  # fmt: skip
    target = new_file(ctx.find_root().obj, strip) if strip else None
    outcome = None
    with shop.all_or_nothing():
        taken = _in_hand(shop, piece.tag, only, cup)
        with _strip_written(shop, taken, cup, target):
            if done or but:
                outcome = good(
                    loads.done(shop, taken.number, names_in(but), cup=cup, at=when, insist=insist,
                               confirmed=confirm)
                )  # fmt: skip
    if outcome:
        return told(outcome, as_json, must_record=True)
    if as_json:
        say_json(_load_row(taken))
    else:
        say(f"Load {taken.number} ({loads.code(taken)}): {loads.words(shop, taken)}.")
    return OK


@click.command("cup")
@click.argument("which", default="")
@click.option("--mix", "name", default="", help="Write down a new mix of this name.")
@click.option("--pour", multiple=True, metavar="NAME:PARTS[:LOT]", help="What is in it.")
@click.option("--product", default="", metavar="CLASS", help="What it is: paint_water …")
@click.option("--tint", default=0.0, help="Tint, % of the volume.")
@click.option("--thinned", default=0.0, help="Thinned by so many %.")
@click.option("--sheen", default="", help="flat, satin, gloss …")
@click.option("--pot-life", default="", help="How long it may be used: 4 h.")
@click.option("--volume", type=float, help="ml; with --again the volume to make.")
@click.option("--strained", is_flag=True, help="It was strained.")
@click.option("--again", is_flag=True, help="Make cup WHICH again at --volume.")
@click.option("--empty", is_flag=True, help="Cup WHICH is used up.")
@json_option
@click.pass_context
def cup(
    ctx: click.Context,
    which: str,
    name: str,
    pour: tuple[str, ...],
    product: str,
    tint: float,
    thinned: float,
    sheen: str,
    pot_life: str,
    volume: float | None,
    strained: bool,
    again: bool,
    empty: bool,
    as_json: bool,
) -> int:
    """The cups in use; one of them by number or code; or a new mix with --mix and --pour."""
    shop = open_book(ctx)
    if name:
        life = pot_life_of(pot_life)
        poured = [good(cups.poured_from(text)) for text in pour]
        made = cups.make(
            shop, name, poured, tint=tint, thinned=thinned, strained=strained, sheen=sheen,
            pot_life=life, volume_ml=volume, product=product,
        )  # fmt: skip
        return _cup_told(shop, good(made), as_json)
    if not which:
        return _cups_told(shop, as_json)
    if empty:
        return say_done(cups.empty(shop, which), as_json)
    if again:
        if volume is None:
            raise BadInputError("Say how much to make, as in --volume 60.")
        recipe = good(cups.recipe(shop, which, volume))
        if not as_json:
            say(mixing.tell_recipe(recipe, habits(shop).measures).sentence)
        return _cup_told(shop, good(cups.make_again(shop, which, volume)), as_json)
    if strained:
        return say_done(cups.strained(shop, which), as_json)
    return _cup_told(shop, good(cups.find(shop, which)), as_json)


def _proposed(found: Proposal, as_json: bool) -> int:
    if as_json:
        say_json(
            {
                "step": found.load.step.key if found.load.step else None,
                "step_name": found.load.step.name if found.load.step else None,
                "faces": [s.key for s in found.load.faces],
                "cups": [[s.key for s in c] for c in found.load.cups],
                "stragglers": [s.sentence for s in found.load.stragglers],
                "waiting": [
                    {"face": name.key, "answer": d.answer.value, "until": iso(d.until),
                     "because": d.because}
                    for name, d in found.waiting
                ],
                "minutes": found.work.total_seconds() / 60 if found.work else None,
                "sentence": found.sentence,
            }
        )  # fmt: skip
        return OK
    say(found.sentence)
    for straggler in found.load.stragglers:
        say(f"Behind: {straggler.sentence}")
    for name, said in found.waiting:
        say(f"{word_of(said.answer)}: {name}. {said.because}")
    return OK


def _in_hand(shop: Shop, tag: str, only: str, cup: StoredCup | None) -> StoredLoad:
    """The load that was begun, unless other faces are named; else a new one."""
    number = 0 if only else loads.open_load(shop, tag)
    return good(loads.find(shop, number) if number else loads.start(shop, tag, names_in(only), cup))


def _strip_written(
    shop: Shop, taken: StoredLoad, cup: StoredCup | None, target: Path | None
) -> AbstractContextManager[None]:
    """The tally strip takes its name when all else is done."""
    if target is None:
        return nullcontext()
    return written_whole(target, good(wall.tally_strip(shop, taken.number, cup)))


def _load_row(taken: StoredLoad) -> JsonRow:
    return {
        "number": taken.number,
        "code": loads.code(taken),
        "step": taken.step,
        "faces": [s.key for s in taken.faces],
    }


def _cup_row(found: StoredCup) -> JsonRow:
    mix = found.cup
    return {
        "number": found.number,
        "code": cups.code(found),
        "name": mix.name,
        "product": mix.product,
        "poured": [{"product": p.product, "parts": p.parts, "lot": p.lot} for p in mix.poured],
        "tint": mix.tint,
        "thinned": mix.thinned,
        "strained": mix.strained,
        "sheen": mix.sheen,
        "volume_ml": found.volume_ml,
        "made": iso(mix.made),
        "emptied": iso(found.emptied_at),
        "who": mix.by,
    }


def _cup_told(shop: Shop, found: StoredCup, as_json: bool) -> int:
    if as_json:
        say_json(_cup_row(found))
    else:
        say(f"{cups.words(found, shop)} {cups.code(found)}")
    return OK


def _cups_told(shop: Shop, as_json: bool) -> int:
    found = cups.listed(shop)
    if as_json:
        say_json([_cup_row(c) for c in found])
        return OK
    for each in found:
        say(f"{cups.words(each, shop)} {cups.code(each)}")
    if not found:
        say("No cup is in use.")
    return OK


COMMANDS = {c.name: book_options(c) for c in (load, cup)}
