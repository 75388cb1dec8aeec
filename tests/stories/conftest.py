from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from partsbench.ui import theme as themes
from tests.stories.bench_story import Story
from tests.support.clock import SetClock


@pytest.fixture
def story(tmp_path: Path, clock: SetClock, qtbot: QtBot, qapp: object) -> Iterator[Story]:
    """A shop with an empty book, its window, a scanner and somebody at the keys."""
    themes.use(qapp, themes.LIGHT)
    told = Story(tmp_path, clock, qtbot)
    told.open_window()
    yield told
    told.close()
