"""Phones and tablets of the shop: paired with a secret that is given once, listed, thrown out."""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from partsbench.core.bench.events import Act, What
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.shown_times import moment
from partsbench.services.heard.session import Session
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.shop import Shop, writing
from partsbench.store import devices as rows
from partsbench.store import journal
from partsbench.store import pieces as piece_rows
from partsbench.store.devices import Device

__all__ = [
    "Device",
    "Paired",
    "all_devices",
    "known_device",
    "pair",
    "throw_out",
]

LONGEST_NAME = 40
SECRET_BYTES = 32
"""256 bits; a secret of that length needs no slow sum to be kept by (it cannot be guessed)."""

RECORDS = frozenset(
    {What.RECORD, What.SKIP, What.SEND_BACK, What.OUT, What.HOME, What.PUT, What.STAYS, What.FIT}
)
"""Acts about one part that stand on what was seen of it before."""


@dataclass(frozen=True, slots=True)
class Paired:
    """A new device and its secret, which is told this once and kept nowhere."""

    device: Device
    secret: str


def sum_of(secret: str) -> str:
    """What is kept of a secret. (SHA-256: FIPS 180-4, by Python.)"""
    return hashlib.sha256(secret.encode()).hexdigest()


@writing
def pair(shop: Shop, name: str, person: str) -> Paired | Refused:
    """Let a device in; `name` is the device, `person` who holds it."""
    called, whose = " ".join(name.split()), " ".join(person.split())
    for words, what in ((called, "The device"), (whose, "The person")):
        if not 0 < len(words) <= LONGEST_NAME or not words.isprintable():
            return Refused(f"{what} needs a name of 1 to {LONGEST_NAME} characters.")
    if any(d.name.casefold() == called.casefold() for d in rows.all_devices(shop.book)):
        return Refused(f"There is a device “{called}” already; choose another name.")
    secret = secrets.token_urlsafe(SECRET_BYTES)
    rows.pair(shop.book, called, whose, sum_of(secret), shop.clock())
    device = rows.of_secret(shop.book, sum_of(secret))
    assert device is not None
    return Paired(device, secret)


def known_device(shop: Shop, secret: str) -> Device | None:
    """The device that holds this secret; None for no such one, and for one that was thrown out."""
    device = rows.of_secret(shop.book, sum_of(secret)) if secret else None
    return None if device is None or device.out_at else device


def symbol_of(address: str) -> tuple[tuple[bool, ...], ...]:
    """The rows of the QR symbol of an address, True where dark, with its quiet zone."""
    from partsbench.paper.symbol import QUIET, modules_of

    dark = modules_of(address)
    side, blank = (False,) * QUIET, ((False,) * (len(dark) + 2 * QUIET),) * QUIET
    return (*blank, *((*side, *row, *side) for row in dark), *blank)


def all_devices(shop: Shop) -> list[Device]:
    """Every device that is let in."""
    return rows.all_devices(shop.book)


@writing
def throw_out(shop: Shop, number: int) -> Done | Refused:
    """A device is no longer let in, from its next word on; what it recorded stays."""
    device = _numbered(shop, number)
    if device is None:
        return Refused("No device has that number.")
    rows.throw_out(shop.book, device, shop.clock(), shop.who)
    return Done(f"{device.name} of {device.person} is thrown out.")


@writing
def show_clients(shop: Shop, number: int, yes: bool) -> Done | Refused:
    """Whether a device is shown who a job is for."""
    device = _numbered(shop, number)
    if device is None:
        return Refused("No device has that number.")
    rows.show_clients(shop.book, device, yes, shop.clock(), shop.who)
    whose = f"{device.name} of {device.person}"
    if yes:
        return Done(f"{whose} may show clients.")
    return Done(f"{whose} may not show clients.")


def _numbered(shop: Shop, number: int) -> Device | None:
    return next((d for d in rows.all_devices(shop.book) if d.id == number), None)


# What a device sends: each act once, and none that stands on something that is no longer so


def last_act(shop: Shop, device: Device) -> int:
    """The number of the latest act of a device that changed the book."""
    return rows.last_act(shop.book, device.id)


def taken_already(shop: Shop, device: Device, mark: str) -> Outcome | None:
    """The answer to an act that was recorded before; None for one that was not."""
    entry = rows.entry_of(shop.book, device.id, mark)
    if not entry:
        return None
    (made,) = journal.of_ids(shop.book, [entry])
    said = f"Taken already: {made.sentence}."
    return Outcome(Answer.GO, Tone.QUIET, said, tag=made.tag, recorded=True)


@contextmanager
def one_act(shop: Shop, device: Device, number: int, mark: str) -> Iterator[None]:
    """What is recorded inside came of this act, and is on the disk together with its mark."""
    book = shop.book
    book.along = lambda: rows.keep_act(book, device.id, number, mark)
    try:
        yield
    finally:
        book.along = None


def guard(
    shop: Shop, device: Device, session: Session, since: int
) -> Callable[[Act], Outcome | None]:
    """Refuses records of a part of which others recorded something after entry `since`, the newest
    that the device had heard of when the act was made."""

    def refused(act: Act) -> Outcome | None:
        if act.what not in RECORDS:
            return None
        known = identify(shop, act.code, session.here)
        if not isinstance(known, KnownLabel) or known.part is None:
            return None
        part = known.part
        key = piece_rows.part_id(shop.book, known.piece.tag, part.family, part.number)
        entry = rows.others_on(shop.book, key, since, device.id) if key else 0
        return _stale(shop, known, entry) if entry else None

    return refused


def _stale(shop: Shop, known: KnownLabel, entry: int) -> Outcome:
    assert known.part is not None
    (made,) = journal.of_ids(shop.book, [entry])
    did = f"{made.sentence} by {made.who}" if made.who else made.sentence
    return Outcome(
        Answer.STOP,
        Tone.REFUSED,
        f"Nothing was recorded: {did}, {moment(made.at, shop.clock())}.",
        because="That came after what you saw. Look at it, and scan it again.",
        tag=known.piece.tag,
        part=known.part.short,
        code=str(known.piece.code(known.part)),
    )
