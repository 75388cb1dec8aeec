"""The main job on a sample, with no display: taken in, labelled, taken apart, finished, returned.

Everything goes through the same use cases as the window and the command line, in a book of its own.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from typing import TypeVar

from partsbench import resources
from partsbench.core.key_words import word_of
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.codes import Family
from partsbench.core.piece.piece import Piece
from partsbench.services import shop
from partsbench.services.acts import bench, history, places, returning
from partsbench.services.acts.returning import FitResult
from partsbench.services.acts.teardown import take_out, teardown
from partsbench.services.books import exchange, pieces
from partsbench.services.heard import film
from partsbench.services.heard import reading as readings
from partsbench.services.known.state import part_state, piece_state
from partsbench.services.shop import Shop
from partsbench.services.shown import labels, proof
from partsbench.services.sums.showcase import showcase

T = TypeVar("T")

BOOK = "demo.partsbench"
CHEST, NAMESAKE = "heron.toml", "quill.toml"
SWAPPED = ("D3", "D4")
BEGAN_AGO = timedelta(days=60)
BETWEEN_STEPS = timedelta(minutes=10)
MOST_STEPS = 60
PICTURE_SECONDS = 120
MOMENTS = ("layout", "teardown", "bench", "sums", "return")
FILM, FILMED = "film.gif", "D3"
FILM_DPI = 200
SHEET_DPI = 110


class DemoError(Exception):
    """The demo met an answer that it did not expect; the message is that answer."""


@dataclass
class Demo:
    """One run: where its files go, and how it says what it did."""

    folder: Path
    say: Callable[[str], None]
    clock: Callable[[], datetime] = shop.machine_clock
    moments: dict[str, Path] = field(default_factory=dict)

    @property
    def book(self) -> Path:
        return self.folder / BOOK


def run(folder: Path, say: Callable[[str], None]) -> Demo:
    """The whole main job; its book, label sheet, proof sheet and pictures are left in `folder`."""
    demo = Demo(folder, say)
    _clear(demo)
    work = _good(shop.open_shop(demo.book, demo.clock, "demo"))
    try:
        chest = _take_in(demo, work)
        _keep_moment(demo, work, "layout")
        _print_labels(demo, work, chest)
        _take_apart(demo, work, chest)
        _ask_around(demo, work, chest)
        _finish(demo, work, chest)
        _ask_sums(demo, work, chest)
        _bring_home(demo, work, chest)
        _prove(demo, work, chest)
    finally:
        work.close()
    _picture(demo, chest.tag)
    return demo


def _clear(demo: Demo) -> None:
    """Only what an earlier demo left here is taken away."""
    for name in (BOOK, f"{BOOK}-wal", f"{BOOK}-shm"):
        (demo.folder / name).unlink(missing_ok=True)


def _take_in(demo: Demo, work: Shop) -> Piece:
    (chest,) = _good(pieces.take_in(work, resources.sample(CHEST)))
    (other,) = _good(pieces.take_in(work, resources.sample(NAMESAKE)))
    front = chest.front
    demo.say(
        f"Took in {chest.codename} {chest.tag}, a {chest.title}: {len(front.openings)} openings, "
        f"{len(chest.present)} parts, {front.width:.0f} × {front.height:.0f} mm."
    )
    demo.say(f"Took in {other.codename} {other.tag}, whose drawers bear the same numbers.")
    return chest


def _print_labels(demo: Demo, work: Shop, chest: Piece) -> None:
    sheet = _good(labels.make_sheet(work, chest.tag, homes=True, stock=labels.usual_stock(work)))
    path = demo.folder / "labels.pdf"
    path.write_bytes(sheet.pdf)
    _good(labels.hand_out(work, sheet))
    first, *_ = labels.page_pictures(sheet.pdf, SHEET_DPI)
    (demo.folder / "labels.png").write_bytes(first)
    demo.say(f"Printed {len(sheet.codes)} labels on {sheet.pages} pages: {path}")
    (seen,) = readings.read_files(work, [path])
    unread = set(sheet.codes) - set(seen.codes)
    if seen.fault or unread:
        raise DemoError(seen.fault or f"not read back: {', '.join(sorted(unread))}")
    demo.say(f"Read {len(seen.codes)} of {len(sheet.codes)} codes back from that file.")
    _film(demo, chest, labels.page_pictures(sheet.pdf, FILM_DPI))


def _film(demo: Demo, chest: Piece, pages: list[bytes]) -> None:
    """One label of that sheet held before a camera; the window's camera plays it later."""
    held = chest.part(FILMED)
    assert held is not None
    made = (film.film_of(page, str(chest.code(held)), demo.folder / FILM) for page in pages)
    if not any(isinstance(count, int) for count in made):
        raise DemoError(f"{FILMED} is not read on any page.")


