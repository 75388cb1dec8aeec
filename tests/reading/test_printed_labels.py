"""The labels that the program really prints, ruined: what is searched for is what is printed."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from partsbench.paper.sheet import Run, label_sheets
from partsbench.paper.sheets import Stock, find_stock
from partsbench.paper.symbol import modules
from partsbench.reading.found import Found, How
from partsbench.reading.ladder import treatments
from partsbench.reading.pictures import decode, pdf_pages
from partsbench.reading.ruined import read_ruined
from partsbench.reading.symbol import modules_of
from tests.support.books import some_codes
from tests.support.paper import all_labels, heron


def test_printed_modules_are_those_that_are_searched_for() -> None:
    for text in some_codes(30, seed=9):
        assert np.array_equal(np.array(modules(text)), modules_of(text))


@pytest.fixture(scope="module")
def ruined() -> tuple[str, Image.Image]:
    """One printed label at 200 dpi whose symbols have lost two finder patterns each to paint."""
    stock = find_stock("plain-a4")
    assert isinstance(stock, Stock)
    content = all_labels(heron())[0]
    pdf = label_sheets([Run((content,), stock)])
    assert isinstance(pdf, bytes)
    (page,) = pdf_pages(pdf, 200)
    found = decode(page, 1, How.PLAIN)
    assert [f.text for f in found] == [content.code, content.code]
    painted = np.asarray(page).copy()
    for symbol in found:
        for corner in symbol.corners[:2]:
            _drop(painted, symbol, corner)
    right = int(max(x for f in found for x, _ in f.corners)) + 60
    lower = int(max(y for f in found for _, y in f.corners)) + 60
    return content.code, Image.fromarray(painted[:lower, :right])


def _drop(painted: np.ndarray, symbol: Found, corner: tuple[float, float]) -> None:
    """Grey paint over the finder at a corner of a symbol."""
    middle = np.mean(symbol.corners, axis=0)
    x, y = np.array(corner) + (middle - corner) * (3 / 10.5)
    rows, columns = np.mgrid[: painted.shape[0], : painted.shape[1]]
    side = np.hypot(*(np.array(symbol.corners[1]) - symbol.corners[0]))
    painted[np.hypot(columns - x, rows - y) < side * 4.5 / 21] = 120


def test_no_other_means_reads_it(ruined: tuple[str, Image.Image]) -> None:
    _, grey = ruined
    assert decode(grey, 1, How.PLAIN) == []
    assert not any(decode(treated, 1, how, scale) for how, treated, scale in treatments(grey))


def test_the_last_resort_reads_it(ruined: tuple[str, Image.Image]) -> None:
    code, grey = ruined
    for turn in (0, 25, 180):
        found = read_ruined(grey.rotate(turn, expand=True, fillcolor=255))
        assert [(f.text, f.certain) for f in found] == [(code, True)]
        assert len(found[0].repaired) > 20
