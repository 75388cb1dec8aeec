"""The hub and its devices from a terminal."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import IO

import zxingcpp
from PIL import Image

from partsbench.cli.hub import half_blocks
from partsbench.services.heard import devices
from partsbench.services.shop import Shop, open_shop
from tests.cli.conftest import Call


def opened(book: Path) -> Shop:
    shop = open_shop(book)
    assert isinstance(shop, Shop)
    return shop


def test_a_hub_tells_its_address_and_goes_off_when_it_is_stopped(tag: str, book: Path) -> None:
    words = ["hub", "--book", str(book), "--host", "127.0.0.1", "--port", "0", "--json"]
    with subprocess.Popen([sys.executable, "-u", "-m", "partsbench", *words], text=True,
                          stdout=subprocess.PIPE, env={**os.environ}) as running:  # fmt: skip
        assert running.stdout is not None
        lines = [running.stdout.readline() for _ in range(6)]
        running.send_signal(signal.SIGINT)
        assert running.wait(30) == 0
    told = json.loads("".join(lines))
    assert told["pair"].startswith(f"{told['url']}#")
    assert len(told["words"].split()) == 8


def test_in_words_a_code_is_drawn_and_the_next_one_when_a_device_was_paired(
    tag: str, book: Path
) -> None:
    words = ["hub", "--book", str(book), "--host", "127.0.0.1", "--port", "0"]
    with subprocess.Popen([sys.executable, "-u", "-m", "partsbench", *words], text=True,
                          stdout=subprocess.PIPE, env={**os.environ}) as running:  # fmt: skip
        assert running.stdout is not None
        first = _until(running.stdout, "Scan it with the phone")
        shop = opened(book)
        assert isinstance(devices.pair(shop, "phone", "Tarn"), devices.Paired)
        shop.close()
        second = _until(running.stdout, "Scan it with the phone")
        running.send_signal(signal.SIGINT)
        assert running.stdout.read() == "The hub is off.\n"
        assert running.wait(30) == 0
    assert first[0].startswith("The hub is on at https://127.0.0.1:")
    assert len(first[2].removeprefix("In words: ").split()) == 8
    drawn = [line for line in first if set(line.strip()) <= set("▄▀█ ")]
    assert len(drawn) == len(second) - 1 > 15, "each code is drawn"
    assert drawn != second[:-1], "a code serves once"


def _until(out: IO[str], begins: str) -> list[str]:
    """The lines up to the one that begins so."""
    lines: list[str] = []
    while not (lines and lines[-1].startswith(begins)):
        lines.append(out.readline())
        assert lines[-1], lines
    return lines


def test_what_cannot_be_is_bad_input(call: Call, tag: str, tmp_path: Path) -> None:
    outside = call("hub", "--host", "8.8.8.8")
    assert (outside.code, "no address of a private network" in outside.err) == (2, True)
    nowhere = call("hub", "--book", tmp_path / "none")
    assert (nowhere.code, "There is no book" in nowhere.err) == (2, True)


def test_devices_are_listed_allowed_and_thrown_out(call: Call, tag: str, book: Path) -> None:
    assert call("devices").code == 1
    shop = opened(book)
    assert isinstance(devices.pair(shop, "phone", "Tarn"), devices.Paired)
    shop.close()
    assert call("devices").out == "1  phone of Tarn\n"
    assert call("devices", "--clients", "--device", "1").code == 0
    (line,) = call("devices", "--json").json
    assert (line["number"], line["name"], line["person"], line["clients"]) == (
        1, "phone", "Tarn", True)  # fmt: skip
    assert call("devices", "--throw-out", "1").out == "phone of Tarn is thrown out.\n"
    assert call("devices", "--throw-out", "1").code == 2
    assert call("devices", "--no-clients", "--device", "1").code == 2


def test_the_code_in_the_terminal_can_be_read() -> None:
    rows = devices.symbol_of("https://192.168.7.5:8467/#a-secret")
    signs = {" ": (0, 0), "▄": (0, 255), "▀": (255, 0), "█": (255, 255)}
    lines = half_blocks(rows)
    picture = Image.new("L", (len(rows), 2 * len(lines)))
    for y, line in enumerate(lines):
        for x, sign in enumerate(line):
            for below in (0, 1):
                picture.putpixel((x, 2 * y + below), signs[sign][below])
    (found,) = zxingcpp.read_barcodes(picture.resize((picture.width * 6, picture.height * 6), 0))
    assert found.text == "https://192.168.7.5:8467/#a-secret"
