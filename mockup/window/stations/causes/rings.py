"""Rings at the places of findings, each joined to its mark in the margin; the ghost of a remedy on trial."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from imgui_bundle import ImVec2, imgui

from mockup.model.design import Placement
from mockup.model.enclosure import FACE_WORDS, Face
from mockup.model.finding import Mark
from mockup.model.units import Unit, format_length
from mockup.scene.projection import facing
from mockup.window.desk import Desk
from mockup.window.dimensions import lines
from mockup.window.findings.causes import Cause
from mockup.window.findings.margin import margin_marks
from mockup.window.parts.catalogue import title
from mockup.window.shell import theme
from mockup.window.widgets.marks import draw_mark
from mockup.window.widgets.tags import draw_tag

_APART = 40.0  # units between marks in the margin
_LEAST_RING, _MOST_RING = 12.0, 70.0  # units: radius of a ring that can be seen and does not hide the pedal
_DISC = 14.0  # units: the glass under a mark
_CARRIED_ALPHA = 0.3
_LEAST_FACING = 0.05

Point = tuple[float, float]


def draw(desk: Desk, canvas: imgui.ImDrawList, found: Sequence[Cause], hot: int | None) -> None:
    """Draw the rings of causes that can be seen; those of the `hot` one in full, the others faint."""
    if desk.camera.orbit != desk.camera.goal:
        return  # they come again when the camera rests
    rings = [(number, ring) for number, cause in enumerate(found) for ring in _rings(desk, cause)]
    scale, picture = desk.widgets.scale, desk.view.cards.picture
    whole = 1.0 if desk.view.carried is None else _CARRIED_ALPHA
    firsts = dict(reversed(rings))
    order = sorted(firsts)
    area = (float(picture.x), picture.y + 12 * scale, float(picture.right), desk.view.cards.net.y - 8 * scale)
    placed = margin_marks([firsts[number][0] for number in order], area, _body(desk), _APART * scale)
    for number, (middle, radius) in rings:
        alpha = whole * _alpha(found[number], is_hot=number == hot, is_any_hot=hot is not None)
        _ring(desk, canvas, middle, radius, theme.packed(theme.GLASS.of(found[number].severity), alpha), alpha)
    for number, mark in zip(order, placed, strict=True):
        alpha = whole * _alpha(found[number], is_hot=number == hot, is_any_hot=hot is not None)
        colour = theme.packed(theme.GLASS.of(found[number].severity), alpha)
        middle, radius = firsts[number]
        end = _towards(middle, mark.at, radius)
        casing = theme.grey(0.0, 0.5 * alpha)
        lines.draw(canvas, [(end, mark.at)], colour, max(1.0, 1.2 * scale), casing=casing, case=max(1.0, scale))
        at = ImVec2(*mark.at)
        canvas.add_circle_filled(at, _DISC * scale, theme.packed(theme.GLASS_GROUND, theme.GLASS_ALPHA), 32)
        severity = found[number].severity
        draw_mark(desk.widgets, canvas, at, severity, str(number + 1), size=18.0, alpha=whole, is_on_glass=True)
        r = _DISC * scale
        desk.widgets.places[f"mark.{number + 1}"] = (at.x - r, at.y - r, at.x + r, at.y + r)


def _alpha(cause: Cause, *, is_hot: bool, is_any_hot: bool) -> float:
    """Return how strongly a cause is drawn: what is only worth knowing stands back until it is looked at."""
    is_full = is_hot or (not is_any_hot and cause.severity != "note")
    return 1.0 if is_full else theme.FADED_ALPHA


def draw_trial(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Draw where the remedy on trial would put things: a ghost, an arrow and how far."""
    if not desk.trial.is_shown or desk.camera.orbit != desk.camera.goal:
        return
    for before, after in desk.trial.moved:
        _moved(desk, canvas, before, after)


def _moved(desk: Desk, canvas: imgui.ImDrawList, before: Placement, after: Placement) -> None:
    face, scale = desk.work.faces.get(after.face), desk.widgets.scale
    if face is None or facing(desk.camera.camera, face.to_world(np.array([after.u_mm, after.v_mm])), face.out) <= 0:
        return
    there, here = _footprint(desk, after), _footprint(desk, before)
    if there is None or here is None:
        return
    chalk, casing = theme.grey(1.0), theme.grey(0.0, 0.5)
    dashed = lines.dashes(_circle(*there), [each * scale for each in lines.DASHED])
    lines.draw(canvas, dashed, chalk, max(1.0, 2 * scale), casing=casing, case=max(1.0, scale))
    (x, y), (from_x, from_y) = there[0], here[0]
    cross = 6 * scale
    arrow = [[(x - cross, y), (x + cross, y)], [(x, y - cross), (x, y + cross)], [(from_x, from_y), (x, y)]]
    length = math.hypot(x - from_x, y - from_y)
    if length > 2 * cross:
        ux, uy = (x - from_x) / length, (y - from_y) / length
        arrow += [
            [(x, y), (x - cross * (1.6 * ux + side * 0.8 * uy), y - cross * (1.6 * uy - side * 0.8 * ux))]
            for side in (-1, 1)
        ]
    lines.draw(canvas, arrow, chalk, max(1.0, 1.6 * scale), casing=casing, case=max(1.0, scale))
    said = _change(before, after, desk.work.units)
    draw_tag(desk.widgets, canvas, x + there[1] + 8 * scale, y - there[1] - 12 * scale, said, is_bold=True)


