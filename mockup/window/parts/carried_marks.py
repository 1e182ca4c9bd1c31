"""What is drawn over the picture while a part is carried: its face lit, its ghost, bars to the nearest things."""

from __future__ import annotations

import numpy as np
from imgui_bundle import ImVec2, imgui

from mockup.checks.panel.built import Built
from mockup.checks.panel.clearance import Clearance, clearances
from mockup.model.design import Placement
from mockup.model.enclosure import Face
from mockup.model.units import format_length
from mockup.scene.projection import facing
from mockup.window.desk import Desk
from mockup.window.dimensions import lines
from mockup.window.dimensions.face_sketch import outline
from mockup.window.part_flow import pedal, picked
from mockup.window.parts.catalogue import title
from mockup.window.parts.room_words import barred, tag
from mockup.window.pointer.ghost import Layer, ghost
from mockup.window.pointer.measuring import edges
from mockup.window.shell import theme
from mockup.window.tools.carry_tool import without
from mockup.window.widgets.tags import draw_tag, tag_size

_LIT = 0.1  # how much white the face under the part gets: the window's design
_BAR_PX = 4.0  # units: by eye
_THICK: dict[Layer, float] = {"knob": 2.0, "nut": 1.0, "hole": 1.0, "body": 1.4}
Point = tuple[float, float]


