"""The sheet of a picked word: its face, its size, its ink, what stands round it, and where it stands."""

from __future__ import annotations

from pathlib import Path, PurePath
from typing import Any, get_args

from imgui_bundle import ImVec2, imgui

from mockup.colour import rgb
from mockup.decal import typeface
from mockup.decal.shipped_faces import SHIPPED, ShippedFace
from mockup.decal.word_contrast import word_contrast
from mockup.layout.edit import decals, words
from mockup.layout.lettering.tables import Side
from mockup.model.edit import RemoveValue
from mockup.model.label import Label, Lettering
from mockup.model.material import Colour
from mockup.model.units import MM_PER_INCH, POINTS_PER_INCH, Unit, parse_length
from mockup.window import letter_flow
from mockup.window.art_flow import change
from mockup.window.desk import Desk
from mockup.window.pointer.face_things import FaceThing
from mockup.window.shell import theme
from mockup.window.shell.icons import icon
from mockup.window.stations.inputs.number_row import begin_row, number_row
from mockup.window.stations.inputs.paint_picker import PaintPicker
from mockup.window.stations.lying.art_sketch import edge_distances
from mockup.window.stations.lying.face_samples import (
    FaceSamples,
    licence_of,
    project_faces,
    system_faces,
    title_of,
)
from mockup.window.stations.lying.reads import draw_reads
from mockup.window.widgets.tile import tile

INKS: tuple[tuple[str, Colour], ...] = tuple(
    (name, rgb.parse(code))
    for name, code in (("Black", "#000000"), ("Red", "#8a2b22"), ("Blue", "#23407a"), ("Green", "#2c5b3b"))
)
_LEAST_CAP_MM, _MOST_CAP_MM = 0.1, 500.0  # what the layout takes
_ROW = 36.0  # of a face, units: the window's design
_SAMPLE_PX = 20.0
_MORE = 232.0  # height of the further faces, units: by eye
_SIDES: tuple[Side, ...] = get_args(Side)


