"""Art and fonts as they come in: read in a process of its own, so that no file can harm the program.

The process has limits of time and memory and stays for the next file. What ends it is told in one line and
remembered: the same bytes are not tried again.
"""

from __future__ import annotations

import atexit
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import TypeVar

from mockup.decal import typeface
from mockup.decal.pictures import artwork, formats, vector
from mockup.decal.typeface import Typeface
from mockup.memo import MEMORY
from mockup.model.digest import digest
from mockup.model.errors import Fault, InputError
from mockup.model.finish import Artwork
from mockup.worker import Worker, WorkerGoneError

FULL_DPI = 600.0  # what vectors are drawn at; finer than any printer of decals: our choice
DRAWING_S = 20.0  # of the processor; a drawing that takes longer is no art: our choice
READING_S = 60.0  # of a picture of `formats.MAX_PIXELS`, which takes a tenth of it (measured): our choice
MEMORY_BYTES = 3 * 2**30  # three times what the largest picture takes (measured); our choice
_MOST_FATAL = 100  # files whose end is remembered: our choice

Made = TypeVar("Made")

_WORKER = Worker(memory_bytes=MEMORY_BYTES, preload=artwork.__name__)  # begins with the first file, ends with us
atexit.register(_WORKER.close)
_fatal: OrderedDict[Hashable, Fault] = OrderedDict()


def picture(data: bytes, name: str, dpi: float = FULL_DPI, hide: tuple[str, ...] = ()) -> Artwork:
    """Return the picture in a file's bytes, vectors drawn at `dpi`, without the layers that are named in `hide`.

    `name` is used in messages.

    Equal bytes give the same object, whose pixels cannot be changed. Raises `InputError` in one line for what is
    no picture, is damaged, or cannot be read within the limits.
    """
    is_drawn = vector.is_svg(data)

    def read() -> Artwork:
        made = _read(data, name, is_drawn, lambda seconds: _WORKER.ask_within(seconds, _picture, data, name, dpi, hide))
        made.pixels.flags.writeable = False  # it is remembered
        return made

    return MEMORY.recall(picture, (data, name, dpi, hide), read)


def font(data: bytes, name: str) -> Typeface:
    """Return the typeface in the bytes of a font file; raises `InputError` as `picture` does."""
    return MEMORY.recall(
        font,
        (data, name),
        lambda: _read(data, name, False, lambda seconds: _WORKER.ask_within(seconds, typeface.read, data, name)),
    )


def is_known(data: bytes, name: str, dpi: float = FULL_DPI, hide: tuple[str, ...] = ()) -> bool:
    """Return whether `picture` has its answer already."""
    return MEMORY.holds(picture, (data, name, dpi, hide))


def begin() -> None:
    """Start the process, without waiting for it, where art will be wanted soon."""
    _WORKER.begin()


def stop() -> None:
    """End what is being read; whoever waits for it is told so."""
    _WORKER.stop()


def _picture(data: bytes, name: str, dpi: float, hide: tuple[str, ...]) -> Artwork:
    return artwork.decode(data, name, svg_dpi=dpi, hide=hide)


def _read(data: bytes, name: str, is_drawn: bool, ask: Callable[[float], Made]) -> Made:
    """Return what the process makes of a file; whatever ends it is one fault, and the end of that file."""
    key = digest(data)
    if key in _fatal:
        raise InputError(_fatal[key])
    seconds = DRAWING_S if is_drawn else READING_S
    try:
        return ask(seconds)
    except WorkerGoneError as gone:
        verb = "drawn" if is_drawn else "read"
        remedy = "export it as plain SVG or as PNG" if is_drawn else "save or export it again"
        if gone.reason in ("absent", "closed"):
            raise formats.refused(name, f"cannot be {verb}: {gone}") from gone
        fault = Fault(file=name, what=f"cannot be {verb}: {_why(gone, seconds, is_drawn)}", remedy=remedy)
        _fatal[key] = fault
        while len(_fatal) > _MOST_FATAL:
            _fatal.popitem(last=False)
        raise InputError(fault) from gone


def _why(gone: WorkerGoneError, seconds: float, is_drawn: bool) -> str:
    """Return what ended the process, for somebody who made the file."""
    memory = f"it needs more than {MEMORY_BYTES // 2**30} GB of memory"
    if gone.reason == "late":
        return f"it took longer than {seconds:g} s"
    if gone.reason == "failed":
        return memory if str(gone).startswith("MemoryError") else f"it is broken in a way not known here ({gone})"
    if gone.signal == "SIGABRT" and is_drawn:
        return f"{memory}, or refers to itself without end"
    if gone.signal == "SIGSEGV" and is_drawn:
        return "its parts are nested or refer to each other too deeply"
    if gone.signal == "SIGKILL":
        return "the system ended it, most likely for want of memory"
    return f"it made the reader crash ({gone.signal or gone})"
