"""What is drawn over the picture: names, numbers of findings, guides, measures, the wipe's line, one line of text."""

from __future__ import annotations

import numpy as np
from imgui_bundle import ImVec2, imgui

from mockup.model.mesh import Floats
from mockup.model.units import format_length
from mockup.scene.projection import facing
from mockup.window.desk import Desk
from mockup.window.panel.look import LAYOUT_ITSELF
from mockup.window.pointer.measuring import edges
from mockup.window.shell import theme
from mockup.window.shell.widgets import Widgets
from mockup.window.tools.measure_tool import Measurement

_ROUND = 5.0


def draw(desk: Desk) -> None:
    """Draw everything over the picture; the panel comes on top."""
    if not desk.view.grid.rects:
        return
    canvas = imgui.get_background_draw_list()
    area = desk.view.area()
    canvas.push_clip_rect(ImVec2(0, 0), ImVec2(area.width, area.height))
    _panes(desk, canvas)
    if desk.view.state.has_findings:
        _findings(desk, canvas)
    _guides(desk, canvas)
    _measures(desk, canvas)
    _names(desk, canvas)
    _message(desk, canvas)
    canvas.pop_clip_rect()


def pill(
    widgets: Widgets,
    canvas: imgui.ImDrawList,
    x: float,
    y: float,
    text: str,
    *,
    is_bold: bool = False,
) -> tuple[float, float]:
    """Draw a text on a dark plate with its top left corner at a place; return its width and height."""
    imgui.push_font(widgets.faces.bold if is_bold else widgets.faces.plain, theme.TEXT_PX - 1.0)
    size = imgui.calc_text_size(text)
    pad_x, pad_y = 8 * widgets.scale, 4 * widgets.scale
    high = ImVec2(x + size.x + 2 * pad_x, y + size.y + 2 * pad_y)
    canvas.add_rect_filled(ImVec2(x, y), high, theme.grey(0.09, 0.86), _ROUND * widgets.scale)
    canvas.add_text(ImVec2(x + pad_x, y + pad_y), theme.grey(0.95), text)
    imgui.pop_font()
    return float(high.x - x), float(high.y - y)


def pill_size(widgets: Widgets, text: str) -> tuple[float, float]:
    """Return the width and height of a plate for a text."""
    imgui.push_font(widgets.faces.plain, theme.TEXT_PX - 1.0)
    size = imgui.calc_text_size(text)
    imgui.pop_font()
    return float(size.x) + 16 * widgets.scale, float(size.y) + 8 * widgets.scale


