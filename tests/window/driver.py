"""A real window on a virtual screen: started in a process of its own, driven by real mouse and key events."""

from __future__ import annotations

import functools
import itertools
import json
import math
import os
import shutil
import signal
import subprocess
import sys
import time
import tomllib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageGrab

sys.path.append(str(Path(__file__).parent.parent))
from worker_shell import PEDAL, PLACE, WorkerShell

ROOT = Path(__file__).parent.parent.parent
VIEWS = ("three-quarter", "above", "player", "inside", "near", "far", "left", "right", "underside")
_SCREENS = itertools.count(90 + os.getpid() % 300)


def missing() -> str | None:
    """Return which program for the virtual screen is not here, or None."""
    absent = [name for name in ("Xvfb", "xdotool") if shutil.which(name) is None]
    return f"{' and '.join(absent)} not here" if absent else None


@contextmanager
def virtual_screen(size: tuple[int, int] = (1300, 830), dpi: int = 96) -> Iterator[str]:
    """Give the name of a virtual screen."""
    for _ in range(5):
        name = f":{next(_SCREENS)}"
        command = [
            "Xvfb",
            name,
            "-screen",
            "0",
            f"{size[0]}x{size[1]}x24",
            "-dpi",
            str(dpi),
            "-nolisten",
            "tcp",
            "-noreset",
        ]
        server = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        until = time.monotonic() + 10
        while time.monotonic() < until and server.poll() is None:
            asked = subprocess.run(
                ["xdotool", "getdisplaygeometry"], env={**os.environ, "DISPLAY": name}, capture_output=True, check=False
            )
            if asked.returncode == 0:
                break
            time.sleep(0.05)
        if server.poll() is None:
            break
    try:
        yield name
    finally:
        server.terminate()
        server.wait(10)


class Shell:
    """Starts windows in forks of a process that has loaded the program (see window_shell.py), which is half of a start.

    GL is not begun before the fork: drivers do not survive it.
    """

    def __init__(self, pedal: Path) -> None:
        """Load the program, and what it makes of a pedal, which most windows will open."""
        command = [sys.executable, str(Path(__file__).with_name("window_shell.py"))]
        self._workers = WorkerShell(pedal)
        env = {key: value for key, value in os.environ.items() if key != "PYOPENGL_PLATFORM"} | {
            "PYTHONPATH": str(ROOT), PLACE: self._workers.path, PEDAL: str(pedal),
        }  # fmt: skip
        self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=env)

    def ask(self, **what: object) -> Any:
        """Return the shell's answer."""
        assert self._process.stdin is not None and self._process.stdout is not None
        self._process.stdin.write(f"{json.dumps(what)}\n")
        self._process.stdin.flush()
        return json.loads(self._process.stdout.readline())

    def begin(self, args: list[str], env: dict[str, str], errors: Path) -> Forked:
        """Start `mockup` with these arguments."""
        return Forked(self, self.ask(args=args, cwd=str(ROOT), errors=str(errors), env=env))

    def close(self) -> None:
        """End the processes."""
        self._process.communicate(timeout=20)
        self._workers.close()


class Forked:
    """A process that the shell began, asked after as `subprocess.Popen` is."""

    def __init__(self, shell: Shell, pid: int) -> None:
        self.pid = pid
        self.returncode: int | None = None
        self._shell = shell

    def poll(self) -> int | None:
        """Return the status with which it has ended, None where it has not."""
        if self.returncode is None:
            self.returncode = self._shell.ask(pid=self.pid)
        return self.returncode

    def wait(self, seconds: float = math.inf) -> int:
        """Wait for its end, and return its status."""
        end = time.monotonic() + seconds
        while self.poll() is None:
            assert time.monotonic() < end, f"it has not ended in {seconds} s"
            time.sleep(0.02)
        assert self.returncode is not None
        return self.returncode

    def kill(self) -> None:
        """End it, whatever it does."""
        if self.poll() is None:
            os.kill(self.pid, signal.SIGKILL)