def draw(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Draw all that belongs to the part in hand."""
    carried = desk.view.carried
    if carried is None or not desk.view.is_carrying:
        _picked(desk, canvas)
        return
    if carried.is_off:
        mouse = imgui.get_mouse_pos()
        draw_tag(desk.widgets, canvas, mouse.x + 16, mouse.y + 16, title(carried.placement.kind), is_bold=True)
        return
    side = desk.work.faces.get(carried.placement.face)
    if side is None:
        return
    _lit(desk, canvas, side)
    for part in (*carried.others, carried.placement):
        _ghost(desk, canvas, side, part)
    taken: list[tuple[float, float, float, float]] = []
    _beside(desk, canvas, side, carried.placement, taken)
    if not carried.others:
        for each in barred(carried.clearances):
            _bar(desk, canvas, side, each, carried.placement, taken)


def _picked(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Outline the parts that are picked together; of one alone the picture shows the outline."""
    parts = picked(desk)
    if len(parts) == 1 and parts[0].kind.mount == "panel" and desk.tools.nudged is desk.work.document:
        _nudged(desk, canvas, parts[0])
    for part in parts if len(parts) > 1 else ():
        side = desk.work.faces.get(part.face)
        if side is not None and facing_eye(desk, side, part):
            _ghost(desk, canvas, side, part, only=("knob",) if part.knob else ("nut",))


def _nudged(desk: Desk, canvas: imgui.ImDrawList, part: Placement) -> None:
    """Draw the room round a part that was moved by keys."""
    design, side = pedal(desk), desk.work.faces.get(part.face)
    if design is None or side is None or not facing_eye(desk, side, part):
        return
    taken: list[tuple[float, float, float, float]] = []
    for each in barred(clearances(Built(without(design, [part])), part)):
        _bar(desk, canvas, side, each, part, taken)


def facing_eye(desk: Desk, side: Face, part: Placement) -> bool:
    """True where a part's face is turned to the eye."""
    return facing(desk.camera.camera, side.to_world(np.array([part.u_mm, part.v_mm])), side.out) > 0


def _lit(desk: Desk, canvas: imgui.ImDrawList, side: Face) -> None:
    """Light a face up and give it a chalk edge."""
    seen = desk.camera.seen_line(side, outline(side).points, 0.0)
    if seen is None:
        return
    canvas.add_convex_poly_filled(list(seen), theme.grey(1.0, _LIT))
    thick, case = 2 * desk.widgets.scale, max(1.0, desk.widgets.scale)
    lines.draw(canvas, [[*seen, seen[0]]], theme.grey(1.0), thick, casing=theme.grey(0.0, 0.5), case=case)


def _ghost(desk: Desk, canvas: imgui.ImDrawList, side: Face, part: Placement, only: tuple[Layer, ...] = ()) -> None:
    """Draw a part's outlines, or some of them: body dashed, knob full, nut thin, hole black."""
    scale = desk.widgets.scale
    for line in ghost(part):
        if only and line.layer not in only:
            continue
        seen = desk.camera.seen_line(side, line.points)
        if seen is None:
            continue
        ring = [*seen, seen[0]]
        if line.layer == "hole":
            canvas.add_concave_poly_filled(list(seen), theme.grey(0.03, 0.85))
        pattern = [length * scale for length in lines.DASHED]
        pieces = lines.dashes(ring, pattern) if line.layer == "body" else [tuple(ring)]
        lines.draw(
            canvas, pieces, theme.grey(1.0), max(1.0, _THICK[line.layer] * scale), casing=theme.grey(0.0, 0.5),
            case=max(1.0, scale * 0.8),
        )  # fmt: skip


def _bar(
    desk: Desk, canvas: imgui.ImDrawList, side: Face, each: Clearance, part: Placement,
    taken: list[tuple[float, float, float, float]],
) -> None:  # fmt: skip
    """Draw the room to one thing as a bar from edge to edge, with its tag beside it."""
    if each.ends is None:
        return
    seen = desk.camera.seen_line(side, each.ends, 0.2)
    middle = desk.camera.seen_on(side, (part.u_mm, part.v_mm), 0.2)
    if seen is None or middle is None:
        return
    widgets, scale = desk.widgets, desk.widgets.scale
    colour = theme.packed(theme.GLASS.of(each.severity or "clear"))
    lines.draw(canvas, [seen], colour, _BAR_PX * scale, casing=theme.grey(0.0, 0.5), case=max(1.0, scale))
    text = tag(each, desk.work.units)
    wide, tall = tag_size(widgets, text)
    wide += 14 * scale
    end = seen[1]
    way = (end[0] - middle[0], end[1] - middle[1])
    far = max((way[0] ** 2 + way[1] ** 2) ** 0.5, 1.0)
    at = (end[0] + way[0] / far * 14 * scale, end[1] + way[1] / far * 14 * scale)
    x = at[0] if way[0] > 0.5 * far else at[0] - wide if way[0] < -0.5 * far else at[0] - wide / 2
    y = at[1] - tall / 2
    card = desk.view.cards.picture
    x = min(max(x, card.x + 8 * scale), card.right - wide - 8 * scale)
    y = _clear((x, y, wide, tall), taken, scale)
    taken.append((x, y, wide, tall))
    draw_tag(widgets, canvas, x, y, "    " + text)
    draw_tag_dot(canvas, (x + 11 * scale, y + tall / 2), each, colour, scale)


def draw_tag_dot(canvas: imgui.ImDrawList, at: Point, each: Clearance, colour: int, scale: float) -> None:
    """Draw the mark of a bar's tag: told apart by its shape alone."""
    r = 4.0 * scale
    if each.severity == "stop":
        canvas.add_rect_filled(ImVec2(at[0] - r, at[1] - r), ImVec2(at[0] + r, at[1] + r), colour, scale)
    elif each.severity == "warn":
        r *= 1.25
        canvas.add_quad_filled(
            ImVec2(at[0], at[1] - r), ImVec2(at[0] + r, at[1]), ImVec2(at[0], at[1] + r), ImVec2(at[0] - r, at[1]),
            colour,
        )  # fmt: skip
    else:
        canvas.add_circle_filled(ImVec2(*at), r, colour, 16)


def _clear(
    box: tuple[float, float, float, float], taken: list[tuple[float, float, float, float]], scale: float
) -> float:
    """Return the height at which a tag covers none before it: where it is, else below what is in its way."""
    x, y, wide, tall = box
    for _ in range(len(taken)):
        over = next(
            (t for t in taken if x < t[0] + t[2] and t[0] < x + wide and y < t[1] + t[3] and t[1] < y + tall), None
        )
        if over is None:
            break
        y = over[1] + over[3] + 3 * scale
    return y


def _beside(
    desk: Desk, canvas: imgui.ImDrawList, side: Face, part: Placement,
    taken: list[tuple[float, float, float, float]],
) -> None:  # fmt: skip
    """Write kind, two measures and what is mirrored, beside the pointer."""
    widgets, scale, carried = desk.widgets, desk.widgets.scale, desk.view.carried
    seen = desk.camera.seen_on(side, (part.u_mm, part.v_mm))
    if seen is None or carried is None:
        return
    read = edges(side, (part.u_mm, part.v_mm))
    across = min(("left", read.left_mm), ("right", read.right_mm), key=lambda each: each[1])
    down = min(("top", read.top_mm), ("bottom", read.bottom_mm), key=lambda each: each[1])
    name = title(part.kind) if carried.is_new else part.name
    text = [name, *(f"{format_length(mm, desk.work.units)} from the {edge}" for edge, mm in (across, down))]
    x, y = seen[0] + 34 * scale, seen[1] + 20 * scale
    for index, row in enumerate(text):
        wide, tall = draw_tag(widgets, canvas, x, y, row, is_bold=index == 0)
        taken.append((x, y, wide, tall))
        y += tall
