from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

from partsbench.core.piece.piece import Piece
from partsbench.reading.pictures import read_pdf
from partsbench.services.shop import Shop
from partsbench.services.shown.labels import Sheet, make_sheet
from tests.support.shops import lay_out


def test_sheets_are_read_by_several_threads_at_once(shop: Shop) -> None:
    """The labels dialog and a dropped PDF each have a worker of their own."""
    piece = lay_out(shop, "Heron", "2 2 3", pulls=1)
    assert isinstance(piece, Piece)
    sheet = make_sheet(shop, piece.tag)
    assert isinstance(sheet, Sheet)
    with ThreadPoolExecutor(4) as pool:
        readings = list(pool.map(read_pdf, [sheet.pdf] * 8))
    for found in readings:
        assert {f.text for f in found} == set(sheet.codes)
