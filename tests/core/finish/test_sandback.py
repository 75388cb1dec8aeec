from __future__ import annotations

from partsbench.core.finish.findings import Level
from partsbench.core.finish.progress import Mark, MarkKind, Progress, progress
from partsbench.core.finish.sandback import check_sand_back, sand_backs
from tests.support.faces import START, path, through

STAIN = path("stain")


def after(now: Progress, *words: str) -> Progress:
    """`now`, then "back X" sends it back and "X" does that step."""
    marks = list(now.history)
    for word in words:
        back, _, key = word.rpartition(" ")
        marks.append(Mark(key, START, MarkKind.SENT_BACK if back else MarkKind.DONE))
    found = progress(now.path, marks)
    assert not found.ignored
    return found


AGAIN = ("back sand_150", "sand_150", "sand_220", "stain")


def test_a_face_sent_back_to_bare_wood_is_counted():
    stained = through(STAIN, "stain")
    assert sand_backs(stained) == 0
    assert sand_backs(after(stained, *AGAIN)) == 1
    assert sand_backs(after(stained, *AGAIN, *AGAIN)) == 2
    assert sand_backs(after(stained, "back wash")) == 1


def test_a_step_back_that_takes_no_finish_off_is_not_counted():
    assert sand_backs(after(through(STAIN, "sand_220"), "back sand_150")) == 0
    assert sand_backs(after(through(STAIN, "clear_2"), "back clear_2")) == 0
    assert sand_backs(after(through(STAIN, "clear_2"), "back sand_320_1")) == 0
    assert sand_backs(after(through(path("paint"), "colour_2"), "back sand_220")) == 0


def test_a_third_time_on_veneer_is_warned_of_with_what_else_to_do():
    twice = after(through(STAIN, "stain"), *AGAIN, *AGAIN)
    found = check_sand_back(twice, "sand_150", veneer=True)
    assert found is not None
    assert found.level is Level.WARN
    assert "tone it or change the path to paint" in found.reason


def test_solid_wood_a_second_time_or_a_later_step_is_let_pass():
    twice = after(through(STAIN, "stain"), *AGAIN, *AGAIN)
    once = after(through(STAIN, "stain"), *AGAIN)
    assert check_sand_back(twice, "sand_150", veneer=False) is None
    assert check_sand_back(once, "sand_150", veneer=True) is None
    assert check_sand_back(twice, "stain", veneer=True) is None
