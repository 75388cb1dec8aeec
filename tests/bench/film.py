"""Labels held before a camera: how many are read, how soon, and whether any is read wrong or twice.

    python -m tests.bench.film [--each 8] [--played]

Films of 960 × 540 at 15 frames a second (`tests.support.film`). Each label's time to the answer is
from its first whole frame to the frame in which it counts, and the look itself is timed. A speed is
told in symbols' modules smeared over the exposure: at 10 ms and 3.6 pixels a module, 0.3 m/s is 5.
"""

from __future__ import annotations

import argparse
import os
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from partsbench.services.heard.camera import Frame, Watched, look, look_hard
from partsbench.services.heard.reading import was_read_plainly
from tests.support.books import shop_codes
from tests.support.film import FPS, HIGH, WIDE, Film, Label, ruined_label, write_avi

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@dataclass
class Told:
    """What came of one film."""

    counted: list[tuple[float, str]] = field(default_factory=list)
    asked: list[tuple[float, str]] = field(default_factory=list)
    again: list[tuple[float, str]] = field(default_factory=list)
    looks: list[float] = field(default_factory=list)
    hard: list[float] = field(default_factory=list)


Watch = Callable[[Film, list[str]], Told]


@dataclass
class Watcher:
    """A camera's pipe with nobody who answers a question."""

    book: list[str]
    watched: Watched = field(default_factory=Watched)
    told: Told = field(default_factory=Told)

    def see(self, frame: Frame) -> None:
        start, told = time.perf_counter(), self.told
        sight = look(frame)
        counts = self.watched.take(sight)
        told.counted += [(frame.at, code) for code in counts.new]
        told.again += [(frame.at, code) for code in counts.again]
        told.looks.append(time.perf_counter() - start)
        if self.watched.wants_more(frame.at):
            self._see_hard(frame)

    def _see_hard(self, frame: Frame) -> None:
        start, told, watched = time.perf_counter(), self.told, self.watched
        glance = look_hard(frame, self.book)
        told.hard.append(time.perf_counter() - start)
        texts = [s.text for s in glance.symbols]
        if texts:
            watched.still.settle()
        elif watched.still.worn_out:
            watched.held.nothing_left()
        sure = len(set(texts)) == 1 and was_read_plainly(glance) and bool(glance.texts)
        new = watched.held.found(texts, asked=not sure)
        (told.counted if sure else told.asked).extend((frame.at, code) for code in new.new)
        told.again += [(frame.at, code) for code in new.again]


def watch(film: Film, book: list[str]) -> Told:
    """What a camera makes of a film, picture by picture."""
    watcher = Watcher(book)
    for picture, at in film.timed():
        watcher.see(Frame(WIDE, HIGH, picture.tobytes(), at))
    return watcher.told


def watch_played(film: Film, book: list[str]) -> Told:
    """The same of a file that QtMultimedia plays in its own time into the camera's own sink; what
    comes while a picture is looked at is not seen."""
    from PySide6.QtCore import QCoreApplication, QEventLoop
    from PySide6.QtGui import QGuiApplication, QImage

    from partsbench.ui.camera.camera import frame_of
    from tests.support.media_frames import media_frames

    app = QCoreApplication.instance() or QGuiApplication([])
    watcher, begun = Watcher(book), [0.0]
    with tempfile.TemporaryDirectory() as folder:
        write_avi(film, Path(folder) / "film.avi")
        frames = media_frames(app, Path(folder) / "film.avi")

        def see(image: QImage, at: float) -> None:
            begun[0] = begun[0] or at
            watcher.see(frame_of(image, at - begun[0]))

        frames.came.connect(see)
        frames.start()
        while not frames.ended:  # type: ignore[attr-defined]
            app.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
        frames.stop()
    return watcher.told


def films(codes: list[str]) -> Iterator[tuple[str, Callable[[str, int], Film]]]:
    """Each with its name; it is made for a code and a seed."""
    for seconds in (6.0, 3.0, 2.0, 1.5):
        smear = round(2 * WIDE / (seconds * FPS) / 10)
        yield (
            f"carried past, {2 * WIDE / seconds:.0f} px/s, smeared {smear} px",
            lambda code, seed, s=seconds: Film(seed=seed).carried_past(code, s).empty(0.3),
        )
    for turn in (0, 20, 45, 70):
        cut = ", both symbols cut by the edge" if turn > 60 else ""
        yield (
            f"held, turned {turn}°{cut}",
            lambda code, seed, t=turn: Film(seed=seed).empty(0.2).still(2.5, Label(code, turn=t)),
        )
    other = codes[-1]
    yield (
        "two at once",
        lambda code, seed: Film(seed=seed).still(2, Label(code, y=140), Label(other, y=400)),
    )
    for severity in (2, 3):
        yield (
            f"ruined, severity {severity}, held 6 s",
            lambda code, seed, s=severity: (
                Film(seed=seed).empty(0.2).still(6, ruined_label(code, 700 + seed, s))
            ),
        )
    yield "none for a minute", lambda _, seed: Film(seed=seed, fps=4).empty(60)


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--each", type=int, default=8, help="films of each kind")
    options.add_argument("--played", action="store_true", help="through QtMultimedia")
    asked = options.parse_args()
    each, how = asked.each, watch_played if asked.played else watch
    codes = shop_codes()
    book = codes[:300]
    print("| film | counted | asked | wrong counted | wrong asked | twice | s to the answer |"
          " look, ms | close look, s |")  # fmt: skip
    print("|" + " --- |" * 9)
    for name, made in films(codes):
        print(_row(name, made, codes[:each], codes[-1], book, how), flush=True)


def _row(
    name: str, made: Callable[[str, int], Film], codes: list[str], other: str, book: list[str],
    how: Watch,
) -> str:  # fmt: skip
    read = asked = wrong = wrong_asked = twice = expected = 0
    waits: list[float] = []
    looks: list[float] = []
    hard: list[float] = []
    for seed, code in enumerate(codes):
        film = made(code, seed)
        told = how(film, [*book, other])
        there = {text for showing in film.showing for text in showing}
        expected += len(there)
        texts = [text for _, text in told.counted]
        read += len(there & set(texts))
        asked += len(there & {text for _, text in told.asked})
        wrong += len(set(texts) - there)
        wrong_asked += len({text for _, text in told.asked} - there)
        twice += len(texts) - len(set(texts))
        waits += [
            at - _whole(film, text) for at, text in told.counted + told.asked if text in there
        ]
        looks += told.looks
        hard += told.hard
    cells = [f"{read} of {expected}", asked, wrong, wrong_asked, twice, _middle(waits, 2)]
    cells += [_middle([1000 * s for s in looks], 1), _middle(hard, 2)]
    return "| " + " | ".join(map(str, [name, *cells])) + " |"


def _whole(film: Film, code: str) -> float:
    """When the label is first in the picture, in s."""
    first = next(n for n, showing in enumerate(film.showing) if code in showing)
    return first / film.fps


def _middle(values: list[float], places: int) -> str:
    return f"{statistics.median(values):.{places}f}" if values else "–"


if __name__ == "__main__":
    main()
