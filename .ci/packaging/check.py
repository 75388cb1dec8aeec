"""Whether the built program works: its command line, its window with a scan, and its file type.

check.py PROGRAM-FOLDER ARCHIVE WORK-FOLDER: says what was seen, with sizes and start times beside
those of `python -m partsbench` in the same run; exit code 1 at the first thing that is not so.
"""

from __future__ import annotations

import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

ROUNDS = 5
PATIENCE_S = 60.0
SCAN_AGAIN_S = 8.0
"""A window is seen before it takes keys: after so long a scan that went nowhere is done again."""
PIECE, PART = "Quill", "D1"
"""What is scanned: in the sample's book this piece still stands whole."""


class WrongError(Exception):
    """Something is not as it has to be; the sentence says what."""


def hold(so: bool, sentence: str) -> None:
    if not so:
        raise WrongError(sentence)
    print(f"  {sentence}", flush=True)


def told(*words: object, env: dict[str, str] | None = None) -> str:
    done = subprocess.run(
        [str(w) for w in words], capture_output=True, text=True, check=False, env=env,
        encoding="utf-8", timeout=300,
    )  # fmt: skip
    if done.returncode:
        raise WrongError(f"{words[0]} {words[1]} ended with {done.returncode}: {done.stderr}")
    return done.stdout


def until(look: Callable[[], bool], what: str) -> float:
    """Seconds until it is so."""
    began = time.monotonic()
    while not look():
        if time.monotonic() - began > PATIENCE_S:
            raise WrongError(f"{what}: not within {PATIENCE_S:.0f} s")
        time.sleep(0.01)
    return time.monotonic() - began


# The command line


def command_line(program: Path, folder: Path) -> Path:
    """The sample's whole job, and what it left; its book."""
    said = told(program, "demo", "--out", folder, "--no-window")
    hold("Read 53 of 53 codes back" in said, "The demo prints labels and reads all of them back")
    hold("Picture of the bench page" in said, "and draws the pages of the window")
    book = folder / "demo.partsbench"
    hold(PIECE in told(program, book, "pieces"), f"`partsbench {book.name} pieces` lists {PIECE}")
    hold("Undo" in told(program, "help", "window"), "The pages of help are there")
    return book


def whole(program: Path) -> None:
    """No plugin of Qt's lacks a library that was left out."""
    plugins = (program.parent / "_internal/PySide6/Qt/plugins").rglob("*.so")
    lacks = {
        line.split()[0]
        for plugin in plugins
        for line in told("ldd", plugin).splitlines()
        if "not found" in line
    }
    hold(not lacks, f"Qt's plugins find all their libraries: {len(lacks)} missing {sorted(lacks)}")


# The window


@contextmanager
def screen() -> Iterator[dict[str, str]]:
    """An environment with a screen of its own, and a book's own memory of the window."""
    read, write = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(write), "-screen", "0", "1280x720x24"], pass_fds=[write],
        stderr=subprocess.DEVNULL,
    )  # fmt: skip
    os.close(write)
    with os.fdopen(read) as told_number, tempfile.TemporaryDirectory() as home:
        number = told_number.readline().strip()
        kept = {k: v for k, v in os.environ.items() if not k.startswith(("QT_", "WAYLAND"))}
        try:
            yield kept | {"DISPLAY": f":{number}", "HOME": home, "XDG_CONFIG_HOME": home}
        finally:
            server.terminate()
            server.wait()


@contextmanager
def opened(command: list[str], env: dict[str, str]) -> Iterator[tuple[str, float]]:
    """The number of the window that the command opens, and after how many seconds it was seen."""
    process = subprocess.Popen(command, env=env)
    found: list[str] = []

    def look() -> bool:
        search = ["xdotool", "search", "--onlyvisible", "--name", "partsbench"]
        done = subprocess.run(search, env=env, capture_output=True, text=True, check=False)
        found[:] = done.stdout.split()
        hold_running(process)
        return bool(found)

    try:
        seconds = until(look, "The window opens")
        yield found[0], seconds
    finally:
        process.terminate()
        process.wait()


def hold_running(process: subprocess.Popen[bytes]) -> None:
    if process.poll() is not None:
        raise WrongError(f"The program ended with {process.returncode} before it had a window")


