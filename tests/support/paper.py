"""Papers looked at as a stranger would: rendered, read by a decoder that did not draw them."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np
import pypdfium2
import zxingcpp

from partsbench.core.piece.codes import Family
from partsbench.core.piece.describe import Described, describe
from partsbench.core.piece.front import Front, front_from_rows
from partsbench.core.piece.furnish import add_part, furnish
from partsbench.core.piece.parts import Home, HomeKind
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.teardown import label_order
from partsbench.paper.labels import LabelContent, home_labels_of, labels_of

Picture = np.ndarray
"""A grey page, height × width, 0 black to 255 white."""


def pages(pdf: bytes, dpi: float) -> list[Picture]:
    """The pages as grey pictures, edges smoothed."""
    with pypdfium2.PdfDocument(pdf) as document:
        return [
            page.render(scale=dpi / 72, grayscale=True).to_numpy().squeeze() for page in document
        ]


def symbols(picture: Picture) -> list[zxingcpp.Barcode]:
    return list(zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCodeModel2))


def codes_read(pdf: bytes, dpi: float) -> Counter[str]:
    """How often each text is read on all pages together."""
    return Counter(symbol.text for picture in pages(pdf, dpi) for symbol in symbols(picture))


def text_of(pdf: bytes) -> str:
    """The words of all pages."""
    with pypdfium2.PdfDocument(pdf) as document:
        return "\n".join(page.get_textpage().get_text_range() for page in document)


def page_count(pdf: bytes) -> int:
    with pypdfium2.PdfDocument(pdf) as document:
        return len(document)


def rows(*counts: int) -> Front:
    front = front_from_rows(counts)
    assert isinstance(front, Front)
    return front


def heron() -> Piece:
    """A chest with everything a label can say: old mark, bag, fragile top, paths."""
    piece = furnish("K7Q4", "Heron", rows(2, 2, 3), legs=4, pulls=2, top=True)
    assert isinstance(piece, Piece)
    for short, change in (("D5", {"old_mark": "3"}), ("T1", {"fragile": True})):
        part = piece.part(short)
        assert part
        piece = piece.with_part(replace(part, **change))
    home = Home(HomeKind.ON_PIECE, spot="inside")
    piece = add_part(piece, Family.BAG, home, "bag", contents="8 screws, 2 keys")
    assert isinstance(piece, Piece)
    return piece


def many_drawers() -> Piece:
    """Sixty drawers, ten rows of six: more than 99 pulls."""
    piece = furnish("8M2R", "Larch", rows(*[6] * 10), pulls=2)
    assert isinstance(piece, Piece)
    return piece


def with_a_door() -> Piece:
    """A tall chest whose door hides two drawers, its legs all equal."""
    made = describe(
        {
            "codename": "Quill",
            "title": "tall chest",
            "legs": 4,
            "equal_legs": True,
            "pulls": 1,
            "front": {
                "columns": [450, 450],
                "rows": [160, 220, 240, 260],
                "map": ["D1 D2", "D3 D3", "G1 D4", "G1 D5"],
            },
            "behind": {"G1": [1, 1]},
        },
        "W5X2",
    )
    assert isinstance(made, Described)
    return made.piece


def all_labels(piece: Piece) -> list[LabelContent]:
    return [*labels_of(piece, label_order(piece)), *home_labels_of(piece)]
