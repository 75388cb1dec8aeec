"""The band of the bench that says, as long as it is so, that every scan records at once."""

from __future__ import annotations

from partsbench.ui.band import Band
from partsbench.ui.bench.keep import KeepRecording


class KeepBand(Band):
    """Shown while the verb of the keyboard is on."""

    def __init__(self) -> None:
        super().__init__("keep-band")

    def show_keep(self, keep: KeepRecording) -> None:
        self.show_words(f"KEEP RECORDING: {keep.words}" if keep.on else "")
