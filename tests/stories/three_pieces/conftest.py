"""The stories are kept as text, so their clock on the wall is the same everywhere."""

from __future__ import annotations

import time
from collections.abc import Iterator

import pytest


@pytest.fixture(autouse=True)
def one_time_zone(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    with monkeypatch.context() as patched:
        patched.setenv("TZ", "UTC")
        time.tzset()
        yield
    time.tzset()
