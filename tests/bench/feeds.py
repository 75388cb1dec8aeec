"""What hurts a file, and what a command may be given to read: for `mishaps`."""

from __future__ import annotations

import contextlib
import functools
import io
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

from partsbench.services.books import exchange, pieces
from partsbench.services.shop import Shop, open_shop


def hurt(rng: Random, data: bytearray) -> None:
    # Most of a small book is free space, where nothing is recorded.
    used = [n for n in (rng.randrange(len(data)) for _ in range(20)) if data[n]]
    place = used[0] if used else 0
    if rng.random() < 0.7:
        data[place] ^= 1 << rng.randrange(8)
    else:
        length = rng.randrange(1, 41)
        data[place : place + length] = rng.randbytes(min(length, len(data) - place))


def cut(rng: Random, data: bytearray) -> None:
    place = rng.randrange(len(data))
    if rng.random() < 0.5:
        del data[place:]
    else:
        cut_out(rng, data)


def cut_out(rng: Random, data: bytearray) -> None:
    length = rng.randrange(1, 9000)
    place = rng.randrange(max(1, len(data) - length - 5000))
    del data[place : place + length]


Feed = tuple[list[str], str, bytes | None]


def _export(sound: Path, rng: Random) -> Feed:
    """An export with one value, or a few bytes, changed."""
    doc = json.loads(_text_of(str(sound)))
    doc["piece"]["tag"] = "ZZ29"
    if rng.random() < 0.3:
        data = bytearray(json.dumps(doc).encode())
        hurt(rng, data)
        return ["take-in"], "piece.json", bytes(data)
    ways = list(_leaves(doc))
    for _ in range(rng.randrange(1, 3)):
        *way, last = rng.choice(ways)
        inner = doc
        with contextlib.suppress(LookupError, TypeError):
            for key in way:
                inner = inner[key]
            inner[last] = rng.choice(HOSTILE)
    return ["take-in"], "piece.json", json.dumps(doc).encode()


@functools.cache
def _text_of(book: str) -> str:
    shop = open_shop(Path(book))
    assert isinstance(shop, Shop)
    text = exchange.export(shop, pieces.pieces(shop)[0].tag)
    shop.close()
    assert isinstance(text, str)
    return text


HOSTILE: list[object] = [
    None, "", "x" * 200_000, -1, 0, 400, 2**70, 1e308, True, [], {}, [[]], "\u0000", "NaN", "D999",
    "2026-99-01T00:00:00Z", "…" * 50, {"a": {"b": 1}}, "D1", -0.0,
]  # fmt: skip


def _leaves(doc: object, way: tuple[object, ...] = ()) -> Iterator[tuple[object, ...]]:
    if way:
        yield way
    inner = (
        doc.items() if isinstance(doc, dict) else enumerate(doc) if isinstance(doc, list) else ()
    )
    for key, value in inner:
        yield from _leaves(value, (*way, key))


def _description(_: Path, rng: Random) -> Feed:
    text = 'codename = "Heron"\nrows = "2 2 3"\ntitle = "a chest"\n'
    ways: list[Callable[[], bytes]] = [
        lambda: rng.randbytes(rng.randrange(0, 5000)),
        lambda: b"a = " + b"[" * rng.randrange(10, 100_000),
        lambda: b"\xef\xbb\xbf" + text.encode(),
        lambda: text.replace("Heron", "H" * rng.randrange(1, 20_000)).encode(),
        lambda: text.replace("2 2 3", " ".join("9" * rng.randrange(1, 60))).encode(),
        lambda: text.encode() + bytes(rng.randrange(0, 3_000_000)),
        lambda: _bent(rng, text.encode()),
    ]
    return [rng.choice(["take-in", "review", "keep-path"])], "a.toml", rng.choice(ways)()


def _bent(rng: Random, data: bytes) -> bytes:
    bent = bytearray(data)
    for _ in range(rng.randrange(1, 4)):
        rng.choice((hurt, hurt, cut))(rng, bent) if bent else None
    return bytes(bent)


def _picture(_: Path, rng: Random) -> Feed:
    ways: list[Callable[[], bytes]] = [
        lambda: rng.randbytes(rng.randrange(0, 5000)),
        lambda: _bent(rng, _strip(rng.randrange(1, 90_000), 2)),
        lambda: _strip(rng.choice((65_535, 65_536, 88_000)), 2),
        lambda: b"%PDF-1.4\n" + rng.randbytes(rng.randrange(0, 3000)),
        lambda: _bent(rng, _PDF),
        lambda: b"[" * rng.randrange(1, 100_000),
    ]
    return ["read"], rng.choice(("a.png", "a.pdf", "a.jpg")), rng.choice(ways)()


def _strip(width: int, height: int) -> bytes:
    from PIL import Image

    made = io.BytesIO()
    strip = Image.new("L", (width, height), 255)
    strip.putpixel((0, 0), 0)
    strip.save(made, "PNG")
    return made.getvalue()


_PDF = (
    b"%PDF-1.4\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n"
    b"2 0 obj\n<< /Type /Pages /Kids [3 0 R 2 0 R] /Count 2 >>\nendobj\n"
    b"3 0 obj\n<< /Type /Page /Parent 2 0 R /MediaBox [0 0 200 200] >>\nendobj\n"
    b"trailer\n<< /Size 4 /Root 1 0 R >>\n%%EOF\n"
)


def _endless(_: Path, rng: Random) -> Feed:
    return [rng.choice(["take-in", "review", "keep-path", "read"])], "pipe.json", None


FEEDS: list[Callable[[Path, Random], Feed]] = [_export, _description, _picture, _endless]
