"""Marks of findings in the picture, on faces that are turned to the eye."""

from __future__ import annotations

import numpy as np
from imgui_bundle import ImVec2, imgui

from mockup.scene.projection import facing
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.marks import draw_mark


def draw(desk: Desk, canvas: imgui.ImDrawList) -> None:
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
            draw_mark(
                canvas, widgets.faces, ImVec2(x, y), finding.severity, str(index + 1), palette=theme.GLASS,
                scale=widgets.scale,
            )  # fmt: skip
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