def _take_apart(demo: Demo, work: Shop, chest: Piece) -> None:
    order = teardown(piece_state(work, chest)).order
    for place, part in enumerate(order):
        if place == len(order) // 8:
            _keep_moment(demo, work, "teardown")
        _recorded(take_out(work, chest.tag, [str(chest.code(part))]))
    drawers = [str(chest.code(p)) for p in order if p.family is Family.DRAWER]
    _good(places.put(work, "rack 2", drawers, here=chest.tag))
    demo.say(f"Scanned {len(order)} parts out, in the order of taking apart; drawers on rack 2.")
    for seen in places.find(work, "D6", chest.tag)[:1]:
        demo.say(f"Asked for D6: {seen.sentence}")


def _ask_around(demo: Demo, work: Shop, chest: Piece) -> None:
    """The three scans that must not be taken for one of this chest."""
    other = next(p for p in pieces.pieces(work) if p.tag != chest.tag)
    stranger = work.piece(other.tag)
    assert stranger is not None
    namesake = stranger.numbered(Family.DRAWER, 5)
    own = chest.numbered(Family.DRAWER, 5)
    assert namesake is not None and own is not None
    foreign = bench.look(work, str(stranger.code(namesake)), here=chest.tag)
    demo.say(
        f"Scanned the D5 of {stranger.codename}: {word_of(foreign.answer)}. {foreign.sentence}"
    )
    right = str(chest.code(own))
    wrong = right[:-1] + ("0" if right[-1] != "0" else "1")
    misread = bench.look(work, wrong, here=chest.tag)
    if misread.tone is not Tone.MISREAD:
        raise DemoError(misread.sentence)
    demo.say(f"Typed a wrong character: {word_of(misread.answer)}. {misread.sentence}")


def _finish(demo: Demo, work: Shop, chest: Piece) -> None:
    """Every step of every face, each at a stated time that leaves the wait of the one before."""
    began = demo.clock() - BEGAN_AGO
    count, faces = 0, 0
    for place, part in enumerate(chest.present):
        at = began + timedelta(hours=place)
        for step in range(MOST_STEPS):
            state = part_state(work, chest, part)
            if state.next_step is None:
                break
            if step == 2 and part.short == "D3":
                _keep_moment(demo, work, "bench")
            code = str(chest.code(part))
            at = _next_time(work, code, chest.tag, at)
            _recorded(bench.record(work, code, here=chest.tag, at=at, confirmed=True))
            at += BETWEEN_STEPS
            count += 1
        faces += sum(bool(f.path.steps) for f in part_state(work, chest, part).faces)
    demo.say(f"Recorded {count} steps; {faces} faces are at the end of their finish paths.")
    undone = _good(history.undo(work))
    again = _good(history.redo(work))
    demo.say(f"{undone.sentence} {again.sentence}")


def _next_time(work: Shop, code: str, here: str, at: datetime) -> datetime:
    """When the next step of a part may be done, from `at` on."""
    seen = bench.look(work, code, here=here, at=at)
    return seen.until if seen.answer is Answer.WAIT and seen.until else at


def _ask_sums(demo: Demo, work: Shop, chest: Piece) -> None:
    """What still fits, whose drawer one is, which pulls, and the least to ask."""
    for line in _good(showcase(work, chest.tag)):
        demo.say(line)
    _keep_moment(demo, work, "sums")


