"""A picture's size is told before it is opened."""

from __future__ import annotations

from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from partsbench.hub.jpeg import size_of
from partsbench.hub.looking import MOST_PIXELS, too_large
from tests.support.phone import Phone

JPEG = {"content-type": "image/jpeg"}


def jpeg(width: int, height: int, **how: object) -> bytes:
    out = BytesIO()
    Image.new("L", (width, height), 200).save(out, "JPEG", **how)
    return out.getvalue()


def claims(width: int, height: int) -> bytes:
    """A small file that says it is so large."""
    data = bytearray(jpeg(8, 8))
    at = data.index(b"\xff\xc0")
    data[at + 5 : at + 9] = height.to_bytes(2, "big") + width.to_bytes(2, "big")
    return bytes(data)


@pytest.mark.parametrize("how", [{}, {"progressive": True}, {"comment": b"\xff\xc0 no frame"}])
def test_the_size_is_the_pictures(how: dict[str, object]) -> None:
    assert size_of(jpeg(640, 361, **how)) == (640, 361)


@given(st.binary(max_size=200))
def test_no_bytes_break_it(data: bytes) -> None:
    for each in (data, b"\xff\xd8" + data, b"\xff\xd8\xff" + data):
        assert size_of(each) is None or min(size_of(each) or (0,)) > 0


def test_what_is_no_jpeg_is_not_opened() -> None:
    png = BytesIO()
    Image.new("L", (8, 8)).save(png, "PNG")
    for data in (b"", b"%PDF-1.4", png.getvalue(), jpeg(8, 8)[:20], b"\xff\xd8\xff\xd9"):
        fault = too_large(data, MOST_PIXELS)
        assert fault is not None
        assert fault.sentence == "That is no JPEG picture."


@pytest.mark.parametrize(
    ("size", "opened"),
    [((2000, 1500), True), ((2001, 1500), False), ((65535, 65535), False), ((10001, 1), False)],
)
def test_too_many_pixels_are_not_opened(size: tuple[int, int], opened: bool) -> None:
    assert (too_large(claims(*size), MOST_PIXELS) is None) == opened


def test_a_huge_picture_is_refused_by_the_hub(phone: Phone) -> None:
    for path in ("/api/frame", "/api/picture"):
        said = phone.post(path, content=claims(65535, 65535), headers=JPEG)
        assert said.status_code == 400
        assert said.json()["sentence"] == "A picture of 65535 × 65535 pixels is not opened."


def test_what_only_looks_like_a_picture_is_told(phone: Phone) -> None:
    said = phone.post("/api/frame", content=jpeg(300, 300)[:300], headers=JPEG)
    assert (said.status_code, "damaged" in said.json()["sentence"]) == (400, True)
