"""Runs a writer that is killed again and again, and tells what it had acknowledged.

A process of its own without threads, so that forking is quick and sound:
`python -m tests.support.killed_writer BOOK ROUNDS SEED` prints one JSON object.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sys
import time
from datetime import UTC, datetime
from pathlib import Path

from partsbench.services.acts import bench, places
from partsbench.services.books import pieces
from partsbench.services.shop import Shop, open_shop
from tests.support.at_bench import record

LONGEST_WAIT = 0.02
"""Seconds: a few times what one change takes, so that the kill falls anywhere within one."""


def main(path: Path, rounds: int, seed: int) -> None:
    rng = random.Random(seed)
    shop = _open(path)
    piece = pieces.lay_out(shop, "Heron", "9 9 9", pulls=2, paths=[("paint", ["drawers"])])
    record(shop, "D1", here=piece.tag)  # imports and reads all once, before the forks
    shop.close()
    said = 0
    acknowledged = 0
    for number in range(rounds):
        acks = _one_life(path, piece.tag, number, rng.randrange(5), rng.uniform(0, LONGEST_WAIT))
        acknowledged += len(acks)
        said = _check(path, acks, said)
    shop = _open(path)
    print(json.dumps({"rounds": rounds, "acknowledged": acknowledged, "kept": said,
                      "faults": shop.book.faults()}))  # fmt: skip
    shop.close()


def _one_life(path: Path, tag: str, number: int, acks: int, more: float) -> list[str]:
    """Entries that a writer acknowledged: it is killed `more` seconds after the first `acks`."""
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read)
        _write_until_killed(path, tag, number, write)
    os.close(write)
    text = os.read(read, 1)
    assert text == b"."
    while text.count(b"\n") < acks:
        text += os.read(read, 65536)
    time.sleep(more)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    while chunk := os.read(read, 65536):
        text += chunk
    os.close(read)
    return text[1:].decode().split("\n")[:-1]


def _write_until_killed(path: Path, tag: str, number: int, out: int) -> None:
    shop = _open(path)
    shop.who = f"writer {number}"
    os.write(out, b".")
    count = 0
    while True:
        count += 1
        drawer = f"D{count % 27 + 1}"
        if count % 2:
            bench.send_back(shop, drawer, "wash", f"try {count}", here=tag)
            record(shop, drawer, here=tag, note=f"{number}-{count}")
        else:
            places.put(shop, f"rack {number}-{count}", [drawer], here=tag)
        newest = shop.book.row("SELECT max(id) AS id FROM journal")
        os.write(out, f"{newest['id']}\n".encode())


def _check(path: Path, acks: list[str], before: int) -> int:
    """Every acknowledged entry is in the book, with a row of its own; nothing earlier is gone."""
    shop = _open(path)
    entries = {r["id"] for r in shop.book.rows("SELECT id FROM journal")}
    lost = [a for a in acks if int(a) not in entries]
    assert not lost, f"acknowledged and lost: {lost}"
    bare = shop.book.row(
        "SELECT count(*) AS n FROM journal WHERE kind = 'do' AND id NOT IN "
        "(SELECT journal FROM journal_row)"
    )
    assert bare["n"] == 0, "an entry without its rows"
    assert len(entries) >= before, "earlier entries are gone"
    shop.close()
    return len(entries)


def _open(path: Path) -> Shop:
    shop = open_shop(path, lambda: datetime.now(UTC), "writer")
    assert isinstance(shop, Shop), shop
    return shop


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
