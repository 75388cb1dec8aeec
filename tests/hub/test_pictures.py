"""Labels in frames and photographs of a phone, read by our own reader."""

from __future__ import annotations

from io import BytesIO

from PIL import Image

from partsbench.core.piece.piece import Piece
from partsbench.paper.symbol import modules
from partsbench.services.heard.camera import CROWDED
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
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
    assert said == {"codes": [], "corners": [], "counts": [], "hint": ""}


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


def counts(phone: Phone, *texts: str) -> list[tuple[str, bool]]:
    """What counts in a frame of these labels, or of none."""
    said = phone.post("/api/frame", content=picture(*texts), headers=JPEG).json()
    return [(each["text"], each["again"]) for each in said["counts"]]


def test_a_label_counts_once_and_its_count_is_told_for_a_moment(
    phone: Phone, piece: Piece, clock: SetClock
) -> None:
    d1 = code(piece, "D1")
    first = phone.post("/api/frame", content=picture(d1), headers=JPEG).json()["counts"]
    clock.pass_time(seconds=1)
    again = phone.post("/api/frame", content=picture(d1), headers=JPEG).json()["counts"]
    assert first == again
    assert len(first[0]["mark"]) >= 16
    clock.pass_time(seconds=1)
    assert counts(phone, d1) == []


def test_what_is_read_again_after_a_blur_is_seen_again_and_records_nothing(
    phone: Phone, piece: Piece, shop: Shop, clock: SetClock
) -> None:
    d1 = code(piece, "D1")
    before = shop.book.newest()
    assert counts(phone, d1) == [(d1, False)]
    assert phone.scan(d1)["answer"] == "GO"
    for _ in range(4):
        clock.pass_time(seconds=0.9)
        assert (d1, True) not in counts(phone)
    assert counts(phone, d1) == [(d1, True)]
    assert phone.scan(d1, again=True) == {}
    assert shop.book.newest() == before
    assert phone.get("/api/me").json()["stands"]["bench"]["hand"]["waits"] == "armed"
    assert phone.push("Enter")["recorded"]


def test_two_devices_have_each_its_own_labels_before_it(phone: Phone, piece: Piece) -> None:
    other = Phone(phone.client, phone.rooms)
    other.pair("the tablet", "Finch")
    d1 = code(piece, "D1")
    assert counts(phone, d1) == counts(other, d1) == [(d1, False)]


def test_of_a_sheet_nothing_counts_and_the_page_is_told_so(phone: Phone, piece: Piece) -> None:
    codes = [code(piece, f"D{n}") for n in (1, 2, 3)]
    said = phone.post("/api/frame", content=picture(*codes), headers=JPEG).json()
    assert (said["counts"], said["hint"]) == ([], CROWDED)
    assert len(said["codes"]) == 3
