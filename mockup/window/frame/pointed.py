"""What is pointed at in the picture: names of parts, lines that a carried one holds on to, measures."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from imgui_bundle import ImVec2, imgui

from mockup.model.design import Placement
from mockup.model.enclosure import FaceName
from mockup.model.mesh import Floats
from mockup.window.desk import Desk
from mockup.window.dimensions import lines
from mockup.window.frame.tag_place import Box, tag_place
from mockup.window.pointer.lying import Lying
from mockup.window.shell import theme
from mockup.window.tools.measure_tool import Measurement
from mockup.window.widgets.tags import draw_tag, tag_size
from mockup.window.widgets.widgets import Widgets

_NUT = 1.6  # times the hole of a part without a knob, about, is as wide as what shows of it: by eye


def draw_guides(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Draw the lines that a carried part holds on to, and say why."""
    widgets, carried = desk.widgets, desk.view.carried
    face = desk.work.faces.get(carried.placement.face) if carried is not None else None
    if carried is None or face is None:
        return
    for guide in carried.guides:
        ends = [desk.camera.seen_at(face.to_world(np.array(end), 0.2)) for end in (guide.start, guide.end)]
        if ends[0] is None or ends[1] is None:
            continue
        pattern = [length * widgets.scale for length in lines.CHAIN]
        chain = lines.dashes([ends[0], ends[1]], pattern)
        thick = max(1.0, 1.6 * widgets.scale)
        lines.draw(canvas, chain, theme.grey(1.0), thick, casing=theme.grey(0.0, 0.5), case=max(1.0, widgets.scale))
        wide, _ = tag_size(widgets, guide.why)
        middle = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
        is_upright = abs(ends[1][1] - ends[0][1]) > abs(ends[1][0] - ends[0][0])
        top = ends[0] if ends[0][1] < ends[1][1] else ends[1]
        if is_upright:
            draw_tag(widgets, canvas, top[0] + 6 * widgets.scale, top[1] + 6 * widgets.scale, guide.why)
        else:
            draw_tag(widgets, canvas, middle[0] - wide / 2, middle[1] - 30 * widgets.scale, guide.why)


