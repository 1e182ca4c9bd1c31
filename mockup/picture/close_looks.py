"""Close looks at a tight ring: as designed, and as hand drilling may leave it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup.drawing.lettering import FAINT, lines, shortened
from mockup.enclosure import bores
from mockup.limits import limits
from mockup.model.design import Design
from mockup.model.enclosure import Face
from mockup.model.finding import Finding
from mockup.model.finding import Mark as Place
from mockup.model.material import Colour
from mockup.model.scene import Camera
from mockup.model.sheet import INK, Image, Mark, Rectangle

CHECK = "registration"  # the check whose findings get a close look
SIDE_PX = 420  # our taste, common practice, no source
HEIGHT = SIDE_PX + 40.0  # of a look with its caption, in pixels
FRAME: Colour = (0.80, 0.79, 0.76)
_TEXT, _BASE = 17.0, 19.0  # size of the caption, and how far down it stands: our taste
ROOM_MM = 4.0  # shown round the hardware's edge: our taste, common practice, no source
STAND_OFF_MM = 300.0  # of the camera, which looks without perspective, so that it does not matter


@dataclass(frozen=True, kw_only=True, eq=False)
class Closeup:
    """One finding's two pictures, each (h, w, 3 or 4) uint8, and how far the second one's hole is off."""

    finding: Finding
    designed: NDArray[np.uint8]
    wandered: NDArray[np.uint8]
    off_mm: float


def concerned(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Return the findings that a close look belongs to."""
    return tuple(each for each in findings if each.check == CHECK and each.marks)


def wander_mm(design: Design) -> float:
    """Return how far a hole may be off: the limit of the registration check."""
    return limits(design.limits)["wander_mm"].value


def drilled_off(design: Design, findings: Sequence[Finding]) -> Design:
    """Return the design with the holes of the findings' parts drilled off, right and down, art left in place."""
    rings, step = concerned(findings), wander_mm(design) / math.sqrt(2.0)
    off = [part.name for part in design.parts if any(each.is_about(part.name) for each in rings)]
    return bores.off(design, dict.fromkeys(off, (step, step)))


def camera(face: Face, place: Place) -> Camera:
    """Return a camera that looks straight at a place, true to size, with some room round it."""
    target = face.to_world(np.array([place.u_mm, place.v_mm]))
    eye, at, up = (tuple(each.tolist()) for each in (target + STAND_OFF_MM * face.out, target, -face.down))
    return Camera(eye=eye, target=at, up=up, ortho_mm=2 * (place.radius_mm + ROOM_MM))


def look(
    pixels: NDArray[np.uint8], x: float, y: float, caption: str, *, indent: float = 0.0, is_faint: bool = False
) -> Iterator[Mark]:
    """Yield a close look under its caption, from its top-left corner; a millimetre of the page is a pixel."""
    said = shortened(caption, _TEXT, SIDE_PX - indent)
    yield from lines([said], x + indent, y + _BASE, _TEXT, 0.0, is_bold=not is_faint, colour=FAINT if is_faint else INK)
    top = y + HEIGHT - SIDE_PX
    yield Image(x_mm=x, y_mm=top, width_mm=SIDE_PX, height_mm=SIDE_PX, pixels=pixels)
    yield Rectangle(x_mm=x, y_mm=top, width_mm=SIDE_PX, height_mm=SIDE_PX, stroke=FRAME, line_mm=1.0)
