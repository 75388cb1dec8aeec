"""Widgets that are let go of while other threads are at work: in a process that may die of it."""

from __future__ import annotations

import gc
import subprocess
import sys
from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from partsbench.ui.gathering import Gathering

LET_GO = """
import threading
from PySide6.QtWidgets import QApplication, QDialog, QLabel, QVBoxLayout
from partsbench.ui.gathering import Gathering

class Ring(QDialog):
    def __init__(self):
        super().__init__()
        QVBoxLayout(self).addWidget(QLabel("a line"))
        self.itself = self

def at_work():
    while not done.is_set():
        held = [[n] for n in range(2000)]

app, done = QApplication([]), threading.Event()
gathering = Gathering(app)
if "off" in __import__("sys").argv:
    gathering.stop()
worker = threading.Thread(target=at_work)
worker.start()
for n in range(3000):
    Ring().show()
    if n % 20 == 0:
        app.processEvents()
done.set()
worker.join()
import gc
left = sum(isinstance(each, Ring) for each in gc.get_objects())
print("left", left)
"""


@pytest.fixture
def gathering(qtbot: QtBot) -> Iterator[Gathering]:
    made = Gathering()
    yield made
    made.stop()


def test_a_widget_in_a_ring_is_not_taken_down_by_another_thread() -> None:
    ran = subprocess.run(
        [sys.executable, "-c", LET_GO], check=False, capture_output=True, text=True, timeout=120
    )
    assert ran.returncode == 0, ran.stderr[-2000:]
    assert int(ran.stdout.split()[-1]) < 3000


def test_it_gathers_as_python_does_and_nobody_else(gathering: Gathering) -> None:
    assert not gc.isenabled()
    gathering.on_beat()
    held = [[n] for n in range(2 * gc.get_threshold()[0])]
    assert gc.get_count()[0] > gc.get_threshold()[0]
    gathering.on_beat()
    assert gc.get_count()[0] < gc.get_threshold()[0]
    del held
    gathering.stop()
    assert gc.isenabled()


def test_the_oldest_generation_has_its_turn(gathering: Gathering) -> None:
    for _ in range((gc.get_threshold()[1] + 2) * (gc.get_threshold()[2] + 2)):
        gc.collect(0)
        gathering.on_beat()
    assert gc.get_count()[2] <= gc.get_threshold()[2]
