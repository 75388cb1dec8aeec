"""300 labels against the same sheets with text only, in one run: `python -m tests.bench.labels`.

Both have the same pages and the same words in the same fonts. Labels add two symbols, the drawing
of the piece with a home filled, arrows and cut lines. Symbols are made afresh in every round. Time
is that of the processor, which other programs on the machine disturb least.
"""

from __future__ import annotations

from dataclasses import replace
from statistics import median
from time import process_time

from partsbench.core.piece.front import Front, front_from_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.teardown import label_order
from partsbench.paper.labels import LabelContent, labels_of
from partsbench.paper.pen import Pen
from partsbench.paper.sheet import Run, label_sheets
from partsbench.paper.sheets import LabelSpot, Stock, cells, stocks
from partsbench.paper.symbol import outlines

COUNT = 300
ROUNDS = 7
AIM = 5.0


def contents() -> list[LabelContent]:
    """Labels of as many chests as make 300."""
    front = front_from_rows((2, 2, 3))
    assert isinstance(front, Front)
    found: list[LabelContent] = []
    for digit in "23456789ABCDEFG":
        piece = furnish(f"K7Q{digit}", "Heron", front, legs=4, pulls=2, top=True)
        assert isinstance(piece, Piece)
        found += labels_of(piece, label_order(replace(piece, title="tall chest")))
    return found[:COUNT]


def text_only(labels: list[LabelContent], stock: Stock) -> bytes:
    """The words of the labels at their places and nothing else."""
    places = cells(stock, len(labels))
    assert isinstance(places, list)
    pen = Pen(stock.page_width, stock.page_height, "Text only")
    page = 1
    for label, place in zip(labels, places, strict=True):
        page = _turned(pen, page, place)
        for line, (told, size, bold) in enumerate(_words(label)):
            pen.text(place.x + 2, place.y + 4 + 3.5 * line, told, size, bold=bold)
    return pen.finish()


def _words(label: LabelContent) -> list[tuple[str, float, bool]]:
    """Every string that stands on the label, with the code and the arrow's word at both ends."""
    both_ends = [(label.code, 3.0, True), (label.arrow, 3.4, True)] * 2
    return [
        *both_ends,
        (label.number, 20.0, True),
        (f"home: {label.home}", 3.4, True),
        (label.stick, 2.9, False),
        (label.codename, 3.4, True),
        (f" · {label.title} · {label.kind}", 3.4, False),
    ]


def _turned(pen: Pen, page: int, place: LabelSpot) -> int:
    if place.page != page:
        pen.next_page()
    return place.page


def main() -> None:
    stock = stocks()["plain-a4"]
    labels = contents()
    text_only(labels, stock)
    label_sheets([Run(tuple(labels), stock)])
    plain, whole = [], []
    for _ in range(ROUNDS):
        start = process_time()
        text_only(labels, stock)
        plain.append(process_time() - start)
        outlines.cache_clear()
        start = process_time()
        pdf = label_sheets([Run(tuple(labels), stock)])
        whole.append(process_time() - start)
    assert isinstance(pdf, bytes)
    ratio = median(w / p for w, p in zip(whole, plain, strict=True))
    print(f"{len(labels)} labels: {median(whole) * 1000:.0f} ms, {len(pdf) / 1000:.0f} kB")
    print(f"text only: {median(plain) * 1000:.0f} ms")
    print(f"ratio {ratio:.1f} (aim {AIM:g})")


if __name__ == "__main__":
    main()
