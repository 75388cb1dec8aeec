"""The small sums at the bench: no piece and no book is needed."""

from __future__ import annotations

import click

from partsbench.cli.base import book_options, good, json_option
from partsbench.cli.telling import measures_asked, tell, units_option
from partsbench.core.said_often import CUT_OF_WOOD
from partsbench.services.sums import small


@click.command("moisture")
@click.option("--temp", required=True, help="Temperature of the air: 70F, 21C.")
@click.option("--rh", required=True, help="Relative humidity, %.")
@units_option
@json_option
@click.pass_context
def moisture(ctx: click.Context, temp: str, rh: str, given_units: str | None, as_json: bool) -> int:
    """The moisture that wood comes to in this air."""
    show = measures_asked(ctx, given_units)
    return tell(small.tell_moisture(good(small.moisture(temp, rh, show)), show), as_json)


@click.command("movement")
@click.option("--species", required=True, help="The wood: “walnut, black”.")
@click.option("--cut", default="mixed", help=CUT_OF_WOOD)
@click.option("--size", required=True, help="The size across the grain: “9.15 in”, 232 mm.")
@click.option("--from", "start", required=True, help="Moisture now: %, or a region.")
@click.option("--to", "end", required=True, help="Moisture then: %, or a region.")
@units_option
@json_option
@click.pass_context
def movement(
    ctx: click.Context,
    species: str,
    cut: str,
    size: str,
    start: str,
    end: str,
    given_units: str | None,
    as_json: bool,
) -> int:
    """How much a board grows or shrinks across the grain."""
    show = measures_asked(ctx, given_units)
    found = good(small.movement(species, cut, size, start, end, show))
    return tell(small.tell_movement(found, show), as_json)


@click.command("coverage")
@click.option("--solids", required=True, help="Solids by volume, %, or a class: latex.")
@click.option("--film", default="", help="Dry film: “1.5 mil”, 38 µm; a class has its own.")
@click.option("--transfer", default="", help="What lands on the work: a share in %, or a tool.")
@units_option
@json_option
@click.pass_context
def coverage(
    ctx: click.Context,
    solids: str,
    film: str,
    transfer: str,
    given_units: str | None,
    as_json: bool,
) -> int:
    """How far a litre or a gallon goes."""
    show = measures_asked(ctx, given_units)
    found = good(small.coverage(solids, film, transfer, show))
    return tell(small.tell_coverage(found, show), as_json)


@click.command("dew-point")
@click.option("--temp", required=True, help="Temperature of the air: 20C, 68F.")
@click.option("--rh", required=True, help="Relative humidity, %.")
@units_option
@json_option
@click.pass_context
def dew_point(
    ctx: click.Context, temp: str, rh: str, given_units: str | None, as_json: bool
) -> int:
    """The temperature at which this air wets a surface."""
    show = measures_asked(ctx, given_units)
    return tell(small.tell_dew_point(good(small.dew_point(temp, rh, show)), show), as_json)


@click.command("offer")
@click.option("--price", required=True, help="The price offered.")
@click.option("--costs", required=True, help="All costs, without work.")
@click.option("--hours", required=True, help="Hours at work.")
@click.option("--fee", default="0", help="Share of the price that goes to whoever sells, %.")
@json_option
@click.pass_context
def offer(_: click.Context, price: str, costs: str, hours: str, fee: str, as_json: bool) -> int:
    """What a price earns an hour."""
    return tell(small.tell_offer(good(small.offer(price, costs, hours, fee))), as_json)


@click.command("grit")
@click.argument("paper")
@units_option
@json_option
@click.pass_context
def grit(ctx: click.Context, paper: str, given_units: str | None, as_json: bool) -> int:
    """What an abrasive paper (P320, or a bare 320 of the US system) is in the other system."""
    show = measures_asked(ctx, given_units)
    return tell(small.tell_grit(good(small.grit(paper)), show), as_json)


COMMANDS = {c.name: book_options(c) for c in (moisture, movement, coverage, dew_point, grit, offer)}
