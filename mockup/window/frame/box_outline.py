"""The outline of the box in chalk, as long as there is no picture yet."""

from __future__ import annotations

import numpy as np
from imgui_bundle import imgui

from mockup.model.enclosure import Face, faces
from mockup.model.mesh import Floats
from mockup.scene.projection import facing, projected
from mockup.scene.views import VIEWS
from mockup.window.desk import Desk
from mockup.window.dimensions import lines
from mockup.window.pointer.orbit import Orbit
from mockup.window.shell import theme
from mockup.window.work import bare_design


def draw(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Draw the outline in every pane that shows nothing yet."""
    waiting = [index for index in range(len(desk.view.grid.rects)) if not desk.view.grid.has_picture(index)]
    design = bare_design.pedal(desk.work) if waiting else None
    if design is None:
        return
    sides = {face: corners(face) for face in faces(design.enclosure).values()}
    points, scale = np.concatenate(list(sides.values())), desk.widgets.scale
    for index in waiting:
        rect, (x, y) = desk.view.grid.rects[index], desk.view.origin(index)
        camera = Orbit.from_view(VIEWS[desk.view.state.view], points, rect.width / rect.height).camera()
        size = (float(rect.width), float(rect.height))
        seen = [
            [(x + at[0], y + at[1]) for at in projected(camera, size, ring)]
            for face, ring in sides.items()
            if facing(camera, ring.mean(axis=0), face.out) > 0
        ]
        closed = [[*ring, ring[0]] for ring in seen]
        lines.draw(canvas, closed, theme.packed(desk.widgets.palette.second), max(1.0, 1.5 * scale))


def corners(face: Face) -> Floats:
    """Return the corners (4, 3) of a face, in mm."""
    heights = (0.0, 0.0, face.height_mm, face.height_mm)
    edges = (face.left_edge, face.right_edge, face.right_edge, face.left_edge)
    return np.array([face.to_world(np.array((edge(v), v))) for edge, v in zip(edges, heights, strict=True)])
