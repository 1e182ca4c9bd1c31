"""The boxes of the front door from above, in a row and to one scale; the last takes three measures of one's own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from imgui_bundle import ImVec2, imgui

from mockup.enclosure.sizes import SIZES
from mockup.model.material import Colour
from mockup.model.units import Unit
from mockup.window.desk import Desk
from mockup.window.dimensions import lines, number
from mockup.window.dimensions.sketch import Dimension
from mockup.window.front.box_row import LONGEST_MM, SMALLEST_MM, BoxPlace, row
from mockup.window.front.canvas import FrontCanvas
from mockup.window.front.choice import OWN, SIDES, Choice, Side
from mockup.window.front.places import Area, FrontPlaces
from mockup.window.shell import theme

_RULE_MM = 50.0
_FIELD = (54.0, 24.0)  # of a measure of one's own
_BESIDE = 94.0  # room for those measures and their words
_UNDER = 44.0  # room under the baseline for two lines

Take = Callable[[Choice], None]


class BoxPicker:
    """Shows the boxes; `take` is told of one that was clicked, `measured` of a measure that was typed."""

    def __init__(self, desk: Desk, take: Take, measured: Take) -> None:
        self._desk, self._take, self._measured = desk, take, measured
        self._choice = Choice()

    def draw(self, canvas: FrontCanvas, places: FrontPlaces, choice: Choice) -> None:
        """Lay out the row; what is chosen is told at once."""
        self._choice = choice
        palette, room = self._desk.widgets.palette, places.boxes
        boxes = [*SIZES.items(), (OWN, choice.own)]
        laid = row(boxes, room.wide - 12, room.tall - _UNDER - 12, beside=_BESIDE)
        base = room.low - _UNDER
        canvas.line((room.x, base), (room.right, base), palette.second)
        self._rule(canvas, room.right, places.start.y + 40, laid.scale)
        for place in laid.places:
            self._box(canvas, place, room.x + 6, base, laid.scale)
        own = laid.places[-1]
        self._measures(canvas, own, room.x + 6, base)

    def _rule(self, canvas: FrontCanvas, right: float, y: float, scale: float) -> None:
        """A rule of 50 mm, a tick every ten."""
        palette, wide = self._desk.widgets.palette, _RULE_MM * scale
        canvas.line((right - wide, y), (right, y), palette.second)
        for tick in range(6):
            x, tall = right - wide * tick / 5, 5.0 if tick in (0, 5) else 2.5
            canvas.line((x, y - tall), (x, y + tall if tick in (0, 5) else y), palette.second)
        canvas.text((right - wide - 8, y - 8), "50 mm", theme.SMALL_PX, palette.second, share=1.0)

    def _box(self, canvas: FrontCanvas, place: BoxPlace, left: float, base: float, scale: float) -> None:
        palette, choice = self._desk.widgets.palette, self._choice
        box = choice.own if place.name == OWN else SIZES[place.name]
        area = Area(left + place.left, base - place.tall, place.wide, place.tall)
        is_chosen, is_own = place.name == choice.size, place.name == OWN
        reach = Area(area.x - 6, area.y - 6, area.wide + 12, area.tall + (8 if is_own else _UNDER))
        if canvas.pressed(f"front.box.{place.name}", reach):
            self._take(replace(choice, size=place.name))
        is_over = imgui.is_item_hovered()
        corner = box.corner_mm * scale
        fill = choice.paint if is_chosen else palette.hover if is_over else palette.raised
        canvas.fill(area, fill, corner, 1.0 if is_chosen or is_over or not is_own else 0.0)
        if is_own and not is_chosen:
            self._dashed(canvas, area)
        else:
            canvas.outline(area, palette.chalk if is_chosen else palette.second, 2.0 if is_chosen else 1.2, corner)
            inset, radius = box.post_mm / 2 * scale + 1, max(box.screw_mm / 2 * scale, 1.5)
            dark = _on(choice.paint) if is_chosen else palette.second
            for x in (area.x + inset, area.right - inset):
                for y in (area.y + inset, area.low - inset):
                    canvas.draw.add_circle(
                        canvas.at(x, y), radius * canvas.scale, theme.packed(dark, 0.7), 16, max(1.0, canvas.scale)
                    )
        if is_own:
            return
        said = f"{box.length_mm:g} × {box.width_mm:g}"
        middle = left + place.middle
        tint = palette.text if is_chosen else palette.second
        canvas.text((middle, base + 8), said, theme.NUMBER_PX, tint, is_bold=is_chosen, share=0.5)
        canvas.text((middle, base + 26), f"{box.height_mm:g} high", theme.SMALL_PX, palette.second, share=0.5)

    def _dashed(self, canvas: FrontCanvas, area: Area) -> None:
        corners = [(area.x, area.y), (area.right, area.y), (area.right, area.low), (area.x, area.low)]
        points = [(at.x, at.y) for at in (canvas.at(*corner) for corner in corners)]
        pieces = lines.dashes(points, [5 * canvas.scale, 4 * canvas.scale], is_closed=True)
        lines.draw(canvas.draw, pieces, theme.packed(self._desk.widgets.palette.rule), max(1.0, 1.2 * canvas.scale))

    def _measures(self, canvas: FrontCanvas, place: BoxPlace, left: float, base: float) -> None:
        """The three measures of one's own box beside it, in either unit, and its name under it."""
        widgets, palette, units = self._desk.widgets, self._desk.widgets.palette, self._choice.units
        x, right = left + place.left - 18, left + place.left + place.wide
        for index, (side, word) in enumerate(SIDES):
            y = base - (len(SIDES) - index) * (_FIELD[1] + 8) + 4
            canvas.text((x - _FIELD[0] - 6, y + 4), word, theme.SMALL_PX, palette.second, share=1.0)
            self._field(canvas, side, (x - _FIELD[0], y), word)
        line = x + 9
        canvas.line((line, base - place.tall), (line, base), palette.rule)
        for y in (base - place.tall, base):
            canvas.line((line - 3, y), (line + 3, y), palette.rule)
        tint = palette.text if self._choice.size == OWN else palette.second
        canvas.text((right, base + 8), "Your own", theme.NUMBER_PX, tint, is_bold=self._choice.size == OWN, share=1.0)
        other: Unit = "in" if units == "mm" else "mm"
        wide = 34.0
        canvas.go(right - wide, base + 24)
        imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(2 * canvas.scale, 0))
        if widgets.button(
            units, "front.unit", look="quiet", tall=20 * canvas.scale, wide=wide * canvas.scale,
            tip=f"Measures in {'inches' if other == 'in' else 'millimetres'}",
        ):  # fmt: skip
            self._take(replace(self._choice, units=other))
        imgui.pop_style_var()

    def _field(self, canvas: FrontCanvas, side: Side, at: tuple[float, float], word: str) -> None:
        widgets, choice = self._desk.widgets, self._choice
        mm = getattr(choice.own, side)
        least = SMALLEST_MM[[each for each, _ in SIDES].index(side)]
        bounds = Dimension(name=side, side="left", value=mm, least=least, most=LONGEST_MM)
        canvas.go(*at)
        imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(8 * canvas.scale, 2 * canvas.scale))
        typed = widgets.field(
            f"front.own.{side.removesuffix('_mm')}", number.shown(mm, "length", choice.units),
            wide=_FIELD[0] * canvas.scale, tip=f"How {word} it is outside, in mm or in", is_taken_on_leaving=True,
        )  # fmt: skip
        imgui.pop_style_var()
        if typed is None:
            return
        try:
            self._measured(choice.measured(side, number.read(typed, bounds, choice.units)))
        except ValueError as error:
            self._desk.messages.say(str(error))


def _on(paint: Colour) -> Colour:
    """Return black or white, whichever shows on a paint."""
    return (0.0, 0.0, 0.0) if sum(paint) > 1.3 else (1.0, 1.0, 1.0)
