"""Codes in files: pictures of many kinds, PDF pages, and files that are neither."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import zxingcpp
from PIL import Image, ImageDraw

from partsbench.reading.found import How, ReadingError
from partsbench.reading.ladder import treatments
from partsbench.reading.pages import read_back
from partsbench.reading.pictures import decode, read_file, read_pdf, read_picture
from tests.support.damage import MIXED, shoot
from tests.support.labels import DOTS_PER_MM, MODULE_MM, label_picture, symbol_places

CODE, OTHER = "K7Q4-D05AK", "K7Q4-D06AG"


def label(text: str = CODE, symbols: int = 2, dots_per_mm: float = 8) -> Image.Image:
    drawn = Image.fromarray(label_picture(text, symbols))
    share = dots_per_mm / DOTS_PER_MM
    return drawn.resize((round(drawn.width * share), round(drawn.height * share)))


def saved(picture: Image.Image, kind: str, **options: object) -> bytes:
    out = BytesIO()
    picture.save(out, kind, **options)
    return out.getvalue()


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP", "BMP", "GIF", "TIFF"])
def test_both_symbols_of_a_label(kind: str) -> None:
    found = read_picture(saved(label(), kind))
    assert [f.text for f in found] == [CODE, CODE]
    assert {f.how for f in found} == {How.PLAIN}
    assert all(f.certain and f.code.short == "D5" for f in found)


def test_corners_lie_on_the_symbol() -> None:
    found = sorted(read_picture(label()), key=lambda f: f.corners[0])
    side = 21 * MODULE_MM
    for reading, (x, y) in zip(found, symbol_places(), strict=True):
        drawn = [(x, y), (x + side, y), (x + side, y + side), (x, y + side)]
        assert np.abs(np.array(reading.corners) - np.array(drawn) * 8).max() < 4


@pytest.mark.parametrize("turn", [0, 17, 90, 141, 180, 255])
def test_any_turn(turn: int) -> None:
    found = read_picture(label().rotate(turn, expand=True, fillcolor=200))
    assert {f.text for f in found} == {CODE}


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "CMYK", "I;16", "F"])
def test_any_kind_of_colour(mode: str) -> None:
    grey = label()
    if mode == "I;16":
        picture = Image.fromarray(np.asarray(grey).astype(np.uint16) * 257)
    else:
        picture = grey.convert("RGBA" if mode == "P" else mode).convert(mode)
    assert {f.text for f in read_picture(picture)} == {CODE}


def test_a_transparent_picture_stands_on_white() -> None:
    grey = np.asarray(label())
    ink = np.zeros((*grey.shape, 4), np.uint8)
    ink[..., 3] = 255 - grey
    assert {f.text for f in read_picture(Image.fromarray(ink))} == {CODE}


def test_a_telephone_picture_is_turned_upright() -> None:
    exif = Image.Exif()
    exif[0x0112] = 6  # Exif 2.3, tag Orientation: the picture has to be turned by 90 degrees.
    turned = saved(label().rotate(90, expand=True), "JPEG", exif=exif)
    upright = read_picture(turned)
    assert {f.text for f in upright} == {CODE}
    assert all(f.corners[1][0] > f.corners[0][0] for f in upright)


def test_frames_of_a_tiff_are_pages() -> None:
    data = saved(label(CODE, 1), "TIFF", save_all=True, append_images=[label(OTHER, 1)])
    assert [(f.text, f.page) for f in read_picture(data)] == [(CODE, 1), (OTHER, 2)]


def test_pages_of_a_pdf(tmp_path: Path) -> None:
    pages = [label(CODE), label(OTHER)]
    path = tmp_path / "labels.pdf"
    pages[0].save(path, "PDF", resolution=203, save_all=True, append_images=pages[1:])
    expected = [(CODE, 1), (CODE, 1), (OTHER, 2), (OTHER, 2)]
    assert [(f.text, f.page) for f in read_file(path)] == expected
    assert [(f.text, f.page) for f in read_pdf(path.read_bytes(), dpi=150)] == expected
    back = read_back(path.read_bytes())
    assert [(p.number, p.codes) for p in back] == [(1, (CODE, CODE)), (2, (OTHER, OTHER))]


def test_read_back_keeps_reading_order() -> None:
    sheet = Image.new("L", (1700, 900), 255)
    order = [str(code) for code in _codes(4)]
    for place, code in enumerate(order):
        sheet.paste(label(code, 1), (20 + place % 2 * 850, 20 + place // 2 * 400))
    (page,) = read_back(saved(sheet, "PDF", resolution=203), dpi=203)
    assert list(page.codes) == order


def _codes(count: int) -> list[object]:
    from partsbench.core.piece.codes import Code, Family

    return [Code("K7Q4", Family.PULL, number) for number in range(1, count + 1)]


def test_a_ruined_label_is_read_from_a_page_too() -> None:
    """A page with a label that neither a plain look nor the ladder reads."""
    for seed in range(20):
        grey = shoot(CODE, MIXED, 2, 40 + seed).picture
        if decode(grey, 1, How.PLAIN) or any(
            decode(treated, 1, how, scale) for how, treated, scale in treatments(grey)
        ):
            continue
        found = read_pdf(saved(grey, "PDF", resolution=200), dpi=200)
        assert {(f.text, f.how, f.certain) for f in found} == {(CODE, How.KNOWN_MODULES, True)}
        return
    pytest.fail("every picture of twenty was read without the last resort")


def test_a_code_that_fails_its_check_is_not_a_reading() -> None:
    assert read_picture(label("K7Q4-D05AA")) == []


def test_another_qr_text_is_not_a_reading() -> None:
    assert read_picture(label("HELLO WORL")) == []


def test_micro_qr_is_not_ours() -> None:
    micro = zxingcpp.create_barcode(CODE, zxingcpp.BarcodeFormat.MicroQRCode)
    picture = Image.fromarray(np.array(micro.to_image(scale=8, add_quiet_zones=True)))
    array = np.asarray(picture.convert("L"))
    assert [b.text for b in zxingcpp.read_barcodes(array)] == [CODE]
    assert read_picture(picture) == []


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "neither a picture nor a PDF"),
        (b"half past two", "neither a picture nor a PDF"),
        (saved(label(), "PNG")[:3000], "damaged or cut short"),
        (b"%PDF-1.7\nnothing", "PDF is damaged"),
    ],
)
def test_a_bad_file_is_told_by_name(tmp_path: Path, data: bytes, says: str) -> None:
    path = tmp_path / "drawer"
    path.write_bytes(data)
    with pytest.raises(ReadingError, match=says) as told:
        read_file(path)
    assert str(told.value).startswith(f"{path}: ")


def test_a_missing_file_and_a_folder_are_told(tmp_path: Path) -> None:
    for path in (tmp_path / "gone.png", tmp_path):
        with pytest.raises(ReadingError, match=str(path)):
            read_file(path)


def test_a_picture_without_a_code_is_no_error() -> None:
    blank = Image.new("L", (300, 200), 255)
    ImageDraw.Draw(blank).rectangle((50, 50, 120, 120), fill=0)
    assert read_picture(blank) == []


def test_a_vast_picture_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 10_000)
    for size in ((150, 100), (300, 200)):
        with pytest.raises(ReadingError, match="too many pixels"):
            read_picture(saved(Image.new("L", size), "PNG"))


def test_a_side_that_no_decoder_counts_is_told(tmp_path: Path) -> None:
    file = tmp_path / "strip.png"
    strip = Image.new("L", (70_000, 20), 255)
    strip.putpixel((5, 5), 0)
    strip.save(file)
    with pytest.raises(ReadingError, match="longer than 65,535"):
        read_file(file)


def pdf_of(*objects: bytes) -> bytes:
    """A PDF of those objects, numbered from 1; the first is its catalog."""
    parts, places = [b"%PDF-1.4\n"], []
    for number, body in enumerate(objects, 1):
        places.append(sum(map(len, parts)))
        parts.append(b"%d 0 obj\n%s\nendobj\n" % (number, body))
    start = sum(map(len, parts))
    rows = b"".join(b"%010d 00000 n \n" % place for place in places)
    parts.append(b"xref\n0 %d\n0000000000 65535 f \n%s" % (len(objects) + 1, rows))
    parts.append(b"trailer\n<< /Size %d /Root 1 0 R >>\n" % (len(objects) + 1))
    parts.append(b"startxref\n%d\n%%%%EOF\n" % start)
    return b"".join(parts)


@pytest.mark.parametrize(
    "pages",
    [
        b"<< /Type /Pages /Kids [2 0 R] /Count 1 >>",
        b"<< /Type /Pages /Kids [2 0 R 2 0 R] /Count 200 >>",
        b"<< /Type /Pages /Parent 2 0 R /Kids [9 0 R] /Count 3 >>",
    ],
)
def test_a_pdf_whose_pages_name_themselves_is_told(pages: bytes) -> None:
    with pytest.raises(ReadingError):
        read_pdf(pdf_of(b"<< /Type /Catalog /Pages 2 0 R >>", pages))


def test_blank_pages_are_passed_over_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """No decoder and no last resort is asked about paper without a mark."""
    from partsbench.reading import pictures

    monkeypatch.setattr(pictures, "decode", lambda *_: pytest.fail("looked into"))
    kids = b" ".join(b"%d 0 R" % n for n in range(3, 203))
    page = b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] >>"
    tree = b"<< /Type /Pages /Kids [%s] /Count 200 >>" % kids
    blank = pdf_of(b"<< /Type /Catalog /Pages 2 0 R >>", tree, *[page] * 200)
    assert pictures.read_pdf(blank, dpi=20) == []