def draw_frame(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Draw the frame that picks several things."""
    frame = desk.tools.frame.frame
    if frame is None:
        return
    left, top, right, bottom = frame
    scale = desk.widgets.scale
    canvas.add_rect_filled(ImVec2(left, top), ImVec2(right, bottom), theme.grey(1.0, 0.08))
    ring = lines.dashes(
        [(left, top), (right, top), (right, bottom), (left, bottom)], (5 * scale, 4 * scale), is_closed=True
    )
    lines.draw(canvas, ring, theme.grey(1.0), max(1.0, 1.4 * scale), casing=theme.grey(0.0, 0.5), case=max(1.0, scale))


def draw_measures(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Draw the measured points and what lies between them."""
    if desk.view.state.tool != "measure":
        return
    tool, widgets = desk.tools.measure, desk.widgets
    if tool.pointed is not None:
        _cross(desk, canvas, tool.pointed.at)
    measured = tool.preview or tool.shown
    ends = [desk.camera.seen_at(point.at) for point in measured.points]
    for point in measured.points:
        _cross(desk, canvas, point.at)
    if len(ends) == 2 and ends[0] is not None and ends[1] is not None:
        canvas.add_line(ImVec2(*ends[0]), ImVec2(*ends[1]), theme.grey(0.04, 0.8), 4 * widgets.scale)
        canvas.add_line(ImVec2(*ends[0]), ImVec2(*ends[1]), theme.grey(1.0), 1.8 * widgets.scale)
        at = ((ends[0][0] + ends[1][0]) / 2 + 10 * widgets.scale, (ends[0][1] + ends[1][1]) / 2 + 8 * widgets.scale)
        _told(widgets, canvas, at, measured)
    elif len(ends) == 1 and ends[0] is not None:
        _told(widgets, canvas, (ends[0][0] + 14 * widgets.scale, ends[0][1] + 10 * widgets.scale), measured)


def _told(widgets: Widgets, canvas: imgui.ImDrawList, at: tuple[float, float], measured: Measurement) -> None:
    y = at[1]
    for index, line in enumerate(measured.lines):
        y += draw_tag(widgets, canvas, at[0], y, line, is_bold=index == 0)[1] + 2 * widgets.scale


def _cross(desk: Desk, canvas: imgui.ImDrawList, point: Floats) -> None:
    at = desk.camera.seen_at(point)
    if at is None:
        return
    scale = desk.widgets.scale
    r = 7 * scale
    for colour, thick in ((theme.grey(0.04, 0.85), 3.6), (theme.grey(1.0), 1.6)):
        canvas.add_line(ImVec2(at[0] - r, at[1]), ImVec2(at[0] + r, at[1]), colour, thick * scale)
        canvas.add_line(ImVec2(at[0], at[1] - r), ImVec2(at[0], at[1] + r), colour, thick * scale)


def draw_names(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Name the selected part at its place, and what a click would select beside the pointer."""
    widgets = desk.widgets
    part, box = desk.work.part(desk.view.state.selected), _selected(desk)
    if part is not None and box is not None and not desk.view.is_carrying and desk.view.state.naming is None:
        card = desk.view.cards.picture
        area = (float(card.x), float(card.y), float(card.right), float(card.bottom))
        at = tag_place(box, tag_size(widgets, part.name), _around(desk, part), area, 10 * widgets.scale)
        draw_tag(widgets, canvas, *at, part.name, is_bold=True)
    hovered = desk.tools.hovered_part
    if hovered is not None and hovered != desk.view.state.selected and not desk.tools.is_holding:
        mouse = imgui.get_mouse_pos()
        if not desk.view.cards.picture.holds(mouse.x, mouse.y):
            return
        draw_tag(widgets, canvas, mouse.x + 14 * widgets.scale, mouse.y + 14 * widgets.scale, hovered)


def _around(desk: Desk, part: Placement) -> Iterator[Box]:
    """Yield where the other parts on a part's face and its lettering are seen in the active pane."""
    design = desk.work.design
    for other in design.parts if design is not None else ():
        if other.face == part.face and other.name != part.name and other.kind.cutouts:
            hole = other.kind.cutouts[0].outline.width_mm
            half = (other.knob.diameter_mm if other.knob is not None else _NUT * hole) / 2
            yield from _seen(desk, other.face, (other.u_mm, other.v_mm), (half, half))
    for label in design.labels if design is not None else ():
        if label.face == part.face:
            yield from _seen(
                desk,
                label.face,
                (label.u_mm, label.v_mm),
                (label.width_mm / 2, label.height_mm / 2),
                label.rotation_deg,
            )


def _seen(
    desk: Desk, face: FaceName, middle: tuple[float, float], half: tuple[float, float], turned_deg: float = 0.0
) -> Iterator[Box]:
    """Yield the rectangle round a turned rectangle of a face, as it is seen; nothing where it is behind the eye."""
    lying = Lying(
        u_mm=middle[0], v_mm=middle[1], width_mm=2 * half[0], height_mm=2 * half[1], rotation_deg=turned_deg
    )  # fmt: skip
    found = desk.camera.seen_line(desk.work.faces[face], lying.corners)
    if found is not None:
        across, down = zip(*found, strict=True)
        yield min(across), min(down), max(across), max(down)


def _selected(desk: Desk) -> Box | None:
    """Return where the selected part is seen in the active pane."""
    if desk.view.state.active >= len(desk.view.grid.places):
        return None
    rect = desk.view.grid.places[desk.view.state.active]
    if rect is None:
        return None
    low = float(desk.window.size[1] - rect.y)
    return float(rect.x), low - rect.height, float(rect.x + rect.width), low
