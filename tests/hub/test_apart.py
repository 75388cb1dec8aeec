"""The hub in a process of its own: lines in, lines out, and it ends with whoever asked for it."""

from __future__ import annotations

import json
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from partsbench.services.shop import Shop

HOST = "127.0.0.1"


def apart(shop: Shop, host: str = HOST, port: int = 0) -> subprocess.Popen[str]:
    words = ["-m", "partsbench.hub.apart", str(shop.book.path), host, str(port), "Wren"]
    return subprocess.Popen([sys.executable, *words], text=True, stdin=subprocess.PIPE,
                            stdout=subprocess.PIPE)  # fmt: skip


def said(process: subprocess.Popen[str]) -> dict[str, Any]:
    assert process.stdout is not None
    return dict(json.loads(process.stdout.readline()))


def asked(process: subprocess.Popen[str]) -> dict[str, Any]:
    assert process.stdin is not None
    process.stdin.write("offer\n")
    process.stdin.flush()
    return said(process)


@pytest.fixture
def process(shop: Shop) -> Iterator[subprocess.Popen[str]]:
    with apart(shop) as made:
        yield made
        made.kill()


def test_it_stands_and_offers_one_code_at_a_time(process: subprocess.Popen[str]) -> None:
    stands = said(process)
    assert stands["url"].startswith(f"https://{HOST}:")
    assert (len(stands["hexed"]), len(stands["words"].split())) == (95, 8)
    first, second = asked(process)["offer"], asked(process)["offer"]
    assert first.startswith(f"{stands['url']}#")
    assert first != second


def test_it_ends_when_the_window_is_gone(process: subprocess.Popen[str]) -> None:
    port = int(said(process)["url"].rstrip("/").rpartition(":")[2])
    socket.create_connection((HOST, port)).close()
    assert process.stdin is not None
    process.stdin.close()
    assert process.wait(30) == 0
    with pytest.raises(OSError):
        socket.create_connection((HOST, port))


def test_why_it_does_not_stand_is_one_sentence(shop: Shop, tmp_path: Path) -> None:
    with socket.create_server((HOST, 0)) as taken, apart(shop, port=taken.getsockname()[1]) as made:
        assert str(taken.getsockname()[1]) in said(made)["fault"]
        assert made.wait(30) == 1
