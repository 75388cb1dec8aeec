"""What a camera sees in a workshop without a label: wood, cloth, text, other people's symbols."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import qrcode
from PIL import Image, ImageDraw, ImageFilter, ImageFont

from partsbench.resources import asset

SCENES = ("wood", "cloth", "text", "other symbols", "boxes")
_SIDE = 1100


def wood(shape: tuple[int, ...], rng: np.random.Generator) -> np.ndarray:
    """Grain in greys, float32, no larger than 1100 a side."""
    plank = _plank(int(rng.integers(6)))
    top, left = (int(rng.integers(_SIDE - side + 1)) for side in shape)
    return plank[top : top + shape[0], left : left + shape[1]]


@lru_cache(maxsize=6)
def _plank(number: int) -> np.ndarray:
    rng = np.random.default_rng(900 + number)
    rows, columns = np.mgrid[:_SIDE, :_SIDE].astype(np.float32)
    turn = rng.uniform(0, np.pi)
    along = columns * np.cos(turn) + rows * np.sin(turn)
    across = rows * np.cos(turn) - columns * np.sin(turn)
    waves = across + 12 * np.sin(along / 140 + rng.uniform(0, 7)) + 4 * np.sin(along / 47)
    grain = 12 * np.sin(waves / rng.uniform(3, 9)) + 9 * np.sin(waves / rng.uniform(14, 30))
    pores = rng.normal(0, 26, (_SIDE, _SIDE)).astype(np.float32)
    pores = np.asarray(Image.fromarray(pores + 128).convert("L").filter(ImageFilter.BoxBlur(1)))
    return rng.uniform(70, 170) + grain + 0.6 * (pores.astype(np.float32) - 128)


def scene(kind: str, seed: int, side: int = 640) -> Image.Image:
    """A grey picture of one of SCENES with no label of ours in it, the same for each seed."""
    rng = np.random.default_rng([seed, SCENES.index(kind)])
    behind = Image.fromarray(np.clip(wood((side, side), rng), 0, 255).astype(np.uint8))
    {
        "wood": _nothing,
        "cloth": _cloth,
        "text": _text,
        "other symbols": _other_symbols,
        "boxes": _boxes,
    }[kind](behind, rng)
    soft = behind.filter(ImageFilter.GaussianBlur(rng.uniform(0, 1.5)))
    noisy = np.asarray(soft, np.float32) + rng.normal(0, 3, (side, side))
    return Image.fromarray(np.clip(noisy, 0, 255).astype(np.uint8))


def _nothing(behind: Image.Image, rng: np.random.Generator) -> None:
    del behind, rng


def _cloth(behind: Image.Image, rng: np.random.Generator) -> None:
    """A woven rag with a regular thread, some of it dark."""
    side = behind.width
    rows, columns = np.mgrid[:side, :side].astype(np.float32)
    turn, pitch = rng.uniform(0, np.pi), rng.uniform(3, 14)
    u = columns * np.cos(turn) + rows * np.sin(turn)
    v = rows * np.cos(turn) - columns * np.sin(turn)
    v = v + 3 * np.sin(u / 40)
    weave = np.sign(np.sin(u / pitch * np.pi)) * np.sign(np.sin(v / pitch * np.pi))
    threads = rng.normal(0, 1, (side // 4 + 1, side // 4 + 1)).repeat(4, 0).repeat(4, 1)
    grey = 128 + 50 * weave + 25 * threads[:side, :side]
    behind.paste(Image.fromarray(np.clip(grey, 0, 255).astype(np.uint8)))


def _text(behind: Image.Image, rng: np.random.Generator) -> None:
    """A page of words, numbers and lines."""
    page = Image.new("L", behind.size, 225)
    pen = ImageDraw.Draw(page)
    y = 10
    while y < page.height:
        size = int(rng.integers(10, 44))
        signs = "".join(rng.choice(list("ABCDEFGHKLMNPQRSTVWXYZ0123456789-./ "), 50))
        pen.text((int(rng.integers(30)), y), signs, int(rng.integers(10, 90)), _font(size))
        y += int(size * 1.3)
    behind.paste(page.rotate(rng.uniform(-30, 30), fillcolor=225))


def _other_symbols(behind: Image.Image, rng: np.random.Generator) -> None:
    """QR symbols that are not ours: other versions, levels and masks, some as small as ours."""
    texts = ("HTTPS://EXAMPLE.ORG/", "tel:555 0100", "4006381333931", "ABCD-12345", "Wood 12 x 40 ")
    for _ in range(int(rng.integers(1, 5))):
        text = str(rng.choice(texts)) + str(rng.integers(10)) * int(rng.integers(0, 9))
        maker = qrcode.QRCode(
            error_correction=int(rng.integers(4)),
            box_size=int(rng.integers(3, 9)),
            mask_pattern=int(rng.integers(8)),
            border=4,
        )
        maker.add_data(text)
        made = maker.make_image().get_image().convert("L").point(lambda g: 30 + g * 0.75)
        turned = made.rotate(rng.uniform(0, 360), expand=True, fillcolor=221)
        room = (max(1, behind.width - turned.width), max(1, behind.height - turned.height))
        behind.paste(turned, (int(rng.integers(room[0])), int(rng.integers(room[1]))))


def _boxes(behind: Image.Image, rng: np.random.Generator) -> None:
    """Random squares of modules in the size of our symbol, which hold no code at all."""
    pen = ImageDraw.Draw(behind)
    for _ in range(int(rng.integers(1, 5))):
        module = int(rng.integers(3, 9))
        x, y = (int(v) for v in rng.integers(20, behind.width - 29 * module, 2))
        pen.rectangle((x, y, x + 29 * module, y + 29 * module), fill=215)
        modules = np.kron(rng.random((21, 21)) < 0.5, np.ones((module, module))) * 180 + 35
        behind.paste(Image.fromarray(modules.astype(np.uint8)), (x + 4 * module, y + 4 * module))


@lru_cache(maxsize=40)
def _font(size: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(asset("fonts/AtkinsonHyperlegible-Bold.ttf")), size)
