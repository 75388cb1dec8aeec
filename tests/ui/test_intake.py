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
from partsbench.reading.found import How
from partsbench.services.heard.reading import codes_in_use
from partsbench.services.shop import Shop
from partsbench.services.shown.labels import Sheet, make_sheet
from partsbench.ui.dialogs.picture_dialog import labels_of
from partsbench.ui.intake import Intake
from partsbench.ui.looking import FileLook
from partsbench.ui.theme import Theme
from tests.support.labels import label_picture
from tests.support.ruined import ruined
from tests.support.shops import code, heron, lay_out, shop_at


class Taken:
    """An intake, and all that it said. `choice` is what a person takes; None takes it all."""

    def __init__(self, shop: Shop, over: QWidget, choice: Sequence[str] | None) -> None:
        self.asked: list[FileLook] = []
        self._choice = choice
        self.codes: list[str] = []
        self.answers: list[object] = []
        self.intake = Intake(shop, over, self.ask)
        self.intake.code_read.connect(self.codes.append)
        self.intake.answered.connect(self.answers.append)

    def ask(self, shop: Shop, look: FileLook, _over: QWidget) -> list[str]:
        self.asked.append(look)
        labels = [label.code for label in labels_of(shop, look)]
        return labels if self._choice is None else list(self._choice)


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
    assert set(taken.asked[0].seen.codes) == set(sheet.codes)
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


def test_a_guess_counts_only_when_a_person_confirms_it(
    shop: Shop, piece: Piece, over: QWidget, qtbot: QtBot, tmp_path: Path
) -> None:
    file = tmp_path / "ruined.png"
    code = ruined(codes_in_use(shop), file, How.BOOK)
    for choice, given in (([], []), (None, [code])):
        taken = Taken(shop, over, choice)
        taken.intake.take_files([file])
        settled(qtbot, taken)
        (look,) = taken.asked
        assert look.seen.codes == ()
        assert [p.code for p in look.seen.probable] == [code]
        assert taken.codes == given


def test_a_repaired_label_is_shown_before_it_counts(
    shop: Shop, piece: Piece, over: QWidget, qtbot: QtBot, tmp_path: Path
) -> None:
    file = tmp_path / "ruined.png"
    code = ruined(codes_in_use(shop), file, How.KNOWN_MODULES)
    taken = Taken(shop, over, [])
    taken.intake.take_files([file])
    settled(qtbot, taken)
    assert [look.seen.codes for look in taken.asked] == [(code,)]
    assert taken.codes == []
    assert taken.intake.last is taken.asked[0]


def test_what_comes_while_a_question_is_open_waits_and_keeps_its_order(
    shop: Shop, piece: Piece, over: QWidget, qtbot: QtBot, tmp_path: Path
) -> None:
    """The question runs the event loop, as a dialog does, while the second picture comes in."""
    from PIL import Image

    first, second = tmp_path / "ruined.png", tmp_path / "label.png"
    guessed = ruined(codes_in_use(shop), first, How.BOOK)
    plain = next(c for c in codes_in_use(shop) if c != guessed)
    Image.fromarray(label_picture(plain, 2)).save(second)
    codes: list[str] = []
    while_open: list[tuple[str, ...]] = []

    def ask(_shop: Shop, look: FileLook, _over: QWidget) -> list[str]:
        intake.take_files([second])
        qtbot.waitUntil(lambda: not intake.looker.busy, timeout=20_000)
        while_open.append(tuple(codes))
        return [p.code for p in look.seen.probable]

    intake = Intake(shop, over, ask)
    intake.code_read.connect(codes.append)
    intake.take_files([first])
    qtbot.waitUntil(lambda: len(codes) == 2, timeout=30_000)
    assert codes == [guessed, plain]
    assert while_open == [()]


def test_the_picture_of_a_plain_scan_can_be_seen_afterwards(
    shop: Shop, piece: Piece, over: QWidget, qtbot: QtBot, tmp_path: Path
) -> None:
    from PIL import Image

    code = str(piece.code(piece.parts[0]))
    Image.fromarray(label_picture(code, 2)).save(tmp_path / "label.png")
    taken = Taken(shop, over, None)
    pictured: list[FileLook] = []
    taken.intake.pictured.connect(pictured.append)
    taken.intake.take_files([tmp_path / "label.png"])
    settled(qtbot, taken)
    assert pictured == [taken.intake.last]
    assert pictured[0].given
    assert len(pictured[0].views.pages) == 1
    assert taken.asked == []


def test_a_label_of_no_job_here_is_told_by_its_code(
    shop: Shop, piece: Piece, over: QWidget, qtbot: QtBot, tmp_path: Path
) -> None:
    from PIL import Image

    elsewhere = shop_at(tmp_path / "other.partsbench")
    stranger = code(heron(elsewhere), "D1")
    elsewhere.close()
    file = tmp_path / "label.png"
    Image.fromarray(label_picture(stranger, 2)).save(file)
    taken = Taken(shop, over, None)
    taken.intake.take_files([file])
    settled(qtbot, taken)
    assert taken.codes == []
    answer = taken.answers[-1]
    assert isinstance(answer, Refused) and stranger in answer.sentence


def test_of_what_was_copied_a_text_counts_as_a_scan_and_nothing_as_nothing(
    shop: Shop, over: QWidget
) -> None:
    taken = Taken(shop, over, None)
    for text in ("", "   ", " D1\n"):
        data = QMimeData()
        data.setText(text)
        taken.intake.take(data)
    assert taken.codes == ["D1"] and taken.answers == []


def test_a_copied_picture_that_is_none_is_told(shop: Shop, over: QWidget) -> None:
    data = QMimeData()
    data.setImageData(QImage())
    taken = Taken(shop, over, None)
    taken.intake.take(data)
    assert taken.answers == [Refused("The copied picture cannot be read.")]
