"""The page of phones in a browser: what its stories share."""

from __future__ import annotations

import base64
import hashlib
import os
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from partsbench.hub.server import Hub
from partsbench.services.acts.history import history
from partsbench.services.shop import Shop
from tests.support.chromium import MISSING, Chromium, Tab, program

NEEDS_BROWSER = [
    pytest.mark.long,
    pytest.mark.skipif(program() is None, reason=MISSING),
]
WASHED = "washed (front, top edge, bottom edge, left edge, right edge)"
ON_DISK = (
    "new Promise(done => { indexedDB.open('partsbench').onsuccess = e => "
    "e.target.result.transaction('acts').objectStore('acts').count().onsuccess = "
    "c => done(c.target.result) })"
)
"""How many acts are kept on the device's disk."""
PICTURES = os.environ.get("PARTSBENCH_PICTURES", "")
"""A folder for pictures of each page of the phone, to be looked at."""


def pin_of(hub: Hub) -> str:
    made = x509.load_pem_x509_certificate(hub.certificate.file.read_bytes())
    key = made.public_key().public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
    return base64.b64encode(hashlib.sha256(key).digest()).decode()


def paired(browser: Chromium, hub: Hub, person: str = "Tarn", width: int = 360,
           height: int = 740) -> Tab:  # fmt: skip
    tab = browser.open(hub.offer(), width, height)
    tab.wait("!document.querySelector('#pairing').hidden")
    look(tab, f"pairing-{width}")
    tab.fill("#pair-name", f"device of {person}")
    tab.fill("#pair-person", person)
    tab.press("#pair-form button")
    tab.wait("!document.querySelector('#hand').hidden && document.querySelector('#piece').value")
    return tab


def look(tab: Tab, name: str) -> None:
    if PICTURES:
        tab.picture(Path(PICTURES) / f"{name}.png")


def scan(tab: Tab, text: str) -> None:
    tab.fill("#code", text)
    tab.press("#typing button")


def part(tab: Tab, short: str, word: str) -> None:
    """Until the card shows this part with that word."""
    tab.wait(f"document.querySelector('#part').innerText === '{short}' && "
             f"document.querySelector('#word').innerText.includes('{word}')")  # fmt: skip


def all_sent(tab: Tab) -> None:
    """Until the hub has answered all that was done."""
    tab.wait("!window.partsbench.hub.kept.acts.length && "
             "document.querySelector('#link').innerText === 'hub ✓'")  # fmt: skip


def recorded(shop: Shop, sentence: str) -> int:
    return [e.sentence for e in history(shop)].count(sentence)
