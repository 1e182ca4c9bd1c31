"""Round the picture or word that is picked: corner brackets, the arc that turns it, its size as dimensions."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import numpy as np
from imgui_bundle import imgui

from mockup.model.enclosure import Face
from mockup.model.units import MM_PER_INCH, Unit
from mockup.scene.projection import facing
from mockup.window.desk import Desk
from mockup.window.dimensions import lines
from mockup.window.pointer.face_things import FaceThing
from mockup.window.pointer.lying import Lying
from mockup.window.pointer.snapping import Uv
from mockup.window.shell import theme
from mockup.window.state import Way
from mockup.window.widgets.tags import draw_tag, tag_size

BRACKET = 5.0  # thickness of a handle, units: the window's design
_THIN = 3.0  # the same round a word, whose letters are small: by eye
_LONG = 20.0  # of a bracket's legs, units: by eye
_OUT_MM = 6.0  # of a dimension beyond the face's edge: by eye
_NEAR = 26.0  # of a word's own dimensions beyond it, units: by eye
_TICK = 9.0
_ARC_TICKS = 7  # ten degrees apart in what the arc spans, drawn wider than it is: by eye
_SEEN = 0.12  # cosine of the angle at which a face is too aslant for handles: by eye


@dataclass(frozen=True, kw_only=True)
class _Ends:
    """A dimension's two ends on the face, and where its number stands beside its middle."""

    start: Uv
    end: Uv
    text: str
    side: str


