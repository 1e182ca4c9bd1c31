"""Making thumbnails: beside the window, and kept by their content.

A thumbnail's name on disk is the digest of all that it shows and of this program, so that none is ever out of date;
they lie in the program's one store of finished pictures. What was asked for in the newest frame is made first.
"""

from __future__ import annotations

import io
import os
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup import cache, files
from mockup.model.errors import MockupError
from mockup.window.shelf.portrait import drawn
from mockup.window.shelf.subjects import ArtSubject, PedalSubject, Thumbnail
from mockup.window.state import DRAFTS
from mockup.window.work.assets import Assets
from mockup.worker import Worker, WorkerGoneError

REST_S = 0.3  # nothing is drawn until the window was left alone for so long: by eye
IDLE_S = 20.0  # after so long without work the process that draws is ended, and its memory given back: our choice
_TRIM_EVERY = 50  # thumbnails kept between two looks at how large the store has grown: our choice

Pixels = NDArray[np.uint8]
Urgency = tuple[int, int]
"""The frame that asks, and how early in it: the highest comes first."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Made:
    """What came of a wanted thumbnail: its name and its pixels (h, w, 3), or no pixels where it cannot be drawn."""

    wanted: Thumbnail
    name: str = ""
    pixels: Pixels | None = None


class ThumbnailMaker:
    """Makes what is wanted on a thread of its own: from disk, or drawn in a process that gives way to the window.

    `deliver` is called on that thread. `is_busy` tells, on any thread, whether the user is at work just now: then
    nothing is drawn, but what lies on disk still comes.
    """

    def __init__(self, deliver: Callable[[Made], None], is_busy: Callable[[], bool]) -> None:
        self._deliver, self._is_busy = deliver, is_busy
        self._store = cache.store()
        self._changed = threading.Condition()
        self._wanted: dict[Thumbnail, Urgency] = {}
        self._missing: dict[Thumbnail, str] = {}  # not on disk: their names
        self._at: Thumbnail | None = None
        self._oldest = 0  # the frame that still counts: what an earlier one asked for is dropped
        self._is_closed = False
        self._kept = 0
        self._process: Worker | None = None
        self._thread: threading.Thread | None = None

    def want(self, wanted: Thumbnail, urgency: Urgency) -> None:
        """Ask for a thumbnail, or ask again; the highest urgency comes first."""
        with self._changed:
            if wanted == self._at or self._is_closed:
                return
            is_new = wanted not in self._wanted
            self._wanted[wanted] = urgency
            if self._thread is None:
                self._thread = threading.Thread(target=self._run, name="thumbnails", daemon=True)
                self._thread.start()
            if is_new:
                self._changed.notify_all()

    def forget(self, before: int) -> None:
        """Drop what was last asked for in a frame before this one."""
        with self._changed:
            self._oldest = before
            for wanted in [each for each, (frame, _) in self._wanted.items() if frame < before]:
                del self._wanted[wanted]
                self._missing.pop(wanted, None)

    def close(self) -> None:
        """End the thread and its process."""
        with self._changed:
            self._is_closed = True
            self._changed.notify_all()
        if self._process is not None:
            self._process.close()
        if self._thread is not None:
            self._thread.join(5.0)

    def _run(self) -> None:
        while True:
            wanted = self._next()
            if wanted is None:
                return
            urgency = self._wanted_at(wanted)
            made = self._found(wanted) if wanted not in self._missing else self._drawn(wanted, self._missing[wanted])
            with self._changed:
                self._at = None
                if made is None and urgency is not None and urgency[0] >= self._oldest:
                    self._wanted.setdefault(wanted, urgency)
                else:
                    self._missing.pop(wanted, None)
            if made is not None and not self._is_closed:
                self._deliver(made)

    def _next(self) -> Thumbnail | None:
        """Wait for the most urgent; the process is ended where nothing comes for a while. None at the end."""
        with self._changed:
            while not self._is_closed:
                is_busy = self._is_busy()
                ready = [each for each in self._wanted if not (is_busy and each in self._missing)]
                if ready:
                    self._at = max(ready, key=lambda each: self._wanted[each])
                    return self._at
                if not self._changed.wait(REST_S if self._wanted else IDLE_S) and not self._wanted:
                    self._rest()
            return None

    def _wanted_at(self, wanted: Thumbnail) -> Urgency | None:
        with self._changed:
            return self._wanted.pop(wanted, None)

    def _rest(self) -> None:
        """End the process that draws; it begins again when it is needed."""
        if self._process is not None:
            self._process.close()
            self._process = None

    def _found(self, wanted: Thumbnail) -> Made | None:
        """Return what lies on disk; None where it has to be drawn."""
        try:
            name = name_of(wanted)
        except MockupError:
            return Made(wanted=wanted)
        data = self._store.get(name)
        pixels = _decoded(data) if data is not None else None
        if pixels is None and DRAFTS in os.environ:
            return Made(wanted=wanted)
        if pixels is None:
            self._missing[wanted] = name
            return None
        return Made(wanted=wanted, name=name, pixels=pixels)

    def _drawn(self, wanted: Thumbnail, name: str) -> Made:
        if self._process is None:
            self._process = Worker(is_behind=True)
        try:
            data = self._process.ask(drawn, wanted)
        except (MockupError, WorkerGoneError):
            return Made(wanted=wanted, name=name)
        with suppress(MockupError):  # a full disk: it is drawn again another day
            self._store.put(name, data)
        self._kept += 1
        if self._kept % _TRIM_EVERY == 0:
            self._store.trim(cache.limit())
        return Made(wanted=wanted, name=name, pixels=_decoded(data))


def name_of(wanted: Thumbnail) -> str:
    """Return a thumbnail's name in the store, by all that it shows; `MockupError` where a file cannot be read."""
    subject: object = wanted.subject
    if isinstance(subject, PedalSubject):
        subject = Assets().sources(subject.text, subject.project, subject.variant)
    elif isinstance(subject, ArtSubject):
        subject = files.read_bytes(subject.project.folder / subject.name)
    return cache.key("thumbnail", type(wanted.subject).__name__, subject, wanted.size)


def _decoded(data: bytes) -> Pixels | None:
    try:
        with Image.open(io.BytesIO(data)) as picture:
            return np.asarray(picture.convert("RGB"))
    except (OSError, ValueError):
        return None
