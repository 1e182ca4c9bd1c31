"""What can be pictured small: a part, a knob, a sheen, a box, a whole pedal."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.model.enclosure import Enclosure
from mockup.model.finish import Finish
from mockup.model.part import Kind, Knob, Lamp, Shaft
from mockup.window.work.project import Project

CARD_PX = (320, 240)  # a card is half as large at scale 1, so that it stays sharp on a fine screen
CELL_PX = (176, 128)  # a cell of the drawer, the same
PRINT_PX = (96, 72)  # a variant's print in the head, the same
_USUAL_SHAFT = Shaft(diameter_mm=6.0, top_mm=13.0)  # of a small pot; common practice, no source


@dataclass(frozen=True, kw_only=True)
class PartSubject:
    """A part by itself, whole. `beside` names kinds of its group: all of them are shown to one scale."""

    kind: Kind
    knob: Knob | None = None
    lamp: Lamp | None = None
    beside: tuple[Kind, ...] = ()


@dataclass(frozen=True, kw_only=True)
class KnobSubject:
    """A knob by itself, on the shaft that it is made for; it fills the picture."""

    knob: Knob
    shaft: Shaft = _USUAL_SHAFT


@dataclass(frozen=True, kw_only=True)
class SheenSubject:
    """A chip of a finish: the corner of a box that wears it."""

    finish: Finish


@dataclass(frozen=True, kw_only=True)
class BoxSubject:
    """A bare box in its paint."""

    box: Enclosure
    finish: Finish


@dataclass(frozen=True, kw_only=True)
class PedalSubject:
    """A whole pedal: a variant (None: the design itself) of a layout's text, with the art that lies beside it."""

    project: Project
    text: str
    variant: str | None = None


@dataclass(frozen=True, kw_only=True)
class ArtSubject:
    """A picture file of a project's folder, on the pale grey of a sheet."""

    project: Project
    name: str


Subject = PartSubject | KnobSubject | SheenSubject | BoxSubject | PedalSubject | ArtSubject


@dataclass(frozen=True, kw_only=True)
class Thumbnail:
    """A picture that is wanted: of what, and how large in pixels."""

    subject: Subject
    size: tuple[int, int] = CARD_PX
