"""Labels in frames and photographs of a phone, read by our own reader."""

from __future__ import annotations

from io import BytesIO

from PIL import Image

from partsbench.core.piece.piece import Piece
from partsbench.paper.symbol import modules
from partsbench.services.shop import Shop
from tests.support.phone import Phone
from tests.support.shops import code

JPEG = {"content-type": "image/jpeg"}


def picture(*texts: str, module: int = 6) -> bytes:
    """Symbols side by side on light ground."""
    side = 29 * module
    whole = Image.new("L", (side * len(texts) + 80, side + 80), 225)
    for place, text in enumerate(texts):
        rows = modules(text)
        symbol = Image.new("L", (29, 29), 255)
        for y, row in enumerate(rows):
            for x, dark in enumerate(row):
                if dark:
                    symbol.putpixel((x + 4, y + 4), 20)
        whole.paste(symbol.resize((side, side), Image.Resampling.NEAREST), (40 + place * side, 40))
    out = BytesIO()
    whole.save(out, "JPEG", quality=70)
    return out.getvalue()


def test_a_frame_is_read_and_records_nothing(phone: Phone, piece: Piece, shop: Shop) -> None:
    before = shop.book.newest()
    codes = [code(piece, "D1"), code(piece, "D2")]
    said = phone.post("/api/frame", content=picture(*codes), headers=JPEG).json()
    assert sorted(said["codes"]) == sorted(codes)
    assert all(len(corners) == 4 for corners in said["corners"])
    assert shop.book.newest() == before


def test_an_empty_frame_holds_nothing(phone: Phone) -> None:
    out = BytesIO()
    Image.new("L", (640, 480), 128).save(out, "JPEG")
    said = phone.post("/api/frame", content=out.getvalue(), headers=JPEG).json()
    assert said == {"codes": [], "corners": []}


def test_a_photograph_is_read_by_all_means(phone: Phone, piece: Piece) -> None:
    """Half of the symbol is under paint: no decoder reads it, the known modules do."""
    d1 = code(piece, "D1")
    clean = Image.open(BytesIO(picture(d1, module=8)))
    clean.paste(200, (40 + 4 * 8, 40 + 4 * 8, 40 + 11 * 8, 40 + 9 * 8))
    out = BytesIO()
    clean.save(out, "JPEG", quality=85)
    assert phone.post("/api/frame", content=out.getvalue(), headers=JPEG).json()["codes"] == []
    said = phone.post("/api/picture", content=out.getvalue(), headers=JPEG).json()
    assert d1 in [*said["codes"], *(p["code"] for p in said["probable"])]
