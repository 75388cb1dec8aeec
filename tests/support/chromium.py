"""A real browser without a screen, driven by its own debugging protocol over two pipes.

Chromium comes from the system's packages; where there is none, `missing` says so. The protocol is
the Chrome DevTools Protocol; over pipes each message is JSON that ends with a zero byte.
"""

from __future__ import annotations

import base64
import json
import os
import select
import shutil
import subprocess
import time
from pathlib import Path
from typing import Any

PROGRAMS = ("chromium", "chromium-browser", "google-chrome")
PATIENCE = 30.0
"""Seconds that anything may take; far more than it does."""


def program() -> str | None:
    return next((found for name in PROGRAMS if (found := shutil.which(name))), None)


MISSING = "no Chromium is installed (apt-get install chromium); the page was not tried in a browser"


class BrowserError(AssertionError):
    """What was waited for did not come about."""


class Chromium:
    """One browser. `film` is what its camera shows, over and over (MJPEG or Y4M)."""

    def __init__(self, folder: Path, *, key_pins: str = "", film: Path | None = None) -> None:
        found = program()
        assert found is not None, MISSING
        words = [
            found, "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
            "--no-first-run", "--mute-audio", "--disable-background-networking",
            "--disable-component-update", "--disable-sync", "--hide-scrollbars",
            "--disable-features=Translate,MediaRouter,OptimizationHints",
            f"--user-data-dir={folder / 'profile'}", "--remote-debugging-pipe",
        ]  # fmt: skip
        if key_pins:
            # As if a person had looked at this certificate and gone on: no other is taken.
            words.append(f"--ignore-certificate-errors-spki-list={key_pins}")
        if film is not None:
            words += ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream",
                      f"--use-file-for-fake-video-capture={film}"]  # fmt: skip
        to_browser, self._to = os.pipe()
        self._from, from_browser = os.pipe()
        line = f'exec "$@" 3<&{to_browser} 4>&{from_browser}'
        self._log = (folder / "chromium.log").open("wb")
        self._process = subprocess.Popen(
            ["bash", "-c", line, "chromium", *words, "about:blank"],
            pass_fds=(to_browser, from_browser),
            stdin=subprocess.DEVNULL,
            stdout=self._log,
            stderr=self._log,
        )
        os.close(to_browser)
        os.close(from_browser)
        self._number = 0
        self._waiting = b""
        self.events: list[dict[str, Any]] = []

    # The protocol

    def call(self, method: str, session: str = "", **params: Any) -> dict[str, Any]:
        """What the browser answers to a method."""
        self._number += 1
        mine = self._number
        message: dict[str, Any] = {"id": mine, "method": method, "params": params}
        if session:
            message["sessionId"] = session
        os.write(self._to, json.dumps(message).encode() + b"\0")
        until = time.monotonic() + PATIENCE
        while True:
            heard = self._hear(until)
            if heard.get("id") == mine:
                if "error" in heard:
                    raise BrowserError(f"{method}: {heard['error']}")
                return dict(heard["result"])
            self.events.append(heard)

    def _hear(self, until: float) -> dict[str, Any]:
        while b"\0" not in self._waiting:
            ready, _, _ = select.select([self._from], [], [], max(0.0, until - time.monotonic()))
            data = os.read(self._from, 1 << 16) if ready else b""
            if not data:
                raise BrowserError(f"the browser is silent, exit code {self._process.poll()}")
            self._waiting += data
        message, _, self._waiting = self._waiting.partition(b"\0")
        return dict(json.loads(message))

    def open(self, address: str, width: int = 360, height: int = 740, *, dark: bool = False,
             lasting: bool = False, warned: bool = False) -> Tab:  # fmt: skip
        """A new tab as a phone of that size shows it, a device of its own. `lasting`: in the
        browser's own profile, which outlives it. `warned`: its person goes on past the warning
        of a certificate that the browser does not know."""
        own = {} if lasting else self.call("Target.createBrowserContext")
        target = self.call("Target.createTarget", url="about:blank", **own)
        session = self.call("Target.attachToTarget", targetId=target["targetId"], flatten=True)
        tab = Tab(self, session["sessionId"])
        for area in ("Page", "Runtime", "Log", "Network"):
            tab.call(f"{area}.enable")
        if warned:
            tab.call("Security.enable")
            tab.call("Security.setIgnoreCertificateErrors", ignore=True)
        tab.size(width, height, dark=dark)
        tab.call("Page.navigate", url=address)
        return tab

    def kill(self) -> None:
        """As when a phone's battery is flat: nothing is put away first."""
        self._process.kill()
        self._end()

    def close(self) -> None:
        """The browser ends, and with it all that it started."""
        if self._process.poll() is not None:
            return
        try:
            self.call("Browser.close")
        except (BrowserError, OSError):
            self._process.kill()
        self._end()

    def _end(self) -> None:
        self._process.wait(PATIENCE)
        for pipe in (self._to, self._from):
            os.close(pipe)
        self._log.close()


