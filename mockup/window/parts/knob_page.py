"""The knobs of the picked parts: style in pictures, height and diameter on a drawing, colours, where they point."""

from __future__ import annotations

from collections.abc import Sequence

from imgui_bundle import ImVec2, imgui

from mockup import knobs
from mockup.colour import rgb
from mockup.layout.edit.parts import knobbed
from mockup.layout.schema import NO_KNOB
from mockup.model.design import Placement
from mockup.model.edit import Value
from mockup.model.material import Colour
from mockup.model.part import Knob
from mockup.window import part_flow
from mockup.window.desk import Desk
from mockup.window.dimensions.knob_sketch import knob_sketch
from mockup.window.dimensions.measured_drawing import MeasuredDrawing
from mockup.window.parts.swatches import CAPS, swatch
from mockup.window.shelf.subjects import CELL_PX, KnobSubject, Thumbnail
from mockup.window.widgets.tile import tile

_CELL = (88.0, 62.0)  # units, a knob's picture: the window's design
_COLUMNS, _LEAST_GAP = 3, 8.0
_ARROWS = (imgui.Key.left_arrow, imgui.Key.right_arrow, imgui.Key.up_arrow, imgui.Key.down_arrow)
_AWAY_FRAMES = 10  # that the focus may be on its way from one picture to the next, scrolling: by eye
_SKETCH, _TALL = 168.0, 54.0  # units, width and height of the side drawing: by eye
_GAP, _COLOURS = 18.0, 100.0  # units, beside the drawing: the width of colours and pointer


