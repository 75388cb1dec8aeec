"""Verb sheet, tally strip and day sheet: read back, nothing over the edge, nothing lost."""

from __future__ import annotations

import re
from io import BytesIO

import pypdfium2
import pytest

from partsbench.core.verbs import FACES, REASONS, VERBS, Sort, WallCode
from partsbench.paper.day_sheet import DayLine, DaySheet, day_sheet
from partsbench.paper.tally import Strip, StripLine, tally_strip
from partsbench.paper.verbs import WallCell, WallPart, verb_sheet
from partsbench.reading.pictures import read_picture
from partsbench.services.heard.wall import wall_parts
from partsbench.services.shop import Shop

EVERY = [
    WallPart("Verbs", tuple(WallCell(v.code, v.name, v.says) for v in VERBS)),
    WallPart("Reasons", tuple(WallCell(r.code, r.name) for r in REASONS)),
    WallPart("Faces", tuple(WallCell(str(WallCode(Sort.FACE, i + 1)), f)
                            for i, f in enumerate(FACES))),
    WallPart("Cups", ()),
]  # fmt: skip


def pages(data: bytes):
    with pypdfium2.PdfDocument(data) as pdf:
        for page in pdf:
            yield page.get_textpage().get_text_range(), page.render(scale=3).to_pil()


def read(data: bytes) -> set[str]:
    found: set[str] = set()
    for _, picture in pages(data):
        png = BytesIO()
        picture.save(png, "PNG")
        found |= {seen.text for seen in read_picture(png.getvalue())}
    return found


@pytest.mark.long
def test_every_code_of_the_wall_is_read_back_from_its_page() -> None:
    codes = {cell.code for part in EVERY for cell in part.cells}
    assert codes <= read(verb_sheet(EVERY))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_wall_says_every_verb_and_keeps_clear_of_the_edges(paper: str) -> None:
    data = verb_sheet(EVERY, paper)
    said = " ".join(words for words, _ in pages(data)).replace("\r\n", " ")
    for verb in VERBS:
        assert verb.code in said
        assert verb.name.split()[0] in said
    assert "Cups" not in said
    for _, picture in pages(data):
        grey = picture.convert("L")
        edge = 24
        for box in ((0, 0, grey.width, edge), (0, 0, edge, grey.height),
                    (grey.width - edge, 0, grey.width, grey.height),
                    (0, grey.height - edge, grey.width, grey.height)):  # fmt: skip
            assert grey.crop(box).getextrema() == (255, 255)


def test_a_strip_has_a_box_for_each_part_and_goes_on_when_it_is_long() -> None:
    lines = tuple(StripLine(f"D{n}", "front and 4 more") for n in range(1, 41))
    strip = Strip(str(WallCode(Sort.LOAD, 7)), 7, "Heron K7Q4", "Colour coat 2, thin", lines,
                  cup=str(WallCode(Sort.CUP, 3)), mix="Cup 3: blue")  # fmt: skip
    data = tally_strip(strip)
    said = [words for words, _ in pages(data)]
    assert len(said) > 1
    for n in range(1, 41):
        assert f"D{n}" in " ".join(said)
    assert all("Load 7" in words for words in said)
    assert {str(WallCode(Sort.LOAD, 7)), str(WallCode(Sort.CUP, 3))} <= read(data)


def test_the_day_on_paper_loses_nothing_over_several_pages() -> None:
    tasks = tuple(DayLine("12 min", f"Heron D{n}: Sand 220", "before 16:20", True)
                  for n in range(60))  # fmt: skip
    sheet = DaySheet("Tuesday 04 March 2031, 08:30", "Heron D3: stain it.", "Its window closes.",
                     "begin the top", ("Heron D1: washed but not rinsed.",), tasks, (),
                     ("D4 front has 2 coats.",),
                     ("Anything done between 14:32 and 15:10?",))  # fmt: skip
    said = " ".join(words for words, _ in pages(day_sheet(sheet)))
    for line in tasks:
        assert line.what in said
    for words in ("stain it", "washed but not rinsed", "begin the top", "2 coats", "15:10"):
        assert words in said


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert verb_sheet(EVERY) == verb_sheet(EVERY)


def test_every_verb_hangs_in_one_group_and_what_takes_back_hangs_away_from_done() -> None:
    from partsbench.core.verbs import GROUPS

    hung = [number for _, numbers in GROUPS for number in numbers]
    assert sorted(hung) == sorted(v.number for v in VERBS)
    named = {v.name: v.number for v in VERBS}
    assert named["DONE"] in GROUPS[0][1]
    for name in ("UNDO", "REDO"):
        assert named[name] in GROUPS[-1][1]


def test_undo_and_redo_are_on_another_page_than_done(shop: Shop) -> None:
    found = list(pages(verb_sheet(wall_parts(shop))))
    on = {
        name: next(n for n, (words, _) in enumerate(found) if re.search(rf"\b{name}\b", words))
        for name in ("DONE", "UNDO", "REDO")
    }
    assert on["UNDO"] == on["REDO"] == len(found) - 1
    assert on["DONE"] == 0
    assert len(found) > 1


def test_a_heading_stands_again_where_its_codes_go_on() -> None:
    many = WallPart("Places", tuple(WallCell(str(WallCode(Sort.PLACE, n)), f"rack {n}")
                                    for n in range(1, 41)))  # fmt: skip
    first, *rest = (words for words, _ in pages(verb_sheet([many])))
    assert "Places" in first and "continued" not in first
    assert rest
    for words in rest:
        assert "Places, continued" in words


def test_the_tally_strip_names_every_edge(shop: Shop) -> None:
    """Which edges get the coat is on the strip, not only how many."""
    line = StripLine("D3", "front, top edge, bottom edge, left edge, right edge")
    for paper in ("a4", "letter"):
        words = next(pages(tally_strip(Strip("STRP-X01A0", 1, "Heron", "coat", (line,)), paper)))[0]
        for face in line.faces.split(", "):
            assert face in words.replace("\r\n", " ")