def _bring_home(demo: Demo, work: Shop, chest: Piece) -> None:
    a, b = SWAPPED
    into = {a: b, b: a}
    for part in chest.present:
        seat = chest.part(into.get(part.short, part.short))
        assert seat is not None
        home = str(chest.home_code_of(seat))
        _recorded(returning.bring_home(work, chest.tag, str(chest.code(part)), home))
        if part.short == "D6":
            _keep_moment(demo, work, "return")
    state = piece_state(work, chest)
    for one in returning.missing(state):
        demo.say(f"Not home: {one.sentence}.")
    demo.say(f"Moves: {returning.moves_sentence(state)}")
    for part in chest.present:
        if part.short in SWAPPED:
            home = str(chest.home_code_of(part))
            _recorded(returning.bring_home(work, chest.tag, str(chest.code(part)), home))
    for part in chest.present:
        if part.family is Family.DRAWER:
            first = FitResult.WAX if part.short == "D6" else FitResult.FREE
            _good(returning.record_fit(work, chest.tag, part.short, first))
    for part, result in returning.open_fits(piece_state(work, chest)):
        demo.say(f"{part.short} {result}; waxed, and it runs free.")
        _good(returning.record_fit(work, chest.tag, part.short, FitResult.FREE))
    left = returning.missing(piece_state(work, chest))
    if left:
        raise DemoError(f"still missing: {left[0].sentence}")
    demo.say(f"All {len(chest.present)} parts are home, every drawer in its own opening.")


def _prove(demo: Demo, work: Shop, chest: Piece) -> None:
    done = _good(proof.save_proof(work, chest.tag, demo.folder / "proof.pdf"))
    demo.say(done.sentence)
    changes = history.history(work, limit=-1)
    faults = exchange.check_book(work)
    if faults:
        raise DemoError(faults[0])
    demo.say(f"The book holds {len(changes)} changes and is sound: {demo.book}")


def _keep_moment(demo: Demo, work: Shop, name: str) -> None:
    """A copy of the book as it is now, for the picture of one page."""
    path = demo.folder / f".{name}.partsbench"
    path.unlink(missing_ok=True)
    _good(exchange.save_copy(work, path))
    demo.moments[name] = path


def _picture(demo: Demo, tag: str) -> None:
    """Pictures of the pages, drawn by the real window in a process of its own.

    A Qt that cannot start ends its process; here that must not end the demo.
    """
    books = [f"{name}={demo.moments[name]}" for name in MOMENTS]
    books.append(f"camera={demo.moments['bench']}")
    command = [sys.executable, "-m", "partsbench.ui.pictures", str(demo.folder), tag, *books]
    environment = os.environ | {"QT_QPA_PLATFORM": "offscreen", "QT_SCALE_FACTOR": "1"}
    try:
        done = subprocess.run(
            command, env=environment, capture_output=True, text=True, timeout=PICTURE_SECONDS,
            check=False,
        )  # fmt: skip
        said = done.stderr.strip().splitlines()
        fault = "" if done.returncode == 0 else (said[-1] if said else f"code {done.returncode}")
    except subprocess.TimeoutExpired:
        fault = f"no picture within {PICTURE_SECONDS} s"
    finally:
        for path in demo.moments.values():
            path.unlink(missing_ok=True)
    if fault:
        demo.say(f"No pictures of the pages: {fault}")
        return
    for name in MOMENTS:
        file = demo.folder / f"{name}.png"
        demo.say(f"Picture of the {name} page: {file}")
    film, shot = demo.folder / FILM, demo.folder / "camera.png"
    demo.say(f"Held {FILMED} before the camera, by the film {film}: {shot}")


def _good(found: T | Refused) -> T:
    if isinstance(found, Refused):
        raise DemoError(found.sentence)
    return found


def _recorded(told: Outcome | Done | Refused) -> None:
    if isinstance(told, Refused) or (isinstance(told, Outcome) and not told.recorded):
        raise DemoError(told.sentence)
