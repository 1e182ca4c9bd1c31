"""The head of a part's sheet: its name, its kind and its face, each a click away from another."""

from __future__ import annotations

from collections.abc import Sequence

from imgui_bundle import ImVec2, imgui

from mockup.model.design import Placement
from mockup.model.enclosure import FACE_WORDS, FACES
from mockup.window import part_flow
from mockup.window.desk import Desk
from mockup.window.parts.catalogue import shelves, title
from mockup.window.shell.icons import icon


def draw(desk: Desk, parts: Sequence[Placement]) -> None:
    """Lay out the head for one part or several."""
    widgets, scale = desk.widgets, desk.widgets.scale
    one = parts[0] if len(parts) == 1 else None
    top = imgui.get_cursor_screen_pos()
    if one is not None:
        shown = widgets.shortened(one.name, widgets.wide - 40 * scale, widgets.faces.title)
        with widgets.font(widgets.faces.title):
            imgui.text_unformatted(shown)
        widgets.mark("sheet.title")
        if imgui.is_item_clicked():
            part_flow.open_naming(desk)
        imgui.set_cursor_screen_pos(ImVec2(top.x + widgets.wide - 28 * scale, top.y - 4 * scale))
        if widgets.icon_button("pencil", "sheet.rename", tip="Type another name", key="f2"):
            part_flow.open_naming(desk)
    else:
        with widgets.font(widgets.faces.title):
            imgui.text_unformatted(f"{len(parts)} parts")
    imgui.set_cursor_screen_pos(ImVec2(top.x, top.y + 26 * scale))
    kinds = {part.kind.name for part in parts}
    _opening(desk, title(parts[0].kind) if len(kinds) == 1 else "Several kinds", "kind")
    _kinds(desk, parts)
    imgui.same_line(0, 6 * scale)
    sides = {part.face for part in parts}
    if parts[0].kind.mount == "inside" and len(sides) == 1:
        widgets.text("inside", colour=widgets.palette.second)
        return
    _opening(desk, f"on the {FACE_WORDS[parts[0].face]}" if len(sides) == 1 else "on several faces", "face")
    _faces(desk, parts)


def _opening(desk: Desk, label: str, name: str) -> None:
    """Draw words that open a list."""
    widgets, scale = desk.widgets, desk.widgets.scale
    imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(2 * scale, 1 * scale))
    if widgets.button(f"{label} {icon('chevron-down')}", f"part.{name}", look="quiet"):
        imgui.open_popup(f"part.{name}")
    imgui.pop_style_var()


def _kinds(desk: Desk, parts: Sequence[Placement]) -> None:
    """List the kinds, by group; the parts keep place and name."""
    widgets = desk.widgets
    if not imgui.begin_popup("part.kind"):
        return
    now = {part.kind.name for part in parts}
    for shelf in shelves(part_flow.catalogue(desk)):
        widgets.note(shelf.title)
        for kind in shelf.kinds:
            clicked, _ = imgui.selectable(f"{title(kind)}##kind.{kind.name}", now == {kind.name})
            widgets.mark(f"kind.{kind.name}")
            if clicked and now != {kind.name}:
                part_flow.rekind(desk, kind)
    imgui.end_popup()


def _faces(desk: Desk, parts: Sequence[Placement]) -> None:
    if not imgui.begin_popup("part.face"):
        return
    now = {part.face for part in parts}
    for face in FACES:
        clicked, _ = imgui.selectable(f"On the {FACE_WORDS[face]}##face.{face}", now == {face})
        desk.widgets.mark(f"face.{face}")
        if clicked and now != {face}:
            part_flow.reface(desk, face)
            desk.camera.see_face(face)
    imgui.end_popup()
