"""The page in a real browser whose camera plays a film of our own labels: a phone's whole day."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PIL import Image

from partsbench.core.piece.piece import Piece
from partsbench.hub.server import Hub
from partsbench.services.acts.history import history
from partsbench.services.shop import Shop
from tests.support.chromium import Chromium
from tests.support.labels import label_picture
from tests.support.phone_page import (
    NEEDS_BROWSER,
    ON_DISK,
    WASHED,
    all_sent,
    look,
    paired,
    part,
    recorded,
    scan,
)
from tests.support.shops import code, lay_out, made

pytestmark = NEEDS_BROWSER


def test_the_camera_scans_and_a_press_records(
    with_camera: Chromium, hub: Hub, shop: Shop, record_property: Callable[[str, object], None]
) -> None:
    tab = paired(with_camera, hub)
    tab.press("#camera")
    part(tab, "D1", "GO")
    look(tab, "scanned-by-camera")
    frames = "window.partsbench.camera.frames"
    tab.wait(f"{frames} > 12")
    spent = "((performance.now() - window.partsbench.camera.began) / 1000)"
    record_property("frames_a_second", tab.js(f"{frames} / {spent}"))
    tab.press("#camera", "Camera off")
    tab.press("#presses button", "Record")
    if "It is so" in tab.text("#presses"):
        tab.press("#presses button", "It is so")
    part(tab, "D1", "recorded")
    look(tab, "recorded")
    newest = history(shop, limit=1)[0]
    assert (newest.who, newest.sentence) == ("Tarn", f"Heron D1 {WASHED}")
    assert tab.js("window.isSecureContext")
    assert [c for c in tab.complaints() if "401" not in c] == []


def test_what_is_scanned_while_the_hub_is_gone_is_recorded_once_when_it_is_back(
    browser: Chromium, hub: Hub, shop: Shop, piece: Piece
) -> None:
    tab = paired(browser, hub)
    for _ in range(2):
        scan(tab, code(piece, "D1"))
    part(tab, "D1", "recorded")
    hub.stop()
    tab.wait("document.querySelector('#link').innerText.includes('hub gone')")
    for _ in range(2):
        scan(tab, code(piece, "D3"))
    tab.wait("document.querySelector('#link').innerText.includes('2 kept')")
    look(tab, "hub-gone")
    assert recorded(shop, f"Heron D3 {WASHED}") == 0
    again = Hub(shop.book.path, "127.0.0.1", hub.port)
    assert again.start() is None
    try:
        part(tab, "D3", "recorded")
        all_sent(tab)
        assert recorded(shop, f"Heron D3 {WASHED}") == 1
        tab.wait(f"({ON_DISK}).then(n => n === 0)")
    finally:
        again.stop()


def test_what_was_kept_outlives_the_page(
    browser: Chromium, hub: Hub, shop: Shop, piece: Piece
) -> None:
    tab = paired(browser, hub)
    for _ in range(2):
        scan(tab, code(piece, "D1"))
    part(tab, "D1", "recorded")
    tab.offline(True)
    scan(tab, code(piece, "D3"))
    scan(tab, code(piece, "D3"))
    tab.wait("document.querySelector('#link').innerText.includes('2 kept')")
    tab.offline(False)
    tab.call("Page.reload")
    tab.wait(f"document.querySelector('#sentence')?.innerText.includes('D3 {WASHED[:6]}')")
    assert recorded(shop, f"Heron D3 {WASHED}") == 1


def test_two_devices_on_one_part_and_a_swap_at_the_return(
    browser: Chromium, hub: Hub, shop: Shop, piece: Piece
) -> None:
    phone = paired(browser, hub)
    tablet = paired(browser, hub, "Finch", 1180, 820)
    for tab in (phone, tablet):
        scan(tab, code(piece, "D1"))
        part(tab, "D1", "GO")
    look(tablet, "tablet-bench")
    tablet.press("#presses button", "Record")
    part(tablet, "D1", "recorded")
    phone.wait("document.querySelector('#news').innerText.includes('Finch: Heron D1 washed')")
    phone.press("#presses button", "Record")
    phone.wait("document.querySelector('#sentence').innerText.includes('washed')"
               "&& document.querySelector('#sentence').innerText.includes('by Finch')")  # fmt: skip
    assert recorded(shop, f"Heron D1 {WASHED}") == 1
    phone.press("#tabs button", "Teardown")
    for short in ("D1", "D2"):
        scan(phone, code(piece, short))
        part(phone, short, "recorded")
    look(phone, "teardown")
    phone.press("#tabs button", "Return")
    scan(phone, code(piece, "H2"))
    scan(phone, code(piece, "D1"))
    part(phone, "D1", "STOP")
    scan(phone, code(piece, "H1"))
    scan(phone, code(piece, "D2"))
    part(phone, "D2", "STOP")
    phone.wait("document.querySelector('#board').innerText.includes('D1')")
    look(phone, "return-swap")
    for view in ("verbs", "map", "day", "more"):
        phone.press(f"#tabs button[data-view={view}]")
        tablet.press(f"#tabs button[data-view={view}]")
        phone.wait(f"!document.querySelector('#{view}').hidden")
        if view == "map":
            tablet.wait("document.querySelectorAll('#map-drawing text').length === 7")
            phone.wait("document.querySelectorAll('#map-drawing text').length === 7")
        look(phone, f"{view}-360")
        look(tablet, f"{view}-tablet")
    wide = "document.documentElement.scrollWidth <= window.innerWidth"
    assert phone.js(wide)
    assert tablet.js(wide)
    hub.throw_out(hub.devices()[0].id)
    phone.wait("!document.querySelector('#pairing').hidden")
    look(phone, "thrown-out")
    assert tablet.js("document.querySelector('#pairing').hidden")


def test_a_codename_is_shown_as_it_is_and_runs_nothing(
    browser: Chromium, hub: Hub, shop: Shop
) -> None:
    name = "<img src=x onerror=document.title=1>"
    quill = made(lay_out(shop, name, "2"))
    tab = paired(browser, hub)
    tab.js(f"document.querySelector('#piece').value = '{quill.tag}'; "
           "document.querySelector('#piece').dispatchEvent(new Event('change'))")  # fmt: skip
    scan(tab, code(quill, "D1"))
    part(tab, "D1", "")
    assert name in tab.text("#sentence")
    assert tab.js("document.title") == "partsbench"
    assert tab.js("document.querySelectorAll('img').length") == 0


def test_a_photograph_is_read_also_one_that_was_kept(
    browser: Chromium, hub: Hub, shop: Shop, piece: Piece, tmp_path: Path
) -> None:
    """Where a browser gives no live camera, and while the hub is gone."""
    tab, photo = paired(browser, hub), tmp_path / "photo.jpg"
    label = Image.fromarray(label_picture(code(piece, "D3")))
    whole = Image.new("L", (label.width + 300, label.height + 900), 170)
    whole.paste(label, (150, 450))
    whole.save(photo, quality=85)
    tab.choose_file("#photo", photo)
    part(tab, "D3", "GO")
    Image.new("L", (900, 600), 140).save(photo)
    tab.choose_file("#photo", photo)
    tab.wait("document.querySelector('#sentence').innerText === "
             "'No label was read in the photograph.'")  # fmt: skip
    tab.offline(True)
    whole.paste(Image.fromarray(label_picture(code(piece, "D1"))), (150, 450))
    whole.save(photo, quality=85)
    tab.choose_file("#photo", photo)
    tab.wait("document.querySelector('#link').innerText.includes('1 kept')")
    tab.offline(False)
    part(tab, "D1", "GO")
    all_sent(tab)
    assert [c for c in tab.complaints() if "401" not in c and "DISCONNECTED" not in c] == []