def begun_anew(args: list[str], env: dict[str, str], errors: Path) -> subprocess.Popen[bytes]:
    """Start `mockup` with these arguments as a builder does."""
    with errors.open("ab") as said:
        command = [sys.executable, "-W", "ignore", "-m", "mockup", *args]
        return subprocess.Popen(command, cwd=ROOT, env=env, stdout=said, stderr=said)


class Window:
    """One running window. Places are pixels of the screen, the window lying in its top left corner."""

    def __init__(
        self,
        display: str,
        folder: Path,
        *arguments: str,
        is_rough: bool = False,
        begin: Callable[[list[str], dict[str, str], Path], Forked | subprocess.Popen[bytes]] = begun_anew,
    ) -> None:
        """Open a window; one that `is_rough` shows drafts alone, which costs a fraction."""
        self.trace = folder / "trace.jsonl"
        self.errors = folder / "errors.txt"
        self.trace.touch()
        self._env = {
            **os.environ,
            "DISPLAY": display,
            "MOCKUP_WINDOW_TRACE": str(self.trace),
            "MOCKUP_SETTINGS": str(folder / "settings"),
            "PYTHONPATH": str(ROOT),
            "LIBGL_ALWAYS_SOFTWARE": "1",
        }
        self._env.pop("PYOPENGL_PLATFORM", None)
        if is_rough:
            self._env["MOCKUP_WINDOW_DRAFTS"] = "1"
        kept = folder / "settings" / "window.json"
        if not kept.exists():  # nobody walks in a test that is about something else
            kept.parent.mkdir(parents=True, exist_ok=True)
            kept.write_text('{"has_walked": true}')
        self.errors.touch()
        self.process = begin(["view", *arguments], self._env, self.errors)
        self._read, self._now = 0, {}

    @property
    def now(self) -> dict[str, Any]:
        """What the window told last."""
        with self.trace.open("rb") as handle:
            handle.seek(self._read)
            data = handle.read()
        whole, _, _ = data.rpartition(b"\n")
        if whole:
            self._read += len(whole) + 1
            self._now = json.loads(whole.rsplit(b"\n", 1)[-1])
        return self._now

    def until(self, is_so: Callable[[dict[str, Any]], Any], what: str, seconds: float = 60.0) -> dict[str, Any]:
        """Wait until something is so, and return what the window told then."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            now = self.now
            if now and is_so(now):
                return now
            if self.process.poll() is not None:
                raise AssertionError(f"the window ended ({self.process.returncode}): {self.said()}")
            time.sleep(0.03)
        brief = {key: value for key, value in self.now.items() if key not in ("places", "parts")}
        raise AssertionError(f"not within {seconds} s: {what}; the window says {brief}; {self.said()}")

    def ready(self) -> dict[str, Any]:
        """Wait for the first picture."""
        return self.until(lambda now: now["has_picture"] and not now["is_waiting"], "a picture", 120)

    def settled(self) -> dict[str, Any]:
        """Wait until everything asked for is in the picture."""
        time.sleep(0.15)
        return self.until(
            lambda now: not now["is_waiting"] and now["has_picture"] and not now["is_moving"], "the picture follows"
        )

    def place(self, name: str) -> tuple[int, int]:
        """Return the middle of a control, once it is there."""
        x0, y0, x1, y1 = self.until(lambda now: name in now["places"], f"control {name}")["places"][name]
        return round((x0 + x1) / 2), round((y0 + y1) / 2)

    def do(self, *words: object) -> None:
        """Give xdotool a command."""
        subprocess.run(["xdotool", *(str(word) for word in words)], env=self._env, check=True, capture_output=True)

    def from_above(self) -> None:
        """Wait for the first picture, and look at it straight from above."""
        self.ready()
        self.view("above")
        self.until(lambda now: now["orbit"][1] > 89, "seen from above")
        self.settled()

    def saved(self, project: Path) -> str:
        """Save, and return the text of the layout in a project's folder."""
        self.key("ctrl+s")
        self.until(lambda now: not now["is_changed"], "saved")
        return (project / "layout.toml").read_text()

    def view(self, name: str) -> None:
        """Take a named view by its key."""
        self.key(f"alt+{VIEWS.index(name) + 1}")

    def switch(self, *names: str) -> None:
        """Switch on or off what is shown in the picture."""
        self.click("foot.show")
        for name in names:
            self.click(f"show.{name}")
        self.key("Escape")

    def heard(self, give: Callable[[], None]) -> None:
        """Let go of a key or a button, and wait until the window has taken it in, or has ended by it."""
        before = self.now.get("releases", 0)
        give()
        end = time.monotonic() + 30.0
        while self.now.get("releases", 0) <= before and self.process.poll() is None:
            assert time.monotonic() < end, f"the window took no notice; {self.said()}"
            time.sleep(0.02)

    def click(self, where: str | tuple[float, float], button: int = 1) -> None:
        """Click a control or a place."""
        if isinstance(where, str):
            self._point(where)
        else:
            self.do("mousemove", round(where[0]), round(where[1]))
        time.sleep(0.12)
        self.do("mousedown", button)
        time.sleep(0.1)
        self.heard(lambda: self.do("mouseup", button))

    def _point(self, name: str) -> None:
        """Point at a control that stays where it is: cards slide in, and are laid out anew when their height is known.

        The window tells where the pointer is with each frame, so that a slow one is waited for.
        """
        spot = None
        while spot != (now := self.place(name)):
            spot = now
            for x in (spot[0] + 3, spot[0]):
                self.do("mousemove", x, spot[1])
                self.until(
                    lambda told, x=x: told["is_answerable"] and abs(told["pointer"][0] - x) <= 1,
                    f"the pointer on {name}",
                )

    def drag(self, start: tuple[float, float], end: tuple[float, float], button: int = 1, steps: int = 8) -> None:
        """Drag from one place to another."""
        self.do("mousemove", round(start[0]), round(start[1]))
        time.sleep(0.12)
        self.do("mousedown", button)
        for step in range(1, steps + 1):
            share = step / steps
            x, y = (a + (b - a) * share for a, b in zip(start, end, strict=True))
            self.do("mousemove", round(x), round(y))
            time.sleep(0.03)
        time.sleep(0.1)
        self.heard(lambda: self.do("mouseup", button))

    def turned(self, button: int) -> None:
        """Turn the wheel by one notch, and wait a moment for what moves by it."""
        before = self.now["places"]
        self.do("click", button)
        end = time.monotonic() + 1.0
        while self.now["places"] == before and time.monotonic() < end:
            time.sleep(0.03)

    def key(self, *keys: str) -> None:
        """Press keys one after the other."""
        for key in keys:
            self.heard(functools.partial(self.do, "key", key))

    def type(self, text: str) -> None:
        """Type a text."""
        self.do("type", "--delay", 20, text)
        time.sleep(0.1)

    def shot(self, path: Path | None = None) -> Image.Image:
        """Return what the screen shows; keep it in a file where one is named."""
        seen = ImageGrab.grab(xdisplay=self._env["DISPLAY"]).convert("RGB")
        if path is not None:
            seen.save(path)
        return seen

    def pixels(self) -> NDArray[np.int64]:
        """Return the picture without its rounded corners, (h, w, 3) codes."""
        left, top, right, low = (round(side) for side in self.now["places"]["picture"])
        return np.asarray(self.shot())[top + 10 : low - 10, left + 10 : right - 10].astype(int)

    def said(self) -> str:
        """Return what the process wrote to its error output."""
        return self.errors.read_text(errors="replace")[-2000:]

    def end(self) -> None:
        """End the process, whatever it does."""
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait(60)  # a busy machine takes its time to give a window's memory back


def values(project: Path) -> dict[str, Any]:
    """Return a layout's values, parts by name."""
    raw = tomllib.loads((project / "layout.toml").read_text())
    return {part["name"]: part for part in raw.pop("part")} | raw


def replaced(path: Path, picture: Image.Image) -> None:
    """Save a picture as editors do: a new file, renamed over the old one."""
    beside = path.with_name("saving.tmp.png")
    picture.save(beside, dpi=(150, 150))
    beside.replace(path)


def rewritten(path: Path, text: str) -> None:
    """Save a text as editors do: a new file, renamed over the old one."""
    beside = path.with_name(f".{path.name}.new")
    beside.write_text(text)
    beside.replace(path)
