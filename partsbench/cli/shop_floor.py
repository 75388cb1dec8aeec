"""What the shop writes down besides its parts: facts, tins, air, rags, power, people, places."""

from __future__ import annotations

import click

from partsbench.cli.base import (
    OK,
    BadInputError,
    at_option,
    book_options,
    good,
    iso,
    json_option,
    open_book,
    piece_of,
    pot_life_of,
    say,
    say_done,
    say_json,
    time_of,
)
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.products import TinCard, TinWait
from partsbench.core.wording import listed
from partsbench.services.known import climate, facts, people, tins
from partsbench.services.known.measures import measures
from partsbench.services.rules import loops


@click.command("fact")
@click.argument("tag")
@click.argument("key", default="")
@click.argument("value", default="")
@click.argument("names", nargs=-1)
@click.option("--note", default="", help="For a lead test: what was tested, where, by whom.")
@json_option
@click.pass_context
def fact(
    ctx: click.Context,
    tag: str,
    key: str,
    value: str,
    names: tuple[str, ...],
    note: str,
    as_json: bool,
) -> int:
    """Say what is known of a piece, of parts or of faces: fact K7Q4 lead wet D1 “D3 front”.

    Without KEY: what was said, and what can be.
    """
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    if key:
        return say_done(facts.say(shop, piece.tag, key, value, names, note), as_json)
    found = facts.said(shop, piece.tag)
    if as_json:
        say_json(
            [
                {"part": f.part or None, "face": f.face or None, "key": f.key, "value": f.value,
                 "at": iso(f.at), "who": f.who, "note": f.note}
                for f in found
            ]
        )  # fmt: skip
        return OK
    show = measures(shop)
    for each in found:
        say(facts.line(each, show))
    for kind in facts.asked():
        say(f"  {kind.key}: {kind.asks} {', '.join(kind.answers) or kind.typed}")
    return OK


@click.command("tin")
@click.argument("name", default="")
@click.option("--product", default="", help="The class it stands for: paint_water, stain_oil …")
@click.option("--wait", "waits", multiple=True, metavar="WHAT=FROM[..TO]",
              help="recoat=4 h..24 h, tape=24 h, sand=2 h, stain=..10 min.")  # fmt: skip
@click.option("--least-c", type=float, help="Lowest temperature, °C.")
@click.option("--most-c", type=float, help="Highest temperature, °C.")
@click.option("--most-humidity", type=float, help="Highest humidity, %.")
@click.option("--over-dew-c", type=float, help="So many °C over the dew point.")
@click.option("--thin-most", type=float, help="Thinned by at most so many %.")
@click.option("--pot-life", default="", help="How long a mix may be used: 4 h.")
@click.option("--over", default="", metavar="CLASSES", help="What it may be put on.")
@click.option("--under", default="", metavar="CLASSES", help="What may be put on it.")
@click.option("--used-up", is_flag=True, help="The card no longer counts.")
@json_option
@click.pass_context
def tin(
    ctx: click.Context,
    name: str,
    product: str,
    waits: tuple[str, ...],
    least_c: float | None,
    most_c: float | None,
    most_humidity: float | None,
    over_dew_c: float | None,
    thin_most: float | None,
    pot_life: str,
    over: str,
    under: str,
    used_up: bool,
    as_json: bool,
) -> int:
    """The figures that stand on your tins; they win over the shipped ones. Without NAME: a list."""
    shop = open_book(ctx)
    if not name:
        return _tins(tins.cards(shop), as_json)
    if used_up:
        return say_done(tins.retire(shop, name), as_json)
    life = pot_life_of(pot_life)
    card = TinCard(
        name,
        product,
        dict(_wait(text) for text in waits),
        least_c,
        most_c,
        most_humidity,
        over_dew_c,
        thin_most,
        life,
        frozenset(_classes(over)),
        frozenset(_classes(under)),
    )
    return say_done(tins.put(shop, card), as_json)


