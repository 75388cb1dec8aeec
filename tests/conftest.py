"""What every test may ask for: a clock that can be set, and a shop with an empty book."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from partsbench.services.shop import Shop, open_shop
from tests.support.clock import SetClock

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("QT_SCALE_FACTOR", "1")
# As `partsbench.reading` has it; some tests load numpy before that.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# The same examples in every run: what chance finds must not fail a change that has no part in it.
# `--hypothesis-profile=searching` looks for new ones.
settings.register_profile("seeded", derandomize=True, deadline=None)
settings.register_profile("searching", deadline=None)
settings.load_profile("seeded")


@pytest.fixture
def clock() -> SetClock:
    return SetClock()


@pytest.fixture(autouse=True)
def gathered_in_one_thread(request: pytest.FixtureRequest) -> Iterator[None]:
    """As in the program (`ui/gathering.py`): while a window is there, no other thread gathers what
    nobody holds any more."""
    if "qapp" not in request.fixturenames:
        yield
        return
    gc.disable()
    yield
    gc.enable()


@pytest.fixture
def shop(tmp_path: Path, clock: SetClock) -> Iterator[Shop]:
    opened = open_shop(tmp_path / "b.partsbench", clock, "Wren")
    assert isinstance(opened, Shop), opened
    yield opened
    opened.close()
