"""What else stands in the shop while a face is worked: tacky faces, and parts of the same row."""

from __future__ import annotations

from datetime import datetime, timedelta

from partsbench.core.finish.products import FILM, Ready
from partsbench.core.finish.waits import Shop as Waits
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.store import lately, records
from partsbench.store import pieces as piece_rows

LONGEST_TACK = timedelta(days=3)


def tacky(shop: Shop, waits: Waits, now: datetime, tag: str, but: str) -> dict[str, datetime]:
    """Faces whose newest film takes dust, and until when; those of the part in hand left out.

    A film is taken as tacky until it may be recoated: nothing shorter is known of its class.
    """
    found: dict[str, datetime] = {}
    for seen in lately.recent_marks(shop.book, now - LONGEST_TACK, now):
        if seen.tag == tag and seen.part == but:
            continue
        step = shop.path(seen.path).step(seen.step)
        if step is None or step.operation not in FILM:
            continue
        tin = waits.tin(step)
        said = tin.waits.get(Ready.RECOAT.value) if tin else None
        product = waits.products.get(step.product)
        timed = product.times.get(Ready.RECOAT) if product else None
        length = said.earliest if said and said.earliest else timed.time if timed else None
        if length is None:
            continue
        name = f"{seen.codename} {seen.part}"
        until = seen.at + length * (waits.air.stretch if waits.water_borne(step) else 1.0)
        if until > now:
            found[name] = max(until, found.get(name, until))
    return found


def row_of(shop: Shop, piece: Piece, part: Part) -> list[int]:
    """Row ids of the parts that one sees beside each other: openings that begin in one row."""
    opening = piece.front.opening(part.home.number) if _in_opening(part) else None
    mates = [
        p
        for p in piece.present
        if opening
        and _in_opening(p)
        and (other := piece.front.opening(p.home.number))
        and other.span.row == opening.span.row
    ] or [part]
    key = piece_rows.piece_id(shop.book, piece.tag)
    assert key is not None
    ids = records.part_ids(shop.book, key)
    return [ids[p.short] for p in mates]


def row_name(piece: Piece, part: Part) -> str:
    """The row of the front that a part is seen in; its own number when it is in none."""
    opening = piece.front.opening(part.home.number) if _in_opening(part) else None
    return f"row {opening.span.row}" if opening else short_number(part.family, part.number)


def _in_opening(part: Part) -> bool:
    return part.home.kind is HomeKind.OPENING and part.family in (Family.DRAWER, Family.DOOR)
