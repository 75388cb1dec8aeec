from __future__ import annotations

from pathlib import Path

from partsbench.core.piece.codes import Code, Family
from partsbench.core.piece.piece import Piece
from partsbench.services.labels import Sheet, make_sheet
from partsbench.services.pieces import lay_out
from partsbench.services.reading import glance_at, glance_at_picture, read_files
from partsbench.services.shop import Shop
from tests.support.labels import label_picture


def laid_out(shop: Shop) -> Piece:
    piece = lay_out(shop, "Heron", "2 1")
    assert isinstance(piece, Piece)
    return piece


def picture_of(code: str, file: Path) -> Path:
    from PIL import Image

    Image.fromarray(label_picture(code, 2)).save(file)
    return file


def test_a_picture_of_a_label_gives_its_code_once(shop: Shop, tmp_path: Path) -> None:
    piece = laid_out(shop)
    code = str(piece.code(piece.parts[0]))
    seen = read_files(shop, [picture_of(code, tmp_path / "label.png")])
    assert [(s.codes, s.strangers, s.fault) for s in seen] == [((code,), (), "")]


def test_a_sheet_of_labels_gives_every_code(shop: Shop, tmp_path: Path) -> None:
    piece = laid_out(shop)
    sheet = make_sheet(shop, piece.tag)
    assert isinstance(sheet, Sheet)
    file = tmp_path / "sheet.pdf"
    file.write_bytes(sheet.pdf)
    assert set(read_files(shop, [file])[0].codes) == set(sheet.codes)


def test_a_code_of_another_book_is_no_reading(shop: Shop, tmp_path: Path) -> None:
    piece = laid_out(shop)
    code = str(piece.code(piece.parts[0]))
    stranger = str(Code("ZZZ9", Family.DRAWER, 1))
    seen = read_files(shop, [picture_of(stranger, tmp_path / "stranger.png")])[0]
    assert (seen.codes, seen.strangers) == ((), (stranger,))
    assert code not in seen.strangers


def test_files_that_hold_no_picture_are_told_and_the_others_still_read(
    shop: Shop, tmp_path: Path
) -> None:
    piece = laid_out(shop)
    code = str(piece.code(piece.parts[0]))
    text = tmp_path / "notes.png"
    text.write_text("no picture")
    gone = tmp_path / "gone.png"
    seen = read_files(shop, [text, gone, picture_of(code, tmp_path / "label.png")])
    assert str(text) in seen[0].fault
    assert str(gone) in seen[1].fault
    assert seen[2].codes == (code,)


def test_a_pasted_picture_is_looked_at_without_a_file(shop: Shop, tmp_path: Path) -> None:
    piece = laid_out(shop)
    code = str(piece.code(piece.parts[0]))
    data = picture_of(code, tmp_path / "label.png").read_bytes()
    assert glance_at_picture(data, "the pasted picture").texts == (code,)
    assert glance_at_picture(b"nothing", "the pasted picture").fault.startswith("the pasted")


def test_looking_asks_no_book(tmp_path: Path) -> None:
    code = str(Code("ZZZ9", Family.DRAWER, 5))
    assert glance_at(picture_of(code, tmp_path / "a.png")).texts == (code,)