class LyingMarks:
    """Draws over the picture, in chalk cased in black."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def draw(self, canvas: imgui.ImDrawList, thing: FaceThing) -> None:
        """Draw round a thing, where its face is turned to the eye."""
        desk = self._desk
        face = desk.work.faces.get(thing.face)
        if face is None or not self._is_seen(face, (thing.lying.u_mm, thing.lying.v_mm)):
            return
        lying, unit = desk.tools.lying.lying(thing), desk.work.units
        self._guides(canvas, face)
        frame = desk.tools.lying.frame(thing)
        outline = self._desk.camera.seen_line(face, [*frame.corners, frame.corners[0]])
        if outline is None:
            return
        if not thing.is_word:
            self._chalk(canvas, [outline], 1.0)
        self._brackets(canvas, thing, outline)
        if not thing.is_word:
            self._arc(canvas, face, desk.tools.lying.arc(lying))
        for ends in _dimensions(face, thing, lying, unit, desk.camera.mm(_NEAR)):
            self._dimension(canvas, face, ends)

    def outline(self, canvas: imgui.ImDrawList, way: Way) -> None:
        """Draw round a picked scale or border."""
        desk = self._desk
        for mark in desk.tools.lying.changes.drawn():
            face = desk.work.faces.get(mark.face)
            if mark.way == way and face is not None and self._is_seen(face, mark.outline[0]):
                seen = desk.camera.seen_line(face, mark.outline)
                if seen is not None:
                    self._chalk(canvas, [[*seen]], _THIN)

    def _is_seen(self, face: Face, at: Uv) -> bool:
        camera, pose = self._desk.camera.camera, self._desk.view.body_pose(self._desk.work.content)
        point = face.to_world(np.array(at))
        return facing(camera, pose[:3, :3] @ point + pose[:3, 3], pose[:3, :3] @ face.out) > _SEEN

    def _chalk(self, canvas: imgui.ImDrawList, pieces: list[list[tuple[float, float]]], thick: float) -> None:
        scale = self._desk.widgets.scale
        lines.draw(
            canvas, pieces, theme.grey(1.0), max(1.0, thick * scale), casing=theme.grey(0.0, 0.5), case=max(1.0, scale)
        )

    def _brackets(self, canvas: imgui.ImDrawList, thing: FaceThing, outline: list[tuple[float, float]]) -> None:
        widgets, corners = self._desk.widgets, outline[:4]
        pieces = []
        for index, corner in enumerate(corners):
            legs = []
            for other in (corners[index - 1], corners[(index + 1) % 4]):
                length = math.dist(corner, other)
                share = min(_LONG * widgets.scale, length / 3) / length if length > 1e-6 else 0.0
                legs.append((corner[0] + (other[0] - corner[0]) * share, corner[1] + (other[1] - corner[1]) * share))
            pieces.append([legs[0], corner, legs[1]])
            if thing.part is None:
                reach = 10 * widgets.scale
                place = (corner[0] - reach, corner[1] - reach, corner[0] + reach, corner[1] + reach)
                widgets.places[f"bracket.{index}"] = place
        self._chalk(canvas, pieces, 2.0 if thing.part is not None else _THIN if thing.is_word else BRACKET)

    def _arc(self, canvas: imgui.ImDrawList, face: Face, arc: tuple[Uv, ...]) -> None:
        seen = self._desk.camera.seen_line(face, arc)
        if seen is None:
            return
        widgets, middle = self._desk.widgets, seen[len(seen) // 2]
        pieces = [seen]
        for step in range(_ARC_TICKS):
            index = round(step * (len(seen) - 1) / (_ARC_TICKS - 1))
            before, after = seen[max(index - 1, 0)], seen[min(index + 1, len(seen) - 1)]
            span = math.dist(before, after)
            if span < 1e-6:
                continue
            long = (_TICK if index != len(seen) // 2 else 2 * _TICK) * widgets.scale / 2
            nx, ny = -(after[1] - before[1]) / span * long, (after[0] - before[0]) / span * long
            x, y = seen[index]
            pieces.append([(x - nx, y - ny), (x + nx, y + ny)])
        self._chalk(canvas, pieces, 2.0)
        reach = 10 * widgets.scale
        widgets.places["arc"] = (middle[0] - reach, middle[1] - reach, middle[0] + reach, middle[1] + reach)

    def _dimension(self, canvas: imgui.ImDrawList, face: Face, ends: _Ends) -> None:
        seen = self._desk.camera.seen_line(face, [ends.start, ends.end])
        if seen is None:
            return
        widgets = self._desk.widgets
        start, end = seen
        pieces = [[start, end], *([*each] for each in lines.ticks(start, end, _TICK * widgets.scale))]
        self._chalk(canvas, pieces, 1.2)
        wide, tall = tag_size(widgets, ends.text)
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        gap = 8 * widgets.scale
        x, y = {
            "right": (middle[0] + gap, middle[1] - tall / 2),
            "left": (middle[0] - gap - wide, middle[1] - tall / 2),
            "below": (middle[0] - wide / 2, middle[1] + gap),
        }[ends.side]
        card = self._desk.view.cards.picture
        x, y = min(x, card.right - wide - gap), min(y, card.bottom - tall - gap)
        draw_tag(widgets, canvas, x, y, ends.text, is_bold=True)

    def _guides(self, canvas: imgui.ImDrawList, face: Face) -> None:
        """Draw what a dragged thing holds on to, and say why."""
        tool, widgets = self._desk.tools.lying, self._desk.widgets
        if not tool.is_dragging or tool.now is None:
            return
        for guide in tool.now.guides:
            seen = self._desk.camera.seen_line(face, [guide.start, guide.end])
            if seen is None:
                continue
            chain = lines.dashes(seen, [each * widgets.scale for each in lines.CHAIN])
            self._chalk(canvas, [[*each] for each in chain], 1.6)
            top = min(seen, key=lambda each: each[1])
            draw_tag(widgets, canvas, top[0] + 6 * widgets.scale, top[1] + 6 * widgets.scale, guide.why)


def _dimensions(face: Face, thing: FaceThing, lying: Lying, unit: Unit, near_mm: float) -> list[_Ends]:
    """Return the width and height of a thing as dimensions: a picture's beyond its face, a word's beside itself."""
    wide, tall = _said(lying.width_mm, unit), _said(lying.height_mm, unit)
    if lying.rotation_deg % 360.0 != 0.0:
        corners = lying.corners
        edges = list(itertools.pairwise(corners))
        return [
            _Ends(start=edges[1][0], end=edges[1][1], text=tall, side="right"),
            _Ends(start=corners[3], end=corners[2], text=wide, side="below"),
        ]
    (left, top), _, (right, low), _ = lying.corners
    if thing.is_word:
        beside, under = left - near_mm, low + near_mm
        return [
            _Ends(start=(beside, top), end=(beside, low), text=tall, side="left"),
            _Ends(start=(left, under), end=(right, under), text=wide, side="below"),
        ]
    beside = max(face.right_edge(face.height_mm), right) + _OUT_MM
    under = max(face.height_mm, low) + _OUT_MM
    return [
        _Ends(start=(beside, top), end=(beside, low), text=tall, side="right"),
        _Ends(start=(left, under), end=(right, under), text=wide, side="below"),
    ]


def _said(mm: float, unit: Unit) -> str:
    return f"{mm / MM_PER_INCH:.2f} in" if unit == "in" else f"{mm:.1f}"
