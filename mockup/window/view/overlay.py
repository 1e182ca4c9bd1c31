"""What is drawn over the picture: names, numbers of findings, guides, measures, the wipe's line, one line of text."""

from __future__ import annotations

import numpy as np
from imgui_bundle import ImVec2, imgui

from mockup.model.mesh import Floats
from mockup.window.pointer.picture import Hands, seen_at
from mockup.window.shell import theme
from mockup.window.shell.widgets import Widgets
from mockup.window.view.scene_view import App, Measured

_ROUND = 5.0


def draw(app: App, kit: Widgets, hands: Hands) -> None:
    """Draw everything over the picture; the panel comes on top."""
    if not app.stage.rects:
        return
    canvas = imgui.get_background_draw_list()
    area = app.area()
    canvas.push_clip_rect(ImVec2(0, 0), ImVec2(area.width, area.height))
    _panes(app, kit, canvas)
    if app.state.has_findings:
        _findings(app, kit, canvas)
    _guides(app, kit, canvas)
    _measures(app, kit, canvas)
    _names(app, kit, canvas, hands)
    _line(app, kit, canvas)
    canvas.pop_clip_rect()


def pill(
    kit: Widgets,
    canvas: imgui.ImDrawList,
    x: float,
    y: float,
    text: str,
    *,
    ink: int | None = None,
    is_bold: bool = False,
) -> tuple[float, float]:
    """Draw a text on a dark plate with its top left corner at a place; return its width and height."""
    imgui.push_font(kit.faces.bold if is_bold else kit.faces.plain, theme.TEXT_PX - 1.0)
    size = imgui.calc_text_size(text)
    pad_x, pad_y = 8 * kit.scale, 4 * kit.scale
    high = ImVec2(x + size.x + 2 * pad_x, y + size.y + 2 * pad_y)
    canvas.add_rect_filled(ImVec2(x, y), high, theme.grey(0.09, 0.86), _ROUND * kit.scale)
    canvas.add_text(ImVec2(x + pad_x, y + pad_y), theme.grey(0.95) if ink is None else ink, text)
    imgui.pop_font()
    return float(high.x - x), float(high.y - y)


def pill_size(kit: Widgets, text: str) -> tuple[float, float]:
    """Return the width and height of a plate for a text."""
    imgui.push_font(kit.faces.plain, theme.TEXT_PX - 1.0)
    size = imgui.calc_text_size(text)
    imgui.pop_font()
    return float(size.x) + 16 * kit.scale, float(size.y) + 8 * kit.scale


def _panes(app: App, kit: Widgets, canvas: imgui.ImDrawList) -> None:
    """Name what each pane shows, mark the active one, draw the wipe's line."""
    state, names = app.state, [name or "the layout itself" for name in app.state.variants]
    gap = 12 * kit.scale
    if state.is_wipe:
        rect = app.stage.rects[0]
        x = rect.x + round(rect.width * state.wipe) + 0.5
        canvas.add_line(ImVec2(x, 0), ImVec2(x, rect.height), theme.grey(0.05, 0.8), 3 * kit.scale)
        canvas.add_line(ImVec2(x, 0), ImVec2(x, rect.height), theme.grey(0.97), max(1.0, 1.2 * kit.scale))
        y, r = rect.height / 2, 11 * kit.scale
        canvas.add_circle_filled(ImVec2(x, y), r, theme.grey(0.97), 32)
        for side in (-1, 1):
            tip = x + side * 0.62 * r
            canvas.add_triangle_filled(
                ImVec2(tip, y), ImVec2(x + side * 0.22 * r, y - 0.36 * r), ImVec2(x + side * 0.22 * r, y + 0.36 * r),
                theme.grey(0.15),
            )  # fmt: skip
        kit.places["wipe.line"] = (x - r, y - r, x + r, y + r)
        wide = pill_size(kit, names[0])[0]
        if x - gap - wide > gap:
            pill(kit, canvas, gap, gap, names[0], is_bold=state.active == 0)
        wide = pill_size(kit, names[1])[0] + 6
        pill(kit, canvas, rect.width - gap - wide, gap, names[1], is_bold=state.active == 1)
        return
    if len(names) == 1:
        if names[0] != "the layout itself":
            pill(kit, canvas, gap, gap, names[0])
        return
    for index, (name, rect) in enumerate(zip(names, app.stage.rects, strict=False)):
        x, y = app.origin(index)
        _, tall = pill(kit, canvas, x + gap, y + gap, name, is_bold=index == state.active)
        if not app.stage.has_picture(index):
            pill(kit, canvas, x + gap, y + gap + tall + 4 * kit.scale, "building the picture ...")
        if index == state.active:
            thick = 2 * kit.scale
            low = ImVec2(x + thick / 2, y + thick / 2)
            canvas.add_rect(
                low, ImVec2(x + rect.width - thick / 2, y + rect.height - thick / 2), theme.grey(0.92), 0.0, thick
            )


