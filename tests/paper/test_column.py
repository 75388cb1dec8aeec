"""Words go on over the page, and each page but the first says what it goes on with."""

from __future__ import annotations

import pypdfium2

from partsbench.paper.column import PAPERS, SheetColumn
from partsbench.paper.pen import Pen


def test_what_has_no_room_goes_on_over_the_page() -> None:
    pen = Pen(*PAPERS["a4"], "A test")
    column = SheetColumn(pen, 20.0, "Heron, continued")
    for number in range(120):
        column.words(f"line {number}", 4.0, above=0.5)
        assert column.y <= PAPERS["a4"][1] - 20.0
    with pypdfium2.PdfDocument(pen.finish()) as document:
        told = [page.get_textpage().get_text_range() for page in document]
    assert len(told) > 1
    assert [text.startswith("Heron, continued") for text in told] == [
        place > 0 for place in range(len(told))
    ]
    assert all(f"line {n}\r" in "\r\n".join(told) + "\r" for n in range(120))


def test_room_is_kept_where_there_is_enough() -> None:
    column = SheetColumn(Pen(*PAPERS["letter"], "A test"), 20.0)
    column.words("one", 4.0)
    before = column.y
    column.room(PAPERS["letter"][1] - 40.0 - (before - 20.0))
    assert column.y == before
    column.room(PAPERS["letter"][1] - 40.0)
    assert column.y == 20.0
