"""The page Sums with a real book: sentence first, and what is noted answers better."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Answer, Done, Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.shop import Shop
from partsbench.services.sums.habits import habits
from partsbench.ui.dialogs.paper_dialogs import DrillDialog
from partsbench.ui.main_window import MainWindow
from partsbench.ui.pages.sums_page import SumsPage
from partsbench.ui.sums.table import DECISIONS
from partsbench.ui.theme import Theme
from tests.support.paper import page_count
from tests.support.shops import code, lay_out, sheet_code
from tests.support.sizes import of_drawer


@pytest.fixture
def piece(shop: Shop) -> Piece:
    made = lay_out(
        shop, "Heron", "2 1", pulls=1, legs=4, paths=[("paint", ["drawers", "C1 rails"])]
    )
    assert isinstance(made, Piece)
    return made


@pytest.fixture
def page(qtbot: QtBot, shop: Shop, theme: Theme, piece: Piece) -> SumsPage:
    made = SumsPage(shop)
    qtbot.addWidget(made)
    made.resize(1180, 620)
    made.show_piece(piece.tag)
    made.show()
    return made


def field(page: SumsPage, key: str, form: str = "") -> QLineEdit:
    """A field of the answer, or of one of the entries by its title."""
    forms = {f.entry.title: f.fields for f in page.forms}
    found = (forms[form] if form else page.fields).fields[key]
    assert isinstance(found, QLineEdit)
    return found


def chooser(page: SumsPage, key: str, form: str) -> QComboBox:
    found = {f.entry.title: f.fields for f in page.forms}[form].fields[key]
    assert isinstance(found, QComboBox)
    return found


def sentence(page: SumsPage) -> str:
    return page.told.sentence.text()


@pytest.mark.parametrize("decision", DECISIONS, ids=[d.key for d in DECISIONS])
def test_every_decision_answers_or_says_what_it_lacks(page: SumsPage, decision: object) -> None:
    key = decision.key  # type: ignore[attr-defined]
    page.show_decision(key)
    assert page.decision.key == key
    assert len(sentence(page)) > 10
    assert page.question.text().endswith("?")


def test_sizes_noted_on_the_page_bring_the_answer(page: SumsPage) -> None:
    assert "no gap can be foretold" in sentence(page)
    for of, what, size in (("D3", "width", "878"), ("H3", "width", "880")):
        field(page, "of", "A size").setText(of)
        chooser(page, "what", "A size").setCurrentText(what)
        QTest.keyClicks(field(page, "size", "A size"), size)
        QTest.keyClick(field(page, "size", "A size"), Qt.Key.Key_Return)
    assert sentence(page).startswith("D3: The film takes 0.4 mm off each side; 0.6 mm is left.")
    (gap,) = page.told.picture.gaps()
    assert (gap.name, gap.side_now) == ("D3", 1.0)
    assert "D3" in page.told.picture.accessibleDescription()


def test_only_one_drawer_as_typed(page: SumsPage, shop: Shop, piece: Piece) -> None:
    of_drawer(shop, piece, "D1", "398", "176", ("400", "180"))
    of_drawer(shop, piece, "D2", "398", "176", ("400", "180"))
    page.refresh()
    assert "2 drawers measured" in sentence(page)
    QTest.keyClicks(field(page, "drawer"), "d2")
    assert sentence(page).startswith("D2: ")


def test_nonsense_is_told_and_nothing_kept(page: SumsPage, shop: Shop, qtbot: QtBot) -> None:
    before = history(shop)
    field(page, "of", "A size").setText("D3")
    field(page, "size", "A size").setText("wide")
    with qtbot.waitSignal(page.answered) as told:
        QTest.keyClick(field(page, "size", "A size"), Qt.Key.Key_Return)
    assert isinstance(told.args[0], Refused)
    assert field(page, "size", "A size").text() == "wide"
    assert history(shop) == before


def test_looking_through_all_decisions_changes_nothing(page: SumsPage, shop: Shop) -> None:
    before = history(shop)
    page.list.setFocus()
    for _ in range(len(DECISIONS) + 4):
        QTest.keyClick(page.list, Qt.Key.Key_Down)
    assert page.decision is DECISIONS[-1]
    assert history(shop) == before


def test_a_small_sum_answers_as_it_is_typed_without_a_piece(
    qtbot: QtBot, shop: Shop, theme: Theme
) -> None:
    made = SumsPage(shop)
    qtbot.addWidget(made)
    made.show_piece("")
    assert "Choose a piece first" in made.told.sentence.text()
    made.show_decision("dew")
    assert "Type what you know" in made.told.sentence.text()
    QTest.keyClicks(field(made, "temp"), "20C")
    QTest.keyClicks(field(made, "rh"), "50")
    assert made.told.sentence.text() == "Dew forms on anything colder than 9.3 °C."
    assert "Magnus" in made.told.sources.text()
    assert "valid from -45" in made.told.sources.text()


def test_the_switch_of_units_is_kept_and_answers_anew(
    page: SumsPage, shop: Shop, qtbot: QtBot
) -> None:
    page.show_decision("dew")
    page.fields.fill({"temp": "68", "rh": "50"})
    assert sentence(page) == "temperature: 68 °C is more than 60 °C."
    with qtbot.waitSignal(page.changed):
        page.units.setCurrentIndex(1)
        page.units.activated.emit(1)
    assert habits(shop).typed == {"units": "us"}
    assert sentence(page) == "Dew forms on anything colder than 49 °F."


def test_the_shops_own_figures_are_shown_and_changed(page: SumsPage, shop: Shop) -> None:
    form = "Air: temperature and humidity"
    field(page, "dry month", form).setText("20C 30%")
    QTest.keyClick(field(page, "dry month", form), Qt.Key.Key_Return)
    assert habits(shop).typed == {"dry month": "20C 30%"}
    page.show_decision("tip")
    page.show_decision("fit")
    assert field(page, "dry month", form).text() == "20C 30%"


def test_what_was_typed_comes_back_after_a_crash(
    page: SumsPage, shop: Shop, piece: Piece, qtbot: QtBot
) -> None:
    page.show_decision("mix")
    field(page, "wet").setText("4 mil")
    state = page.saved_state()
    again = SumsPage(shop)
    qtbot.addWidget(again)
    again.show_piece(piece.tag)
    again.restore_state(state)
    assert again.decision.key == "mix"
    assert field(again, "wet").text() == "4 mil"
    again.restore_state({"typed": "{", "decision": "nothing"})
    assert again.decision is DECISIONS[0]


def test_a_scan_fills_the_part_that_is_asked_for(page: SumsPage, piece: Piece) -> None:
    page.scanned(code(piece, "D2"))
    assert field(page, "drawer").text() == "D2"
    page.show_decision("symmetry")
    page.scanned("D1")
    assert field(page, "of", "A break that is meant").text() == "D1"


def test_sheet_and_front_are_compared_by_two_scans(
    page: SumsPage, piece: Piece, qtbot: QtBot
) -> None:
    page.show_decision("drill")
    heard: list[object] = []
    page.answered.connect(heard.append)
    for text in (sheet_code(piece, "D3"), code(piece, "D3")):
        page.scanned(text)
    for text in (sheet_code(piece, "D3"), code(piece, "D1")):
        page.scanned(text)
    first, right, _, wrong = heard
    assert "scan the label on the front" in str(first)
    assert isinstance(right, Outcome) and right.answer is Answer.GO
    assert isinstance(wrong, Outcome) and wrong.answer is Answer.STOP


def test_a_label_is_not_taken_for_the_sheet_nor_the_sheet_for_the_front(
    page: SumsPage, piece: Piece
) -> None:
    page.show_decision("drill")
    heard: list[object] = []
    page.answered.connect(heard.append)
    page.scanned(code(piece, "D3"))
    page.scanned(sheet_code(piece, "D3"))
    page.scanned(sheet_code(piece, "D3"))
    label, _, twice = heard
    assert isinstance(label, Refused) and "That is the label of Heron D3" in label.sentence
    assert isinstance(twice, Outcome) and twice.answer is Answer.STOP
    assert twice.sentence == "This is the drilling sheet of Heron D3, not its label."


def test_a_drilling_sheet_is_shown_printed_and_saved(
    page: SumsPage, tmp_path: Path, qtbot: QtBot
) -> None:
    page.show_decision("drill")
    page.fields.fill({"part": "D3", "spacing": "96"})
    assert sentence(page).startswith("D3: 2 holes")
    page.write.click()
    over = QApplication.activeModalWidget()
    assert isinstance(over, DrillDialog)
    qtbot.waitUntil(over.save.isEnabled, timeout=20_000)
    assert over.what.currentText() == "Drilling sheet of D3"
    with qtbot.waitSignal(page.answered) as told:
        over.save_to(tmp_path / "d3.pdf")
    assert isinstance(told.args[0], Done)
    assert page_count((tmp_path / "d3.pdf").read_bytes()) == len(over.pages.sheets())
    over.close()
    page.fields.fill({"spacing": ""})
    with qtbot.waitSignal(page.answered) as told:
        page.write.click()
    assert isinstance(told.args[0], Refused)


def test_in_a_narrow_window_the_list_becomes_a_field(page: SumsPage) -> None:
    assert page.list.isVisible() and not page.chooser.isVisible()
    page.resize(520, 400)
    assert page.chooser.isVisible() and not page.list.isVisible()
    page.chooser.activated.emit(len(DECISIONS) - 1)
    assert page.decision is DECISIONS[-1]
    page.resize(1180, 620)
    assert page.list.currentIndex().data() == DECISIONS[-1].title


def test_models_keep_qts_rules(page: SumsPage, qtmodeltester: ModelTester) -> None:
    qtmodeltester.check(page.model)
    page.show_decision("pulls")
    page.show_decision("mix")
    qtmodeltester.check(page.told.model)


def test_everything_is_named_for_a_screen_reader(page: SumsPage) -> None:
    for decision in DECISIONS:
        page.show_decision(decision.key)
        for kind in (QLineEdit, QComboBox):
            for widget in page.findChildren(kind):
                named = widget.accessibleName() or isinstance(widget.parent(), QComboBox)
                assert named, (decision.key, widget.objectName())


@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
def test_it_stands_in_the_window(window: MainWindow, piece: Piece, theme: Theme) -> None:
    window.show_page("sums", piece.tag)
    assert isinstance(window.page(), SumsPage)
    assert not window.grab().isNull()


def test_a_label_goes_into_the_field_that_asks_for_a_part_or_is_told(
    page: SumsPage, piece: Piece
) -> None:
    answers: list[object] = []
    page.answered.connect(answers.append)
    page.scanned("D99")
    assert isinstance(answers[-1], Outcome) and not answers[-1].recorded
    told: list[str] = []
    for decision in DECISIONS:
        page._choose(decision)
        page.scanned(code(piece, "D2"))
        told.append(str(answers[-1]))
    assert any(words.startswith("D2 goes into the field “") for words in told)
    assert "D2 is not asked for here." in told


def test_without_a_piece_nothing_of_one_is_noted(page: SumsPage, shop: Shop) -> None:
    page.show_piece("")
    of_piece = next(d for d in DECISIONS if d.of_piece and d.entries)
    page._choose(of_piece)
    answers: list[object] = []
    page.answered.connect(answers.append)
    before = history(shop)
    page.on_entry_noted(of_piece.entries[0], {})
    assert isinstance(answers[-1], Refused)
    assert history(shop) == before
