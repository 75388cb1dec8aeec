"""Whole jobs in plain sentences, through the real window."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.bench_story import Story
from tests.stories.steps import run, sentences

STORIES = sorted(Path(__file__).parent.glob("*.txt"))


@pytest.mark.parametrize("file", STORIES, ids=[f.stem for f in STORIES])
def test_story(file: Path, story: Story) -> None:
    for sentence in sentences(file):
        run(story, sentence)


def test_there_are_stories() -> None:
    assert len(STORIES) >= 10
    assert all(len(sentences(file)) > 5 for file in STORIES)
