"""The small pictures show what the corners say: dark symbol inside, at any turn, page and size."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from partsbench.reading.found import Corners
from partsbench.reading.pictures import read_file, read_picture
from partsbench.reading.views import LONGEST_PX, View, views_of
from tests.support.labels import label_picture

CODE = "K7Q4-D05AK"


def pixels(view: View) -> np.ndarray:
    return np.frombuffer(view.rgb, np.uint8).reshape(view.height, view.width, 3)


def inside(view: View, corners: Corners) -> np.ndarray:
    """The grey pixels of the view within the upright box of the corners."""
    xs = [round((x - view.left) / view.scale) for x, _ in corners]
    ys = [round((y - view.top) / view.scale) for _, y in corners]
    return pixels(view)[min(ys) : max(ys), min(xs) : max(xs)].mean(axis=2)


def is_a_symbol(grey: np.ndarray) -> bool:
    """About half of a symbol is dark; the paper beside it is not."""
    return 0.35 < float((grey < 128).mean()) < 0.65


def on_a_table(size: tuple[int, int], place: tuple[int, int]) -> Image.Image:
    table = Image.new("RGB", size, (190, 150, 90))
    table.paste(Image.fromarray(label_picture(CODE)).reduce(3), place)
    return table


def test_a_large_photograph_is_shown_small_and_its_label_from_close_by(tmp_path: Path) -> None:
    file = tmp_path / "photo.png"
    on_a_table((4000, 3000), (2200, 1700)).save(file)
    found = read_file(file)
    views = views_of(file, found)
    (page,) = views.pages
    assert (page.width, page.height, page.scale) == (1334, 1000, 3.0)
    assert max(page.width, page.height) <= LONGEST_PX
    assert [is_a_symbol(inside(page, f.corners)) for f in found] == [True, True]
    assert tuple(pixels(page)[5, 5]) == (190, 150, 90)
    assert views.close is not None
    assert is_a_symbol(inside(views.close, found[0].corners))
    assert (views.close.left, views.close.top) > (0, 0)
    assert views.close.scale < page.scale


@pytest.mark.parametrize("turn", [1, 3, 6, 8])
def test_a_photograph_is_shown_as_it_was_held(turn: int) -> None:
    """EXIF orientation: corners and view are both of the upright picture."""
    exif = Image.Exif()
    exif[0x0112] = turn
    held = BytesIO()
    on_a_table((1500, 1000), (100, 150)).save(held, "JPEG", quality=95, exif=exif)
    found = read_picture(held.getvalue())
    assert found
    (page,) = views_of(held.getvalue(), found).pages
    assert (page.width > page.height) == (turn in (1, 3))
    assert all(is_a_symbol(inside(page, f.corners)) for f in found)


def test_only_pages_with_a_label_are_shown(tmp_path: Path) -> None:
    blank = Image.new("RGB", (1700, 1000), "white")
    for name, options in (("a.pdf", {"resolution": 200}), ("a.tiff", {})):
        pages = [blank, on_a_table((1700, 1000), (50, 60)), blank, on_a_table((1700, 1000), (9, 9))]
        file = tmp_path / name
        pages[0].save(file, save_all=True, append_images=pages[1:], **options)
        found = read_file(file)
        views = views_of(file, found)
        assert [view.page for view in views.pages] == [2, 4]
        for view in views.pages:
            assert all(is_a_symbol(inside(view, f.corners)) for f in found if f.page == view.page)
        assert views.close is not None
        assert views.close.page == 2


def test_a_clear_picture_is_shown_on_white() -> None:
    clear = Image.new("RGBA", (1400, 900), (0, 0, 0, 0))
    clear.paste(Image.fromarray(label_picture(CODE)).reduce(3).convert("RGBA"), (300, 200))
    data = BytesIO()
    clear.save(data, "PNG")
    (page,) = views_of(data.getvalue(), read_picture(data.getvalue())).pages
    assert tuple(pixels(page)[2, 2]) == (255, 255, 255)


def test_nothing_found_is_nothing_shown() -> None:
    views = views_of(b"", [])
    assert (views.pages, views.close) == ((), None)
