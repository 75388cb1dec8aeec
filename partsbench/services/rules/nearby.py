"""What else stands in the shop while a face is worked: tacky faces, and parts of the same row."""

from __future__ import annotations

import functools
from datetime import datetime, timedelta

from partsbench.core.finish.checks import BATCH, SETTLES
from partsbench.core.finish.cups import Cup
from partsbench.core.finish.effort import Own
from partsbench.core.finish.loads import coats_on
from partsbench.core.finish.loops import Loop
from partsbench.core.finish.products import FILM, Ready
from partsbench.core.finish.progress import Progress
from partsbench.core.finish.steps import Operation, Step
from partsbench.core.finish.waits import WaitFigures as Waits
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.services.known import clock_doubt, work
from partsbench.services.known.state import PieceState, part_state, piece_state
from partsbench.services.rules import loops
from partsbench.services.shop import Shop
from partsbench.store import lately, records
from partsbench.store import mixes as mix_rows
from partsbench.store import pieces as piece_rows

LONGEST_TACK = timedelta(days=3)


class Nearby:
    """What else goes on in the shop at one time; looked up once, and only when a step asks."""

    def __init__(
        self, shop: Shop, waits: Waits, now: datetime, state: PieceState | None = None
    ) -> None:
        self.shop, self.waits, self.now, self._state = shop, waits, now, state
        self._coats: dict[str, list[tuple[tuple[str, str], str, int]]] = {}
        self._batches: dict[tuple[str, str], bool] = {}
        self._cups_on: dict[str, dict[str, list[Cup]]] = {}
        self._cups_beside: dict[tuple[str, str], list[Cup]] = {}

    @functools.cached_property
    def clock_fault(self) -> str:
        """What is wrong with the computer's clock now; "" when nothing is known."""
        return clock_doubt.clock_words(self.shop)

    def coats(self, piece: Piece) -> list[tuple[tuple[str, str], str, int]]:
        """Each face of a piece that gets a finish: (part, face), key of its path, its coats."""
        if piece.tag not in self._coats:
            known = self._state and self._state.piece.tag == piece.tag
            state = self._state if known and self._state else piece_state(self.shop, piece)
            self._coats[piece.tag] = [
                ((short, face.name), face.path.key, coats_on(face.progress))
                for short, part in state.parts.items()
                for face in part.faces
                if face.path.steps
            ]
        return self._coats[piece.tag]

    def progress_of(self, piece: Piece, spot: Spot) -> Progress | None:
        """How far a face of another part has come."""
        part = piece.part(spot.part)
        if part is None:
            return None
        known = self._state and self._state.piece.tag == piece.tag
        if known and self._state:
            state = self._state.parts.get(spot.part)
        else:
            state = part_state(self.shop, piece, part)
        return (
            next((f.progress for f in state.faces if f.name == spot.face), None) if state else None
        )

    def in_batch(self, piece: Piece, step: Step) -> bool:
        """This step was recorded on the piece a short while ago: its checks were confirmed then."""
        asked = (piece.tag, step.key)
        if asked not in self._batches:
            since = self.now - BATCH
            self._batches[asked] = lately.was_done(
                self.shop.book, piece.tag, step.key, since, self.now
            )
        return self._batches[asked]

    def cups_on(self, piece: Piece, part: Part) -> dict[str, list[Cup]]:
        """Face name → the cups used on it so far."""
        if part.short not in self._cups_on:
            key = piece_rows.part_id(self.shop.book, piece.tag, part.family, part.number)
            assert key is not None
            self._cups_on[part.short] = mix_rows.cups_on(self.shop.book, key)
        return self._cups_on[part.short]

    def cups_beside(self, piece: Piece, part: Part, step: Step) -> list[Cup]:
        """The cups used for a step on the row of the front that the part is seen in."""
        asked = (part.short, step.key)
        if asked not in self._cups_beside:
            row = row_of(self.shop, piece, part)
            self._cups_beside[asked] = mix_rows.cups_for(self.shop.book, row, step.key)
        return self._cups_beside[asked]

    @functools.cached_property
    def own_times(self) -> Own:
        """The shop's own pace."""
        return work.own_times(self.shop, self.now)

    @functools.cached_property
    def rags(self) -> Loop | None:
        """The question about oily rags, while it is open."""
        return loops.rags(self.shop, self.now)

    @functools.cached_property
    def sanded(self) -> datetime | None:
        """When anything in the shop was last sanded, while its dust may still hang; else None."""
        paths = self.shop.paths.values()
        steps = {s.key for path in paths for s in path.steps if s.operation is Operation.SAND}
        since = self.now - SETTLES
        return lately.newest_of(self.shop.book, steps, since, self.now)

    def tacky(self, tag: str, but: str) -> dict[str, datetime]:
        """Parts with a film that takes dust, and until when; the one in hand left out."""
        mine = (tag, but)
        return {name: until for place, (name, until) in self._tacky.items() if place != mine}

    def is_tacky(self, tag: str, short: str) -> bool:
        """True when a film of this part still takes dust."""
        return (tag, short) in self._tacky

    @functools.cached_property
    def _tacky(self) -> dict[tuple[str, str], tuple[str, datetime]]:
        """A film is taken as tacky until it may be recoated: nothing shorter is known of it."""
        found: dict[tuple[str, str], tuple[str, datetime]] = {}
        since = self.now - LONGEST_TACK
        films = {s.key for p in self.shop.paths.values() for s in p.steps if s.operation in FILM}
        for seen in lately.newest_marks(self.shop.book, films, since, self.now):
            step = self.shop.path(seen.path).step(seen.step)
            length = self._tack(step) if step and step.operation in FILM else None
            if length is None or seen.at + length <= self.now:
                continue
            place, name = (seen.tag, seen.part), f"{seen.codename} {seen.part}"
            until = max(seen.at + length, found.get(place, (name, seen.at))[1])
            found[place] = (name, until)
        return found

    def _tack(self, step: Step) -> timedelta | None:
        tin = self.waits.tin(step)
        said = tin.waits.get(Ready.RECOAT.value) if tin else None
        product = self.waits.products.get(step.product)
        timed = product.times.get(Ready.RECOAT) if product else None
        length = said.earliest if said and said.earliest else timed.time if timed else None
        stretch = self.waits.air.stretch if self.waits.water_borne(step) else 1.0
        return length * stretch if length else None


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
