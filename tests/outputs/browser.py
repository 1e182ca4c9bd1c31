"""A real browser without a window, driven over its own debugging pipe (Chrome DevTools Protocol)."""

from __future__ import annotations

import base64
import json
import os
import shutil
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
    "--remote-debugging-pipe",
)

SCALE = 0.5
"""Pixels of the screen a CSS pixel: models are drawn in software, whose time goes with the pixels."""


def executable() -> str | None:
    """Return the path of a browser that can be driven, or None."""
    return next((path for name in NAMES if (path := shutil.which(name))), None)


class Browser:
    """One page in a browser: open a file, run a script in it, take its picture."""

    def __init__(self, write: int, read: int) -> None:
        self._write, self._read, self._number, self._rest = write, read, 0, b""
        self.events: list[dict[str, Any]] = []
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        attached = self.call("Target.attachToTarget", targetId=target, flatten=True)
        self._session: str | None = attached["sessionId"]
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.call(f"{domain}.enable")

    _session = None

    def call(self, method: str, **given: Any) -> dict[str, Any]:
        """Send one command and return its result; events that come meanwhile are kept."""
        self._number += 1
        message: dict[str, Any] = {"id": self._number, "method": method, "params": given}
        if self._session is not None:
            message["sessionId"] = self._session
        raw = json.dumps(message).encode() + b"\0"
        while raw:
            raw = raw[os.write(self._write, raw) :]
        while True:
            answer = self._next()
            if answer.get("id") == self._number:
                assert "error" not in answer, answer
                return answer["result"]
            self.events.append(answer)

    def _next(self) -> dict[str, Any]:
        while b"\0" not in self._rest:
            more = os.read(self._read, 1 << 20)
            assert more, "the browser has gone"
            self._rest += more
        raw, _, self._rest = self._rest.partition(b"\0")
        return json.loads(raw)

    def open(self, path: Path, width: int, height: int, *, is_phone: bool) -> None:
        """Show a file in a window of that many CSS pixels, and wait until it is loaded."""
        self.call(
            "Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=SCALE, mobile=is_phone
        )
        self.events.clear()
        self.call("Page.navigate", url=path.as_uri())
        self.until("document.readyState === 'complete' && location.protocol === 'file:'")

    def run(self, script: str) -> Any:
        """Return the value of an expression in the page; promises are waited for."""
        found = self.call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in found, found
        return found["result"].get("value")

    def until(self, script: str, seconds: float = 120.0) -> None:
        """Wait until an expression in the page is true."""
        end = time.monotonic() + seconds
        while not self.run(script):
            assert time.monotonic() < end, f"never true: {script}"
            time.sleep(0.1)

    def picture(self, *, is_whole: bool = False) -> bytes:
        """Return a PNG file of the window, or of the whole page."""
        return base64.b64decode(self.call("Page.captureScreenshot", captureBeyondViewport=is_whole)["data"])


@contextmanager
def browser(folder: Path) -> Iterator[Browser]:
    """Start a browser whose profile lies in `folder`; it ends with the block."""
    path = executable()
    assert path, "there is no browser; install: chromium"
    to_browser, write = os.pipe()
    read, from_browser = os.pipe()

    def put_in_place() -> None:
        # The browser reads commands from descriptor 3 and answers on 4; copies first, as the numbers may be taken.
        ends = [os.dup2(end, number, inheritable=False) for end, number in ((to_browser, 63), (from_browser, 64))]
        os.dup2(ends[0], 3)
        os.dup2(ends[1], 4)

    command = [path, *FLAGS, f"--user-data-dir={folder}"]
    process = subprocess.Popen(
        command, preexec_fn=put_in_place, pass_fds=(3, 4), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    os.close(to_browser)
    os.close(from_browser)
    try:
        yield Browser(write, read)
    finally:
        process.terminate()
        process.wait(timeout=30)
        os.close(write)
        os.close(read)
