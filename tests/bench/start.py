"""Start to the first painted front, and memory then: `python -m tests.bench.start [--book BIG]`.

Three whole processes in turn, again and again: a bare PySide6 window with one label; our window on
a book of one piece; our window on a book of ten years. Each tells when it painted, and how much
memory it held. What is printed are medians and their ratios within this one run. Then the command
`pieces` against a Python that only imports sqlite3 and click.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

BARE, ONE, MANY = "bare window", "book of one piece", "book of ten years"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=7)
    parser.add_argument("--book", type=Path, help="a big book made before")
    parser.add_argument("--paint", nargs=3, help=argparse.SUPPRESS)
    wanted = parser.parse_args()
    if wanted.paint:
        _paint(*wanted.paint)
        return
    with tempfile.TemporaryDirectory() as folder:
        starts = _starts(Path(folder), wanted.book)
        times: dict[str, list[float]] = {name: [] for name in starts}
        sizes: dict[str, list[int]] = {name: [] for name in starts}
        for run in range(wanted.runs + 1):
            for name, words in starts.items():
                took, size = _run(words)
                if run:  # the first run of each warms the disk
                    times[name].append(took)
                    sizes[name].append(size)
        listed = _listing(Path(folder) / "one.partsbench", wanted.runs)
    bare_time, bare_size = median(times[BARE]), median(sizes[BARE])
    for name in starts:
        took = median(times[name])
        print(f"{name:18} {took * 1e3:6.0f} ms, {took / bare_time:.2f}"
              f" of bare; {median(sizes[name]) / 1024:6.0f} MiB, "
              f"{median(sizes[name]) / bare_size:.2f} of bare")  # fmt: skip
    print(f"ten years against one piece: {median(times[MANY]) / median(times[ONE]):.2f}")
    print(listed)


def _listing(book: Path, runs: int) -> str:
    bare = [sys.executable, "-c", "import sqlite3, click"]
    ours = [sys.executable, "-m", "partsbench", "--book", str(book), "pieces"]
    times: dict[bool, list[float]] = {True: [], False: []}
    for run in range(runs + 1):
        for words in (bare, ours):
            start = perf_counter()
            subprocess.run(words, stdout=subprocess.DEVNULL, env=_compiled(), check=True)
            if run:
                times[words is ours].append(perf_counter() - start)
    took, least = median(times[True]), median(times[False])
    return f"pieces: {took * 1e3:.0f} ms, {took / least:.2f} of python with sqlite3 and click"


def _compiled() -> dict[str, str]:
    """As it is for a user: compiled once, by the first run, which is not counted."""
    env = os.environ | {"QT_QPA_PLATFORM": "offscreen"}
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    return env


def _starts(folder: Path, big: Path | None) -> dict[str, list[str]]:
    from partsbench.services.books import pieces
    from partsbench.services.shop import Shop, open_shop
    from tests.support import big_book

    one, many = folder / "one.partsbench", folder / "many.partsbench"
    if big:
        many.write_bytes(big.read_bytes())
    else:
        big_book.make(many)
    words = {BARE: ["bare", "-", "-"]}
    for name, path in ((ONE, one), (MANY, many)):
        shop = open_shop(path)
        assert isinstance(shop, Shop), shop
        piece = pieces.lay_out(shop, "Heron", "2 2 3", legs=4, pulls=2, top=True)
        words[name] = [str(path), str(folder / f"{path.stem}.ini"), piece.tag]
        shop.close()
    return words


def _run(words: list[str]) -> tuple[float, int]:
    """Seconds from the start of a process to its paint, and its peak memory in KiB."""
    start = perf_counter()
    with subprocess.Popen(
        [sys.executable, "-m", "tests.bench.start", "--paint", *words],
        stdout=subprocess.PIPE,
        env=_compiled(),
        text=True,
    ) as run:
        assert run.stdout
        line = run.stdout.readline()
        took = perf_counter() - start
        assert run.wait(60) == 0, line
    return took, int(line.split()[1])


def _paint(book: str, settings: str, tag: str) -> None:
    if book != "bare":
        # As `partsbench.__main__` does it. PySide6 reads the text of every module that is loaded
        # after it, in search of its own features.
        import partsbench.app
    from PySide6.QtWidgets import QApplication, QLabel, QMainWindow

    app = QApplication(["start"])
    if book == "bare":

        class Bare(QLabel):
            def paintEvent(self, event: object) -> None:
                _painted()

        window = QMainWindow()
        window.setCentralWidget(Bare("A bare window"))
        window.resize(1280, 760)
        window.show()
        app.exec()
        return
    from partsbench.ui.piece_view.view import PieceView
    from partsbench.ui.settings import Settings

    PieceView.paintEvent = lambda *_: _painted()  # type: ignore[method-assign]
    at = Settings(Path(settings))
    at.put("at/tag", tag)
    at.put("at/page", "teardown")
    partsbench.app.run(Path(book), settings_file=Path(settings))


def _painted() -> None:
    """Told by what is painted itself: a filter that looks at every event of the program makes
    PySide6 look up classes that no program names, and 25 ms of it were the filter's."""
    sys.stdout.write(f"painted {_peak_kib()}\n")
    sys.stdout.flush()
    os._exit(0)


def _peak_kib() -> int:
    """The most memory held so far. Not by getrusage: there a child starts with its parent's."""
    status = Path("/proc/self/status").read_text()
    return int(status.split("VmHWM:")[1].split()[0])


if __name__ == "__main__":
    main()
