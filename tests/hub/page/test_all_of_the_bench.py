"""All that a bench does, on a phone of 360 pixels: each by a press, each seen in the book.

Whatever is shown fits across, and what is pressed is large enough for a glove.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from partsbench.core.piece.piece import Piece
from partsbench.hub.server import Hub
from partsbench.services.acts import bench
from partsbench.services.acts.history import history
from partsbench.services.books.pieces import lay_out as lay_out_unsaid
from partsbench.services.books.watching import all_pieces
from partsbench.services.shop import Shop
from tests.support.chromium import Chromium, Tab
from tests.support.clock import SetClock
from tests.support.phone_page import NEEDS_BROWSER, all_sent, look, paired, part, pin_of, scan
from tests.support.shops import code, lay_out, made, shop_at
from tests.support.steps import bring

pytestmark = NEEDS_BROWSER
LEAST_PX = 44
"""Of what is pressed, across and down: WCAG 2.2, 2.5.5 Target Size (Enhanced)."""
SMALL = (
    "[...document.querySelectorAll('button, select, input:not([type=file], [type=checkbox]), "
    "summary, a.button, label.button, label.tick')]"
    ".filter(e => e.getClientRects().length && !e.closest('#typing, .row') || "
    "e.getClientRects().length && e.matches('button'))"
    f".filter(e => e.offsetHeight < {LEAST_PX} || e.offsetWidth < {LEAST_PX})"
    ".map(e => e.outerHTML.slice(0, 80))"
)
WIDER = "document.documentElement.scrollWidth - window.innerWidth"


@pytest.fixture
def clock() -> SetClock:
    return SetClock(datetime.now(UTC))


@pytest.fixture
def shop(tmp_path: Path, clock: SetClock) -> Iterator[Shop]:
    opened = shop_at(tmp_path / "b.partsbench", clock, "Wren")
    yield opened
    opened.close()


@pytest.fixture
def piece(shop: Shop, clock: SetClock) -> Piece:
    """D1 and D3 wait for the gun, D4 to be sanded; D5 was just rinsed; of Plover nobody said what
    is on it."""
    painted = ["D1", "D3", "D4", "D5"]
    heron = made(lay_out(shop, "Heron", "2 2 3", title="tall chest", paths=[("paint", painted)]))
    plover = made(lay_out_unsaid(shop, "Plover", "2", paths=[("paint", ["D1", "D2"])]))
    bring(shop, clock, plover.tag, "D1", "sand_150")
    clock.pass_time(days=2)
    for step in ("rinse", "sand_150", "colour_1"):
        for short in {"rinse": painted, "sand_150": ["D1", "D3", "D4"]}.get(step, ["D1", "D3"]):
            bring(shop, clock, heron.tag, short, step)
    return heron


@pytest.fixture
def hub(shop: Shop, piece: Piece, clock: SetClock) -> Iterator[Hub]:
    made_hub = Hub(shop.book.path, "127.0.0.1", 0, clock)
    assert made_hub.start() is None
    yield made_hub
    made_hub.stop()


@pytest.fixture
def browser(hub: Hub, tmp_path: Path) -> Iterator[Chromium]:
    opened = Chromium(tmp_path, key_pins=pin_of(hub))
    yield opened
    opened.close()


def seen(tab: Tab, name: str, wide: str = "360") -> None:
    """A look at the page: nothing is cut off, everything is large enough; light and dark."""
    assert tab.js(WIDER) <= 0, name
    assert tab.js(SMALL) == [], name
    look(tab, f"{name}-{wide}")


def newest(shop: Shop) -> str:
    return history(shop, limit=1)[0].sentence


def until(tab: Tab, shop: Shop, holds: Callable[[str], bool]) -> None:
    """What was pressed is answered, and then stands in the book."""
    all_sent(tab)
    assert holds(newest(shop)), newest(shop)


def test_all_that_a_bench_does_is_done_by_phone(
    browser: Chromium, hub: Hub, shop: Shop, piece: Piece, clock: SetClock
) -> None:
    tab = paired(browser, hub)
    tab.press("#tabs button", "Bench")
    at_heron(tab, piece)
    step_and_face(tab, shop, piece)
    insists(tab, shop, piece, clock)
    finds_puts_and_notes(tab, shop, piece)
    by_verb_and_undone(tab, shop, piece)
    a_load_but_one(tab, shop, piece)
    answers_what_is_on_it(tab, shop)
    tab.size(360, 740, dark=True)
    seen(tab, "bench-dark")
    at_heron(tab, piece)
    out_and_home(tab, shop, piece)
    map_and_day(tab)


def at_heron(tab: Tab, piece: Piece) -> None:
    tab.js(f"document.querySelector('#piece').value = '{piece.tag}'; "
           "document.querySelector('#piece').dispatchEvent(new Event('change'))")  # fmt: skip
    all_sent(tab)


def recorded(tab: Tab, short: str) -> None:
    """Press what records, and once more where it asks what has to be so."""
    tab.press("#presses button", "Record")
    all_sent(tab)
    if "It is so" in tab.text("#presses"):
        tab.press("#presses button", "It is so")
    part(tab, short, "recorded")


def step_and_face(tab: Tab, shop: Shop, piece: Piece) -> None:
    scan(tab, code(piece, "D4"))
    part(tab, "D4", "GO")
    tab.press("#presses summary", "Another step")
    seen(tab, "another-step")
    tab.press("#presses .choice button", "Fill")
    tab.wait("document.querySelector('#step').innerText.startsWith('Fill')")
    tab.press("#presses button", "Leave the step out")
    until(tab, shop, lambda said: "D4" in said and "left out" in said)
    scan(tab, code(piece, "D4"))
    part(tab, "D4", "GO")
    tab.press("#presses summary", "One face only")
    seen(tab, "one-face")
    tab.press("#presses .choice button", "front")
    tab.wait("document.querySelector('#presses').innerText.includes('Face: front')")
    recorded(tab, "D4")
    until(tab, shop, lambda said: "D4" in said and "(front)" in said)


def insists(tab: Tab, shop: Shop, piece: Piece, clock: SetClock) -> None:
    scan(tab, code(piece, "D5"))
    part(tab, "D5", "GO")
    recorded(tab, "D5")
    scan(tab, code(piece, "D5"))
    part(tab, "D5", "WAIT")
    tab.wait("document.querySelector('#presses').innerText.includes('Insist against')")
    seen(tab, "held")
    before = shop.book.newest()
    for _ in range(4):
        if shop.book.newest() > before:
            break
        tab.press("#presses button", "the tin says so")
        all_sent(tab)
        if "It is so" in tab.text("#presses"):
            tab.press("#presses button", "It is so")
            all_sent(tab)
    entry = history(shop, limit=1)[0]
    assert entry.id > before
    assert (entry.who, "D5" in entry.sentence) == ("Tarn", True)


def finds_puts_and_notes(tab: Tab, shop: Shop, piece: Piece) -> None:
    scan(tab, code(piece, "D2"))
    part(tab, "D2", "")
    tab.press("#tabs button", "More")
    seen(tab, "more")
    tab.fill("#put-text", "rack 2")
    tab.press("#put-form button")
    until(tab, shop, lambda said: "D2" in said and "rack 2" in said)
    tab.press("#tabs button", "More")
    tab.fill("#note-text", "split at the back")
    tab.press("#note-form button")
    all_sent(tab)
    held = shop.piece(piece.tag)
    assert held is not None
    assert held.part("D2").note == "split at the back"
    tab.press("#tabs button", "More")
    tab.fill("#find-text", "D2")
    tab.press("#find-form button")
    tab.wait("document.querySelector('#found').innerText.includes('rack 2')")
    seen(tab, "found")


def by_verb_and_undone(tab: Tab, shop: Shop, piece: Piece) -> None:
    tab.press("#tabs button", "Verbs")
    seen(tab, "verbs")
    tab.press("#verb-list button", "SANDED")
    all_sent(tab)
    tab.wait("document.querySelector('#expects').innerText.includes('SANDED')")
    scan(tab, code(piece, "D4"))
    all_sent(tab)
    if "It is so" in tab.text("#presses"):
        tab.press("#presses button", "It is so")
    part(tab, "D4", "recorded")
    seen(tab, "verb-in-force")
    sanded = newest(shop)
    assert "D4" in sanded
    tab.press("#presses button", "SANDED: off")
    tab.press("#presses button", "Undo mine")
    until(tab, shop, lambda said: said.startswith("Undone") and "D4" in said)


def a_load_but_one(tab: Tab, shop: Shop, piece: Piece) -> None:
    tab.press("#tabs button", "Load")
    tab.press("#presses button", "Take the next load")
    tab.wait("document.querySelector('#board').innerText.includes('Load 1')")
    scan(tab, code(piece, "D3"))
    tab.wait("document.querySelector('#presses').innerText.includes('but 1')")
    seen(tab, "load")
    tab.press("#presses button", "Record load")
    all_sent(tab)
    for _ in range(6):
        if "It is so" in tab.text("#presses"):
            tab.press("#presses button", "It is so")
        elif "Insist against" in tab.text("#presses"):
            tab.press("#presses button", "the tin says so")
        all_sent(tab)
    assert bench.look(shop, code(piece, "D3"), here=piece.tag).step == "colour_1"
    assert bench.look(shop, code(piece, "D1"), here=piece.tag).step != "colour_1", tab.text("main")


def answers_what_is_on_it(tab: Tab, shop: Shop) -> None:
    plover = shop.piece(next(p.tag for p in all_pieces(shop) if p.codename == "Plover"))
    assert plover is not None
    tab.press("#tabs button", "Bench")
    at_heron(tab, plover)
    scan(tab, code(plover, "D1"))
    tab.wait("document.querySelector('#presses').innerText.includes('What is on D1?')")
    seen(tab, "held-by-old-finish")
    tab.press("#presses button", "What is on it?")
    tab.wait("document.querySelector('#asks').getBoundingClientRect().top < 300")
    seen(tab, "what-is-on-it")
    tab.press("#presses .tick")
    tab.press("#presses button", "BARE WOOD")
    part(tab, "D1", "GO")
    assert "Plover" in newest(shop)
    assert "D1" not in newest(shop)


def out_and_home(tab: Tab, shop: Shop, piece: Piece) -> None:
    tab.press("#tabs button", "Teardown")
    for short in ("D6", "D7"):
        scan(tab, code(piece, short))
        part(tab, short, "recorded")
    seen(tab, "teardown-dark")
    tab.press("#presses button", "It stays in")
    all_sent(tab)
    tab.press("#tabs button", "Return")
    scan(tab, str(piece.home_code(6)))
    tab.wait("document.querySelector('#sentence').innerText.includes('H6')")
    scan(tab, code(piece, "D6"))
    part(tab, "D6", "recorded")
    tab.press("#presses button", "runs free")
    all_sent(tab)
    scan(tab, code(piece, "D7"))
    tab.press("#presses button", "It is home")
    part(tab, "D7", "recorded")
    seen(tab, "return-dark")
    tab.press("#presses button", "Proof")
    tab.wait("document.querySelector('#proof-verdict').innerText.includes('COMPLETE')")
    tab.wait("document.querySelectorAll('#proof-parts li').length >= 7")
    seen(tab, "proof-dark")


def map_and_day(tab: Tab) -> None:
    tab.press("#tabs button", "Map")
    tab.wait("document.querySelectorAll('#map-drawing text').length === 7")
    seen(tab, "map-dark")
    tab.press("#tabs button", "Day")
    tab.wait("document.querySelector('#day-lines').innerText.length > 20")
    seen(tab, "day-dark")
    for name in ("bench", "verbs", "map", "day", "more"):
        for dark in (False, True):
            tab.size(1024, 768, dark=dark)
            tab.press("#tabs button", name.capitalize())
            seen(tab, f"{name}{'-dark' if dark else ''}", "1024")