def scan_in_window(program: Path, book: Path, picture: Path, env: dict[str, str]) -> None:
    """A label scanned on the page Teardown is recorded in the book."""
    parts = json.loads(told(program, book, "parts", PIECE, "--json"))
    code = next(p["code"] for p in parts if p["number"] == PART)
    before = len(json.loads(told(program, book, "history", "--json")))
    with opened([str(program), str(book)], env) as (window, _):
        told("xdotool", "windowfocus", "--sync", window, env=env)
        last = 0.0

        def recorded() -> bool:
            nonlocal last
            if time.monotonic() - last > SCAN_AGAIN_S:
                told("xdotool", "key", "ctrl+3", env=env)
                told("xdotool", "type", "--delay", "3", f"{code}\n", env=env)
                last = time.monotonic()
            return len(json.loads(told(program, book, "history", "--json"))) > before

        try:
            until(recorded, f"The scan of {code} is recorded")
        finally:
            take_picture(picture, env)
        newest = json.loads(told(program, book, "history", "--json"))[0]
        hold(
            PART in newest["sentence"], f"A scan in the window is in the book: {newest['sentence']}"
        )
        take_picture(picture, env)
    hold(picture.stat().st_size > 10_000, f"A picture of it: {picture}")


def take_picture(target: Path, env: dict[str, str]) -> None:
    grab = (
        "import sys; from PySide6.QtGui import QGuiApplication as A; a = A([]);"
        "sys.exit(not a.primaryScreen().grabWindow(0).save(sys.argv[1]))"
    )
    told(sys.executable, "-c", grab, target, env=env)


def start_times(program: Path, book: Path, env: dict[str, str]) -> None:
    """Alternately, so that whatever else the machine does weighs on both alike."""
    source = [sys.executable, "-m", "partsbench"]
    taken: dict[tuple[str, str], list[float]] = {}
    for _ in range(ROUNDS):
        for name, command in (("built", [str(program)]), ("source", source)):
            with opened([*command, str(book)], env) as (_, seconds):
                taken.setdefault(("window", name), []).append(seconds)
            began = time.monotonic()
            told(*command, book, "pieces", env=env)
            taken.setdefault(("pieces", name), []).append(time.monotonic() - began)
    for what in ("window", "pieces"):
        built, plain = (statistics.median(taken[what, name]) for name in ("built", "source"))
        print(f"  {what}: {built:.2f} s, from Python {plain:.2f} s ({built / plain:.2f} times)")


# The desktop


def desktop(folder: Path, book: Path) -> None:
    """The entry is valid; once installed, a book is known by its name and by what is in it."""
    entry = folder / "share/applications/partsbench.desktop"
    if shutil.which("desktop-file-validate"):
        hold(not told("desktop-file-validate", entry), "The desktop entry is valid")
    if not (shutil.which("update-mime-database") and shutil.which("gio")):
        print("  No shared-mime-info or gio here; the type of a book was not tried.")
        return
    with tempfile.TemporaryDirectory() as home:
        env = os.environ | {"HOME": home, "XDG_DATA_HOME": f"{home}/share"}
        told(folder / "install", "", env=env)
        nameless = Path(home) / "nameless"
        shutil.copy(book, nameless)
        for path in (book, nameless):
            known = told("gio", "info", "-a", "standard::content-type", path, env=env)
            hold("application/x-partsbench" in known, f"The desktop knows {path.name} as a book")
        opens = told("gio", "mime", "application/x-partsbench", env=env)
        hold("partsbench.desktop" in opens, "and opens it with partsbench")
        link = Path(home) / ".local/bin/partsbench"
        hold(PIECE in told(link, book, "pieces"), "The link in ~/.local/bin starts it")


def sizes(folder: Path, archive: Path) -> None:
    whole = sum(p.lstat().st_size for p in folder.rglob("*") if not p.is_symlink())
    packed = archive.stat().st_size
    print(f"  {whole / 1e6:.0f} MB in the folder, {packed / 1e6:.0f} MB as {archive.name}")


def main(folder: Path, archive: Path, work: Path) -> None:
    program = folder / ("partsbench.exe" if sys.platform == "win32" else "partsbench")
    sizes(folder, archive)
    with tempfile.TemporaryDirectory() as made:
        book = command_line(program, Path(made))
        if not sys.platform.startswith("linux"):
            print("  The window is to be looked at by hand here.")
            return
        whole(program)
        desktop(folder, book)
        if not (shutil.which("Xvfb") and shutil.which("xdotool")):
            print("  No Xvfb or no xdotool here; the window was not tried.")
            return
        with screen() as env:
            scan_in_window(program, book, work / "window.png", env)
            start_times(program, book, env)


if __name__ == "__main__":
    try:
        main(*(Path(word) for word in sys.argv[1:4]))
    except WrongError as wrong:
        sys.exit(f"Wrong: {wrong}")
