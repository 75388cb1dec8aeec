"""The page Sums in the units of the shop: answers, figures, the picture, and the examples."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.units import Measures
from partsbench.services.shop import Shop
from partsbench.services.sums import census, choice, orphan, standing
from partsbench.services.sums.asked.earning import ENTRIES
from partsbench.services.sums.habits import set_habit
from partsbench.services.sums.measure import set_wood
from partsbench.services.sums.told import Told
from partsbench.ui.pages.sums_page import SumsPage
from partsbench.ui.sums.table import DECISIONS
from partsbench.ui.theme import Theme
from tests.support.shops import lay_out
from tests.support.sizes import taken
from tests.support.worded import as_typed, foreign

ASKS = [a for d in DECISIONS for a in (*d.asks, *(a for e in d.entries for a in e.asks))]
ASKS += [a for e in ENTRIES for a in e.asks]


@pytest.fixture(params=list(Measures))
def shown(request: pytest.FixtureRequest) -> Measures:
    return Measures(request.param)


@pytest.fixture
def chest(shop: Shop, shown: Measures) -> Piece:
    """A chest with something to answer for every decision, typed in the shop's units."""
    made = lay_out(
        shop, "Heron", "2 1", pulls=2, legs=4, top=True, paths=[("paint", ["drawers", "C1 rails"])]
    )
    assert isinstance(made, Piece)
    assert isinstance(set_habit(shop, "units", shown.value), Done)

    def size(mm: float) -> str:
        return as_typed(mm, shown)

    for part, what, mm in (
        ("D1", "width", 398.6), ("H1", "width", 400), ("D1", "height", 176), ("H1", "height", 180),
        ("D2", "width", 399.4), ("H2", "width", 400), ("D2", "height", 195), ("H2", "height", 188),
        ("D1", "thickness", 20), ("C1", "depth", 450), ("C1", "height", 700), ("L1", "height", 150),
        ("L2", "height", 151.5), ("L3", "height", 150), ("L4", "height", 150),
    ):  # fmt: skip
        taken(shop, made, (part, what, size(mm)))
    tag = made.tag
    for done in (
        set_wood(shop, tag, [], "cherry, black", "flat"),
        orphan.note_orphan(shop, tag, "lost", {"width": size(398.6), "left": size(176)}),
        census.count(shop, tag, "D1", "pull", 2, spacing=size(97.4), thread="M4"),
        choice.consider(shop, tag, "bow", size(96), thread="M4", depth=size(3)),
        choice.consider(shop, tag, "broad", size(420)),
        standing.weigh(shop, tag, "40" if shown is Measures.METRIC else "88"),
    ):
        assert isinstance(done, Done), done
    return made


def answers_to(shown: Measures) -> Mapping[str, Mapping[str, str]]:
    """What is typed into the fields of each decision that asks anything first."""
    metric = shown is Measures.METRIC
    air = {"temp": "21" if metric else "70", "rh": "50"}
    return {
        "order": {"needed": "in 30 days", "lead": "5"},
        "drill": {"part": "D3", "spacing": as_typed(96, shown), "from_top": as_typed(80, shown)},
        "mix": {"path": "paint", "wet": "100" if metric else "4"},
        "moisture": air,
        "dew": air,
        "movement": {"wood": "MDF", "size": as_typed(600, shown), "start": "6", "end": "12"},
        "coverage": {"solids": "52", "film": "40" if metric else "1.5", "transfer": "30"},
        "grit": {"paper": "P320"},
        "again": {"recipe": "26 clear, 3 colour, 1 water", "volume": "60" if metric else "2"},
    }


@pytest.mark.parametrize("decision", DECISIONS, ids=[d.key for d in DECISIONS])
def test_every_decision_answers_in_the_shops_units(
    shop: Shop, chest: Piece, shown: Measures, decision: object
) -> None:
    assert decision in DECISIONS
    key, answer, asks = decision.key, decision.answer, decision.asks  # type: ignore[attr-defined]
    typed = {a.key: a.choices[0] if a.choices else "" for a in asks}
    typed |= answers_to(shown).get(key, {})
    told = answer(shop, chest.tag, typed)
    assert isinstance(told, Told), told
    cells = [cell for row in (told.head, *told.rows) for cell in row]
    assert foreign(" | ".join([told.sentence, *cells, *told.lacks, told.valid]), shown) == []
    assert foreign(told.caution, shown) == []


def test_examples_are_in_the_shops_units(shown: Measures) -> None:
    assert [a for a in ASKS if foreign(f"{a.label} {a.example(shown)}", shown)] == []


@pytest.fixture
def page(qtbot: QtBot, shop: Shop, theme: Theme, chest: Piece) -> SumsPage:
    made = SumsPage(shop)
    qtbot.addWidget(made)
    made.resize(1180, 620)
    made.show_piece(chest.tag)
    made.show()
    return made


def example(page: SumsPage, title: str, key: str) -> str:
    field = {f.entry.title: f.fields for f in page.forms}[title].fields[key]
    assert isinstance(field, QLineEdit)
    return field.placeholderText()


def test_the_picture_and_the_examples_change_with_the_units(
    page: SumsPage, shown: Measures
) -> None:
    us = shown is Measures.US
    page.show_decision("fit")
    for now in (us, not us, us):
        page.units.setCurrentIndex(int(now))
        page.on_units_chosen(int(now))
        drawn = page.told.picture.accessibleDescription()
        assert ("0.015 in each side" if now else "0.3 mm each side") in drawn, drawn
        measures = Measures.US if now else Measures.METRIC
        assert foreign(drawn, measures) == []
        assert foreign(page.told.sentence.text(), measures) == []
        assert example(page, "A size", "size") == ("23 1/2" if now else "598")
        assert example(page, "Air: temperature and humidity", "dry month") == (
            "68F 30%" if now else "20C 30%"
        )
