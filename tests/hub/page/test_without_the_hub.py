"""A phone whose hub is gone, whose page is closed and whose battery is flat: all of it is kept.

In a real browser. What stands for a certificate that is installed on the phone is one that the
browser was told to take; what stands for one that is not is a person who goes on past the warning.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from partsbench.core.piece.piece import Piece
from partsbench.hub.server import Hub
from partsbench.services.acts.history import history
from partsbench.services.shop import Shop
from tests.support.chromium import Chromium, Tab
from tests.support.phone_page import (
    NEEDS_BROWSER,
    ON_DISK,
    WASHED,
    all_sent,
    look,
    part,
    pin_of,
    recorded,
    scan,
)
from tests.support.shops import code

pytestmark = NEEDS_BROWSER
KEEPS_PAGE = "window.partsbench.hub.keepsPage"
Browse = Callable[[str], Chromium]


@pytest.fixture
def browse(tmp_path: Path) -> Iterator[Browse]:
    """A browser with the profile that the one before left."""
    made: list[Chromium] = []

    def opened(key_pins: str) -> Chromium:
        made.append(Chromium(tmp_path, key_pins=key_pins))
        return made[-1]

    yield opened
    for each in made:
        each.close()


def pair(browser: Chromium, hub: Hub, *, warned: bool = False) -> Tab:
    tab = browser.open(hub.offer(), lasting=True, warned=warned)
    tab.wait("!document.querySelector('#pairing').hidden")
    tab.fill("#pair-name", "phone")
    tab.fill("#pair-person", "Tarn")
    tab.press("#pair-form button")
    tab.wait("!document.querySelector('#hand').hidden && document.querySelector('#piece').value")
    all_sent(tab)
    return tab


def kept(tab: Tab, count: int) -> None:
    tab.wait(f"document.querySelector('#link').innerText.includes('hub gone · {count} kept')")
    tab.wait(f"({ON_DISK}).then(n => n === {count})")


def test_a_flat_battery_loses_nothing_and_the_page_opens_without_the_hub(
    browse: Browse, hub: Hub, shop: Shop, piece: Piece
) -> None:
    pins = pin_of(hub)
    browser = browse(pins)
    tab = pair(browser, hub)
    assert tab.js(KEEPS_PAGE) is True
    tab.wait("navigator.serviceWorker.ready.then(() => true)")
    for _ in range(2):
        scan(tab, code(piece, "D1"))
    part(tab, "D1", "recorded")
    tab.wait(f"({ON_DISK}).then(n => n === 0)")
    browser.close()
    hub.stop()
    browser = browse(pins)
    tab = browser.open(hub.url, lasting=True)
    tab.wait("document.querySelector('#sentence')?.innerText.includes('The hub is gone')")
    look(tab, "opened-without-hub")
    for _ in range(2):
        scan(tab, code(piece, "D3"))
    kept(tab, 2)
    browser.kill()
    browser = browse(pins)
    tab = browser.open(hub.url, lasting=True)
    kept(tab, 2)
    scan(tab, code(piece, "D2"))
    kept(tab, 3)
    browser.kill()
    again = Hub(shop.book.path, "127.0.0.1", hub.port)
    assert again.start() is None
    try:
        browser = browse(pins)
        tab = browser.open(hub.url, lasting=True)
        all_sent(tab)
        part(tab, "D2", "GO")
        assert recorded(shop, f"Heron D3 {WASHED}") == 1
        assert recorded(shop, f"Heron D1 {WASHED}") == 1
        said = [e.sentence.split()[1] for e in history(shop, limit=2)]
        assert said == ["D3", "D1"]
        tab.wait(f"({ON_DISK}).then(n => n === 0)")
    finally:
        again.stop()


def test_where_the_certificate_is_not_installed_what_was_kept_is_sent_when_the_page_opens_again(
    browse: Browse, hub: Hub, shop: Shop, piece: Piece
) -> None:
    browser = browse("")
    tab = pair(browser, hub, warned=True)
    assert tab.js(KEEPS_PAGE) is False
    assert any("certificate" in said for said in tab.complaints())
    hub.stop()
    tab.wait("document.querySelector('#link').innerText.includes('hub gone')")
    for _ in range(2):
        scan(tab, code(piece, "D3"))
    kept(tab, 2)
    browser.close()
    tab = browse("").open(hub.url, lasting=True, warned=True)
    tab.wait("document.readyState === 'complete' && location.protocol === 'chrome-error:'")
    again = Hub(shop.book.path, "127.0.0.1", hub.port)
    assert again.start() is None
    try:
        tab.call("Page.navigate", url=hub.url)
        all_sent(tab)
        part(tab, "D3", "recorded")
        assert recorded(shop, f"Heron D3 {WASHED}") == 1
        tab.wait(f"({ON_DISK}).then(n => n === 0)")
    finally:
        again.stop()
