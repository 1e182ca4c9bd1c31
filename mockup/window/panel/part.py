"""The selected part: what it is, where it is, what it collides with, and its exact place to type."""

from __future__ import annotations

from imgui_bundle import imgui

from mockup.colour import rgb
from mockup.model.design import Placement
from mockup.model.part import Cutout
from mockup.model.units import Unit, format_length, parse_length
from mockup.window.panel.finish import own_only
from mockup.window.pointer.measuring import both, edges
from mockup.window.pointer.snapping import GRIDS
from mockup.window.shell.widgets import Widgets
from mockup.window.view.scene_view import App

_EDGES = ("left", "right", "top", "bottom")


class PartPage:
    """The page, with what is being typed in it."""

    def __init__(self, app: App, kit: Widgets) -> None:
        self._app = app
        self._kit = kit
        self._typed: dict[str, str] = {}
        self._of: tuple[str, float, float, float] | None = None
        self.wants_typing = False

    def draw(self) -> None:
        """Lay out the page."""
        app, kit = self._app, self._kit
        if app.design is None:
            return
        kit.title("Part", is_first=True)
        rows = [("", "None selected"), *((p.name, f"{p.name}   ({p.face})") for p in app.design.parts)]
        picked = kit.combo("part", rows, app.state.selected or "")
        if picked is not None:
            app.change(app.state.picked(picked or None))
        part = app.part(app.state.selected)
        if part is None:
            kit.note("Click a part in the picture, or press Tab. Drag it along its face; hold Alt to drag it freely.")
            self._grid()
            return
        self._about(part)
        self._place(part)
        if part.knob is not None or part.lamp is not None:
            self._dress(part)
        self._collisions(part)

    def _about(self, part: Placement) -> None:
        kit, units = self._kit, self._units
        kind = part.kind
        kit.pair("Kind", kind.name)
        kit.note(kind.about[0].upper() + kind.about[1:])
        for cutout in kind.cutouts:
            kit.pair("Drill" if cutout.outline.kind == "circle" else "Cut", _hole(cutout, units))
        if kind.thread is not None:
            kit.pair("Thread", kind.thread.designation)
        if kind.depth_mm > 0:
            kit.pair("Depth", f"{both(kind.depth_mm, units)} behind the panel")
        if part.knob is not None:
            kit.pair("Knob", f"{part.knob.style}, {both(part.knob.diameter_mm, units)}")

    def _place(self, part: Placement) -> None:
        app, kit = self._app, self._kit
        kit.title(f"Place on the {part.face} face")
        own_only(app, kit)
        u, v = part.u_mm, part.v_mm
        if app.carried is not None and app.carried.part == part.name:
            u, v = app.carried.u_mm, app.carried.v_mm
        found = edges(app.faces[part.face], (u, v))
        values = dict(zip(_EDGES, (found.left_mm, found.right_mm, found.top_mm, found.bottom_mm), strict=True))
        now = (part.name, round(u, 4), round(v, 4), part.rotation_deg)
        if now != self._of:
            self._of = now
            self._typed = {name: format_length(value, self._units) for name, value in values.items()}
            self._typed["rotation"] = f"{part.rotation_deg:g}"
        other: Unit = "in" if self._units == "mm" else "mm"
        columns = imgui.begin_table("edges", 3)
        if columns:
            for name, stretch in (("from", 0.8), ("typed", 1.2), ("other", 1.0)):
                imgui.table_setup_column(name, imgui.TableColumnFlags_.width_stretch, stretch)
            for name in _EDGES:
                imgui.table_next_row()
                imgui.table_next_column()
                imgui.align_text_to_frame_padding()
                imgui.text_unformatted(f"From {name}")
                imgui.table_next_column()
                if self.wants_typing and name == "left":
                    imgui.set_keyboard_focus_here()
                    self.wants_typing = False
                if self._field(name):
                    self._move(part, name)
                imgui.table_next_column()
                imgui.align_text_to_frame_padding()
                kit.text(format_length(values[name], other), is_dim=True)
            imgui.table_next_row()
            imgui.table_next_column()
            imgui.align_text_to_frame_padding()
            imgui.text_unformatted("Turned")
            imgui.table_next_column()
            if self._field("rotation", "Degrees clockwise as seen from outside; Enter takes it"):
                self._turn(part)
            imgui.table_next_column()
            imgui.align_text_to_frame_padding()
            kit.text("degrees", is_dim=True)
            imgui.end_table()
        kit.note('Type a length such as 19, "19 mm" or "3/4 in", then Enter. Alt and arrow keys move it by the grid.')
        self._grid()

    def _grid(self) -> None:
        app, kit = self._app, self._kit
        imgui.align_text_to_frame_padding()
        imgui.text_unformatted("Grid")
        imgui.same_line()
        picked = kit.combo("grid", [(name, name) for name in GRIDS], app.state.grid, wide=120 * kit.scale)
        if picked is not None:
            app.change(app.state.with_grid(picked))
        imgui.same_line()
        if kit.check(
            "Snapping", "snapping", app.state.is_snapping, tip="To centre line, neighbours, grid", action="snapping"
        ):
            app.change(app.state.toggled("snapping"))

    def _field(self, name: str, tip: str = "Enter takes it; Esc leaves it as it was") -> bool:
        kit = self._kit
        imgui.set_next_item_width(-1)
        flags = imgui.InputTextFlags_.auto_select_all | imgui.InputTextFlags_.enter_returns_true
        done, text = imgui.input_text(f"##place.{name}", self._typed.get(name, ""), flags)
        kit.mark(f"place.{name}")
        kit.tip(tip)
        if imgui.is_item_active() or done:
            self._typed[name] = text
        elif imgui.is_item_deactivated():
            self._of = None  # left without Enter: as it was
        return bool(done)

    def _move(self, part: Placement, name: str) -> None:
        app = self._app
        try:
            mm = parse_length(self._typed[name], self._units)
        except ValueError as error:
            app.say(str(error))
            self._of = None
            return
        face, u, v = app.faces[part.face], part.u_mm, part.v_mm
        match name:
            case "left":
                u = face.left_edge(v) + mm
            case "right":
                u = face.right_edge(v) - mm
            case "top":
                v = mm
            case _:
                v = face.height_mm - mm
        app.try_edit(
            lambda document: (
                document.closed()
                .moved(part.name, face, u, v, variant=app.state.variant, is_own=app.is_own_change)
                .closed()
            )
        )
        self._of = None

    def _turn(self, part: Placement) -> None:
        app = self._app
        try:
            degrees = float(self._typed["rotation"])
        except ValueError:
            app.say(f"{self._typed['rotation']!r} is not an angle; write degrees, for example 90")
            self._of = None
            return
        self._change(lambda document, **own: document.closed().turned(part.name, degrees, **own))
        self._of = None

    def _dress(self, part: Placement) -> None:
        kit, app = self._kit, self._app
        kit.title("Knob" if part.knob is not None else "Lamp")
        if part.knob is not None:
            imgui.set_next_item_width(-90 * kit.scale)
            changed, value = imgui.slider_float("points to##pointer", part.knob.pointer, 0.0, 1.0, "%.2f")
            kit.mark("pointer")
            kit.tip("0 is fully anticlockwise, 0.5 twelve o'clock, 1 fully clockwise")
            if changed:
                rounded = round(min(max(value, 0.0), 1.0), 2)
                self._change(lambda document, **own: document.knob_set(part.name, "pointer", rounded, **own))
        if part.lamp is not None:
            encoded = rgb.encoded_colour(part.lamp.colour)
            flags = imgui.ColorEditFlags_.display_hex | imgui.ColorEditFlags_.no_drag_drop
            changed, colour = imgui.color_edit3("##lamp.colour", list(encoded), flags)
            kit.mark("lamp.colour")
            if changed:
                taken = (colour[0], colour[1], colour[2])
                self._change(lambda document, **own: document.lamp_coloured(part.name, taken, **own))
            if kit.check("Lit", "lamp.lit", part.lamp.is_lit):
                is_lit = not part.lamp.is_lit
                self._change(lambda document, **own: document.closed().lamp_lit(part.name, is_lit, **own))
                app.change(app.state.as_in_file())

    def _collisions(self, part: Placement) -> None:
        kit, app = self._kit, self._app
        kit.title("What is in its way")
        found = [(i, f) for i, f in enumerate(app.findings) if part.name in f.subjects]
        if not found:
            kit.note("Being checked ..." if app.is_checking else "Nothing: no finding names this part.")
        from mockup.window.panel.check import row

        for index, finding in found:
            row(app, kit, index, finding, "part.finding")

    def _change(self, change: object) -> None:
        app = self._app
        app.try_edit(
            lambda document: change(document, variant=app.state.variant, is_own=app.is_own_change)  # type: ignore[operator]
        )

    @property
    def _units(self) -> Unit:
        return self._app.design.units if self._app.design is not None else "mm"


def _hole(cutout: Cutout, units: Unit) -> str:
    outline = cutout.outline
    if outline.kind == "circle":
        size = f"{both(outline.width_mm, units)} diameter"
    else:
        size = f"{outline.kind}, {format_length(outline.width_mm, units)} x {format_length(outline.height_mm, units)}"
    return f"{size}, {cutout.purpose}"
