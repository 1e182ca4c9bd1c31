"""Findings, each with its number, and the measure tool."""

from __future__ import annotations

import numpy as np
from imgui_bundle import ImVec2, imgui

from mockup.model.finding import SEVERITIES, Finding
from mockup.model.mesh import Floats
from mockup.scene.cameras import VIEWS
from mockup.window.doing import Doing
from mockup.window.pointer.picture import seen_at
from mockup.window.shell import theme
from mockup.window.shell.widgets import Widgets
from mockup.window.view.scene_view import App

_MOST_NAMED = 3  # in the first line of a finding: by eye


def draw(app: App, kit: Widgets, doing: Doing) -> None:
    """Lay out the page."""
    measure(app, kit, doing)
    findings(app, kit)


def measure(app: App, kit: Widgets, doing: Doing) -> None:
    """Two points, or one and the edges of its face."""
    kit.title("Measure", is_first=True)
    is_on = app.state.tool == "measure"
    label = "Stop measuring" if is_on else "Measure"
    tip = "Click one point for its distance from the edges, a second one for the distance between both"
    if kit.button(label, "measure", tip=tip, action="measure", wide=kit.wide, is_on=is_on):
        doing.act("measure")
    if is_on:
        if app.measured.lines:
            for index, line in enumerate(app.measured.lines):
                if index:
                    kit.text(line)
                else:
                    with kit.bold():
                        kit.text(line)
        else:
            kit.note("Click a point on the pedal; on a part its centre counts. Esc starts again.")


def findings(app: App, kit: Widgets) -> None:
    """What the checks found, the worst first."""
    counts = {each: sum(finding.severity == each for finding in app.findings) for each in SEVERITIES}
    said = "   ".join(f"{theme.SEVERITY_WORDS[word]}: {count}" for word, count in counts.items() if count)
    kit.title("Findings")
    if app.is_checking:
        kit.note("Checking ...")
    elif app.checked is not None and not app.findings:
        kit.text("Nothing found: as far as the checks see, it can be built.")
    else:
        kit.note(said)
    for index, finding in enumerate(app.findings):
        row(app, kit, index, finding, "finding")


def row(app: App, kit: Widgets, index: int, finding: Finding, name: str) -> None:
    """One finding; a click looks at it and selects its part."""
    inset, start = 30 * kit.scale, imgui.get_cursor_screen_pos()
    wide = kit.wide
    imgui.begin_group()
    imgui.indent(inset)
    with kit.bold(theme.TEXT_PX - 1.0):
        kit.text(f"{theme.SEVERITY_WORDS[finding.severity]}: {_named(finding)}")
    with kit.small():
        kit.text(finding.what[0].upper() + finding.what[1:])
        if finding.remedy:
            kit.text(finding.remedy[0].upper() + finding.remedy[1:], is_dim=True)
    imgui.unindent(inset)
    imgui.end_group()
    tall = imgui.get_cursor_screen_pos().y - start.y
    after = imgui.get_cursor_screen_pos()
    draw_list = imgui.get_window_draw_list()
    kit.badge(
        draw_list, ImVec2(start.x + 11 * kit.scale, start.y + 10 * kit.scale), str(index + 1), finding.severity,
        9.5 * kit.scale,
    )  # fmt: skip
    imgui.set_cursor_screen_pos(start)
    clicked = imgui.invisible_button(f"##{name}.{index}", ImVec2(max(wide, 1.0), max(tall - 4 * kit.scale, 1.0)))
    kit.mark(f"{name}.{index + 1}")
    if imgui.is_item_hovered() or index == app.finding:
        low, high = imgui.get_item_rect_min(), imgui.get_item_rect_max()
        room = 3 * kit.scale
        draw_list.add_rect(
            ImVec2(low.x, low.y - room), ImVec2(high.x - 1, high.y + room),
            theme.grey(0.85 if index == app.finding else 0.4), 5 * kit.scale, max(1.0, 1.2 * kit.scale),
        )  # fmt: skip
    imgui.set_cursor_screen_pos(after)
    imgui.dummy(ImVec2(0, 2 * kit.scale))
    if clicked:
        look_at(app, index)


def _named(finding: Finding) -> str:
    """Return what a finding is about in a few words."""
    names, most = finding.subjects, _MOST_NAMED
    rest = f" and {len(names) - most} more" if len(names) > most + 1 else ""
    return ", ".join(names[:most] if rest else names) + rest or finding.check


def look_at(app: App, index: int) -> None:
    """Turn the camera to a finding and select the part that it is about."""
    finding = app.findings[index]
    if app.finding == index:  # chosen again: no longer
        app.finding = -1
        return
    app.finding = index
    parts = [part.name for part in app.design.parts] if app.design is not None else []
    subject = next((name for name in finding.subjects if name in parts), None)
    state = app.state.picked(subject) if subject is not None else app.state
    app.change(state.switched("findings", True))
    if not finding.marks:
        return
    mark = finding.marks[0]
    wanted = {"top": "above"}.get(mark.face, mark.face)
    face = app.faces.get(mark.face)
    back = app.orbit.camera().basis()[:3, 2]
    if face is None:
        return
    point = face.to_world(np.array([mark.u_mm, mark.v_mm]))
    if app.order.is_flipped or float(face.out @ back) < 0.3:
        app.take_view(wanted if wanted in VIEWS else "three-quarter")
    elif not _is_well_seen(app, point):
        x, y, z = (float(value) for value in point)
        app.look_at((x, y, z))


def _is_well_seen(app: App, point: Floats) -> bool:
    """True where a point lies well inside the active pane: then nothing has to move."""
    at = seen_at(app, point)
    if at is None:
        return False
    (left, top), (width, height) = app.origin(app.state.active), app.pane_size()
    x, y = (at[0] - left) / width, (at[1] - top) / height
    return 0.08 < x < 0.92 and 0.08 < y < 0.92
