"""A film of a printed label is read as that label, once, through the camera's own pipe."""

from __future__ import annotations

from pathlib import Path

from PIL import Image, ImageSequence

from partsbench.core.outcomes import Refused
from partsbench.services.heard.camera import Frame, Watched, look
from partsbench.services.heard.film import EMPTY_S, FRAME_MS, SIZE, film_of
from partsbench.services.shop import Shop
from partsbench.services.shown import labels
from tests.support.shops import code, heron


def page(shop: Shop, tag: str) -> bytes:
    sheet = labels.make_sheet(shop, tag, stock=labels.usual_stock(shop))
    assert not isinstance(sheet, Refused)
    return labels.page_pictures(sheet.pdf, 200)[0]


def test_the_label_counts_once_after_the_empty_bench(shop: Shop, tmp_path: Path) -> None:
    piece = heron(shop)
    made = film_of(page(shop, piece.tag), code(piece, "D3"), tmp_path / "film.gif")
    watched, counted = Watched(), []
    with Image.open(tmp_path / "film.gif") as opened:
        frames = [frame.convert("L") for frame in ImageSequence.Iterator(opened)]
        assert opened.size == SIZE
    assert len(frames) > 20
    assert isinstance(made, int)
    for number, frame in enumerate(frames):
        at = number * FRAME_MS / 1000
        counts = watched.take(look(Frame(*SIZE, frame.tobytes(), at)))
        counted += [(text, at) for text in (*counts.new, *counts.again)]
    assert [text for text, _ in counted] == [code(piece, "D3")]
    assert counted[0][1] < EMPTY_S + 0.3


def test_a_label_that_is_not_on_the_page_makes_no_film(shop: Shop, tmp_path: Path) -> None:
    piece = heron(shop)
    refused = film_of(page(shop, piece.tag), "ZZZ9-D01A0", tmp_path / "film.gif")
    assert refused == Refused("ZZZ9-D01A0 is not read on the page.")
    assert not (tmp_path / "film.gif").exists()
