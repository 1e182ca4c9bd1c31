"""A list of controls laid out in a box, in a process of its own that tells how far it is and can be stopped."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from mockup import failure, files
from mockup.colour.difference import contrast
from mockup.colour.rgb import parse, to_hex
from mockup.enclosure.sizes import SIZES
from mockup.layout.edit.apply import apply
from mockup.layout.starter import NEW_SHEEN
from mockup.layout.toml import read_toml
from mockup.layout_proposals import MOST, SMALLEST, propose
from mockup.memo import memoize
from mockup.model.edit import Address, Edit, PutValue
from mockup.model.errors import InputError, MockupError
from mockup.model.material import Colour
from mockup.model.units import Unit
from mockup.options import Progress, silent
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import in_window
from mockup.window.work.project import Project
from mockup.window.work.search_process import Refusal, SearchProcess

LIGHT_INK: Colour = (0.902, 0.878, 0.824)  # of words on dark paint: white under ink prints no lighter; our choice
WHITE_UNDER = "print-service"  # ink alone is swallowed by dark paint; a service prints white for everybody: our choice


@dataclass(frozen=True, kw_only=True)
class ArrangeRequest:
    """Controls as the arranger takes them, and their box: a size, length x width x height in mm, or "smallest".

    The layout is written in `units`.
    """

    words: tuple[str, ...]
    box: str
    units: Unit = "mm"


@dataclass(frozen=True, kw_only=True)
class Arranged:
    """One layout: its text, what it is like in a few words, and the least room between two knobs, None without two."""

    text: str
    about: str
    fingers_mm: float | None


@dataclass(frozen=True, kw_only=True)
class ArrangeResult:
    """The layouts, the best first, and the box that they are for; without any, `fault` says why."""

    request: ArrangeRequest
    box: str = ""
    found: tuple[Arranged, ...] = ()
    files: tuple[tuple[str, bytes], ...] = ()
    fault: str = ""


@dataclass(frozen=True, kw_only=True)
class ArrangeProgress:
    """How far it is (0 to 1), at what, and which box is tried, counted from 1."""

    share: float = 0.0
    is_proving: bool = False
    box: int = 1

    def told(self, done: int, total: int, what: str) -> ArrangeProgress:
        """Return the progress after one more word of the arranger; beginning anew means the next box."""
        is_proving = what.startswith("proving")
        share = done / max(total, 1)
        is_next = done == 0 and not is_proving and (self.is_proving or self.share > 0)
        return ArrangeProgress(share=share, is_proving=is_proving, box=self.box + is_next)

    def words(self, box: str) -> str:
        """Return what is being done, in words."""
        said = "Checking the best ones" if self.is_proving else "Trying where everything may stand"
        return f"{said}, box {min(self.box, len(SIZES))} of {len(SIZES)}" if box == SMALLEST else said


class Arranger:
    """One list at a time; `progress` is None while nothing is laid out, `result` what came of the last list."""

    def __init__(self, mailbox: Mailbox) -> None:
        self._search = SearchProcess(mailbox, "arranging", is_behind=True)
        self._folder: Path | None = None
        self.progress: ArrangeProgress | None = None
        self.result: ArrangeResult | None = None

    def start(self, request: ArrangeRequest) -> None:
        """Lay a list out, in place of any that is under way."""
        self.stop()
        self.progress, self.result = ArrangeProgress(), None
        self._search.start(arranged, request, lambda found: self._take(request, found), self._tell)

    def stop(self) -> None:
        """Leave what is under way."""
        self._search.stop()
        self.progress = None

    def clear(self) -> None:
        """Forget what came of the last list."""
        self.stop()
        self.result = None

    def project(self) -> Project:
        """Return a project whose folder holds what the layouts need, until the program ends."""
        if self._folder is None:
            self._folder = files.passing_folder()
        assert self.result is not None
        wanted = {self._folder / name: data for name, data in self.result.files}
        files.write_all({path: data for path, data in wanted.items() if not path.exists()})
        return Project(layout=self._folder / files.LAYOUT_FILE)

    def _tell(self, done: int, total: int, what: str) -> None:
        if self.progress is not None:
            self.progress = self.progress.told(done, total, what)

    def _take(self, request: ArrangeRequest, found: ArrangeResult | Refusal) -> None:
        self.progress = None
        if isinstance(found, ArrangeResult):
            self.result = found
            return
        if isinstance(found, InputError):
            fault = in_window(f"{found.faults[0].what}; {found.faults[0].remedy}")
        elif isinstance(found, MockupError):
            fault = in_window(str(found))
        else:
            fault = failure.noted(found, "the list could not be laid out")
        self.result = ArrangeResult(request=request, fault=fault)


def arranged(request: ArrangeRequest, progress: Progress = silent) -> ArrangeResult:
    """Return the layouts of a list; runs aside."""
    made = propose(request.words, request.box, count=MOST, units=request.units, progress=progress)
    beside = {name.rpartition("/")[2]: data for name, data in made.files.items()}
    beside.pop(files.LAYOUT_FILE)
    return ArrangeResult(
        request=request,
        box=made.box,
        found=tuple(
            Arranged(
                text=each.text,
                about=each.about,
                fingers_mm=None if math.isinf(each.fingers_mm) else each.fingers_mm,
            )
            for each in made.found
        ),
        files=tuple(beside.items()),
    )


@memoize  # asked for in every frame
def dressed(text: str, name: str, paint: Colour) -> str:
    """Return a layout with a pedal's name and paint; on dark paint its words are light, with white under them."""
    edits: list[Edit] = [
        PutValue(address=Address(way=("name",)), value=name),
        PutValue(address=Address(way=("finish", "paint")), value=to_hex(paint)),
        PutValue(address=Address(way=("finish", "sheen")), value=NEW_SHEEN),
    ]
    ink = read_toml(text, files.LAYOUT_FILE).get("lettering", {}).get("colour")
    if ink is not None and contrast(parse(ink), paint) < contrast(LIGHT_INK, paint):
        edits += [
            PutValue(address=Address(way=("lettering", "colour")), value=to_hex(LIGHT_INK)),
            PutValue(address=Address(way=("lettering", "process")), value=WHITE_UNDER),
        ]
    return apply(text, edits, files.LAYOUT_FILE)


def has_white_under(text: str) -> bool:
    """Return whether a layout's words are printed with white under them."""
    return bool(read_toml(text, files.LAYOUT_FILE).get("lettering", {}).get("process") == WHITE_UNDER)
