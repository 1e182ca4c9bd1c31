"""Picture the real window, on a virtual screen, for README; run with a picture's name it is that window."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mockup.window.desk import Desk

LAYOUT = Path(__file__).parent.parent / "examples" / "lantern_moth" / "layout.toml"
WAIT_S = 300.0  # for one picture on a slow machine without a graphics card
READY = "ready"


@dataclass(frozen=True, kw_only=True)
class Picture:
    """One picture of the window: its file, its size in pixels and how the window is brought to what it shows."""

    name: str
    size: tuple[int, int]
    pose: Callable[[Desk], None]


def part_moved(desk: Desk) -> None:
    """A knob put too near its neighbour: selected, its place typed out, what is in its way numbered."""
    from mockup.layout.edit import parts

    part = desk.work.part("FLUTTER")
    face, u_mm, v_mm = desk.work.faces["top"], part.u_mm + 4.0, part.v_mm + 3.0
    desk.work.edit(
        lambda document, scope: document.edited(
            "move FLUTTER", parts.moved(document.raw, {"FLUTTER": (face, u_mm, v_mm)}, **scope)
        )
    )
    desk.view.change(desk.view.state.picking(("part", "FLUTTER")))


def variants(desk: Desk) -> None:
    """Two variants of a pedal side by side, seen by one camera."""
    desk.view.change(replace(desk.view.state, variants=(None, "dusk"), has_findings=False))


PICTURES = (
    Picture(name="window.png", size=(1280, 940), pose=part_moved),
    Picture(name="window-variants.png", size=(1280, 800), pose=variants),
)


def taken(picture: Picture) -> bytes:
    """Return one picture of the window as a PNG file."""
    from PIL import ImageGrab

    with virtual_screen(picture.size) as display, shown(picture, display):
        seen = ImageGrab.grab(xdisplay=display).convert("RGB")
    out = io.BytesIO()
    seen.save(out, "PNG", optimize=True)
    return out.getvalue()


@contextmanager
def virtual_screen(size: tuple[int, int]) -> Iterator[str]:
    """Give the name of a virtual screen of a size in pixels, which ends with the block."""
    command = ["Xvfb", "-displayfd", "1", "-screen", "0", f"{size[0]}x{size[1]}x24", "-dpi", "96", "-nolisten", "tcp"]
    try:
        server = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    except FileNotFoundError:
        sys.exit(
            "the window's pictures need Xvfb, a virtual screen, which is not installed here (Debian: apt install xvfb)"
        )
    try:
        number = server.stdout.readline().strip()
        if not number:
            sys.exit("Xvfb, the virtual screen for the window's pictures, cannot start here")
        yield f":{number}"
    finally:
        server.terminate()
        server.wait(10)


@contextmanager
def shown(picture: Picture, display: str) -> Iterator[None]:
    """Show the window on a screen, in a process of its own, until the block ends; it begins at rest."""
    with TemporaryDirectory() as settings:
        (Path(settings) / "window.json").write_text('{"has_walked": true}')  # its cards lie over what is shown
        yield from _shown(picture, display, settings)


def _shown(picture: Picture, display: str, settings: str) -> Iterator[None]:
    env = {**os.environ, "DISPLAY": display, "LIBGL_ALWAYS_SOFTWARE": "1", "MOCKUP_SETTINGS": settings}
    env.pop("PYOPENGL_PLATFORM", None)
    window = subprocess.Popen(
        [sys.executable, "-W", "ignore", __file__, picture.name], env=env, stdout=subprocess.PIPE, text=True
    )
    patience = threading.Timer(WAIT_S, window.kill)
    patience.start()
    try:
        if READY not in iter(lambda: window.stdout.readline().strip(), ""):
            sys.exit(f"the window for {picture.name} ended, or was not at rest within {WAIT_S:g} s")
        yield
    finally:
        patience.cancel()
        window.kill()
        window.wait(10)


def show(picture: Picture) -> None:
    """Open the window on the example, bring it to what is to be seen, and tell when it is at rest."""
    from mockup.engines.gl.context import leave_to_window

    leave_to_window()
    from mockup.window.application import Application
    from mockup.window.shell.native_window import NativeWindow

    class Posing(Application):
        """The window with somebody who sets it up and waits."""

        def __init__(self, window: NativeWindow) -> None:
            super().__init__(window)
            self._is_posed = False
            self._at_rest = 0.0

        def work(self) -> float | None:
            until, desk = super().work(), self.desk
            work = desk.work
            is_busy = work.pane is None or work.is_waiting or work.found.is_checking or not desk.view.grid.is_fine
            is_busy = is_busy or desk.shelf.is_waiting
            now = time.perf_counter()
            if is_busy or not self._at_rest:
                self._at_rest = now
            elif now - self._at_rest > 1.0 and not self._is_posed:
                self._is_posed, self._at_rest = True, now
                picture.pose(desk)
            elif now - self._at_rest > 2.0 and desk.messages.now is None:
                sys.stdout.write(f"{READY}\n")
                sys.stdout.flush()
            return 0.2 if until is None else min(until, 0.2)

    window = NativeWindow("mockup", picture.size, 1.0)
    application = Posing(window)
    application.open(LAYOUT)
    window.run(application)


if __name__ == "__main__":
    show(next(each for each in PICTURES if each.name == sys.argv[1]))
