"""The care sheet on paper: every row and word is on it, on as many pages as it takes."""

from __future__ import annotations

from dataclasses import replace

import pypdfium2
import pytest

from partsbench.core.outcomes import Refused
from partsbench.paper.care import MARGIN, CareContent, CareRow, care_pdf
from partsbench.paper.pen import MM
from tests.support.paper import page_count, text_of

ROW = CareRow("D1 front, D1 top edge", "Topcoat 2", "2 Mar 2031", "3 Mar 2031", "9 Mar 2031",
              "1 Apr 2031")  # fmt: skip
CONTENT = CareContent(
    "Heron",
    "K7Q4",
    "tall chest",
    "Full use from 1 April 2031.",
    (ROW,),
    ("Wipe wet rings at once.", "Fix it to the wall."),
    ("K1 key",),
    ("a source of the dates",),
    "4 March 2031",
)


def pdf_of(content: CareContent, paper: str = "a4") -> bytes:
    made = care_pdf(content, paper)
    assert isinstance(made, bytes), made
    return made


def test_all_is_said() -> None:
    words = " ".join(text_of(pdf_of(CONTENT)).split())
    for part in ("Heron", "tall chest", "Full use from 1 April 2031.", "D1 top edge", "9 Mar 2031",
                 "Wipe wet rings", "Fix it to the wall.", "K1 key", "a source of the dates",
                 "Made on 4 March 2031"):  # fmt: skip
        assert part in words
    assert "safe" not in words.lower().split()


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("rows", [1, 40, 120])
def test_no_letter_leaves_the_page_and_no_row_is_lost(paper: str, rows: int) -> None:
    faces = tuple(replace(ROW, faces=", ".join(f"D{i} face {n}" for n in range(6)))
                  for i in range(rows))  # fmt: skip
    pdf = pdf_of(replace(CONTENT, rows=faces), paper)
    words = " ".join(text_of(pdf).split())
    assert all(f"D{i} face 5" in words for i in range(rows))
    edge = (MARGIN - 1) * MM
    with pypdfium2.PdfDocument(pdf) as document:
        for page in document:
            text = page.get_textpage()
            for place in range(text.count_chars()):
                left, bottom, right, top = text.get_charbox(place)
                if right > left:
                    assert left >= edge and right <= page.get_width() - edge
                    assert bottom >= edge - 12 and top <= page.get_height() - edge + 12


def test_a_long_sheet_names_the_piece_on_each_page() -> None:
    pdf = pdf_of(replace(CONTENT, rows=(ROW,) * 200))
    assert page_count(pdf) > 1
    assert text_of(pdf).count("Heron, continued") == page_count(pdf) - 1


def test_the_same_content_gives_the_same_bytes() -> None:
    assert pdf_of(CONTENT) == pdf_of(CONTENT)


def test_an_unknown_paper_is_told() -> None:
    assert care_pdf(CONTENT, "a9") == Refused("There is no paper “a9”; there are a4, letter.")