class KnobPage:
    """Draws the section Knob for one part or several."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._reached, self._away, self._moved = "", 0, 0
        self._drawing = MeasuredDrawing(desk.widgets, desk.messages.say, desk.work.held.hold)

    def draw(self, parts: Sequence[Placement]) -> None:
        """Lay out the section; all `parts` have a shaft."""
        widgets = self._desk.widgets
        styles = {part.knob.style if part.knob is not None else NO_KNOB for part in parts}
        style = styles.pop() if len(styles) == 1 else None
        widgets.title("Knob", hint=(style or "several").replace("-", " ").capitalize())
        self._gallery(parts, style)
        turned = [(part, part.knob) for part in parts if part.knob is not None]
        if turned:
            widgets.space(10)
            self._figures(turned)

    def _gallery(self, parts: Sequence[Placement], style: str | None) -> None:
        """Draw a picture of each style, the chosen one ringed; a click puts it on, the arrows try one after another."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        shaft = parts[0].kind.shaft
        wide = min(_CELL[0] * scale, (widgets.wide - (_COLUMNS - 1) * _LEAST_GAP * scale) / _COLUMNS)
        gap = (widgets.wide - _COLUMNS * wide) / (_COLUMNS - 1)
        focused = ""
        for index, name in enumerate((*knobs.styles(), NO_KNOB)):
            if index % _COLUMNS:
                imgui.same_line(0, gap)
            subject = KnobSubject(knob=knobs.default(name), shaft=shaft) if name != NO_KNOB and shaft else None
            if self._cell(name, subject, wide, is_on=name == style) and name != style:
                self._put(parts, "style", name)
            if imgui.is_item_focused() and imgui.get_io().nav_visible:
                focused = name
                if self._moved or name != self._reached:  # later the wheel is free
                    self._reveal_rows()
        self._try(parts, style, focused)

    def _reveal_rows(self) -> None:
        """Scroll until the rows over and under the picture with the keys are in sight.

        Of what is out of sight the panel library knows only that it lies below: the arrow would jump past the gallery.
        """
        row = (_CELL[1] + 8.0) * self._desk.widgets.scale
        low, high = imgui.get_item_rect_min().y - row, imgui.get_item_rect_max().y + row
        top = imgui.get_window_pos().y
        over = max(high - top - imgui.get_window_height(), 0.0) or min(low - top, 0.0)
        if over:
            imgui.set_scroll_y(imgui.get_scroll_y() + over)

    def _try(self, parts: Sequence[Placement], style: str | None, focused: str) -> None:
        """Put on the knob that the arrows have come to, live: one step of undo once they leave, none after Esc.

        Tab passes over all of them on its way to the height and puts on nothing.
        """
        self._moved = _AWAY_FRAMES + 1 if any(map(imgui.is_key_pressed, _ARROWS)) else max(self._moved - 1, 0)
        if imgui.is_key_pressed(imgui.Key.tab):  # few frames may lie between an arrow and this
            self._moved = 0
        if focused:
            if self._moved and self._reached not in ("", focused) and focused != style:
                self._desk.work.held.hold()
                self._put(parts, "style", focused)
                self._desk.window.touch(2)  # this frame has drawn the one before
            self._reached, self._away = focused, 0
        else:  # between two pictures the panel library has the focus nowhere
            self._away += 1
            self._reached = self._reached if self._away <= _AWAY_FRAMES else ""
        if self._reached:
            self._desk.work.held.hold()

    def _cell(self, name: str, subject: KnobSubject | None, wide: float, *, is_on: bool) -> bool:
        widgets, scale, palette = self._desk.widgets, self._desk.widgets.scale, self._desk.widgets.palette
        tip = "No knob" if name == NO_KNOB else name.replace("-", " ").capitalize()
        cell = tile(widgets, f"knob.{name}", wide, _CELL[1] * scale, tip=tip)
        cell.fill(palette.raised)
        if subject is not None:
            cell.picture(self._desk.shelf.texture(Thumbnail(subject=subject, size=CELL_PX), slot=f"knob.{name}"))
        if name == NO_KNOB:
            tall = widgets.text_size("None", widgets.faces.small)[1]
            cell.word(cell.middle.y - tall / 2, "None", widgets.faces.small, palette.second)
        if is_on:
            cell.edge(palette.chalk, 2, away=2)
        elif cell.is_hovered:
            cell.edge(palette.rule, 1.5)
        return cell.is_pushed

    def _figures(self, turned: Sequence[tuple[Placement, Knob]]) -> None:
        """Draw height and diameter on a drawing, beside it the colours and where the pointer stands."""
        desk, scale = self._desk, self._desk.widgets.scale
        part, knob = turned[0]
        units = desk.work.units
        heights, wides = {k.height_mm for _, k in turned}, {k.diameter_mm for _, k in turned}
        parts = [each for each, _ in turned]
        assert part.kind.shaft is not None
        sketch = knob_sketch(
            knob, part.kind.shaft, heights.pop() if len(heights) == 1 else None,
            wides.pop() if len(wides) == 1 else None,
        )  # fmt: skip
        corner = imgui.get_cursor_screen_pos()
        wide = min(_SKETCH, desk.widgets.wide / scale - _GAP - _COLOURS)
        typed = self._drawing.draw("knob", sketch, units, tall=_TALL, wide=wide)
        end = imgui.get_cursor_screen_pos()
        for key, value in typed.items():
            self._put(parts, key, value)
        left = corner.x + (wide + _GAP) * scale
        colours = [("Cap", "colour", {k.colour for _, k in turned})]
        colours.append(("Pointer", "pointer_colour", {k.pointer_colour for _, k in turned}))
        for index, (label, key, found) in enumerate(colours):
            self._colour(parts, label, key, found, (left, corner.y + index * 34.0 * scale))
        imgui.set_cursor_screen_pos(ImVec2(left, corner.y + 72.0 * scale))
        self._pointer(parts, knob)
        imgui.set_cursor_screen_pos(end)
        imgui.dummy(ImVec2(0, 0))

    def _colour(
        self, parts: Sequence[Placement], label: str, key: str, found: set[Colour], at: tuple[float, float]
    ) -> None:  # fmt: skip
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        imgui.set_cursor_screen_pos(ImVec2(at[0], at[1] + 4 * scale))
        widgets.text(label, colour=widgets.palette.second)
        imgui.set_cursor_screen_pos(ImVec2(at[0] + 74.0 * scale, at[1]))
        now = rgb.encoded_colour(found.pop()) if len(found) == 1 else None
        name = label.lower()
        chosen = swatch(widgets, f"{label}'s colour", name, now, CAPS)
        if chosen is not None:
            self._put(parts, key, rgb.to_hex(chosen))

    def _pointer(self, parts: Sequence[Placement], knob: Knob) -> None:
        """Draw where the knobs point, 0 to 100; a drag turns them live."""
        desk, widgets = self._desk, self._desk.widgets
        widgets.text("Points to", colour=widgets.palette.second)
        left = imgui.get_item_rect_min().x
        imgui.set_cursor_screen_pos(ImVec2(left, imgui.get_item_rect_max().y + 2 * widgets.scale))
        imgui.set_next_item_width(_COLOURS * widgets.scale)
        changed, value = imgui.slider_int("##pointer", round(knob.pointer * 100), 0, 100)
        widgets.mark("pointer")
        widgets.tip("0 is fully left, 50 twelve o'clock, 100 fully right")
        if changed:
            share = min(max(value / 100.0, 0.0), 1.0)
            self._put(parts, "pointer", share, merge="pointer " + " ".join(part.name for part in parts))
        if imgui.is_item_deactivated():
            desk.work.end_step()

    def _put(self, parts: Sequence[Placement], key: str, value: Value, *, merge: str = "") -> None:
        scope = self._desk.work.scope
        names = [part.name for part in parts]
        title = f"change the knob of {names[0] if len(names) == 1 else f'{len(names)} parts'}"
        part_flow.change(self._desk, title, lambda raw: knobbed(raw, names, key, value, **scope), merge=merge)
