from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QUrl
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.labels import Sheet, make_sheet
from partsbench.services.pieces import lay_out
from partsbench.services.shop import Shop
from partsbench.ui.choose_codes import ChooseCodes
from partsbench.ui.intake import Intake
from partsbench.ui.theme import Theme
from tests.support.labels import label_picture


class Taken:
    """An intake, and all that it said."""

    def __init__(self, shop: Shop, over: QWidget, choice: Sequence[str] | None) -> None:
        self.asked: list[tuple[str, ...]] = []
        self._choice = choice
        self.codes: list[str] = []
        self.answers: list[object] = []
        self.intake = Intake(shop, over, self.choose)
        self.intake.code_read.connect(self.codes.append)
        self.intake.answered.connect(self.answers.append)

    def choose(self, _over: QWidget, _name: str, codes: Sequence[str]) -> list[str]:
        self.asked.append(tuple(codes))
        return list(codes if self._choice is None else self._choice)


@pytest.fixture
def piece(shop: Shop) -> Piece:
    made = lay_out(shop, "Heron", "2 1")
    assert isinstance(made, Piece)
    return made


@pytest.fixture
def over(qtbot: QtBot, theme: Theme) -> QWidget:
    made = QWidget()
    qtbot.addWidget(made)
    return made


def settled(qtbot: QtBot, taken: Taken) -> None:
    qtbot.waitUntil(lambda: not taken.intake.looker.busy, timeout=20_000)


def test_a_picture_is_looked_at_and_its_code_given_on(
    shop: Shop, piece: Piece, over: QWidget, qtbot: QtBot, tmp_path: Path
) -> None:
    from PIL import Image

    code = str(piece.code(piece.parts[0]))
    file = tmp_path / "label.png"
    Image.fromarray(label_picture(code, 2)).save(file)
    taken = Taken(shop, over, None)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(file))])
    assert taken.intake.takes(data)
    taken.intake.take(data)
    settled(qtbot, taken)
    assert taken.codes == [code]
    assert taken.asked == []


def test_a_copied_picture_needs_no_file(
    shop: Shop, piece: Piece, over: QWidget, qtbot: QtBot, tmp_path: Path
) -> None:
    from PIL import Image

    code = str(piece.code(piece.parts[1]))
    file = tmp_path / "label.png"
    Image.fromarray(label_picture(code, 2)).save(file)
    data = QMimeData()
    data.setImageData(QImage(str(file)))
    taken = Taken(shop, over, None)
    taken.intake.take(data)
    settled(qtbot, taken)
    assert taken.codes == [code]


def test_a_whole_sheet_is_asked_about_before_anything_counts_as_a_scan(
    shop: Shop, piece: Piece, over: QWidget, qtbot: QtBot, tmp_path: Path
) -> None:
    sheet = make_sheet(shop, piece.tag)
    assert isinstance(sheet, Sheet)
    file = tmp_path / "sheet.pdf"
    file.write_bytes(sheet.pdf)
    taken = Taken(shop, over, [])
    taken.intake.take_files([file])
    settled(qtbot, taken)
    assert set(taken.asked[0]) == set(sheet.codes)
    assert taken.codes == []


def test_a_file_that_is_no_picture_is_refused_by_name(
    shop: Shop, over: QWidget, qtbot: QtBot, tmp_path: Path
) -> None:
    file = tmp_path / "notes.txt"
    file.write_text("nothing to see")
    taken = Taken(shop, over, None)
    taken.intake.take_files([file])
    settled(qtbot, taken)
    answer = taken.answers[-1]
    assert isinstance(answer, Refused)
    assert str(file) in answer.sentence


def test_a_picture_without_a_label_says_so(
    shop: Shop, over: QWidget, qtbot: QtBot, tmp_path: Path
) -> None:
    from PIL import Image

    file = tmp_path / "wood.png"
    Image.new("L", (300, 200), 180).save(file)
    taken = Taken(shop, over, None)
    taken.intake.take_files([file])
    settled(qtbot, taken)
    answer = taken.answers[-1]
    assert isinstance(answer, Refused)
    assert "no label was read" in answer.sentence


def test_descriptions_are_taken_in_and_bad_ones_refused(
    shop: Shop, over: QWidget, tmp_path: Path
) -> None:
    good, bad = tmp_path / "good.toml", tmp_path / "bad.toml"
    good.write_text('codename = "Finch"\nrows = "2 1"\n')
    bad.write_text("nonsense")
    taken = Taken(shop, over, None)
    tags: list[str] = []
    taken.intake.pieces_taken_in.connect(tags.append)
    taken.intake.take_files([good, bad])
    assert isinstance(taken.answers[0], Done)
    assert isinstance(taken.answers[1], Refused)
    assert shop.piece(tags[0]) is not None


def test_none_is_ticked_until_a_person_ticks_it(qtbot: QtBot, theme: Theme) -> None:
    dialog = ChooseCodes("sheet.pdf", ["A", "B"])
    qtbot.addWidget(dialog)
    assert dialog.chosen() == []
    dialog.on_all_asked()
    assert dialog.chosen() == ["A", "B"]
