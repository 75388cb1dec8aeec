"""The shop's own server for phones and tablets, from a terminal."""

from __future__ import annotations

import time
from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from partsbench.cli.base import (
    NO,
    OK,
    BadInputError,
    CallSettings,
    book_options,
    book_path,
    good,
    iso,
    json_option,
    open_book,
    say,
    say_done,
    say_json,
)
from partsbench.core.outcomes import Refused
from partsbench.core.said_often import no_book_yet
from partsbench.core.wording import notes
from partsbench.services.heard import devices as use

if TYPE_CHECKING:
    from partsbench.hub.server import Hub

LOOK = 0.5
"""Seconds between two looks whether a device was paired or Ctrl+C was pressed."""


@click.command("hub")
@click.option("--port", default=None, metavar="PORT", type=click.IntRange(0, 65535),
              help="Where it listens; else 8467. 0: wherever there is room.")  # fmt: skip
@click.option("--host", default="", metavar="ADDRESS",
              help="This computer's address in the shop's network; else it is found.")  # fmt: skip
@click.option("--no-code", is_flag=True, help="Show no code: devices that are paired go on.")
@json_option
@click.pass_context
def hub(ctx: click.Context, port: int | None, host: str, no_code: bool, as_json: bool) -> int:
    """Phones and tablets as benches in the hand, until Ctrl+C. Shows a code that pairs one device.

    When a device was paired the next code is shown. Only the shop's own network is answered.
    """
    from partsbench.hub import network
    from partsbench.hub.server import PROTECTS, Hub

    desk: CallSettings = ctx.find_root().obj
    path = book_path(desk)
    if not path.exists():
        raise BadInputError(no_book_yet(path))
    made = Hub(path, host, network.PORT if port is None else port, desk.clock, desk.who)
    fault = made.start()
    if isinstance(fault, Refused):
        raise BadInputError(fault.sentence)
    try:
        if not as_json:
            say(f"The hub is on at {made.url}")
            say(f"Fingerprint (SHA-256): {made.certificate.hexed}")
            say(f"In words: {made.certificate.words}")
            say(PROTECTS)
        for address in _offers(made, no_code):
            _show(made, address, as_json)
    except KeyboardInterrupt:
        say("The hub is off.") if not as_json else None
    finally:
        made.stop()
    return OK


def _offers(made: Hub, no_code: bool) -> Iterator[str]:
    """An address to pair by, again whenever the one before was used or is too old."""
    from partsbench.hub.offer import LASTS

    while True:
        known = len(made.devices())
        yield "" if no_code else made.offer()
        until = time.monotonic() + LASTS
        while made.is_on and len(made.devices()) == known and time.monotonic() < until:
            time.sleep(LOOK)
        if not made.is_on:
            return


def _show(made: Hub, address: str, as_json: bool) -> None:
    if as_json:
        certificate = made.certificate
        say_json({"url": made.url, "pair": address, "fingerprint": certificate.hexed,
                  "words": certificate.words})  # fmt: skip
        return
    if address:
        for line in half_blocks(use.symbol_of(address)):
            say(line)
        say("Scan it with the phone that is to be paired. Serves once, for ten minutes.")


def half_blocks(rows: tuple[tuple[bool, ...], ...]) -> list[str]:
    """A symbol in letters, two modules high each: light is drawn, so that it stands on a dark
    terminal; on a light one it is the other way round, and phones read that too."""
    signs = {(True, True): " ", (True, False): "▄", (False, True): "▀", (False, False): "█"}
    even = rows if len(rows) % 2 == 0 else (*rows, (False,) * len(rows[0]))
    return [
        "".join(signs[pair] for pair in zip(even[y], even[y + 1], strict=True))
        for y in range(0, len(even), 2)
    ]


@click.command("devices")
@click.option("--throw-out", "out", default=0, metavar="NUMBER", help="Let this one in no more.")
@click.option("--clients/--no-clients", "clients", default=None,
              help="Whether the one named by --device may show who a job is for.")  # fmt: skip
@click.option("--device", "number", default=0, metavar="NUMBER", help="Which one is meant.")
@json_option
@click.pass_context
def devices(ctx: click.Context, out: int, clients: bool | None, number: int, as_json: bool) -> int:
    """The paired phones and tablets, by number; a hub that is on heeds a change at once."""
    shop = open_book(ctx)
    if out:
        return say_done(use.throw_out(shop, out), as_json)
    if clients is not None:
        return say_done(good(use.show_clients(shop, number, clients)), as_json)
    found = use.all_devices(shop)
    if as_json:
        say_json([{"number": d.id, "name": d.name, "person": d.person, "paired": iso(d.paired_at),
                   "clients": d.sees_clients} for d in found])  # fmt: skip
    for each in [] if as_json else found:
        may = "shows clients" if each.sees_clients else ""
        say(notes(f"{each.id}  {each.name} of {each.person}", may))
    if not found and not as_json:
        say("No device is paired.")
    return OK if found else NO


COMMANDS = {c.name: book_options(c) for c in (hub, devices)}
