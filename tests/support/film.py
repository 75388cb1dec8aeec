"""Films of labels before a camera, drawn frame by frame, and kept as an AVI file of JPEGs.

A frame is 960 × 540 grey pixels with wood behind; a label held at arm's length has 6.5 pixels a
millimetre, 3.6 a module. Noise, motion blur and light change from frame to frame, by fixed seeds.
"""

from __future__ import annotations

import struct
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image, ImageFilter

from tests.support.damage import MIXED, shoot
from tests.support.labels import DOTS_PER_MM, label_picture
from tests.support.scenes import wood

WIDE, HIGH = 960, 540
FPS = 15
PX_PER_MM = 6.5
NOISE = 3.0


@dataclass(frozen=True)
class Label:
    """A label in a frame: the middle in pixels, how it is turned (°), and how fast it goes past
    (pixels smeared). `picture` stands for it when it is ruined."""

    code: str
    x: float = WIDE / 2
    y: float = HIGH / 2
    turn: float = 0.0
    smear: int = 0
    picture: Image.Image | None = None


@dataclass
class Film:
    """Frames one after the other; `showing` has the codes that are in each."""

    frames: list[Image.Image] = field(default_factory=list)
    showing: list[tuple[str, ...]] = field(default_factory=list)
    seed: int = 1
    fps: int = FPS

    def add(self, seconds: float, at: Callable[[float], list[Label]]) -> Film:
        """So many seconds more; `at` says what is before the camera at 0 to 1 of that time."""
        count = round(seconds * self.fps)
        for n in range(count):
            labels = at(n / max(1, count - 1))
            self.frames.append(self._drawn(labels))
            self.showing.append(tuple(label.code for label in labels))
        return self

    def still(self, seconds: float, *labels: Label) -> Film:
        """Held, by a hand that shakes a little."""
        rng = np.random.default_rng(len(self.frames))

        def shaken(_: float) -> list[Label]:
            dx, dy = rng.normal(0, 0.7, 2)
            return [Label(b.code, b.x + dx, b.y + dy, b.turn, b.smear, b.picture) for b in labels]

        return self.add(seconds, shaken)

    def empty(self, seconds: float) -> Film:
        return self.add(seconds, lambda _: [])

    def carried_past(self, code: str, seconds: float = 1.5, turn: float = 0.0) -> Film:
        """From the right of the picture to its left."""
        step = 2 * WIDE / (seconds * self.fps)
        smear = max(1, round(step / 10))
        return self.add(
            seconds,
            lambda part: [Label(code, 1.5 * WIDE - 2 * WIDE * part, HIGH / 2, turn, smear)],
        )

    def timed(self) -> Iterator[tuple[Image.Image, float]]:
        for n, frame in enumerate(self.frames):
            yield frame, n / self.fps

    def _drawn(self, labels: list[Label]) -> Image.Image:
        rng = np.random.default_rng([self.seed, len(self.frames)])
        whole = _behind(self.seed).copy()
        for label in labels:
            whole = _with(whole, label)
        light = 1 + 0.01 * rng.normal()
        seen = np.asarray(whole, np.float32) * light + rng.normal(0, NOISE, (HIGH, WIDE))
        return Image.fromarray(np.clip(seen, 0, 255).astype(np.uint8))


def ruined_label(code: str, seed: int, severity: int = 3, **where: float) -> Label:
    """A label with every kind of damage, as it lies on its wood."""
    picture = shoot(code, MIXED, severity, seed).picture
    return Label(code, picture=picture, **where)


@lru_cache(maxsize=4)
def _behind(seed: int) -> Image.Image:
    grain = wood((HIGH, WIDE), np.random.default_rng(seed))
    return Image.fromarray(np.clip(grain, 0, 255).astype(np.uint8))


@lru_cache(maxsize=16)
def _cut_out(code: str, turn: float) -> tuple[Image.Image, Image.Image]:
    whole = Image.fromarray(label_picture(code)).point(lambda grey: 35 + grey * 180 // 255)
    size = tuple(round(side * PX_PER_MM / DOTS_PER_MM) for side in whole.size)
    small = whole.resize(size, Image.Resampling.BOX)
    mask = Image.new("L", small.size, 255)
    how = {"resample": Image.Resampling.BICUBIC, "expand": True}
    return small.rotate(turn, **how), mask.rotate(turn, **how)


def _with(behind: Image.Image, label: Label) -> Image.Image:
    if label.picture is not None:
        picture, mask = label.picture, Image.new("L", label.picture.size, 255)
    else:
        picture, mask = _cut_out(label.code, label.turn)
    place = (round(label.x - picture.width / 2), round(label.y - picture.height / 2))
    behind.paste(picture, place, mask)
    if label.smear > 1:
        rows = np.asarray(behind, np.float32)
        smeared = sum(np.roll(rows, n - label.smear // 2, 1) for n in range(label.smear))
        behind = Image.fromarray((smeared / label.smear).astype(np.uint8))
    return behind.filter(ImageFilter.GaussianBlur(0.6))


def write_avi(film: Film, file: Path, quality: int = 92) -> None:
    """An AVI 1.0 file (RIFF) of baseline JPEG frames, without sound."""
    jpegs = []
    for frame in film.frames:
        packed = BytesIO()
        frame.convert("RGB").save(packed, "JPEG", quality=quality)
        data = packed.getvalue()
        jpegs.append(data + b"\0" * (len(data) % 2))
    largest, count = max(map(len, jpegs)), len(jpegs)
    fps = film.fps
    main = struct.pack("<14I", 1_000_000 // fps, largest * fps, 0, 0x10, count, 0, 1, largest,
                       WIDE, HIGH, 0, 0, 0, 0)  # fmt: skip
    stream = b"vidsMJPG" + struct.pack("<IHHIIIIIIIIHHHH", 0, 0, 0, 0, 1, fps, 0, count, largest,
                                       0xFFFFFFFF, 0, 0, 0, WIDE, HIGH)  # fmt: skip
    form = struct.pack("<IiiHH4sIiiII", 40, WIDE, HIGH, 1, 24, b"MJPG", WIDE * HIGH * 3, 0, 0, 0, 0)
    heads = _list(b"hdrl", _chunk(b"avih", main)
                  + _list(b"strl", _chunk(b"strh", stream) + _chunk(b"strf", form)))  # fmt: skip
    movie, index, offset = b"", b"", 4
    for data in jpegs:
        index += b"00dc" + struct.pack("<III", 0x10, offset, len(data))
        offset += len(data) + 8
    movie = b"".join(_chunk(b"00dc", data) for data in jpegs)
    body = b"AVI " + heads + _list(b"movi", movie) + _chunk(b"idx1", index)
    file.write_bytes(b"RIFF" + struct.pack("<I", len(body)) + body)


def read_avi(file: Path) -> Iterator[tuple[bytes, float]]:
    """The JPEG frames of such a file, each with its time in s."""
    data = file.read_bytes()
    fps = 1_000_000 / struct.unpack_from("<I", data, data.index(b"avih") + 8)[0]
    at, number = data.index(b"movi") + 4, 0
    while data[at : at + 4] == b"00dc":
        size = struct.unpack_from("<I", data, at + 4)[0]
        yield data[at + 8 : at + 8 + size], number / fps
        at, number = at + 8 + size + size % 2, number + 1


def _chunk(name: bytes, data: bytes) -> bytes:
    return name + struct.pack("<I", len(data)) + data


def _list(name: bytes, data: bytes) -> bytes:
    return _chunk(b"LIST", name + data)
