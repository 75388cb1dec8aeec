"""Why PySide6 is pinned below 6.12: what an emit from Python may not do.

Seen with PySide6-Essentials 6.12.0 on Python 3.11.7: each `Signal.emit()` from Python dropped one
reference to `True`. 50 emits left 50 fewer, and the process died in `bool_dealloc` after 568. From
Python 3.12 on `True` is never freed (PEP 683), which would hide it. This runs the reproducer on
whatever release is installed, so that the pin is moved only to one that passes.
"""

from __future__ import annotations

import subprocess
import sys

REPRODUCER = """
import sys
from PySide6.QtCore import QCoreApplication, QObject, Signal

class Source(QObject):
    sent = Signal(int)

def heard(number):
    pass

app = QCoreApplication([])
source = Source()
source.sent.connect(heard)
source.sent.emit(0)
before = sys.getrefcount(True)
for number in range(50):
    source.sent.emit(number)
print(sys.getrefcount(True) - before)
for number in range(5000):
    source.sent.emit(number)
print("alive")
"""


def test_emits_from_python_lose_no_reference() -> None:
    done = subprocess.run(
        [sys.executable, "-c", REPRODUCER], capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 0, done.stderr
    lost, alive = done.stdout.split()
    assert abs(int(lost)) < 10
    assert alive == "alive"
