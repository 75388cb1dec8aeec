"""What may be asked of the hub: the page, pairing, acts, pictures, news, and what the book says."""

from __future__ import annotations

import time
from collections.abc import Awaitable, Callable
from dataclasses import asdict, dataclass, field, replace
from importlib.resources import files
from typing import Any

from starlette.applications import Starlette
from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from partsbench.core.outcomes import BookDamagedError, Refused
from partsbench.hub import shown
from partsbench.hub.clerk import Clerk, Counter
from partsbench.hub.gate import Gate
from partsbench.hub.hand import OutOfTurn
from partsbench.hub.log import HubLog
from partsbench.hub.looking import Eyes
from partsbench.hub.news import News
from partsbench.hub.offer import LASTS, Offers
from partsbench.hub.sent import parse_sent, parse_words
from partsbench.hub.tries import Tries
from partsbench.services.acts import places
from partsbench.services.books import clients
from partsbench.services.heard import devices
from partsbench.services.heard.devices import Device, Paired
from partsbench.services.shop import find_piece
from partsbench.services.shown import day, progress_map, proof

COOKIE = "__Host-partsbench"
"""A browser takes a cookie of that name only over TLS, for this host alone (RFC 6265bis)."""
YEAR = 365 * 24 * 3600
PAGE = {
    "/": ("index.html", "text/html; charset=utf-8"),
    **{f"/{name}.css": (f"{name}.css", "text/css; charset=utf-8") for name in ("page",)},
    **{f"/{name}.js": (f"{name}.js", "text/javascript; charset=utf-8")
       for name in ("page", "hub", "camera", "show", "kept", "views",
                    "worker")},
    "/icon.svg": ("icon.svg", "image/svg+xml"),
}  # fmt: skip
"""Address → file of the page: nothing else is ever read for anybody."""
Handler = Callable[[Request, Device], Awaitable[Response]]


@dataclass
class Rooms:
    """What the endpoints work with."""

    clerk: Clerk
    log: HubLog
    offers: Offers
    names: frozenset[str]
    tries: Tries = field(default_factory=Tries)
    monotonic: Callable[[], float] = time.monotonic
    eyes: Eyes = field(default_factory=Eyes)
    recorded: Callable[[], None] = lambda: None
    """Called after an act: the window may look at the book."""

    def __post_init__(self) -> None:
        self.news = News(self.clerk)


def make_app(rooms: Rooms) -> Gate:
    """The whole server, behind its gate."""
    ends = _Ends(rooms)
    routes = [Route(path, _file(*what), methods=["GET"]) for path, what in PAGE.items()]
    routes.append(Route("/api/pair", ends.pair, methods=["POST"]))
    for path, handler, method in ends.of_devices():
        routes.append(Route(path, ends.paired_only(handler), methods=[method]))
    app = Starlette(routes=routes, exception_handlers={BookDamagedError: _damaged})
    return Gate(app, rooms.names, rooms.log)


def _file(name: str, kind: str) -> Callable[[Request], Awaitable[Response]]:
    data = (files("partsbench.hub") / "page" / name).read_bytes()

    async def answered(_: Request) -> Response:
        return Response(data, media_type=kind)

    return answered


async def _damaged(_: Request, error: Exception) -> Response:
    return _no(503, f"{error}. See check-book.")


def _no(status: int, sentence: str, **more: Any) -> JSONResponse:
    return JSONResponse({"sentence": sentence, **more}, status)


