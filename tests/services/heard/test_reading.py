from __future__ import annotations

from pathlib import Path

import pytest

from partsbench.core.piece.codes import Code, Family
from partsbench.core.piece.piece import Piece
from partsbench.reading.found import How
from partsbench.services.heard.reading import (
    Glance,
    Symbol,
    chance_words,
    codes_in_use,
    glance_at,
    glance_at_picture,
    name_of,
    read_files,
    sort_out,
    told,
    views_of,
    was_read_plainly,
)
from partsbench.services.shop import Shop
from partsbench.services.shown.labels import Sheet, make_sheet
from tests.support.labels import label_picture
from tests.support.ruined import ruined
from tests.support.shops import lay_out

ANYWHERE = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0))


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


def test_a_guess_is_probable_and_no_reading(shop: Shop, tmp_path: Path) -> None:
    laid_out(shop)
    file = tmp_path / "ruined.png"
    code = ruined(codes_in_use(shop), file, How.BOOK)
    (seen,) = read_files(shop, [file])
    assert (seen.codes, seen.strangers, seen.fault) == ((), (), "")
    (guess,) = seen.probable
    assert guess.code == code
    assert guess.sentence == f"probably {name_of(shop, code)}: confirm?"
    assert 0 < guess.chance <= 1e-3


def test_without_a_book_nothing_is_guessed(shop: Shop, tmp_path: Path) -> None:
    laid_out(shop)
    file = tmp_path / "ruined.png"
    ruined(codes_in_use(shop), file, How.BOOK)
    assert glance_at(file) == Glance(str(file))


def test_a_repaired_label_is_a_reading_and_says_what_was_repaired(
    shop: Shop, tmp_path: Path
) -> None:
    laid_out(shop)
    file = tmp_path / "ruined.png"
    code = ruined(codes_in_use(shop), file, How.KNOWN_MODULES)
    glance = glance_at(file, codes_in_use(shop))
    assert sort_out(shop, glance).codes == (code,)
    assert not was_read_plainly(glance)
    (symbol,) = glance.symbols
    assert 0 < len(symbol.repaired) < 441
    assert f"{len(symbol.repaired)} of 441 modules were repaired." in told(symbol)


def test_a_guess_whose_label_was_replaced_meanwhile_is_not_asked_about(shop: Shop) -> None:
    piece = laid_out(shop)
    old = str(piece.code(piece.parts[0])).replace("A", "B")
    texts = (str(piece.code(piece.parts[1])), old, str(Code("ZZZ9", Family.DRAWER, 1)))
    guesses = tuple(Symbol(t, ANYWHERE, how=How.BOOK, certain=False, chance=1e-5) for t in texts)
    seen = sort_out(shop, Glance("a.png", guesses))
    assert [p.code for p in seen.probable] == [texts[0]]
    assert (seen.codes, seen.strangers) == ((), ())


def test_what_was_read_for_certain_is_not_asked_about_again(shop: Shop) -> None:
    piece = laid_out(shop)
    code = str(piece.code(piece.parts[0]))
    guess = Symbol(code, ANYWHERE, 2, How.BOOK, certain=False, chance=1e-5)
    seen = sort_out(shop, Glance("a.pdf", (Symbol(code, ANYWHERE), guess)))
    assert (seen.codes, seen.probable) == ((code,), ())


def test_the_codes_in_use_are_those_of_all_parts_and_homes(shop: Shop) -> None:
    piece = laid_out(shop)
    homes = [str(piece.home_code(o.number)) for o in piece.front.openings]
    parts = [str(piece.code(part)) for part in piece.present]
    assert sorted(codes_in_use(shop)) == sorted(homes + parts)


def test_every_way_of_reading_is_told_in_words() -> None:
    said = {told(Symbol("", ANYWHERE, how=how))[0] for how in How}
    assert len(said) == len(How)


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (1e-3, "at most once in 1,000"),
        (2.6e-5, "at most once in 30,000"),
        (1.01e-6, "at most once in 900,000"),
        (1e-12, "less than once in 1,000,000"),
    ],
)
def test_a_chance_is_told_no_smaller_than_it_is(chance: float, words: str) -> None:
    assert chance_words(chance) == words


def test_a_file_that_is_gone_has_no_picture_any_more(shop: Shop, tmp_path: Path) -> None:
    piece = laid_out(shop)
    file = picture_of(str(piece.code(piece.parts[0])), tmp_path / "label.png")
    glance = glance_at(file)
    assert len(views_of(glance).pages) == 1
    file.unlink()
    assert views_of(glance).pages == ()
