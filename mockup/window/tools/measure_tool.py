"""Measuring on the pedal: one point and the edges of its face, or two points and what lies between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from mockup.model.enclosure import FACE_WORDS, FaceName
from mockup.model.mesh import Floats
from mockup.window.pointer import measuring
from mockup.window.tools.look_tool import LookTool

if TYPE_CHECKING:
    from mockup.window.desk import Desk


@dataclass(frozen=True, kw_only=True, eq=False)
class PedalPoint:
    """A point (3,) of the pedal on its lid, and the face that it lies on."""

    at: Floats
    face: FaceName | None


@dataclass(frozen=True, kw_only=True, eq=False)
class Measurement:
    """The measured points of a variant and what is said of them, the distance first."""

    points: tuple[PedalPoint, ...] = ()
    lines: tuple[str, ...] = ()
    variant: str | None = None


class MeasureTool(LookTool):
    """Sets a point with each click and goes round while it is dragged.

    `preview` is what a click would measure now, `pointed` where it would set its point.
    """

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._measurement = Measurement()
        self.preview: Measurement | None = None
        self.pointed: PedalPoint | None = None

    @property
    def shown(self) -> Measurement:
        """What was measured, as long as the variant is shown that it was measured on."""
        is_here = self._measurement.variant == self._desk.work.content.variant
        return self._measurement if is_here else Measurement()

    def clear(self) -> None:
        """Forget what was measured."""
        self._measurement, self.preview, self.pointed = Measurement(), None, None

    def click(self, x: float, y: float) -> None:
        """Set a point; the third one starts again, and one beside the pedal clears all."""
        found = self._desk.view.pane_at(x, y)
        point = self._point(found[1]) if found is not None else None
        if point is None:
            self._measurement = Measurement()
            return
        held = self.shown.points
        self._measurement = self._measured((*held, point) if len(held) == 1 else (point,))

    def hover(self, at_px: tuple[float, float]) -> None:
        """Follow the pointer over the active pane."""
        self.pointed = self._point(at_px)
        is_second = self.pointed is not None and len(self.shown.points) == 1
        self.preview = self._measured((*self.shown.points, self.pointed)) if is_second and self.pointed else None

    def _point(self, at_px: tuple[float, float]) -> PedalPoint | None:
        """Return the point of the pedal under the pointer; a part counts by its centre."""
        hit = self._desk.camera.pick(at_px)
        if hit is None:
            return None
        part = self._desk.work.part(hit.part)
        if part is None:
            return PedalPoint(at=self._desk.camera.on_pedal(hit.point), face=hit.face)
        face = self._desk.work.faces[part.face]
        return PedalPoint(at=face.to_world(np.array([part.u_mm, part.v_mm])), face=part.face)

    def _measured(self, points: Sequence[PedalPoint]) -> Measurement:
        units = self._desk.work.units
        names = {point.face for point in points}
        name = names.pop() if len(names) == 1 else None
        face = self._desk.work.faces[name] if name is not None else None
        uv = [(float(u), float(v)) for u, v, _ in (face.from_world(point.at) for point in points)] if face else []
        lines: tuple[str, ...] = ()
        if len(points) == 2:
            span = measuring.on_face(*uv) if uv else measuring.in_space(points[0].at, points[1].at)
            lines = span.lines(units)
        elif face is not None:
            lines = (f"on the {FACE_WORDS[face.name]}", *measuring.edges(face, uv[0]).lines(units))
        return Measurement(points=tuple(points), lines=lines, variant=self._desk.work.content.variant)
