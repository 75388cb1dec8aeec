"""A hub in a process of its own, as the window holds it."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from PySide6.QtCore import QElapsedTimer, QObject, QProcess, QProcessEnvironment, Signal

from partsbench.core.outcomes import Refused

STARTS_WITHIN_MS = 30_000
ANSWERS_WITHIN_MS = 5_000
ENDS_WITHIN_MS = 10_000
SILENT = Refused("The hub does not answer: switch it off and on again.")


class HubApart(QObject):
    """Switched on with `start`; it ends with `stop`, or with the window however that ends."""

    recorded = Signal()
    """A phone recorded something."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.url = self.hexed = self.words = ""
        self._heard = b""
        self._answers: list[dict[str, Any]] = []
        self._process = QProcess(self)
        self._process.setProcessChannelMode(QProcess.ProcessChannelMode.ForwardedErrorChannel)
        self._process.readyReadStandardOutput.connect(self.on_heard)

    @property
    def is_on(self) -> bool:
        return bool(self.url) and self._process.state() is QProcess.ProcessState.Running

    def start(self, book: Path, host: str, port: int, who: str) -> Refused | None:
        """Switch it on; why it cannot be."""
        environment = QProcessEnvironment.systemEnvironment()
        environment.insert("PYTHONPATH", _where_we_are(environment.value("PYTHONPATH")))
        self._process.setProcessEnvironment(environment)
        words = ["-m", "partsbench.hub.apart", str(book), host, str(port), who]
        self._process.start(sys.executable, words)
        stands = self._answer(STARTS_WITHIN_MS)
        if "url" not in stands:
            self.stop()
            return Refused(stands["fault"]) if "fault" in stands else SILENT
        self.url, self.hexed, self.words = stands["url"], stands["hexed"], stands["words"]
        return None

    def offer(self) -> str | Refused:
        """The address for a QR code, for one pairing; the one before serves no more."""
        if not self.is_on:
            return SILENT
        self._process.write(b"offer\n")
        said = self._answer(ANSWERS_WITHIN_MS)
        return str(said["offer"]) if "offer" in said else SILENT

    def stop(self) -> None:
        """Switch it off: what was taken is in the book, and phones keep what comes after."""
        self.url = ""
        self._process.closeWriteChannel()
        if self._process.state() is QProcess.ProcessState.NotRunning:
            return
        if not self._process.waitForFinished(ENDS_WITHIN_MS):
            self._process.kill()
            self._process.waitForFinished(ENDS_WITHIN_MS)

    def kill(self) -> None:
        """As when its process dies by itself."""
        self._process.kill()

    def on_heard(self) -> None:
        self._heard += bytes(self._process.readAllStandardOutput().data())
        *lines, self._heard = self._heard.split(b"\n")
        for line in lines:
            said = json.loads(line)
            if "recorded" in said:
                self.recorded.emit()
            else:
                self._answers.append(said)

    def _answer(self, within_ms: int) -> dict[str, Any]:
        """The next answer; {} where none came, or the process ended."""
        clock = QElapsedTimer()
        clock.start()
        while not self._answers and clock.elapsed() < within_ms:
            if not self._process.waitForReadyRead(within_ms) and not self._answers:
                break
            self.on_heard()
        return self._answers.pop(0) if self._answers else {}


def _where_we_are(others: str) -> str:
    """This program is found by the new process wherever it was started from."""
    import os

    import partsbench

    ours = str(Path(partsbench.__file__).parents[1])
    return os.pathsep.join(filter(None, (ours, others)))
