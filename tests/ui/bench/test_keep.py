from __future__ import annotations

from pytestqt.qtbot import QtBot

from partsbench.ui.bench.keep import MOST_MINUTES, USUAL_MINUTES, KeepRecording


def test_it_goes_off_by_itself_when_left_idle(qtbot: QtBot) -> None:
    keep = KeepRecording()
    keep.set_minutes(0.001)
    with qtbot.waitSignal(keep.ran_out, timeout=2000):
        keep.start("", "whatever comes next")
    assert not keep.on


def test_a_part_counts_once_in_a_run(qapp: object) -> None:
    keep = KeepRecording()
    keep.start("wash", "washed")
    assert keep.counts("D1")
    keep.recorded("D1")
    assert not keep.counts("D1")
    keep.start("wash", "washed")
    assert keep.counts("D1")


def test_minutes_are_settable_within_bounds(qapp: object) -> None:
    keep = KeepRecording()
    assert keep.minutes == USUAL_MINUTES
    keep.set_minutes(12)
    assert keep.minutes == 12
    keep.set_minutes(10_000)
    assert keep.minutes == MOST_MINUTES


def test_stopped_by_hand_it_does_not_run_out(qtbot: QtBot) -> None:
    keep = KeepRecording()
    keep.set_minutes(0.0005)
    keep.start("", "")
    keep.stop()
    with qtbot.assertNotEmitted(keep.ran_out, wait=80):
        assert not keep.on