class _Ends:
    """The endpoints."""

    def __init__(self, rooms: Rooms) -> None:
        self._rooms = rooms
        self._ask = rooms.clerk.ask

    def of_devices(self) -> list[tuple[str, Handler, str]]:
        return [
            ("/api/me", self.me, "GET"),
            ("/api/act", self.act, "POST"),
            ("/api/frame", self.frame, "POST"),
            ("/api/picture", self.picture, "POST"),
            ("/api/news", self.news, "GET"),
            ("/api/map", self.map, "GET"),
            ("/api/day", self.day, "GET"),
            ("/api/proof", self.proof, "GET"),
            ("/api/proof.pdf", self.proof_sheet, "GET"),
            ("/api/find", self.find, "GET"),
            ("/api/client", self.client, "GET"),
        ]

    # Who asks

    def paired_only(self, handler: Handler) -> Callable[[Request], Awaitable[Response]]:
        """Only a paired device is answered; one that was thrown out is told so."""

        async def answered(request: Request) -> Response:
            device = await self._who(request)
            if device is None:
                self._rooms.log.say(_address(request), "", f"not paired: {request.url.path}")
                return _no(401, "This device is not paired. Scan the code at the window.")
            try:
                return await handler(request, device)
            except ClientDisconnect:
                return Response(status_code=499)

        return answered

    async def _who(self, request: Request) -> Device | None:
        secret = request.cookies.get(COOKIE, "")
        return await self._ask(lambda at: devices.known_device(at.shop, secret))

    async def pair(self, request: Request) -> Response:
        rooms, address, now = self._rooms, _address(request), self._rooms.monotonic()
        wait = rooms.tries.wait(address, now)
        if wait:
            rooms.log.say(address, "", "pairing slowed")
            said = _no(429, f"Too many wrong tries: wait {wait:.0f} s.")
            said.headers["retry-after"] = f"{wait:.0f}"
            return said
        words = parse_words(await request.body(), "secret", "name", "person")
        secret, name, person = words or ("", "", "")
        if not rooms.offers.is_open(secret, now):
            rooms.tries.failed(address, now)
            rooms.log.say(address, "", "pairing refused")
            return _no(403, f"That code is used or older than {LASTS / 60:.0f} minutes. "
                            "Show a new one at the window.")  # fmt: skip
        made = await self._ask(lambda at: devices.pair(at.shop, name, person))
        if not isinstance(made, Paired):
            return _no(400, made.sentence)
        rooms.offers.take(secret)
        rooms.tries.succeeded(address)
        rooms.log.say(address, name, f"paired as device {made.device.id} of {person}")
        said = JSONResponse({"name": made.device.name, "person": made.device.person})
        said.set_cookie(COOKIE, made.secret, max_age=YEAR, path="/", secure=True, httponly=True,
                        samesite="strict")  # fmt: skip
        return said

    # At the bench

    async def me(self, _: Request, device: Device) -> Response:
        def told(at: Counter) -> dict[str, Any]:
            hand = at.hand(device)
            return {
                "device": device.name,
                "person": device.person,
                "sees_clients": device.sees_clients,
                "last": hand.last,
                "pieces": shown.piece_lines(at.shop),
                "places": places.known_places(at.shop),
                "stands": hand.stands(),
                **shown.choices(),
            }

        return JSONResponse(await self._ask(told))

    async def act(self, request: Request, device: Device) -> Response:
        sent = parse_sent(await request.body())
        if isinstance(sent, Refused):
            return _no(400, sent.sentence)
        reply = await self._ask(lambda at: at.hand(device).act(sent))
        if isinstance(reply, OutOfTurn):
            return _no(409, "An earlier act is still to come.", expects=reply.expects)
        if any(each["recorded"] for each in reply["outcomes"]):
            what = f"{sent.doing.value} {sent.number}: recorded, up to entry {reply['seen']}"
            self._rooms.log.say(_address(request), device.name, what)
            self._rooms.recorded()
        self._rooms.news.told(reply["seen"])
        return JSONResponse(reply)

    async def frame(self, request: Request, device: Device) -> Response:
        """A frame of the live camera: what is read at once, and counts. Nothing is recorded."""
        rooms, data = self._rooms, await request.body()
        found = await rooms.eyes.glance(data, device.id, rooms.monotonic())
        return _no(400, found.sentence) if isinstance(found, Refused) else JSONResponse(found)

    async def picture(self, request: Request, device: Device) -> Response:
        """A photograph: read by all means, ruined labels too; a guess is told as one."""
        data = await request.body()
        found = await self._rooms.eyes.look(data, self._rooms.clerk)
        if isinstance(found, Refused):
            self._rooms.log.say(_address(request), device.name, "picture refused")
            return _no(400, found.sentence)
        return JSONResponse(found)

    # What the book says

    async def news(self, request: Request, device: Device) -> Response:
        """What was recorded after an entry; waits for it. Ends when the device is thrown out."""
        after = _number(request.query_params.get("after", ""))
        found = await self._rooms.news.after(after)
        if await self._who(request) is None:
            return _no(401, "This device was thrown out.")
        return JSONResponse({"entries": found, "device": device.name})

    async def map(self, request: Request, _: Device) -> Response:
        tag = request.query_params.get("tag", "")[:40]
        found = await self._ask(lambda at: progress_map.progress_map(at.shop, tag))
        return (
            _no(404, "There is no such piece.")
            if found is None
            else JSONResponse(shown.progress(found))
        )

    async def day(self, _: Request, __: Device) -> Response:
        return JSONResponse(await self._ask(lambda at: shown.the_day(day.day(at.shop))))

    async def proof(self, request: Request, _: Device) -> Response:
        """What the proof sheet says now."""
        tag = request.query_params.get("tag", "")[:40]
        found = await self._ask(lambda at: proof.proof_words(at.shop, tag))
        return (
            _no(404, found.sentence) if isinstance(found, Refused) else JSONResponse(asdict(found))
        )

    async def proof_sheet(self, request: Request, device: Device) -> Response:
        """The same as PDF, under a name of our own."""
        tag = request.query_params.get("tag", "")[:40]
        who = device.person
        made = await self._ask(lambda at: proof.make_proof(replace(at.shop, who=who), tag))
        if isinstance(made, Refused):
            return _no(404, made.sentence)
        named = {"content-disposition": 'attachment; filename="proof.pdf"'}
        return Response(made, media_type="application/pdf", headers=named)

    async def find(self, request: Request, device: Device) -> Response:
        asked = request.query_params.get("asked", "")[:40]

        def found(at: Counter) -> list[str]:
            here = at.hand(device).session.here
            return shown.sightings(places.find(at.shop, asked, here))

        return JSONResponse({"lines": await self._ask(found)})

    async def client(self, request: Request, device: Device) -> Response:
        """Who a job is for, for a device that is allowed to show it."""
        if not device.sees_clients:
            return _no(403, "This device does not show clients.")
        tag = request.query_params.get("tag", "")[:40]

        def told(at: Counter) -> dict[str, str] | Refused:
            piece = find_piece(at.shop, tag)
            return (
                piece
                if isinstance(piece, Refused)
                else dict(clients.client_of(at.shop, piece.codename))
            )

        said = await self._ask(told)
        if isinstance(said, Refused):
            return _no(404, said.sentence)
        self._rooms.log.say(_address(request), device.name, f"saw the client of {tag}")
        return JSONResponse(said)


def _address(request: Request) -> str:
    return request.client.host if request.client else "?"


def _number(text: str) -> int:
    """A whole number that somebody wrote into an address; 0 for anything else."""
    short = len(text) <= 15 and text.isascii() and text.isdecimal()
    return int(text) if short else 0