class WordSheet:
    """Draws the sheet; remembers whether a label's look is for all labels of parts, and what is unfolded."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._samples = FaceSamples()
        self._picker = PaintPicker(desk.widgets, "ink")
        self._is_for_all = True
        self._has_more = self._has_inks = False
        self._is_points = False

    def draw(self, thing: FaceThing, label: Label) -> None:
        """Lay out the sheet of a word."""
        design = self._desk.work.design
        if design is None or label.lettering is None:
            self._desk.widgets.note("The art itself holds this word: change it in your image editor.")
            return
        if thing.part is not None:
            tip = "Otherwise only this one changes"
            if self._desk.widgets.check("Same for all labels of parts", "word.all", self._is_for_all, tip=tip):
                self._is_for_all = not self._is_for_all
            self._desk.widgets.space(8)
        self._faces(thing, label.lettering)
        self._desk.widgets.hairline()
        self._looks(thing, label.lettering, self._desk.work.units)
        self._desk.widgets.hairline()
        self._place(thing, self._desk.work.units)
        ratio = word_contrast(design, label)
        if ratio is not None:
            self._desk.widgets.hairline()
            draw_reads(self._desk, design, label, ratio)

    # Faces

    def _faces(self, thing: FaceThing, style: Lettering) -> None:
        desk, widgets, project = self._desk, self._desk.widgets, self._desk.work.project
        if project is None:
            return
        writing = desk.tools.writing
        text = writing.text.strip() if writing.is_on and writing.text.strip() else thing.name
        for face in SHIPPED:
            is_on = PurePath(face.file).name == PurePath(style.font).name
            if self._face(face.name, face.name, face, text, face.about, is_on=is_on):
                self._take(thing, face)
        own = project_faces(project.folder)
        if PurePath(style.font).name in own:
            title = title_of(project.folder, style.font)
            self._face(f"own.{style.font}", title, project.folder / style.font, text, "", is_on=True)
        mark = icon("chevron-down" if self._has_more else "chevron-right")
        if widgets.button(f"More faces  {mark}", "word.more", look="quiet", tip="Of this folder and this computer"):
            self._has_more = not self._has_more
        if not self._has_more:
            return
        imgui.begin_child("word.faces", ImVec2(0, _MORE * widgets.scale), imgui.ChildFlags_.nav_flattened)
        for name in own:
            is_on = PurePath(style.font).name == name
            if self._face(f"own.{name}", title_of(project.folder, name), project.folder / name, text,
                          "In this pedal's folder", is_on=is_on):  # fmt: skip
                self._take(thing, project.folder / name)
        for title, path in system_faces():
            if self._face(f"system.{title}", title, Path(path), text, "", is_on=False):
                self._take(thing, Path(path))
                desk.messages.say(f"Copied into the project. Licence: {licence_of(Path(path))}", seconds=8.0)
        if not own and not system_faces():
            widgets.note("No other font was found on this computer.")
        imgui.end_child()

    def _face(self, key: str, title: str, read: Path | ShippedFace, text: str, tip: str, *, is_on: bool) -> bool:
        """Draw a row with the word in a face; True where it was pushed."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        wide = widgets.wide
        row = tile(widgets, f"face.{key}", wide, _ROW * scale, tip=tip)
        if not imgui.is_item_visible():
            return row.is_pushed
        canvas, low, high = row.canvas, row.low, row.high
        if is_on or row.is_hovered:
            row.fill(widgets.palette.raised if is_on else widgets.palette.hover)
        if is_on:
            canvas.add_rect_filled(
                ImVec2(low.x, low.y),
                ImVec2(low.x + 3 * scale, high.y),
                theme.packed(widgets.palette.chalk),
                1.5 * scale,
            )
        with widgets.small():
            named = imgui.calc_text_size(title)
            canvas.add_text(
                ImVec2(high.x - named.x - 8 * scale, row.middle.y - named.y / 2),
                theme.packed(widgets.palette.second), title,
            )  # fmt: skip
        sample = self._samples.face(key, read)
        face = sample if sample is not None else widgets.faces.plain
        room = wide - named.x - 32 * scale
        canvas.push_clip_rect(low, ImVec2(low.x + 12 * scale + room, high.y), True)
        imgui.push_font(face, _SAMPLE_PX)
        said = imgui.calc_text_size(text)
        canvas.add_text(ImVec2(low.x + 12 * scale, row.middle.y - said.y / 2), theme.packed(widgets.palette.text), text)
        imgui.pop_font()
        canvas.pop_clip_rect()
        return row.is_pushed

    def _take(self, thing: FaceThing, face: ShippedFace | Path) -> None:
        name = letter_flow.adopt(self._desk, face)
        if name is not None:
            self._look(thing, "font", name)

    def _look(self, thing: FaceThing, key: str, value: Any) -> None:
        is_for_all = self._is_for_all and thing.part is not None
        letter_flow.look(self._desk, thing, key, value, is_for_all=is_for_all)

    # Looks

    def _looks(self, thing: FaceThing, style: Lettering, unit: Unit) -> None:
        desk = self._desk
        self._size(thing, style, unit)
        spacing = number_row(
            desk, "Spacing", "word.spacing", style.spacing_mm, unit, hint="more between letters", least=-2.0, most=50.0
        )
        if spacing is not None:
            self._length(thing, "spacing", spacing)
        self._ink(thing, style)
        outline = number_row(
            desk, "Outline", "word.outline", style.outline_mm or None, unit, empty="none", least=0.0, most=20.0
        )
        if outline is not None:
            self._length(thing, "outline", outline)
        shift = style.shadow_mm[0] if style.shadow_mm is not None else None
        shadow = number_row(
            desk, "Shadow", "word.shadow", shift, unit, empty="none", hint="right and down", least=0.0, most=20.0
        )
        if shadow is not None:
            far = letter_flow.length(desk, thing, "shadow", shadow)
            self._look(thing, "shadow", (far, far))

    def _size(self, thing: FaceThing, style: Lettering, unit: Unit) -> None:
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        begin_row(desk, "Capital height", room=152.0)
        for name, is_on in (("mm" if unit == "mm" else "in", not self._is_points), ("pt", self._is_points)):
            if widgets.button(name, f"word.unit.{name}", wide=38 * scale, is_on=is_on):
                self._is_points = name == "pt"
            imgui.same_line(0, 4 * scale)
        font = letter_flow.typeface(desk, style.font)
        per_point = typeface.cap_mm(font, 1.0) if font is not None else MM_PER_INCH / POINTS_PER_INCH
        imgui.same_line(0, 8 * scale)
        shown = f"{style.size_mm / per_point:.1f}" if self._is_points else (
            f"{style.size_mm / MM_PER_INCH:.3f}" if unit == "in" else f"{style.size_mm:.1f}"
        )  # fmt: skip
        typed = widgets.field("word.size", shown, wide=64 * scale, is_taken_on_leaving=True)
        imgui.dummy(ImVec2(0, 2 * scale))
        if typed is None or typed == shown:
            return
        said = typed.replace(",", ".").strip()
        is_points = said.endswith("pt") or (self._is_points and said.replace(".", "", 1).isdigit())
        try:
            points = float(said.removesuffix("pt")) if is_points else 0.0
            mm = points * per_point if is_points else parse_length(said, unit)
        except ValueError:
            desk.messages.say(f"{typed!r} is not a height; write for example 3.")
            return
        if not _LEAST_CAP_MM <= mm <= _MOST_CAP_MM:
            desk.messages.say(f"A capital is {_LEAST_CAP_MM:g} to {_MOST_CAP_MM:g} mm high.")
        elif is_points:
            self._look(thing, "size", f"{points:g} pt")
        else:
            self._length(thing, "size", mm)

    def _length(self, thing: FaceThing, key: str, mm: float) -> None:
        self._look(thing, key, letter_flow.length(self._desk, thing, key, mm))

    def _ink(self, thing: FaceThing, style: Lettering) -> None:
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        side, gap = 26 * scale, 6 * scale
        begin_row(desk, "Ink", room=(len(INKS) + 1) * 26 + len(INKS) * 6)
        for name, colour in INKS:
            swatch = tile(widgets, f"ink.{name.lower()}", side, side, tip=name)
            if swatch.is_pushed:
                self._look(thing, "colour", rgb.to_hex(colour))
            canvas, middle = swatch.canvas, swatch.middle
            canvas.add_circle_filled(middle, side / 2 - 3 * scale, theme.packed(colour), 32)
            canvas.add_circle(middle, side / 2 - 3 * scale, theme.packed(widgets.palette.rule), 32, max(1.0, scale))
            if rgb.to_hex(colour) == rgb.to_hex(style.colour):
                canvas.add_circle(middle, side / 2, theme.packed(widgets.palette.chalk), 32, max(1.0, 2 * scale))
            imgui.same_line(0, gap)
        if widgets.icon_button("plus", "ink.more", tip="Another ink", side=26):
            self._has_inks = not self._has_inks
        if self._has_inks:
            try:
                chosen = self._picker.draw(style.colour, is_settled=not desk.work.is_waiting)
            except ValueError as error:
                desk.messages.say(str(error))
                return
            if chosen is not None:
                self._look(thing, "colour", rgb.to_hex(chosen))
        imgui.dummy(ImVec2(0, 2 * scale))

    # Place

    def _place(self, thing: FaceThing, unit: Unit) -> None:
        if thing.part is not None:
            self._beside(thing, unit)
            return
        desk, changes = self._desk, self._desk.tools.lying.changes
        table, address = changes.table(thing.way), changes.address(thing.way)
        face, lying = desk.work.faces[thing.face], desk.tools.lying.lying(thing)
        for side, value in edge_distances(face, lying, table).items():
            hint = "" if side in table else "in the middle"
            typed = number_row(desk, f"From the {side}", f"word.{side}", value, unit, hint=hint)
            if typed is not None:
                change(desk, f"place of {thing.name}", decals.measured(address, side, typed))
        turn = number_row(
            desk, "Turned", "word.rotation", lying.rotation_deg, unit, quantity="angle", hint="clockwise",
            least=-360.0, most=360.0,
        )  # fmt: skip
        if turn is not None:
            change(desk, f"turn {thing.name}", decals.turned_to(address, turn))

    def _beside(self, thing: FaceThing, unit: Unit) -> None:
        desk, changes = self._desk, self._desk.tools.lying.changes
        document, scope = desk.work.document, desk.work.scope
        if document is None:
            return
        table = changes.table(thing.way)
        side: Side = table.get("side", "below")
        widgets = desk.widgets
        widgets.text(f"Beside {thing.part}", colour=widgets.palette.second)
        picked = widgets.choose("word.side", [(each, each.capitalize()) for each in _SIDES], side)
        widgets.space(4)
        gap = changes.gap_mm(thing.way)
        number = int(thing.way[1])
        if picked is not None:
            new: Side = picked  # type: ignore[assignment]
            change(
                desk, f"side of {thing.name}",
                words.beside(document.raw, number, new, gap, scope["variant"]) if "gap" in table
                else words.sided(document.raw, number, new, scope["variant"]),
            )  # fmt: skip
        typed = number_row(desk, "Gap", "word.gap", gap, unit, hint="from the part", least=-50.0, most=100.0)
        if typed is not None:
            self._length(thing, "gap", typed)
        if thing.name != thing.part and widgets.button(
            f"Read {thing.part} again", "word.own-name", tip="The part's own name, and with it when it is renamed"
        ):  # fmt: skip
            change(desk, f"name of {thing.part}", (RemoveValue(address=changes.address(thing.way).inside("text")),))
