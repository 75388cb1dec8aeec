"""A sheet is drawn and pictured before it is shown; what cannot be drawn is told."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.services.shown import labels
from partsbench.services.shown.labels import SheetPlan
from partsbench.ui.dialogs.drawing import Drawn, drawn_labels, pictured
from tests.support.shops import heron


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return heron(shop)


def planned(shop: Shop, piece: Piece, *only: str) -> SheetPlan:
    plan = labels.plan_sheet(shop, piece.tag, only=only)
    assert isinstance(plan, SheetPlan), plan
    return plan


@pytest.mark.parametrize(
    ("only", "said"), [(("D1",), "1 label on 1 page;"), (("D1", "D2"), "2 labels on 1 page;")]
)
def test_labels_are_pictured_in_the_size_of_their_sheet(
    shop: Shop, piece: Piece, only: tuple[str, ...], said: str
) -> None:
    drawn = drawn_labels(planned(shop, piece, *only), dpi=50)
    assert isinstance(drawn, Drawn)
    assert drawn.said.startswith(said) and drawn.said.endswith("every code was read back.")
    (picture,) = (Image.open(io.BytesIO(png)) for png in drawn.pictures)
    wide, high = drawn.size_mm
    assert (wide, high) == pytest.approx((picture.width * 25.4 / 50, picture.height * 25.4 / 50))
    assert 200 < wide < high < 300, "a sheet of paper, upright"
    assert drawn.sheet is not None and len(drawn.sheet.keys) == len(only)
    assert pictured(drawn.pdf, dpi=50).said == "1 page."
