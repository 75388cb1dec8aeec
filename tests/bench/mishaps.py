"""What shops do to files, done with seeds: python -m tests.bench.mishaps [--count N] [--kind K]

Each kind makes a small real book anew from a few kept ones, hurts it, and asks what anybody would
ask of it. A mishap is *told* (one line that says what is wrong, or what was done about it),
*harmless* (nothing recorded differs), or *missed*, which is what this looks for: something recorded
differs and nobody says so, or a fault of the program comes up.

- `flips`: one bit turned over anywhere in the book, or up to 40 bytes of it written over.
- `cuts`: the end of the book is missing, or a piece out of its middle.
- `rows`: one value of a row is another, written past the journal.
- `waits`: bits or a piece of the `-wal` file of a window that was cut off; not its end, without
  which it is what it was a while before, so that nothing in it tells.
- `mixes`: a window is cut off, and a copy from save-copy or from the shell is put over its book.
- `fills`: the disk takes no more in the middle of the work (a limit on the size of a file).
- `feeds`: random, deep, long and endless input for take-in, review and read.

Bounded: each input is small or limited, each mishap has 60 s, memory 2 GB. Nothing leaves the
temporary folder; no device is opened.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import resource
import shutil
import signal
import sqlite3
import sys
import tempfile
import traceback
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from random import Random

from partsbench.cli.group import run
from partsbench.core.outcomes import BookDamagedError, Refused
from partsbench.services.acts import bench, history, places
from partsbench.services.books import clients, exchange, pieces
from partsbench.services.shop import Shop, open_shop
from partsbench.store import checking
from partsbench.store.book import Book, open_book
from partsbench.store.waiting import wal_of
from tests.bench.feeds import FEEDS, cut, cut_out, hurt
from tests.support.at_bench import record

SEED = 20_260_314
MOST_SECONDS = 60
MOST_MEMORY = 2 * 1024**3
RECORDED = ("job", "client", "piece", "opening", "part", "face", "mark", "movement", "journal",
            "journal_row")  # fmt: skip


@dataclass(slots=True)
class Tally:
    """Of one kind of mishap."""

    tried: int = 0
    told: int = 0
    harmless: int = 0
    missed: list[str] = field(default_factory=list)

    def add(self, seed: int, found: str) -> None:
        """`found` is told or harmless; anything else was missed, and says how."""
        self.tried += 1
        if found == "told":
            self.told += 1
        elif found == "harmless":
            self.harmless += 1
        else:
            self.missed.append(f"seed {seed}: {found}")

    def row(self) -> str:
        return f"{self.tried:>6} {self.told:>6} {self.harmless:>9} {len(self.missed):>7}"


@dataclass(frozen=True, slots=True)
class Bench:
    """A folder with a book to hurt: `sound`, closed; `cut`, with what a killed window left."""

    folder: Path
    sound: Path
    cut: Path

    def fresh(self, of: Path) -> Path:
        """A book of that kind in a new folder, with what lies beside it."""
        place = Path(tempfile.mkdtemp(dir=self.folder))
        for file in (of, wal_of(of)):
            if file.exists():
                shutil.copyfile(file, place / file.name)
        return place / of.name


@contextlib.contextmanager
def a_bench() -> Iterator[Bench]:
    with tempfile.TemporaryDirectory(prefix="mishaps-") as name:
        folder = Path(name)
        sound, cut = folder / "sound.partsbench", folder / "cut.partsbench"
        _work(sound, 0)
        shutil.copyfile(sound, cut)
        in_child(lambda: _work_and_die(cut))
        yield Bench(folder, sound, cut)


def _shop(path: Path) -> Shop:
    at = [datetime(2026, 3, 14, 9, 30, tzinfo=UTC)]

    def clock() -> datetime:
        at[0] += timedelta(seconds=37)
        return at[0]

    shop = open_shop(path, clock, "Wren")
    assert isinstance(shop, Shop), shop
    return shop


def _work(path: Path, number: int) -> None:
    shop = _shop(path)
    _do(shop, number)
    shop.close()


def _do(shop: Shop, number: int) -> None:
    """A little of everything that a book holds."""
    paths = [("paint", ["drawers"]), ("stain", ["legs"])]
    made = pieces.lay_out(shop, f"Heron{number}", "2 1", legs=2, pulls=1, paths=paths)
    assert not isinstance(made, Refused)
    tag = made.tag
    clients.set_client(shop, tag, name="Somebody Else", contact="by pigeon, mornings only")
    pieces.edit_part(shop, tag, "D1", old_mark="III", note="the runner is worn on the left side")
    record(shop, "D1", here=tag)
    places.put(shop, "rack 2", ["D2"], here=tag)
    bench.send_back(shop, "D1", "wash", "runs", here=tag)
    history.undo(shop)
    record(shop, "L1", here=tag)


def _work_and_die(path: Path) -> None:
    shop = _shop(path)
    for number in range(1, 4):
        _do(shop, number)
    os._exit(0)


def in_child(act: Callable[[], None], limit: Callable[[], None] = lambda: None) -> tuple[int, str]:
    """Exit code and standard error of what is done in a process of its own, which is then gone."""
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read)
        os.dup2(write, 2)
        # The parent's may have been a file, and believe that it can still be sought in.
        sys.stderr = os.fdopen(2, "w", closefd=False)
        code = 70
        try:
            signal.alarm(MOST_SECONDS)
            resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            limit()
            act()
            code = 0
        except BaseException:
            os.write(2, traceback.format_exc().encode())
        os._exit(code)
    os.close(write)
    with os.fdopen(read, "rb") as pipe:
        said = pipe.read().decode(errors="replace")
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), said


def recorded(path: Path) -> object:
    """All that is recorded in a book, bytes as they are; what cannot be read is not equal."""
    with contextlib.closing(sqlite3.connect(path)) as book:
        book.text_factory = bytes
        try:
            return [book.execute(f"SELECT * FROM {t} ORDER BY id").fetchall() for t in RECORDED]
        except sqlite3.Error as error:
            return str(error)


def judge(path: Path, expected: object) -> str:
    """Open a hurt book as a command does, check it, read all of it."""
    try:
        book = open_book(path)
        if isinstance(book, Refused):
            return "told" if book.sentence.count("\n") == 0 else f"many lines: {book.sentence}"
        try:
            said = bool(book.told) or bool(checking.faults(book))
            said = said or bool(exchange.check_book(Shop(book)))
        finally:
            book.close()
    except BookDamagedError:
        return "told"
    except Exception as error:
        return f"a fault of the program: {traceback.format_exception(error)[-2:]}"
    if said:
        return "told"
    return "harmless" if recorded(path) == expected else "recorded otherwise, and called sound"


def flips(on: Bench, rng: Random) -> str:
    return _spoilt(on, rng, hurt)


def cuts(on: Bench, rng: Random) -> str:
    return _spoilt(on, rng, cut)


def _spoilt(on: Bench, rng: Random, how: Callable[[Random, bytearray], None]) -> str:
    path = on.fresh(on.sound)
    data = bytearray(path.read_bytes())
    how(rng, data)
    path.write_bytes(data)
    return judge(path, recorded(on.sound))


def rows(on: Bench, rng: Random) -> str:
    """One value written past the journal: check-book names it, and no command ends in a fault."""
    path = on.fresh(on.sound)
    table = rng.choice([t for t in RECORDED if t != "journal"] + ["journal"] * 3)
    with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as book:
        book.execute("PRAGMA ignore_check_constraints = ON")
        columns = [r[1:3] for r in book.execute(f"PRAGMA table_info({table})") if r[1] != "id"]
        column, kind = rng.choice(columns)
        value = rng.choice(("CAST(x'ff41' AS TEXT)", "'x'", "''", "'{'", "'D9'", "'9999-99-99'")
                           if kind == "TEXT" else ("-1", "0", "400", "1 << 40"))  # fmt: skip
        was = recorded(path)
        with contextlib.suppress(sqlite3.IntegrityError):
            ids = [r[0] for r in book.execute(f"SELECT id FROM {table} ORDER BY id")]
            chosen = rng.choice(ids)
            book.execute(f"UPDATE {table} SET {column} = {value} WHERE id = {chosen}")
    if recorded(path) == was:
        return "harmless"
    for words in rng.sample(COMMANDS, 4):
        asked = ["--book", str(path), *words]
        code, said = in_child(partial(_call, asked))
        if code not in (0, 1, 2):
            return f"{words} after {table}.{column} = {value} ended with {code}: {said[-300:]}"
    found = judge(path, was)
    return found if found == "told" else f"{table}.{column} = {value}: {found}"


COMMANDS = [["pieces"], ["parts", "Heron0"], ["history"], ["day"], ["scan", "D1", "--in", "Heron0"],
            ["find", "D1"], ["proof", "Heron0", "--out", "p.pdf"],
            ["export", "Heron0", "x.json"], ["undo"], ["return", "Heron0"], ["unseen"]]  # fmt: skip


def _call(asked: list[str]) -> None:
    sys.stdout = io.StringIO()
    os.chdir(Path(asked[1]).parent)
    os._exit(run(asked))


def waits(on: Bench, rng: Random) -> str:
    path = on.fresh(on.cut)
    data = bytearray(wal_of(path).read_bytes())
    rng.choice((hurt, cut_out))(rng, data)
    wal_of(path).write_bytes(data)
    return judge(path, recorded(on.fresh(on.cut)))


def mixes(on: Bench, rng: Random) -> str:
    """A copy is put over the book of a window that was cut off: it is the copy from then on."""
    path = on.fresh(on.sound)
    copy = path.with_name("copy.partsbench")
    if rng.random() < 0.5:
        book = open_book(path)
        assert isinstance(book, Book)
        assert book.save_copy(copy) is None
        book.close()
    else:
        shutil.copyfile(path, copy)
    if rng.random() < 0.5:
        _work(path, 4)
    changes = rng.randrange(1, 12)
    in_child(lambda: _record_and_die(path, changes))
    expected = recorded(copy)
    if rng.random() < 0.5:
        shutil.copyfile(copy, path)
    else:
        shutil.copyfile(copy, path.with_name("new"))
        path.with_name("new").replace(path)
    waiting = wal_of(path).read_bytes()
    found = judge(path, expected)
    if recorded(path) != expected:
        return f"another book than the copy: {found}"
    kept = [f.read_bytes() for f in path.parent.glob("*-put-aside*")]
    return found if waiting in kept else "the waiting changes were not kept"


def _record_and_die(path: Path, changes: int) -> None:
    shop = _shop(path)
    tag = pieces.pieces(shop)[-1].tag
    for number in range(changes):
        places.put(shop, f"rack {number}", ["D2"], here=tag)
    os._exit(0)


def fills(on: Bench, rng: Random) -> str:
    """The disk takes no more somewhere in the work: what was acknowledged stays, what is in the
    book can be read and exported, the rest is told."""
    base = rng.choice((on.sound, on.cut))
    path = on.fresh(base)
    size = rng.randrange(0, 400_000)
    acks = path.with_name("acks")
    acks.touch()
    held = os.open(acks, os.O_WRONLY)

    def work() -> None:
        shop = open_shop(path, lambda: datetime(2026, 4, 1, tzinfo=UTC), "Finch")
        if isinstance(shop, Refused):
            # What waits is read from a copy elsewhere; the limit holds there too.
            assert base is on.cut, shop.sentence
            return
        tag = pieces.pieces(shop)[-1].tag
        assert not isinstance(exchange.export(shop, tag), Refused)
        for number in range(40):
            if not isinstance(places.put(shop, f"bay {number}", ["D2"], here=tag), Refused):
                # A file that is there already takes a byte over the old one.
                os.lseek(held, 0, os.SEEK_SET)
                os.write(held, f"{number:02}".encode())
        shop.close()

    acks.write_text("--")
    code, said = in_child(work, lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size)))
    os.close(held)
    if code:
        return f"ended with {code}: {said[-400:]}"
    book = open_book(path)
    if isinstance(book, Refused):
        return f"cannot be opened afterwards: {book.sentence}"
    there = {r["place"] for r in book.rows("SELECT place FROM movement")}
    wrong = checking.faults(book)
    book.close()
    last = acks.read_text()
    if wrong:
        return f"not sound afterwards: {wrong[0]}"
    if last.isdigit() and f"bay {int(last)}" not in there:
        return f"bay {last} was acknowledged and is lost"
    return "told"


def feeds(on: Bench, rng: Random) -> str:
    """Whatever is given to a command is taken or told in one line, and then nothing was changed."""
    path = on.fresh(on.sound)
    command, name, data = rng.choice(FEEDS)(on.sound, rng)
    given = path.with_name(name)
    held = -1
    if data is None:
        os.mkfifo(given)
        held = os.open(given, os.O_RDWR | os.O_NONBLOCK)
        os.write(held, b"x" * 4096)
    else:
        given.write_bytes(data)
    before = recorded(path)

    code, said = in_child(partial(_call, ["--book", str(path), *command, str(given)]))
    if held >= 0:
        os.close(held)
    if code not in (0, 1, 2):
        return f"{' '.join(command)} ended with {code}: {said[-400:]}"
    if code == 2 and (said.count("\n") != 1 or recorded(path) != before):
        return f"{' '.join(command)} told {said[:200]!r} or changed something"
    if code == 0:
        book = open_book(path)
        assert isinstance(book, Book), book
        wrong = exchange.check_book(Shop(book))
        book.close()
        if wrong:
            return f"{' '.join(command)} took in what check-book does not like: {wrong[0]}"
    return "told" if code else "harmless"


KINDS: dict[str, Callable[[Bench, Random], str]] = {
    "flips": flips,
    "cuts": cuts,
    "rows": rows,
    "waits": waits,
    "mixes": mixes,
    "fills": fills,
    "feeds": feeds,
}


def tally(kind: str, count: int, seed: int = SEED, seconds: float = 1e9) -> Tally:
    """So many mishaps of a kind, or as many as there is time for."""
    found = Tally()
    until = datetime.now(UTC).timestamp() + seconds
    with a_bench() as on:
        kept = {f.name for f in on.folder.iterdir()}
        for number in range(seed, seed + count):
            if datetime.now(UTC).timestamp() > until:
                break
            found.add(number, KINDS[kind](on, Random(number)))
            for left in on.folder.iterdir():
                if left.name not in kept:
                    shutil.rmtree(left) if left.is_dir() else left.unlink()
    return found


def main() -> None:
    asked = argparse.ArgumentParser(description="What shops do to files, done with seeds.")
    asked.add_argument("--count", type=int, default=100)
    asked.add_argument("--kind", choices=KINDS, action="append")
    asked.add_argument("--seed", type=int, default=SEED)
    asked.add_argument("--minutes", type=float, default=1e6, help="of each kind at most")
    given = asked.parse_args()
    print(f"{'kind':<7} {'tried':>6} {'told':>6} {'harmless':>9} {'missed':>7}")
    missed: list[str] = []
    for kind in given.kind or KINDS:
        found = tally(kind, given.count, given.seed, given.minutes * 60)
        print(f"{kind:<7} {found.row()}", flush=True)
        missed += [f"{kind} {each}" for each in found.missed]
    print("\n".join(missed[:40]))
    sys.exit(bool(missed))


if __name__ == "__main__":
    main()