def _panes(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Name what each pane shows, mark the active one, draw the wipe's line."""
    widgets = desk.widgets
    state, names = desk.view.state, [name or LAYOUT_ITSELF for name in desk.view.state.variants]
    gap = 12 * widgets.scale
    if state.is_wipe:
        rect = desk.view.grid.rects[0]
        x = rect.x + round(rect.width * state.wipe) + 0.5
        canvas.add_line(ImVec2(x, 0), ImVec2(x, rect.height), theme.grey(0.05, 0.8), 3 * widgets.scale)
        canvas.add_line(ImVec2(x, 0), ImVec2(x, rect.height), theme.grey(0.97), max(1.0, 1.2 * widgets.scale))
        y, r = rect.height / 2, 11 * widgets.scale
        canvas.add_circle_filled(ImVec2(x, y), r, theme.grey(0.97), 32)
        for side in (-1, 1):
            tip = x + side * 0.62 * r
            canvas.add_triangle_filled(
                ImVec2(tip, y), ImVec2(x + side * 0.22 * r, y - 0.36 * r), ImVec2(x + side * 0.22 * r, y + 0.36 * r),
                theme.grey(0.15),
            )  # fmt: skip
        widgets.places["wipe.line"] = (x - r, y - r, x + r, y + r)
        wide = pill_size(widgets, names[0])[0]
        if x - gap - wide > gap:
            pill(widgets, canvas, gap, gap, names[0], is_bold=state.active == 0)
        wide = pill_size(widgets, names[1])[0] + 6
        pill(widgets, canvas, rect.width - gap - wide, gap, names[1], is_bold=state.active == 1)
        return
    if len(names) == 1:
        if names[0] != LAYOUT_ITSELF:
            pill(widgets, canvas, gap, gap, names[0])
        return
    for index, (name, rect) in enumerate(zip(names, desk.view.grid.rects, strict=False)):
        x, y = desk.view.origin(index)
        _, tall = pill(widgets, canvas, x + gap, y + gap, name, is_bold=index == state.active)
        if not desk.view.grid.has_picture(index):
            pill(widgets, canvas, x + gap, y + gap + tall + 4 * widgets.scale, "building the picture ...")
        if index == state.active:
            thick = 2 * widgets.scale
            low = ImVec2(x + thick / 2, y + thick / 2)
            canvas.add_rect(
                low, ImVec2(x + rect.width - thick / 2, y + rect.height - thick / 2), theme.grey(0.92), 0.0, thick
            )


def _findings(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Put each finding's number where it lies, on faces that are turned to the eye."""
    widgets = desk.widgets
    camera = desk.camera.camera
    pose = desk.view.body_pose(desk.work.content)
    taken: list[tuple[float, float]] = []
    order = sorted(range(len(desk.work.findings)), key=lambda index: (index != desk.view.state.finding, index))
    for index in order:
        finding, is_chosen = desk.work.findings[index], index == desk.view.state.finding
        for mark in finding.marks if is_chosen else finding.marks[:1]:
            face = desk.work.faces.get(mark.face)
            if face is None:
                continue
            point = face.to_world(np.array([mark.u_mm, mark.v_mm]))
            at = desk.camera.seen_at(point)
            if facing(camera, pose[:3, :3] @ point + pose[:3, 3], pose[:3, :3] @ face.out) <= 0.02 or at is None:
                continue
            radius = (8.5 if finding.severity == "note" and not is_chosen else 10.0) * widgets.scale
            x, y = _free(at, taken, 2.15 * radius)
            taken.append((x, y))
            if abs(x - at[0]) + abs(y - at[1]) > 1:
                canvas.add_line(ImVec2(*at), ImVec2(x, y), theme.grey(0.06, 0.7), 1.5 * widgets.scale)
            if is_chosen:
                canvas.add_circle(ImVec2(x, y), radius * 1.75, theme.grey(0.05, 0.9), 32, 4 * widgets.scale)
                canvas.add_circle(ImVec2(x, y), radius * 1.75, theme.grey(1.0), 32, 2 * widgets.scale)
            widgets.badge(canvas, ImVec2(x, y), str(index + 1), finding.severity, radius)
            widgets.places[f"mark.{index + 1}"] = (x - radius, y - radius, x + radius, y + radius)


def _free(at: tuple[float, float], taken: list[tuple[float, float]], apart: float) -> tuple[float, float]:
    """Return a place for a badge as near as can be that no other badge covers: rings of places round its own."""
    for ring in range(5):
        for step in range(max(6 * ring, 1)):
            angle = 2.0 * np.pi * step / max(6 * ring, 1)
            x, y = at[0] + ring * apart * float(np.cos(angle)), at[1] - ring * apart * float(np.sin(angle))
            if all(np.hypot(x - a, y - b) >= 0.9 * apart for a, b in taken):
                return x, y
    return at


def _guides(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Draw the lines that a carried part snaps to, and say why."""
    widgets = desk.widgets
    carried, part = desk.view.carried, desk.work.part(desk.view.carried.part) if desk.view.carried is not None else None
    if carried is None or part is None or desk.work.document is None:
        return
    face = desk.work.faces[part.face]
    for guide in carried.guides:
        ends = [desk.camera.seen_at(face.to_world(np.array(end), 0.2)) for end in (guide.start, guide.end)]
        if ends[0] is None or ends[1] is None:
            continue
        _dashed(canvas, ends[0], ends[1], widgets.scale)
        wide, _ = pill_size(widgets, guide.why)
        middle = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
        is_upright = abs(ends[1][1] - ends[0][1]) > abs(ends[1][0] - ends[0][0])
        top = ends[0] if ends[0][1] < ends[1][1] else ends[1]
        if is_upright:
            pill(widgets, canvas, top[0] + 6 * widgets.scale, top[1] + 6 * widgets.scale, guide.why)
        else:
            pill(widgets, canvas, middle[0] - wide / 2, middle[1] - 30 * widgets.scale, guide.why)


def _dashed(canvas: imgui.ImDrawList, one: tuple[float, float], two: tuple[float, float], scale: float) -> None:
    start, end = np.array(one), np.array(two)
    length = float(np.linalg.norm(end - start))
    count = max(int(length / (9 * scale)), 1)
    canvas.add_line(ImVec2(*one), ImVec2(*two), theme.grey(0.04, 0.55), 3 * scale)
    for index in range(0, count + 1, 2):
        a, b = start + (end - start) * index / (count + 1), start + (end - start) * (index + 1) / (count + 1)
        canvas.add_line(ImVec2(*a), ImVec2(*b), theme.grey(1.0), 1.6 * scale)


def _measures(desk: Desk, canvas: imgui.ImDrawList) -> None:
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
        y += pill(widgets, canvas, at[0], y, line, is_bold=index == 0)[1] + 2 * widgets.scale


def _cross(desk: Desk, canvas: imgui.ImDrawList, point: Floats) -> None:
    at = desk.camera.seen_at(point)
    if at is None:
        return
    scale = desk.widgets.scale
    r = 7 * scale
    for colour, thick in ((theme.grey(0.04, 0.85), 3.6), (theme.grey(1.0), 1.6)):
        canvas.add_line(ImVec2(at[0] - r, at[1]), ImVec2(at[0] + r, at[1]), colour, thick * scale)
        canvas.add_line(ImVec2(at[0], at[1] - r), ImVec2(at[0], at[1] + r), colour, thick * scale)


def _names(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Name the selected part at its place, and what a click would select beside the pointer."""
    widgets, carried, design = desk.widgets, desk.view.carried, desk.work.design
    part, at = desk.work.part(desk.view.state.selected), _top_of_selected(desk)
    if part is not None and design is not None and at is not None:
        text = part.name
        if carried is not None:
            found = edges(desk.work.faces[part.face], (carried.u_mm, carried.v_mm))
            left, top = (format_length(mm, design.units) for mm in (found.left_mm, found.top_mm))
            text += f"   left {left}   top {top}"
        wide, tall = pill_size(widgets, text)
        pill(widgets, canvas, at[0] - wide / 2, at[1] - tall - 10 * widgets.scale, text, is_bold=True)
    hovered = desk.tools.hovered_part
    if hovered is not None and hovered != desk.view.state.selected and not desk.tools.is_holding:
        mouse = imgui.get_mouse_pos()
        pill(widgets, canvas, mouse.x + 14 * widgets.scale, mouse.y + 14 * widgets.scale, hovered)


def _top_of_selected(desk: Desk) -> tuple[float, float] | None:
    """Return the top middle of the selected part as it is seen in the active pane."""
    if desk.view.state.active >= len(desk.view.grid.places):
        return None
    rect = desk.view.grid.places[desk.view.state.active]
    if rect is None:
        return None
    height = desk.window.size[1]
    return rect.x + rect.width / 2, float(height - rect.y - rect.height)


def _message(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Show the message at the foot of the picture."""
    widgets = desk.widgets
    area = desk.view.area()
    line = desk.messages.now
    if line is None:
        if desk.work.pane is None and desk.work.project is not None:
            pill(widgets, canvas, 14 * widgets.scale, area.height - 42 * widgets.scale, "building the picture ...")
        return
    imgui.push_font(widgets.faces.plain, theme.TEXT_PX - 0.5)
    room = area.width - 2 * 14 * widgets.scale
    pad = 10 * widgets.scale
    inset = 26 * widgets.scale if line.is_fault else 0.0
    size = imgui.calc_text_size(line.text, False, room - 2 * pad - inset)
    low = ImVec2(14 * widgets.scale, area.height - 14 * widgets.scale - size.y - 2 * pad * 0.8)
    high = ImVec2(low.x + size.x + 2 * pad + inset, area.height - 14 * widgets.scale)
    canvas.add_rect_filled(low, high, theme.grey(0.085, 0.94), _ROUND * widgets.scale)
    if line.is_fault:
        canvas.add_rect(
            low, high, theme.packed(theme.GLASS.stop), _ROUND * widgets.scale, max(1.0, 1.4 * widgets.scale)
        )
        widgets.badge(
            canvas, ImVec2(low.x + pad + 8 * widgets.scale, (low.y + high.y) / 2), "!", "stop", 9 * widgets.scale
        )
    canvas.add_text(
        widgets.faces.plain, imgui.get_font_size(), ImVec2(low.x + pad + inset, low.y + pad * 0.8), theme.grey(0.96),
        line.text, wrap_width=room - 2 * pad - inset,
    )  # fmt: skip
    imgui.pop_font()
    widgets.places["line"] = (low.x, low.y, high.x, high.y)
