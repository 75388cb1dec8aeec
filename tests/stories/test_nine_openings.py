"""The whole finish of a nine-opening piece by scanner alone, through the real window."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QPushButton

from partsbench.core.outcomes import Answer
from partsbench.services.acts import history
from partsbench.services.books import restart
from partsbench.services.known.state import piece_state
from partsbench.ui.restart_bar import RestartBar
from tests.services.test_nine_openings import (
    load_runs_dry,
    nine_openings,
    run_goes_back,
    sanded_too_early,
    shop_piece,
    taken_out,
    window_missed,
    worked_to_the_end,
    wrong_cup,
)
from tests.stories.bench_story import Story
from tests.support.at_the_window import WindowWorker
from tests.support.replay import replayed, rows


def at_the_bench(story: Story, worker: WindowWorker | None = None) -> WindowWorker:
    """Somebody with a scanner before the window; after a power cut with what was in hand."""
    assert story.window is not None and story.hands is not None
    tag = story.tags["Heron"]
    story.window.show_page("bench", tag)
    cups, scans = (worker.cups, worker.scans) if worker else ({}, 0)
    return WindowWorker(
        story.shop, story.clock, tag, cups, scans, window=story.window, hands=story.hands
    )


def power_goes(story: Story, worker: WindowWorker) -> WindowWorker:
    """The window is gone; the next one shows the last record and asks, and is answered."""
    before = rows(story.shop.book)
    story.clock.pass_time(minutes=38)
    story.power_cut()
    assert rows(story.shop.book) == before
    assert story.window is not None
    bar = story.window.findChild(RestartBar)
    assert bar is not None and bar.isVisible()
    assert "Anything done between" in bar.question.text()
    assert "all except D8, D9" in bar.question.text()
    cold = bar.findChild(QPushButton, "restart-cold")
    assert cold is not None
    cold.click()
    assert restart.after_restart(story.shop) is None
    return at_the_bench(story, worker)


@pytest.mark.long
def test_a_whole_finish_through_the_window_with_all_that_goes_wrong(
    story: Story, tmp_path: Path
) -> None:
    piece = nine_openings(story.shop)
    story.tags["Heron"], story.at_work = piece.tag, "Heron"
    worker = at_the_bench(story)
    taken_out(worker, story.shop)
    sanded_too_early(worker, story.clock)
    window_missed(worker, story.clock)
    load_runs_dry(worker, story.shop)
    words = {outcome.answer for outcome in worker.said}
    worker = power_goes(story, worker)
    run_goes_back(worker)
    wrong_cup(worker)
    worked_to_the_end(worker)

    state = piece_state(story.shop, shop_piece(story.shop, piece.tag))
    faces = [(s, f) for s, p in state.parts.items() for f in p.faces if f.path.steps]
    assert len(faces) > 30
    assert [f"{s} {f.name}" for s, f in faces if not f.progress.finished] == []
    assert worker.scans > 300
    book = story.shop.book
    assert replayed(book, tmp_path / "again.partsbench") == rows(book)
    told = " ".join(e.sentence for e in history.history(story.shop, piece.tag, limit=2000))
    for word in ("insisted", "sent back", "all except D8, D9", "masked", "unmasked"):
        assert word in told, word
    words |= {outcome.answer for outcome in worker.said}
    assert words == {Answer.GO, Answer.WAIT, Answer.LATE, Answer.STOP}
    first = history.history(story.shop, piece.tag, 2000)[-1].at
    assert story.clock.now - first > timedelta(days=4)
