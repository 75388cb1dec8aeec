from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSize
from shiboken6 import isValid

from partsbench.services.shop import Shop
from partsbench.ui.pictures import standing
from partsbench.ui.theme import Theme
from tests.support.shops import heron


def test_a_window_that_was_pictured_is_gone_before_the_next_one(
    shop: Shop, tmp_path: Path, theme: Theme
) -> None:
    memory = tmp_path / "pictured.ini"
    with standing(shop, memory, heron(shop).tag, "bench", QSize(1280, 720)) as window:
        page = window.page()
        assert isValid(window) and page.isVisible()
    assert not isValid(window) and not isValid(page), "left to be taken down in any order"
    assert not memory.exists()