class Tab:
    """One page in a browser."""

    def __init__(self, browser: Chromium, session: str) -> None:
        self._browser = browser
        self._session = session

    def call(self, method: str, **params: Any) -> dict[str, Any]:
        return self._browser.call(method, self._session, **params)

    def size(self, width: int, height: int, *, dark: bool = False) -> None:
        self.call("Emulation.setDeviceMetricsOverride", width=width, height=height,
                  deviceScaleFactor=2, mobile=True)  # fmt: skip
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.call("Emulation.setEmulatedMedia", features=[scheme])

    def js(self, expression: str) -> Any:
        """What an expression is in the page; a promise is waited for."""
        said = self.call("Runtime.evaluate", expression=expression, returnByValue=True,
                         awaitPromise=True, userGesture=True)  # fmt: skip
        if "exceptionDetails" in said:
            raise BrowserError(f"{expression}: {said['exceptionDetails']}")
        return said["result"].get("value")

    def wait(self, expression: str, patience: float = PATIENCE) -> Any:
        """Until an expression is true in the page."""
        until, said = time.monotonic() + patience, None
        while time.monotonic() < until:
            try:
                said = self.js(expression)
            except BrowserError:  # the page is just being loaded
                said = None
            if said:
                return said
            # The browser is given a frame to go on with.
            self.call("Runtime.evaluate", awaitPromise=True, expression=_A_FRAME)
        raise BrowserError(f"not within {patience:.0f} s: {expression}; shown: {self.text('body')}")

    def text(self, selector: str) -> str:
        return str(self.js(f"document.querySelector({json.dumps(selector)})?.innerText ?? ''"))

    def press(self, selector: str, words: str = "") -> None:
        """Press what the selector finds, the one with these words if any are given."""
        fits = f"e.innerText.includes({json.dumps(words)}) && e.getClientRects().length"
        found = f"[...document.querySelectorAll({json.dumps(selector)})]"
        chosen = f"{found}.find(e => {fits})"
        # Found and pressed in one go: between the two the page might be drawn anew.
        self.wait(f"(() => {{ const e = {chosen}; e?.click(); return Boolean(e); }})()")

    def fill(self, selector: str, text: str) -> None:
        self.js(f"document.querySelector({json.dumps(selector)}).value = {json.dumps(text)}")

    def choose_file(self, selector: str, file: Path) -> None:
        """As if a photograph had just been taken."""
        said = self.call("Runtime.evaluate", expression=f"document.querySelector('{selector}')")
        self.call("DOM.setFileInputFiles", files=[str(file)], objectId=said["result"]["objectId"])

    def offline(self, gone: bool) -> None:
        self.call("Network.emulateNetworkConditions", offline=gone, latency=0,
                  downloadThroughput=-1, uploadThroughput=-1)  # fmt: skip

    def picture(self, file: Path) -> None:
        data = self.call("Page.captureScreenshot", format="png")["data"]
        file.write_bytes(base64.b64decode(data))

    def complaints(self) -> list[str]:
        """What the browser complained of in this page: scripts that failed, what it refused."""
        found = []
        for event in self._browser.events:
            if event.get("sessionId") != self._session:
                continue
            if event["method"] == "Runtime.exceptionThrown":
                found.append(str(event["params"]["exceptionDetails"]))
            if event["method"] == "Log.entryAdded":
                found.append(str(event["params"]["entry"]["text"]))
        return found


_A_FRAME = "new Promise(done => setTimeout(done, 30))"