def _footprint(desk: Desk, part: Placement) -> tuple[Point, float] | None:
    """Return middle and radius of what a part covers of its face, in pixels."""
    radius_mm = part.knob.diameter_mm / 2 if part.knob is not None else _nut_mm(part.kind.cutouts)
    mark = Mark(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, radius_mm=radius_mm)
    return _seen(desk, desk.work.faces[part.face], mark)


def _change(before: Placement, after: Placement, units: Unit) -> str:
    """Return in a few words what becomes of a part: how far it moves, how it turns, what it is instead."""
    said = []
    if after.kind.name != before.kind.name:
        said.append(title(after.kind))
    if after.face != before.face:
        said.append(f"to the {FACE_WORDS[after.face]}")
    elif (length := math.hypot(after.u_mm - before.u_mm, after.v_mm - before.v_mm)) > 0:
        said.append(format_length(round(length, 2), units))
    if after.rotation_deg != before.rotation_deg:
        said.append(f"turned to {after.rotation_deg:g}°")
    if after.knob is not None and after.knob != before.knob:
        said.append(f"a knob of {format_length(after.knob.diameter_mm, units)}")
    return ", ".join(said) or format_length(abs(after.depth_mm - before.depth_mm), units)


def _nut_mm(cutouts: Sequence[object]) -> float:
    outline = getattr(cutouts[0], "outline", None) if cutouts else None
    return float(outline.width_mm) / 2 + 2.0 if outline is not None else 5.0


def _rings(desk: Desk, cause: Cause) -> list[tuple[Point, float]]:
    """Return middle and radius of each ring of a cause on a face that is turned to the eye, in pixels."""
    found, seen = [], set()
    camera, pose = desk.camera.camera, desk.view.body_pose(desk.work.content)
    for number in cause.findings:
        for mark in desk.work.findings[number].marks:
            face = desk.work.faces.get(mark.face)
            key = (mark.face, round(mark.u_mm), round(mark.v_mm))
            if face is None or key in seen:
                continue
            seen.add(key)
            point = face.to_world(np.array([mark.u_mm, mark.v_mm]))
            towards = facing(camera, pose[:3, :3] @ point + pose[:3, 3], pose[:3, :3] @ face.out)
            ring = _seen(desk, face, mark)
            if towards > _LEAST_FACING and ring is not None:
                found.append(ring)
    return found


def _seen(desk: Desk, face: Face, mark: Mark) -> tuple[Point, float] | None:
    middle = desk.camera.seen_at(face.to_world(np.array([mark.u_mm, mark.v_mm])))
    beside = desk.camera.seen_at(face.to_world(np.array([mark.u_mm + mark.radius_mm, mark.v_mm])))
    if middle is None or beside is None:
        return None
    scale = desk.widgets.scale
    radius = math.dist(middle, beside) + 4 * scale
    return middle, min(max(radius, _LEAST_RING * scale), _MOST_RING * scale)


def _body(desk: Desk) -> Point:
    """Return the left and right edge of the box in the window."""
    corners = [
        desk.camera.seen_at(face.to_world(np.array([u, v])))
        for face in desk.work.faces.values()
        for u in (0.0, face.width_mm)
        for v in (0.0, face.height_mm)
    ]
    xs = [each[0] for each in corners if each is not None]
    picture = desk.view.cards.picture
    return (min(xs), max(xs)) if xs else (float(picture.x), float(picture.right))


def _ring(desk: Desk, canvas: imgui.ImDrawList, middle: Point, radius: float, colour: int, alpha: float) -> None:
    scale = desk.widgets.scale
    casing = theme.grey(0.0, 0.5 * alpha)
    circle = _circle(middle, radius)
    lines.draw(canvas, [circle], colour, max(1.0, 2 * scale), casing=casing, case=max(1.0, scale))


def _circle(middle: Point, radius: float) -> list[Point]:
    turn = 2.0 * math.pi / 48
    return [(middle[0] + radius * math.cos(turn * i), middle[1] + radius * math.sin(turn * i)) for i in range(49)]


def _towards(middle: Point, at: Point, radius: float) -> Point:
    """Return where the line from a ring's middle to a mark leaves the ring."""
    length = max(math.dist(middle, at), 1e-6)
    return middle[0] + (at[0] - middle[0]) * radius / length, middle[1] + (at[1] - middle[1]) * radius / length