@click.command("air")
@click.argument("temperature", type=float)
@click.argument("humidity", type=float)
@click.option("--surface", type=float, help="Temperature of the surface, °C.")
@click.option("--place", default="", help="Where it was measured.")
@at_option
@json_option
@click.pass_context
def air(
    ctx: click.Context,
    temperature: float,
    humidity: float,
    surface: float | None,
    place: str,
    at: str,
    as_json: bool,
) -> int:
    """Write down the air of the shop, °C and %: damp and cold lengthen the waits of water-borne."""
    shop = open_book(ctx)
    return say_done(
        climate.note(shop, temperature, humidity, surface, place, time_of(shop, at)), as_json
    )


@click.command("rags")
@click.argument("done", type=click.Choice(["flat", "water"]))
@json_option
@click.pass_context
def rags(ctx: click.Context, done: str, as_json: bool) -> int:
    """What was done with the oily rags: spread flat to dry, or under water in a metal can."""
    shop = open_book(ctx)
    said = loops.FLAT if done == "flat" else loops.WATER
    return say_done(loops.answer_rags(shop, said), as_json)


@click.command("power-cut")
@click.argument("start")
@click.argument("end")
@click.option("--heating", is_flag=True, help="Heater or fan stood still too.")
@click.option("--note", default="")
@json_option
@click.pass_context
def power_cut(
    ctx: click.Context, start: str, end: str, heating: bool, note: str, as_json: bool
) -> int:
    """Note that the power was off: power-cut 14:32 15:10. Waits running then are lengthened."""
    shop = open_book(ctx)
    from_, to = time_of(shop, start), time_of(shop, end)
    if from_ is None or to is None:
        raise BadInputError("Say from when to when the power was off.")
    return say_done(climate.note_power_cut(shop, from_, to, heating, note), as_json)


@click.command("person")
@click.argument("name", default="")
@click.option("--only", default="", metavar="OPERATIONS", help="Limited to these: sand,wash.")
@json_option
@click.pass_context
def person(ctx: click.Context, name: str, only: str, as_json: bool) -> int:
    """Give somebody a code for the wall. Without NAME: who has one."""
    shop = open_book(ctx)
    if name:
        good(people.add_person(shop, name, _classes(only)))
    found = [(p.name, people.person_code(p)) for p in people.people(shop)]
    return _coded(found, "Nobody has a code yet.", as_json)


@click.command("rack")
@click.argument("name", default="")
@json_option
@click.pass_context
def rack(ctx: click.Context, name: str, as_json: bool) -> int:
    """Give a place in the shop a code for the wall. Without NAME: which have one."""
    shop = open_book(ctx)
    if name:
        good(people.add_place(shop, name))
    found = [(p.name, people.place_code(p)) for p in people.places(shop)]
    return _coded(found, "No place has a code yet.", as_json)


def _coded(found: list[tuple[str, str]], none: str, as_json: bool) -> int:
    if as_json:
        say_json([{"name": name, "code": code} for name, code in found])
        return OK
    for name, code in found:
        say(f"{code}  {name}")
    if not found:
        say(none)
    return OK


def _wait(text: str) -> tuple[str, TinWait]:
    what, _, figures = text.partition("=")
    earliest, _, latest = figures.partition("..")
    return what.strip(), good(tins.wait(earliest, latest))


def _classes(text: str) -> list[str]:
    return [word.strip() for word in text.split(",") if word.strip()]


def _tins(found: list[TinCard], as_json: bool) -> int:
    if as_json:
        say_json(
            [
                {
                    "name": t.name,
                    "product": t.product,
                    "waits": {
                        what: [say_duration(x) if x is not None else None for x in
                               (w.earliest, w.latest)]
                        for what, w in t.waits.items()
                    },
                }
                for t in found
            ]
        )  # fmt: skip
        return OK
    for card in found:
        waits = listed(f"{what} {w.words}" for what, w in card.waits.items())
        say(f"{card.name} ({card.product}): {waits}")
    if not found:
        say(f"No tin has a card. Classes: {', '.join(tins.classes())}.")
    return OK


COMMANDS = {c.name: book_options(c) for c in (fact, tin, air, rags, power_cut, person, rack)}