def _findings(app: App, kit: Widgets, canvas: imgui.ImDrawList) -> None:
    """Put each finding's number where it lies, on faces that are turned to the eye."""
    camera = app.orbit.camera()
    eye, back = np.asarray(camera.eye), camera.basis()[:3, 2]
    pose = app.body_pose(app.order)
    taken: list[tuple[float, float]] = []
    order = sorted(range(len(app.findings)), key=lambda index: (index != app.finding, index))
    for index in order:
        finding, is_chosen = app.findings[index], index == app.finding
        for mark in finding.marks if is_chosen else finding.marks[:1]:
            face = app.faces.get(mark.face)
            if face is None:
                continue
            point, out = face.to_world(np.array([mark.u_mm, mark.v_mm])), face.out
            world, way = (point, out) if pose is None else (pose[:3, :3] @ point + pose[:3, 3], pose[:3, :3] @ out)
            towards = back if camera.ortho_mm is not None else eye - world
            at = seen_at(app, point)
            if float(way @ towards) <= 0.02 * float(np.linalg.norm(towards)) or at is None:
                continue
            radius = (8.5 if finding.severity == "note" and not is_chosen else 10.0) * kit.scale
            x, y = _free(at, taken, 2.15 * radius)
            taken.append((x, y))
            if abs(x - at[0]) + abs(y - at[1]) > 1:
                canvas.add_line(ImVec2(*at), ImVec2(x, y), theme.grey(0.06, 0.7), 1.5 * kit.scale)
            if is_chosen:
                canvas.add_circle(ImVec2(x, y), radius * 1.75, theme.grey(0.05, 0.9), 32, 4 * kit.scale)
                canvas.add_circle(ImVec2(x, y), radius * 1.75, theme.grey(1.0), 32, 2 * kit.scale)
            kit.badge(canvas, ImVec2(x, y), str(index + 1), finding.severity, radius)
            kit.places[f"mark.{index + 1}"] = (x - radius, y - radius, x + radius, y + radius)


def _free(at: tuple[float, float], taken: list[tuple[float, float]], apart: float) -> tuple[float, float]:
    """Return a place for a badge as near as can be that no other badge covers: rings of places round its own."""
    for ring in range(5):
        for step in range(max(6 * ring, 1)):
            angle = 2.0 * np.pi * step / max(6 * ring, 1)
            x, y = at[0] + ring * apart * float(np.cos(angle)), at[1] - ring * apart * float(np.sin(angle))
            if all(np.hypot(x - a, y - b) >= 0.9 * apart for a, b in taken):
                return x, y
    return at


def _guides(app: App, kit: Widgets, canvas: imgui.ImDrawList) -> None:
    """Draw the lines that a carried part snaps to, why, and where it is."""
    carried, part = app.carried, app.part(app.carried.part) if app.carried is not None else None
    if carried is None or part is None or app.document is None:
        return
    face = app.faces[part.face]
    for guide in carried.guides:
        ends = [seen_at(app, face.to_world(np.array(end), 0.2)) for end in (guide.start, guide.end)]
        if ends[0] is None or ends[1] is None:
            continue
        _dashed(canvas, ends[0], ends[1], kit.scale)
        wide, _ = pill_size(kit, guide.why)
        middle = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
        is_upright = abs(ends[1][1] - ends[0][1]) > abs(ends[1][0] - ends[0][0])
        top = ends[0] if ends[0][1] < ends[1][1] else ends[1]
        if is_upright:
            pill(kit, canvas, top[0] + 6 * kit.scale, top[1] + 6 * kit.scale, guide.why)
        else:
            pill(kit, canvas, middle[0] - wide / 2, middle[1] - 30 * kit.scale, guide.why)


def _dashed(canvas: imgui.ImDrawList, one: tuple[float, float], two: tuple[float, float], scale: float) -> None:
    start, end = np.array(one), np.array(two)
    length = float(np.linalg.norm(end - start))
    count = max(int(length / (9 * scale)), 1)
    canvas.add_line(ImVec2(*one), ImVec2(*two), theme.grey(0.04, 0.55), 3 * scale)
    for index in range(0, count + 1, 2):
        a, b = start + (end - start) * index / (count + 1), start + (end - start) * (index + 1) / (count + 1)
        canvas.add_line(ImVec2(*a), ImVec2(*b), theme.grey(1.0), 1.6 * scale)


