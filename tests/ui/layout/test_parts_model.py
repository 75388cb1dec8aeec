from __future__ import annotations

from PySide6.QtCore import Qt
from pytestqt.modeltest import ModelTester

from partsbench.services.books import pieces
from partsbench.services.known.state import piece_state
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.parts_model import COLUMNS, PartRow, PartsFilter, PartsModel, rows_of
from tests.support.shops import made

TITLES = [c.title for c in COLUMNS]


def rows(desk: Desk) -> list[PartRow]:
    return rows_of(desk.piece, piece_state(desk.shop, desk.piece).parts)


def shown(model: PartsModel, short: str, title: str) -> str:
    return model.index(model.row_of(short), TITLES.index(title)).data()


def test_the_model_keeps_qts_rules_while_it_fills_changes_and_empties(
    desk: Desk, qtmodeltester: ModelTester
) -> None:
    model = PartsModel()
    qtmodeltester.check(model)
    model.show_rows(rows(desk))
    qtmodeltester.check(model)
    made(pieces.edit_part(desk.shop, desk.tag, "D5", old_mark="3"))
    desk.load(desk.tag)
    model.show_rows(rows(desk))
    qtmodeltester.check(model)
    model.show_rows([])
    qtmodeltester.check(model)


def test_a_filter_over_the_model_keeps_qts_rules(desk: Desk, qtmodeltester: ModelTester) -> None:
    model, found = PartsModel(), PartsFilter()
    found.setSourceModel(model)
    model.show_rows(rows(desk))
    found.search("stain")
    qtmodeltester.check(found)


def test_a_row_says_what_a_person_asks(desk: Desk) -> None:
    model = PartsModel()
    model.show_rows(rows(desk))
    assert model.rowCount() == len(desk.piece.present)
    assert shown(model, "D2", "Home") == "row 1, right"
    assert shown(model, "D2", "Faces").startswith("stain: front, 4 edges; raw: sides")
    assert shown(model, "D2", "Label goes") == "on the back"
    assert shown(model, "P1", "Label goes") == "tie-on tag or bag"
    assert shown(model, "D2", "State").startswith("in the piece; ")


def test_a_screen_reader_hears_the_part_and_the_column_in_every_cell(desk: Desk) -> None:
    model = PartsModel()
    model.show_rows(rows(desk))
    for column, title in enumerate(TITLES):
        cell = model.index(model.row_of("D5"), column)
        words = cell.data(Qt.ItemDataRole.AccessibleTextRole)
        assert words.startswith(f"D5, {title}: ")
        editable = bool(cell.flags() & Qt.ItemFlag.ItemIsEditable)
        described = cell.data(Qt.ItemDataRole.AccessibleDescriptionRole)
        assert (described == "can be edited") is editable is bool(COLUMNS[column].edits)


def test_an_edit_is_asked_for_and_taken_only_when_the_book_has_it(desk: Desk) -> None:
    model = PartsModel()
    model.show_rows(rows(desk))
    asked: list[tuple[str, str, str]] = []

    def take(short: str, word: str, text: str) -> None:
        asked.append((short, word, text))

    model.edited.connect(take)
    cell = model.index(model.row_of("D5"), TITLES.index("Old mark"))
    assert not model.setData(cell, " 3 ")
    assert asked == [("D5", "old_mark", "3")]
    assert cell.data() == ""
    assert not model.setData(model.index(0, TITLES.index("Home")), "elsewhere")
    assert len(asked) == 1


def test_search_finds_by_any_words_in_any_column(desk: Desk) -> None:
    made(pieces.edit_part(desk.shop, desk.tag, "D5", old_mark="seven", note="split side"))
    desk.load(desk.tag)
    model, found = PartsModel(), PartsFilter()
    found.setSourceModel(model)
    model.show_rows(rows(desk))
    for text, shorts in (
        ("seven", ["D5"]),
        ("SPLIT row", ["D5"]),
        ("d3 pull", ["P3"]),
        ("nothing such", []),
    ):
        found.search(text)
        assert [found.index(r, 0).data() for r in range(found.rowCount())] == shorts
    found.search("")
    assert found.rowCount() == model.rowCount()
