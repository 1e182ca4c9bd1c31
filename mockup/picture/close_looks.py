"""Close looks at a tight ring: as designed, and as hand drilling may leave it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from mockup.model.design import Design
from mockup.model.enclosure import Face
from mockup.model.finding import Finding, Mark
from mockup.model.limits import limits
from mockup.model.scene import Camera

CHECK = "registration"  # the check whose findings get a close look
SIDE_PX = 420  # our taste, common practice, no source
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


def wandered(design: Design, findings: Sequence[Finding]) -> Design:
    """Return the design with the holes of the findings' parts drilled off, right and down, art left in place."""
    names = {name for each in concerned(findings) for name in each.subjects}
    step = wander_mm(design) / math.sqrt(2.0)
    parts = tuple(
        replace(part, u_mm=part.u_mm + step, v_mm=part.v_mm + step) if part.name in names else part
        for part in design.parts
    )
    return replace(design, parts=parts)


def camera(face: Face, finding: Finding) -> Camera:
    """Return a camera that looks straight at the finding's first mark, true to size."""
    return camera_at(face, finding.marks[0])


def camera_at(face: Face, mark: Mark) -> Camera:
    """Return a camera that looks straight at a mark, true to size, with some room round it."""
    target = face.to_world(np.array([mark.u_mm, mark.v_mm]))
    eye = target + STAND_OFF_MM * face.out
    x, y, z = (float(value) for value in -face.down)
    return Camera(
        eye=(float(eye[0]), float(eye[1]), float(eye[2])),
        target=(float(target[0]), float(target[1]), float(target[2])),
        up=(x, y, z),
        ortho_mm=2 * (mark.radius_mm + ROOM_MM),
    )