def _measures(app: App, kit: Widgets, canvas: imgui.ImDrawList) -> None:
    """Draw the measured points and what lies between them."""
    if app.state.tool != "measure":
        return
    if app.pointed is not None:
        _cross(app, kit, canvas, app.pointed)
    measured = app.preview if app.preview is not None and len(app.measured.points) == 1 else app.measured
    ends = [seen_at(app, point) for point, _ in measured.points]
    for point, _ in measured.points:
        _cross(app, kit, canvas, point)
    if len(ends) == 2 and ends[0] is not None and ends[1] is not None:
        canvas.add_line(ImVec2(*ends[0]), ImVec2(*ends[1]), theme.grey(0.04, 0.8), 4 * kit.scale)
        canvas.add_line(ImVec2(*ends[0]), ImVec2(*ends[1]), theme.grey(1.0), 1.8 * kit.scale)
        at = ((ends[0][0] + ends[1][0]) / 2 + 10 * kit.scale, (ends[0][1] + ends[1][1]) / 2 + 8 * kit.scale)
        _told(kit, canvas, at, measured)
    elif len(ends) == 1 and ends[0] is not None:
        _told(kit, canvas, (ends[0][0] + 14 * kit.scale, ends[0][1] + 10 * kit.scale), measured)


def _told(kit: Widgets, canvas: imgui.ImDrawList, at: tuple[float, float], measured: Measured) -> None:
    y = at[1]
    for index, line in enumerate(measured.lines):
        y += pill(kit, canvas, at[0], y, line, is_bold=index == 0)[1] + 2 * kit.scale


def _cross(app: App, kit: Widgets, canvas: imgui.ImDrawList, point: Floats) -> None:
    at = seen_at(app, point)
    if at is None:
        return
    r = 7 * kit.scale
    for colour, thick in ((theme.grey(0.04, 0.85), 3.6), (theme.grey(1.0), 1.6)):
        canvas.add_line(ImVec2(at[0] - r, at[1]), ImVec2(at[0] + r, at[1]), colour, thick * kit.scale)
        canvas.add_line(ImVec2(at[0], at[1] - r), ImVec2(at[0], at[1] + r), colour, thick * kit.scale)


def _names(app: App, kit: Widgets, canvas: imgui.ImDrawList, hands: Hands) -> None:
    """Name the selected part at its place, and what a click would select beside the pointer."""
    part = app.part(app.state.selected)
    if part is not None:
        at = _place(app, part.name)
        if at is not None:
            text = part.name
            if app.carried is not None and app.document is not None and app.design is not None:
                from mockup.window.pointer.measuring import edges

                found = edges(app.faces[part.face], (app.carried.u_mm, app.carried.v_mm))
                units = app.design.units
                from mockup.model.units import format_length

                text += f"   left {format_length(found.left_mm, units)}   top {format_length(found.top_mm, units)}"
            wide, tall = pill_size(kit, text)
            pill(kit, canvas, at[0] - wide / 2, at[1] - tall - 10 * kit.scale, text, is_bold=True)
    if hands.hover is not None and hands.hover != app.state.selected and not hands.is_holding:
        mouse = imgui.get_mouse_pos()
        pill(kit, canvas, mouse.x + 14 * kit.scale, mouse.y + 14 * kit.scale, hands.hover)


def _place(app: App, name: str) -> tuple[float, float] | None:
    """Return the top middle of a part in the window."""
    if app.state.active >= len(app.stage.places):
        return None
    rect = app.stage.places[app.state.active]
    if rect is None:
        return None
    height = app.host.size[1]
    return rect.x + rect.width / 2, float(height - rect.y - rect.height)


def _line(app: App, kit: Widgets, canvas: imgui.ImDrawList) -> None:
    """Say the one line at the foot of the picture."""
    area = app.area()
    line = app.line
    if line is None:
        if app.pane is None and app.project is not None:
            pill(kit, canvas, 14 * kit.scale, area.height - 42 * kit.scale, "building the picture ...")
        return
    imgui.push_font(kit.faces.plain, theme.TEXT_PX - 0.5)
    room = area.width - 2 * 14 * kit.scale
    pad = 10 * kit.scale
    inset = 26 * kit.scale if line.is_fault else 0.0
    size = imgui.calc_text_size(line.text, False, room - 2 * pad - inset)
    low = ImVec2(14 * kit.scale, area.height - 14 * kit.scale - size.y - 2 * pad * 0.8)
    high = ImVec2(low.x + size.x + 2 * pad + inset, area.height - 14 * kit.scale)
    canvas.add_rect_filled(low, high, theme.grey(0.085, 0.94), _ROUND * kit.scale)
    if line.is_fault:
        canvas.add_rect(low, high, theme.packed(theme.FAULT), _ROUND * kit.scale, max(1.0, 1.4 * kit.scale))
        kit.badge(canvas, ImVec2(low.x + pad + 8 * kit.scale, (low.y + high.y) / 2), "!", "stop", 9 * kit.scale)
    canvas.add_text(
        kit.faces.plain, imgui.get_font_size(), ImVec2(low.x + pad + inset, low.y + pad * 0.8), theme.grey(0.96),
        line.text, wrap_width=room - 2 * pad - inset,
    )  # fmt: skip
    imgui.pop_font()
    kit.places["line"] = (low.x, low.y, high.x, high.y)
