"""A drawing with a number field at each dimension line, drawn with the panel library."""

from __future__ import annotations

from collections.abc import Callable

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.model.units import Unit
from mockup.window.dimensions import lines, number
from mockup.window.dimensions.arrangement import CAPTION, Arrangement, Field, arrange
from mockup.window.dimensions.sketch import Dimension, Point, Sketch, Style
from mockup.window.shell import theme
from mockup.window.shell.faces import TypeStyle
from mockup.window.widgets.widgets import Widgets

TALL = 142.0  # height of a drawing, units: by eye
_THICK: dict[Style, float] = {"outline": 1.2, "thin": 1.0, "picked": 1.6, "dashed": 1.0, "chain": 1.0}
_TICK = 7.0  # length of the ticks at the ends of a dimension line, units: by eye
_NUMBER_PX = 13.0  # size of numbers: the window's design
_FLAGS = imgui.InputTextFlags_.auto_select_all | imgui.InputTextFlags_.enter_returns_true
_NOTHING = ImVec4(0.0, 0.0, 0.0, 0.0)
_DRAG_PX = 4.0  # units that the pointer goes before a press becomes a drag: the window's design


class MeasuredDrawing:
    """Draws sketches and takes what is typed into their fields, or what a drag over a number comes to.

    `say` is told what cannot be taken; `hold` is called in each frame of a drag: what it comes to is one change.
    """

    def __init__(self, widgets: Widgets, say: Callable[[str], None], hold: Callable[[], None]) -> None:
        self._widgets = widgets
        self._say = say
        self._hold = hold
        self._typed: dict[str, str] = {}
        self._pressed: tuple[str, float, float] | None = None
        self._is_dragged = False

    def draw(self, name: str, sketch: Sketch, unit: Unit, *, tall: float = TALL, wide: float = 0.0) -> dict[str, float]:
        """Draw a sketch over a width in units, 0 for all that is left; return what was typed, by dimension.

        A field's place is called ``name.dimension``. Enter takes a number, and so does leaving its field; Esc leaves
        its number as it was; a drag to the right makes it larger, to the left smaller. What cannot be taken is told in
        one plain sentence, and nothing is taken then.
        """
        widgets, scale = self._widgets, self._widgets.scale
        plan = arrange(sketch, wide or widgets.wide / scale, tall)
        corner = imgui.get_cursor_screen_pos()
        self._picture(sketch, plan, corner)
        found: dict[str, float] = {}
        problem: ValueError | None = None
        for field in plan.fields:
            self._line(field, corner)
            typed = self._field(f"{name}.{field.dimension.name}", field, corner, unit)
            try:
                if isinstance(typed, float):
                    found[field.dimension.name] = typed
                elif typed is not None:
                    found[field.dimension.name] = number.read(typed, field.dimension, unit)
            except ValueError as error:
                problem = error
        imgui.set_cursor_screen_pos(corner)
        imgui.dummy(ImVec2(plan.size[0] * scale, plan.size[1] * scale))
        if problem is not None:
            self._say(str(problem))
            return {}
        return found

    def _screen(self, corner: ImVec2, point: Point) -> Point:
        scale = self._widgets.scale
        return corner.x + point[0] * scale, corner.y + point[1] * scale

    def _picture(self, sketch: Sketch, plan: Arrangement, corner: ImVec2) -> None:
        canvas, palette, scale = imgui.get_window_draw_list(), self._widgets.palette, self._widgets.scale
        colours = {"outline": palette.second, "picked": palette.chalk}
        for stroke in sketch.strokes:
            points = [self._screen(corner, plan.at(point)) for point in stroke.points]
            colour, thick = theme.packed(colours.get(stroke.style, palette.rule)), _THICK[stroke.style] * scale
            pieces: list[tuple[Point, ...]] = [tuple([*points, points[0]] if stroke.is_closed else points)]
            if stroke.style in ("dashed", "chain"):
                pattern = [each * 0.6 * scale for each in (lines.DASHED if stroke.style == "dashed" else lines.CHAIN)]
                pieces = lines.dashes(points, pattern, is_closed=stroke.is_closed)
            lines.draw(canvas, pieces, colour, max(1.0, thick))
        for hole in sketch.holes:
            at = ImVec2(*self._screen(corner, plan.at(hole.at)))
            radius = max(hole.radius_mm * plan.scale, 2.5) * scale
            if hole.is_picked:
                canvas.add_circle_filled(at, radius, theme.packed(palette.chalk), 32)
            else:
                canvas.add_circle(at, radius, theme.packed(palette.second), 32, max(1.0, scale))

    def _line(self, field: Field, corner: ImVec2) -> None:
        """Draw a measured line: solid with ticks where its number is kept, dashed where it follows."""
        if not field.line:
            return
        canvas, palette, scale = imgui.get_window_draw_list(), self._widgets.palette, self._widgets.scale
        thin, hair = theme.packed(palette.rule), max(1.0, scale)
        start, end = (self._screen(corner, point) for point in field.line)
        leader = [self._screen(corner, point) for point in field.leader]
        for extension in field.extensions:
            lines.draw(canvas, [[self._screen(corner, point) for point in extension]], thin, hair)
        if not field.dimension.is_kept:
            pattern = (3.0 * scale, 3.0 * scale)
            lines.draw(canvas, [*lines.dashes((start, end), pattern), *lines.dashes(leader, pattern)], thin, hair)
            return
        lines.draw(canvas, [leader], thin, hair)
        chalk = theme.packed(palette.text)
        lines.draw(canvas, [(start, end), *lines.ticks(start, end, _TICK * scale)], chalk, max(1.0, 1.2 * scale))

    def _field(self, name: str, field: Field, corner: ImVec2, unit: Unit) -> str | float | None:
        """Draw a number's field; return what was typed once it is taken, or what a drag has brought it to."""
        widgets, scale, each = self._widgets, self._widgets.scale, field.dimension
        x, y, wide, tall = field.box
        low, high = ImVec2(*self._screen(corner, (x, y))), ImVec2(*self._screen(corner, (x + wide, y + tall)))
        shown = number.shown(each.value, each.quantity, unit)
        self._ground(low, high, each.is_kept)
        if each.caption:
            canvas, faint = imgui.get_window_draw_list(), theme.packed(widgets.palette.faint)
            with self._widgets.small():
                left = (low.x + high.x - imgui.calc_text_size(each.caption).x) / 2
                canvas.add_text(ImVec2(left, low.y - CAPTION * scale), faint, each.caption)
        is_typed = name in self._typed
        imgui.set_cursor_screen_pos(low)
        imgui.set_next_item_width(high.x - low.x)
        with self._widgets.font(TypeStyle(self._widgets.faces.semibold, _NUMBER_PX)):
            pad = max((tall * scale - imgui.get_font_size()) / 2, 0.0)
            imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(8 * scale, pad))
            for colour in (imgui.Col_.frame_bg, imgui.Col_.frame_bg_hovered, imgui.Col_.frame_bg_active):
                imgui.push_style_color(colour, _NOTHING)
            if not is_typed:  # at rest the number stands in the middle, which the library's own field cannot do
                imgui.push_style_color(imgui.Col_.text, _NOTHING)
            widgets.focus.take(name)
            done, now = imgui.input_text(f"##{name}", self._typed.get(name, shown), _FLAGS)
            imgui.pop_style_color(3 if is_typed else 4)
            imgui.pop_style_var()
            if not is_typed:
                size = imgui.calc_text_size(shown)
                at = ImVec2((low.x + high.x - size.x) / 2, (low.y + high.y - size.y) / 2)
                use = widgets.palette.text if each.is_kept else widgets.palette.second
                imgui.get_window_draw_list().add_text(at, theme.packed(use), shown)
        widgets.mark(name)
        widgets.tip(each.tip)
        if (value := self._drag(name, each, unit)) is not None:
            return value if value != each.value else None
        return self._taken(name, shown, now, is_done=bool(done))

    def _drag(self, name: str, each: Dimension, unit: Unit) -> float | None:
        """Return what the last field is dragged to, None while it is not."""
        mouse, scale = imgui.get_mouse_pos(), self._widgets.scale
        if imgui.is_item_activated() and imgui.is_mouse_clicked(0) and each.value is not None:
            self._pressed, self._is_dragged = (name, mouse.x, each.value), False
        if self._pressed is None or self._pressed[0] != name:
            return None
        _, start, before = self._pressed
        if not imgui.is_mouse_down(0):
            self._pressed = None
            return None
        away = (mouse.x - start) / scale
        if not self._is_dragged and abs(away) > _DRAG_PX:
            self._is_dragged = True
            self._typed.pop(name, None)
            imgui.internal.clear_active_id()
        if not self._is_dragged:
            return None
        imgui.set_mouse_cursor(imgui.MouseCursor_.resize_ew)
        self._hold()
        return number.dragged(each, before, away, unit)

    def _taken(self, name: str, shown: str, now: str, *, is_done: bool) -> str | None:
        """Return what was typed where the field has just been left or Enter pressed; remember it while it is typed."""
        if imgui.is_item_active() and not is_done:
            self._typed[name] = now
            return None
        before = self._typed.pop(name, None)
        if is_done:
            return now if now != shown else None
        if before is None or before == shown or imgui.is_key_down(imgui.Key.escape):
            return None
        return before

    def _ground(self, low: ImVec2, high: ImVec2, is_kept: bool) -> None:
        """Draw what a number stands on: to be written on over a solid rule where it is kept, a dashed one else."""
        canvas, palette, scale = imgui.get_window_draw_list(), self._widgets.palette, self._widgets.scale
        rule, thick = theme.packed(palette.rule), max(1.0, round(1.5 * scale))
        ends = ((low.x, high.y - thick / 2), (high.x, high.y - thick / 2))
        if is_kept:
            canvas.add_rect_filled(low, high, theme.packed(palette.raised), 4 * scale, imgui.ImDrawFlags_.round_top)
            lines.draw(canvas, [ends], rule, thick)
        else:
            lines.draw(canvas, lines.dashes(ends, (3 * scale, 3 * scale)), rule, max(1.0, scale))
