"""All that is on the pedal, by face: a click picks it, and turns to it where it is out of sight."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from imgui_bundle import ImVec2, imgui

from mockup.layout.edit.variants import shown as shown_tables
from mockup.model.design import Design
from mockup.model.enclosure import FACE_WORDS, FACES, FaceName
from mockup.model.finding import SEVERITIES, Severity
from mockup.model.part import Kind
from mockup.window import part_flow
from mockup.window.desk import Desk
from mockup.window.parts.catalogue import group, title
from mockup.window.shell import theme
from mockup.window.shell.icons import icon
from mockup.window.state import Way
from mockup.window.widgets.marks import draw_mark
from mockup.window.widgets.tile import tile

_ROW = 30.0  # units
_ICONS = {
    "Turned by hand": "circle-dot", "Flicked": "toggle-on", "Stepped on": "shoe-prints", "Lit": "lightbulb",
    "Plugged in": "plug", "Inside": "battery-half",
}  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Row:
    """One thing on the pedal: the steps to it, its icon, its name, what it is, and its face if it has one."""

    way: Way
    glyph: str
    name: str
    about: str
    face: FaceName | None = None


def rows(desk: Desk) -> Iterator[tuple[str, list[Row]]]:
    """Yield the list's groups: each face, then what is inside, what is printed, and the box."""
    design, shown = part_flow.pedal(desk), desk.work.design
    if design is None:
        return
    inside = [part for part in design.parts if part.kind.mount == "inside"]
    for face in FACES:
        here = [part for part in design.parts if part.face == face and part not in inside]
        yield FACE_WORDS[face].capitalize(), [_part(part.name, part.kind, face) for part in here]
    yield "Inside", [_part(part.name, part.kind, None) for part in inside]
    yield "Printed", [*(_printed(shown) if shown is not None else ()), *_drawn(desk)]
    box = f"{design.enclosure.length_mm:.0f} x {design.enclosure.width_mm:.0f}"
    yield (
        "The box",
        [
            Row(way=("box",), glyph="cube", name="Box", about=box),
            Row(way=("lid",), glyph="square", name="Lid", about="with its screws"),
        ],
    )


def _part(name: str, kind: Kind, face: FaceName | None) -> Row:
    return Row(way=("part", name), glyph=_ICONS.get(group(kind), "gear"), name=name, about=title(kind), face=face)


def _printed(design: Design) -> Iterator[Row]:
    for number, decal in enumerate(design.decals):
        if decal.art.file is not None:
            yield Row(way=("decal", number), glyph="image", name=decal.art.name, about="picture", face=decal.face)
    for label in design.labels:
        if label.number is not None:
            about = f"label of {label.part}" if label.part else "words"
            yield Row(way=("label", label.number), glyph="stamp", name=label.text, about=about, face=label.face)


def _drawn(desk: Desk) -> Iterator[Row]:
    """Yield the scales and borders, which the layout tells alone."""
    document = desk.work.document
    tables = shown_tables(document.raw, desk.work.content.variant) if document is not None else {}
    for number, table in enumerate(tables.get("scale", ())):
        name = f"Marks round {table['part']}" if table.get("part") else "Marks round knobs"
        yield Row(way=("scale", number), glyph="gauge", name=name, about="scale")
    for number, table in enumerate(tables.get("border", ())):
        face: FaceName = table.get("face", "top")
        yield Row(way=("border", number), glyph="square", name="Border", about=FACE_WORDS[face], face=face)


def draw(desk: Desk) -> None:
    """Lay out the list."""
    widgets = desk.widgets
    design = part_flow.pedal(desk)
    worst = _worst(desk)
    is_first = True
    for head, here in rows(desk):
        if not here:
            continue
        if head == "The box" and design is not None and not design.parts:
            widgets.note("Bare box. Drag a part onto it, or click one.")
            is_first = False
        if not is_first:
            widgets.space(12)
        is_first = False
        with widgets.small():
            widgets.text(head, colour=widgets.palette.second)
        for row in here:
            _row(desk, row, worst.get(str(row.way[1])) if row.way[0] == "part" else None)


def _worst(desk: Desk) -> dict[str, Severity]:
    """Return the worst severity of the findings that name each part."""
    found: dict[str, Severity] = {}
    for finding in desk.work.findings:
        for subject in finding.subjects:
            if subject.kind == "part":
                before = found.get(subject.name)
                if before is None or SEVERITIES.index(finding.severity) < SEVERITIES.index(before):
                    found[subject.name] = finding.severity
    return found


def _row(desk: Desk, row: Row, severity: Severity | None) -> None:
    widgets, scale, palette = desk.widgets, desk.widgets.scale, desk.widgets.palette
    imgui.push_style_var(imgui.StyleVar_.item_spacing, ImVec2(0, 0))
    line = tile(widgets, f"list.{'.'.join(str(step) for step in row.way)}", widgets.wide, _ROW * scale)
    imgui.pop_style_var()
    if line.is_pushed:
        pick(desk, row)
    canvas, at, high = line.canvas, line.low, line.high
    if line.is_hovered or line.is_focused:
        line.fill(palette.hover, beyond=6)
    y = at.y + 6 * scale
    with widgets.small():
        canvas.add_text(ImVec2(at.x + 2 * scale, y + scale), theme.packed(palette.second), icon(row.glyph))
    room = high.x - at.x - 130 * scale
    shown = widgets.shortened(row.name, room, widgets.faces.strong)
    widgets.draw_text(canvas, (at.x + 26 * scale, y), shown, widgets.faces.strong, palette.text)
    wide = widgets.text_size(row.about, widgets.faces.small)[0]
    right = high.x - (24 * scale if severity is not None else 0)
    widgets.draw_text(canvas, (right - wide, y + 2 * scale), row.about, widgets.faces.small, palette.faint)
    if severity is not None:
        draw_mark(widgets, canvas, ImVec2(high.x - 9 * scale, line.middle.y), severity, size=13.0)


def pick(desk: Desk, row: Row) -> None:
    """Pick a thing of the list, and turn to its face where that is out of sight."""
    if row.way[0] == "part" and imgui.get_io().key_shift:
        kept = [way for way in desk.view.state.picked if way[0] == "part" and way != row.way]
        desk.view.change(desk.view.state.picking(*kept, row.way))
    else:
        desk.view.change(desk.view.state.picking(row.way))
    if row.face is not None:
        desk.camera.see_face(row.face)
