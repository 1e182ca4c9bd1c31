"""The card that starts a pedal: its name, its paint, and an empty box or a list of controls to begin with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup.colour import rgb
from mockup.colour.paints import PAINTS
from mockup.model.errors import MockupError
from mockup.model.material import Colour
from mockup.window.desk import Desk
from mockup.window.dimensions import number
from mockup.window.front.box_picker import BoxPicker
from mockup.window.front.canvas import FrontCanvas
from mockup.window.front.choice import SIDES, Beginning, Choice
from mockup.window.front.control_card import ControlCard
from mockup.window.front.places import Area, FrontPlaces
from mockup.window.shell import theme
from mockup.window.shell.faces import TypeStyle
from mockup.window.work import new_project

FIRST_PAINTS = 9
_SWATCH = 12.0  # radius
_BEGINNINGS: tuple[tuple[Beginning, str], ...] = (("box", "An empty box"), ("list", "A list of controls"))
_BOXES = "Boxes seen from above, to one scale"
_ROOMY = 300.0  # height of the form from which a word stands over every choice


@dataclass(frozen=True, kw_only=True)
class NewPedal:
    """A pedal to be made: its layout, and the files that it needs beside it."""

    text: str
    beside: Mapping[str, bytes] = field(default_factory=dict)


class StartCard:
    """The card, with what is chosen on it."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.choice = Choice(units=desk.settings.units or "mm")
        self._is_new = True
        self._boxes = BoxPicker(desk, self._choose, self._measure)
        self._list = ControlCard(desk, self._measure)

    def reset(self) -> None:
        """Begin anew: the page is shown again."""
        self._is_new = True

    def take_picture(self, picture: Path) -> None:
        """Keep a picture for the new pedal, which is called after it unless it has a name."""
        name = self.choice.name or picture.stem.replace("_", " ").replace("-", " ").capitalize()
        self.choice = replace(self.choice, picture=picture, name=name)
        self._desk.widgets.focus.ask("front.name")

    def draw(self, canvas: FrontCanvas, places: FrontPlaces) -> NewPedal | None:
        """Lay out the card; return the pedal that is to be started."""
        palette = self._desk.widgets.palette
        is_list = self.choice.begins_with == "list"
        canvas.fill(places.start, palette.sheet)
        title = canvas.text(
            (places.start.x + 24, places.start.y + 20), "Start a pedal", theme.HEAD_PX, palette.text, is_bold=True
        )
        if not places.is_one_column:
            canvas.text(
                (places.start.x + 38 + title, places.start.y + 26), self._list.said if is_list else _BOXES,
                theme.TEXT_PX, palette.second,
            )  # fmt: skip
            x = places.form.x - 24
            canvas.line((x, places.start.y + 22), (x, places.start.low - 22), palette.line)
        if self._is_new and not places.is_one_column:  # in one column the caret would scroll the boxes away
            self._keep_caret()
        self._is_new = False
        taken = None
        if is_list:
            taken = self._list.draw(canvas, places.boxes, self.choice)
        else:
            self._boxes.draw(canvas, places, self.choice)
        made = self._form(canvas, places.form)
        return made if taken is None else NewPedal(text=taken[0], beside=taken[1])

    def _measure(self, choice: Choice) -> None:
        """Take a choice; the caret stays where it is."""
        self.choice = choice

    def _choose(self, choice: Choice) -> None:
        """Take a choice; the caret stays in the name."""
        self.choice = choice
        self._keep_caret()

    def _keep_caret(self) -> None:
        self._desk.widgets.focus.ask("front.name")
        self._desk.window.settle()

    # Form

    def _form(self, canvas: FrontCanvas, form: Area) -> NewPedal | None:
        palette, x, y = self._desk.widgets.palette, form.x, form.y
        canvas.text((x, y), "Its name", theme.TEXT_PX, palette.second)
        is_started = self._name(canvas, Area(x, y + 26, form.wide, 40))
        canvas.text((x, y + 82), "Its paint", theme.TEXT_PX, palette.second)
        self._paints(canvas, x, y + 124, form.wide)
        self._beginning(canvas, form)
        self._where(canvas, form)
        return self._primary(canvas, form, is_entered=is_started)

    def _beginning(self, canvas: FrontCanvas, form: Area) -> None:
        """What it begins with: an empty box, or a list of controls."""
        widgets, y = self._desk.widgets, form.y + 160
        if form.tall >= _ROOMY:
            canvas.text((form.x, y - 2), "Begin with", theme.TEXT_PX, widgets.palette.second)
            y += 22
        wide = form.wide / len(_BEGINNINGS)
        imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(4 * canvas.scale, 6 * canvas.scale))
        for index, (name, word) in enumerate(_BEGINNINGS):
            canvas.go(form.x + index * wide, y)
            if widgets.button(
                word, f"front.begin.{name}", wide=wide * canvas.scale, tall=theme.BUTTON * canvas.scale,
                is_on=self.choice.begins_with == name,
            ):  # fmt: skip
                self._measure(replace(self.choice, begins_with=name))
        imgui.pop_style_var()

    def _primary(self, canvas: FrontCanvas, form: Area, *, is_entered: bool) -> NewPedal | None:
        """The one chalk button: it starts an empty box, or has the list laid out; Enter in the name does the same."""
        widgets, is_list = self._desk.widgets, self.choice.begins_with == "list"
        if is_list and self._list.is_done:
            return None  # now one of the layouts is clicked
        label = "Stop" if is_list and self._list.is_busy else "Lay it out" if is_list else "Start"
        wide = 78.0 if not is_list else 98.0
        canvas.go(form.right - wide, form.low - 44)
        pushed = widgets.button(
            label, "front.start", look="raised" if label == "Stop" else "chalk", wide=wide * canvas.scale,
            tall=theme.CHALK_BUTTON * canvas.scale, is_enabled=not is_list or bool(self.choice.controls.rows),
        )  # fmt: skip
        if is_list and (pushed or (is_entered and not self._list.is_busy)):
            self._list.lay_out_or_stop(self.choice)
            return None
        return NewPedal(text=self.choice.text) if pushed or (is_entered and not is_list) else None

    def _name(self, canvas: FrontCanvas, area: Area) -> bool:
        widgets = self._desk.widgets
        canvas.go(area.x, area.y)
        imgui.set_next_item_width(area.wide * canvas.scale)
        with widgets.font(TypeStyle(widgets.faces.semibold, 16.0)):
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
        step = (wide - 2 * _SWATCH - 52) / (FIRST_PAINTS - 1)
        for index, paint in enumerate(PAINTS[:FIRST_PAINTS]):
            at = (x + _SWATCH + index * step, y)
            self._swatch(canvas, at, paint.colour, paint.name, radius=min(_SWATCH, step / 2 - 3))
        canvas.go(x + wide - 48, y - 14)
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
            number.shown(getattr(choice.box, side), "length", choice.units).removesuffix(".0") for side, _ in SIDES
        ]
        said = f"{' × '.join(sides)}{'' if choice.units == 'mm' else ' in'}, in"
        if choice.begins_with == "list":
            said = "It will live in"
        if choice.picture is not None:
            said = f"with {choice.picture.name}, in"
        room = (form.wide - 90) * canvas.scale
        said = widgets.shortened(said, room, widgets.faces.small)
        canvas.text((form.x, form.low - 46), said, theme.SMALL_PX, palette.second)
        folder = new_project.shelf_folder()
        words = " / ".join(folder.parts[-2:]) if len(folder.parts) > 1 else str(folder)
        area = Area(form.x, form.low - 28, form.wide - 90, 24)
        if canvas.pressed("front.folder", area, tip=f"{folder}   Click to choose another"):
            self._desk.chooser.folder("Where new pedals live", folder, self._move)
        words = widgets.shortened(words, room, widgets.faces.small)
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
