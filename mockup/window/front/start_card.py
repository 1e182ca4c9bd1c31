"""The card that starts a pedal: its box among the sizes or by three measures, its name, its paint."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup.colour import rgb
from mockup.colour.paints import PAINTS
from mockup.enclosure.sizes import SIZES
from mockup.model.errors import MockupError
from mockup.model.material import Colour
from mockup.model.units import Unit
from mockup.window.desk import Desk
from mockup.window.dimensions import lines, number
from mockup.window.dimensions.sketch import Dimension
from mockup.window.front.box_row import LONGEST_MM, SMALLEST_MM, BoxPlace, row
from mockup.window.front.canvas import FrontCanvas
from mockup.window.front.choice import OWN, Choice, Side
from mockup.window.front.places import Area, FrontPlaces
from mockup.window.shell import theme
from mockup.window.work import new_project

FIRST_PAINTS = 9
_RULE_MM = 50.0
_FIELD = (54.0, 24.0)  # of a measure of one's own
_BESIDE = 94.0  # room for those measures and their words
_SWATCH = 12.0  # radius
_UNDER = 44.0  # room under the baseline for two lines
_SIDES: tuple[tuple[Side, str], ...] = (("length_mm", "long"), ("width_mm", "wide"), ("height_mm", "high"))


class StartCard:
    """The card, with what is chosen on it."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.choice = Choice()
        self._is_new = True

    def reset(self) -> None:
        """Begin anew: the page is shown again."""
        self._is_new = True

    def take_picture(self, picture: Path) -> None:
        """Keep a picture for the new pedal, which is called after it unless it has a name."""
        name = self.choice.name or picture.stem.replace("_", " ").replace("-", " ").capitalize()
        self.choice = replace(self.choice, picture=picture, name=name)
        self._desk.widgets.focus.ask("front.name")

    def draw(self, canvas: FrontCanvas, places: FrontPlaces) -> bool:
        """Lay out the card; True when the pedal is to be started."""
        palette = self._desk.widgets.palette
        canvas.fill(places.start, palette.sheet)
        title = canvas.text(
            (places.start.x + 24, places.start.y + 20), "Start a pedal", theme.HEAD_PX, palette.text, is_bold=True
        )
        if not places.is_one_column:
            canvas.text(
                (places.start.x + 38 + title, places.start.y + 26), "Boxes seen from above, to one scale",
                theme.TEXT_PX, palette.second,
            )  # fmt: skip
            x = places.form.x - 24
            canvas.line((x, places.start.y + 22), (x, places.start.low - 22), palette.line)
        if self._is_new and not places.is_one_column:  # in one column the caret would scroll the boxes away
            self._keep_caret()
        self._is_new = False
        self._boxes(canvas, places)
        return self._form(canvas, places.form)

    # Boxes

    def _boxes(self, canvas: FrontCanvas, places: FrontPlaces) -> None:
        palette, room, choice = self._desk.widgets.palette, places.boxes, self.choice
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
        palette, choice = self._desk.widgets.palette, self.choice
        box = choice.own if place.name == OWN else SIZES[place.name]
        area = Area(left + place.left, base - place.tall, place.wide, place.tall)
        is_chosen, is_own = place.name == choice.size, place.name == OWN
        reach = Area(area.x - 6, area.y - 6, area.wide + 12, area.tall + (8 if is_own else _UNDER))
        if canvas.pressed(f"front.box.{place.name}", reach):
            self._choose(replace(choice, size=place.name))
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
        widgets, palette, units = self._desk.widgets, self._desk.widgets.palette, self.choice.units
        x, right = left + place.left - 18, left + place.left + place.wide
        for index, (side, word) in enumerate(_SIDES):
            y = base - (len(_SIDES) - index) * (_FIELD[1] + 8) + 4
            canvas.text((x - _FIELD[0] - 6, y + 4), word, theme.SMALL_PX, palette.second, share=1.0)
            self._field(canvas, side, (x - _FIELD[0], y), word)
        line = x + 9
        canvas.line((line, base - place.tall), (line, base), palette.rule)
        for y in (base - place.tall, base):
            canvas.line((line - 3, y), (line + 3, y), palette.rule)
        tint = palette.text if self.choice.size == OWN else palette.second
        canvas.text((right, base + 8), "Your own", theme.NUMBER_PX, tint, is_bold=self.choice.size == OWN, share=1.0)
        other: Unit = "in" if units == "mm" else "mm"
        wide = 34.0
        canvas.go(right - wide, base + 24)
        imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(2 * canvas.scale, 0))
        if widgets.button(
            units, "front.unit", look="quiet", tall=20 * canvas.scale, wide=wide * canvas.scale,
            tip=f"Measures in {'inches' if other == 'in' else 'millimetres'}",
        ):  # fmt: skip
            self._choose(replace(self.choice, units=other))
        imgui.pop_style_var()

    def _field(self, canvas: FrontCanvas, side: Side, at: tuple[float, float], word: str) -> None:
        widgets, choice = self._desk.widgets, self.choice
        mm = getattr(choice.own, side)
        least = SMALLEST_MM[[each for each, _ in _SIDES].index(side)]
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
            self.choice = choice.measured(side, number.read(typed, bounds, choice.units))
        except ValueError as error:
            self._desk.messages.say(str(error))

    def _choose(self, choice: Choice) -> None:
        """Take a choice; the caret stays in the name."""
        self.choice = choice
        self._keep_caret()

    def _keep_caret(self) -> None:
        self._desk.widgets.focus.ask("front.name")
        self._desk.window.settle()

    # Form

    def _form(self, canvas: FrontCanvas, form: Area) -> bool:
        palette, x, y = self._desk.widgets.palette, form.x, form.y
        canvas.text((x, y), "Its name", theme.TEXT_PX, palette.second)
        is_started = self._name(canvas, Area(x, y + 26, form.wide, 40))
        canvas.text((x, y + 82), "Its paint", theme.TEXT_PX, palette.second)
        self._paints(canvas, x, y + 124, form.wide)
        self._where(canvas, form)
        wide = 78.0
        canvas.go(form.right - wide, form.low - 44)
        pushed = self._desk.widgets.button(
            "Start", "front.start", look="chalk", wide=wide * canvas.scale, tall=theme.CHALK_BUTTON * canvas.scale
        )
        return is_started or pushed

    def _name(self, canvas: FrontCanvas, area: Area) -> bool:
        widgets = self._desk.widgets
        canvas.go(area.x, area.y)
        imgui.set_next_item_width(area.wide * canvas.scale)
        with widgets.font(widgets.faces.semibold, 16.0):
            pad = max((area.tall * canvas.scale - imgui.get_font_size()) / 2, 0.0)
            imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(12 * canvas.scale, pad))
            is_asked = widgets.focus.take("front.name")
            flags = imgui.InputTextFlags_.enter_returns_true | imgui.InputTextFlags_.callback_always
            done, name = imgui.input_text_with_hint(
                "##front.name", new_project.USUAL_NAME, self.choice.name, flags, _Caret(is_asked)
            )
            imgui.pop_style_var()
        widgets.rule()
        widgets.mark("front.name")
        self.choice = replace(self.choice, name=name)
        return bool(done)

    def _paints(self, canvas: FrontCanvas, x: float, y: float, wide: float) -> None:
        step = (wide - 2 * _SWATCH - 44) / (FIRST_PAINTS - 1)
        for index, paint in enumerate(PAINTS[:FIRST_PAINTS]):
            at = (x + _SWATCH + index * step, y)
            self._swatch(canvas, at, paint.colour, paint.name, radius=min(_SWATCH, step / 2 - 3))
        canvas.go(x + wide - 40, y - 14)
        widgets = self._desk.widgets
        if widgets.button(
            "More", "front.paints", look="quiet", tall=28 * canvas.scale, tip="More paints, or one by its code"
        ):
            imgui.open_popup("front.paints")
        imgui.set_next_window_pos(canvas.at(x, y + 20))
        if imgui.begin_popup("front.paints"):
            self._more_paints(canvas)
            imgui.end_popup()

    def _more_paints(self, canvas: FrontCanvas) -> None:
        widgets = self._desk.widgets
        inner = FrontCanvas(widgets)
        across, step = 8, 34.0
        for index, paint in enumerate(PAINTS):
            self._swatch(
                inner, (_SWATCH + 3 + index % across * step, _SWATCH + 3 + index // across * step), paint.colour,
                paint.name, name="front.more",
            )  # fmt: skip
        inner.go(0, 2 * step + 6)
        typed = widgets.field("front.code", rgb.to_hex(self.choice.paint), wide=(across * step - 8) * canvas.scale,
                              tip="A colour's code such as #8fb39b, or its name")  # fmt: skip
        if typed is not None:
            try:
                self._choose(replace(self.choice, paint=rgb.parse(typed)))
                imgui.close_current_popup()
            except ValueError as error:
                self._desk.messages.say(str(error))

    def _swatch(
        self,
        canvas: FrontCanvas,
        at: tuple[float, float],
        colour: Colour,
        word: str,
        *,
        name: str = "front.paint",
        radius: float = _SWATCH,
    ) -> None:
        palette, reach = self._desk.widgets.palette, radius + 3
        area = Area(at[0] - reach, at[1] - reach, 2 * reach, 2 * reach)
        if canvas.pressed(f"{name}.{word.lower()}", area, tip=word):
            self._choose(replace(self.choice, paint=colour))
            if name != "front.paint":
                imgui.close_current_popup()
        middle, scale = canvas.at(*at), canvas.scale
        canvas.draw.add_circle_filled(middle, radius * scale, theme.packed(colour), 40)
        canvas.draw.add_circle(middle, radius * scale, theme.packed(palette.rule), 40, max(1.0, scale))
        if rgb.to_hex(colour) == rgb.to_hex(self.choice.paint):
            ring = max(2.0, 2 * scale)
            canvas.draw.add_circle(middle, (radius + 3) * scale, theme.packed(palette.chalk), 40, ring)

    def _where(self, canvas: FrontCanvas, form: Area) -> None:
        """What will be made, and the folder that it goes into: a click chooses another."""
        widgets, palette, choice = self._desk.widgets, self._desk.widgets.palette, self.choice
        sides = [
            number.shown(getattr(choice.box, side), "length", choice.units).removesuffix(".0") for side, _ in _SIDES
        ]
        said = f"{' × '.join(sides)}{'' if choice.units == 'mm' else ' in'}, in"
        if choice.picture is not None:
            said = f"with {choice.picture.name}, in"
        room = (form.wide - 90) * canvas.scale
        said = widgets.shortened(said, room, widgets.faces.plain, theme.SMALL_PX)
        canvas.text((form.x, form.low - 46), said, theme.SMALL_PX, palette.second)
        folder = new_project.shelf_folder()
        words = " / ".join(folder.parts[-2:]) if len(folder.parts) > 1 else str(folder)
        area = Area(form.x, form.low - 28, form.wide - 90, 24)
        if canvas.pressed("front.folder", area, tip=f"{folder}   Click to choose another"):
            self._desk.chooser.folder("Where new pedals live", folder, self._move)
        words = widgets.shortened(words, room, widgets.faces.plain, theme.SMALL_PX)
        is_over = imgui.is_item_hovered()
        wide = canvas.text((area.x, area.y), words, theme.SMALL_PX, palette.text if is_over else palette.second)
        if is_over:
            canvas.line((area.x, area.y + 16), (area.x + wide, area.y + 16), palette.text)

    def _move(self, folder: Path) -> None:
        try:
            new_project.remember_shelf_folder(folder)
        except MockupError as error:
            self._desk.messages.say_error(error)


class _Caret:
    """Puts the caret behind the name where the field was given the keys again, so that typing goes on."""

    def __init__(self, is_asked: bool) -> None:
        self._is_asked = is_asked

    def __call__(self, data: imgui.InputTextCallbackData) -> int:
        if self._is_asked:
            data.clear_selection()
            data.cursor_pos = data.buf_text_len
        return 0


def _on(paint: Colour) -> Colour:
    """Return black or white, whichever shows on a paint."""
    return (0.0, 0.0, 0.0) if sum(paint) > 1.3 else (1.0, 1.0, 1.0)
