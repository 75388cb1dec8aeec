"""What the window needs of a label sheet beside its PDF: shape, pictures, what is not printed."""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import parse_code
from partsbench.reading.pictures import read_picture
from partsbench.services.shop import Shop
from partsbench.services.shown import labels
from partsbench.services.shown.labels import Sheet, SheetPlan, SheetShape
from tests.support.shops import heron


@pytest.mark.parametrize("stock", labels.stock_names())
def test_the_labels_of_every_stock_lie_on_its_page_and_apart(stock: str) -> None:
    shape = labels.sheet_shape(stock)
    assert isinstance(shape, SheetShape)
    assert len(shape.labels) == labels.labels_per_page(stock)
    for x, y, width, height in shape.labels:
        assert x >= 0 and y >= 0
        assert x + width <= shape.width + 0.1
        assert y + height <= shape.height + 0.1


def test_an_unknown_stock_has_no_shape() -> None:
    assert isinstance(labels.sheet_shape("papyrus"), Refused)


def test_a_plan_drawn_later_is_the_sheet_made_at_once(shop: Shop) -> None:
    piece = heron(shop)
    plan = labels.plan_sheet(shop, piece.tag, only=["D5", "D7"], start=3)
    assert isinstance(plan, SheetPlan)
    drawn = labels.draw_sheet(plan)
    assert drawn == labels.make_sheet(shop, piece.tag, only=["D5", "D7"], start=3)


def test_what_is_printed_is_no_longer_unprinted(shop: Shop) -> None:
    piece = heron(shop)
    assert len(labels.unprinted(shop, piece)) == len(piece.present)
    sheet = labels.make_sheet(shop, piece.tag, only=["D5", "D7"])
    assert isinstance(sheet, Sheet)
    labels.hand_out(shop, sheet)
    left = labels.unprinted(shop, piece)
    assert set(left) == {p.short for p in piece.present} - {"D5", "D7"}
    assert left[:3] == ["D1", "D2", "D3"]


def test_page_pictures_are_the_pages_at_their_true_size_and_can_be_read(shop: Shop) -> None:
    piece = heron(shop)
    sheet = labels.make_sheet(shop, piece.tag)
    assert isinstance(sheet, Sheet)
    pictures = labels.page_pictures(sheet.pdf, 150)
    assert len(pictures) == sheet.pages
    read: list[str] = []
    for png in pictures:
        size = Image.open(BytesIO(png)).size
        assert size == pytest.approx((210 / 25.4 * 150, 297 / 25.4 * 150), abs=1)
        read += [found.text for found in read_picture(png)]
    assert sorted(read) == sorted([*sheet.codes, *sheet.codes])
    assert {parse_code(text).tag for text in read} == {piece.tag}
