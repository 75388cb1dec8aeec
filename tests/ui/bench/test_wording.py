from __future__ import annotations

import pytest

from partsbench.ui.bench.wording import brief


@pytest.mark.parametrize(
    ("sentence", "short"),
    [
        ("Heron D1 washed (front)", "Heron D1 washed (front)"),
        ("Heron D1 washed (front, back)", "Heron D1 washed (front, back)"),
        ("Heron D1 washed (front, back, sides): again", "Heron D1 washed (3 faces): again"),
        ("Heron D1 taken out", "Heron D1 taken out"),
    ],
)
def test_long_lists_of_faces_are_counted(sentence: str, short: str) -> None:
    assert brief(sentence) == short
