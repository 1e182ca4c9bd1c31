"""Opening the window: what is asked for is checked before anything is shown."""

from __future__ import annotations

import contextlib
import ctypes
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from mockup import api
from mockup.engines.gl.context import leave_to_window
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.scene import Quality
from mockup.window.state import MOST_PANES
from mockup.window.work.project import opened

_ARENA_MAX, _MMAP_THRESHOLD = -8, -3  # M_ARENA_MAX and M_MMAP_THRESHOLD of glibc's malloc.h
_LARGE_BYTES = 2**20  # art and meshes, but no small things: our choice


def run(
    layout: Path | None,
    *,
    variants: Sequence[str] = (),
    scale: float | None = None,
    size: tuple[int, int] = (1280, 800),
    quality: Quality = "normal",
) -> None:
    """Open the window on a layout, a folder or nothing, and return when it is closed.

    Raises `InputError` where the layout or a variant is not there, `EngineError` without a display or GL.
    """
    project = opened(layout) if layout is not None else None
    if variants:
        _require(project is not None, "--variant", "names a variant of a layout", "name the layout too")
        _require(len(variants) <= MOST_PANES, "--variant", f"at most {MOST_PANES} fit side by side", "leave some out")
        assert project is not None
        known = api.variants(project.layout)
        for name in variants:
            _require(name in known, project.layout.name, f"there is no variant {name!r}", nearest(name, known))
    _share_heaps()
    leave_to_window()  # before anything loads GL
    from mockup.window.application import Application
    from mockup.window.shell.native_window import NativeWindow

    window = NativeWindow("mockup", size, scale)
    application = Application(window)
    try:
        view = application.desk.view
        view.change(replace(view.state, quality=quality))
        if project is not None:
            application.open(project.layout)
            if variants:
                view.change(replace(view.state, variants=tuple(variants)))
        window.run(application)
    finally:
        application.shut()
        window.shut()


def _share_heaps() -> None:
    """Let the window's threads share two heaps where the C library is glibc, which else gives each its own.

    Art and scenes are made on other threads than they are let go on, so that heaps of their own stay full of holes:
    with two, a long soak ended 130 MB lower. What is large gets pages of its own, which go back to the system with it;
    left alone the library soon puts it into the heaps, too: about 100 MB of holes after a few hundred inputs.
    """
    with contextlib.suppress(OSError, AttributeError, TypeError):  # no such library or call: another system
        library = ctypes.CDLL(None)
        library.mallopt(_ARENA_MAX, 2)
        library.mallopt(_MMAP_THRESHOLD, _LARGE_BYTES)


def _require(is_so: bool, file: str, what: str, remedy: str) -> None:
    if not is_so:
        raise InputError(Fault(file=file, what=what, remedy=remedy))
