"""The list of controls on the front door: what goes on the pedal, and the layouts that come of it, to be clicked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.enclosure.sizes import SIZES
from mockup.hardware import kinds
from mockup.layout_proposals import SMALLEST
from mockup.window.desk import Desk
from mockup.window.front.canvas import FrontCanvas
from mockup.window.front.choice import OWN, Choice
from mockup.window.front.control_list import CHIPS, Chip, ControlList
from mockup.window.front.places import Area
from mockup.window.front.proposal_prints import ProposalPrints
from mockup.window.parts import catalogue
from mockup.window.shell import theme
from mockup.window.shell.icons import icon
from mockup.window.work.arranging import Arranger

_HINT = "Type what goes on it: 2 pots, toggle, lamp, footswitch, in, out, 9 volt"
_LINE, _CHIP, _NAME, _BOX = 32.0, 32.0, 28.0, 60.0  # heights
_GAP = 8.0
_COLUMN = 176.0  # the least width of a chip
_PLAN_TALL = 26.0


class ControlCard:
    """The list being made, then what is being done, then the layouts."""

    def __init__(self, desk: Desk, take: Callable[[Choice], None]) -> None:
        self._desk, self._take = desk, take
        self._prints = ProposalPrints(desk)
        self._typed = ""

    @property
    def _arranger(self) -> Arranger:
        return self._desk.arranger

    @property
    def is_busy(self) -> bool:
        """True while the list is being laid out."""
        return self._arranger.progress is not None

    @property
    def is_done(self) -> bool:
        """True while there are layouts to choose from."""
        return self._arranger.result is not None and bool(self._arranger.result.found)

    @property
    def said(self) -> str:
        """The line beside the card's title."""
        result = self._arranger.result
        if result is None or not result.found:
            return "It is laid out for you, and checked" if self.is_busy else "What goes on it"
        count = len(result.found)
        box = result.box.replace("x", " × ")
        return f"{count} layouts in a box of {box}. Click one" if count > 1 else f"One layout fits a box of {box}"

    def lay_out_or_stop(self, choice: Choice) -> None:
        """Have the list laid out, or leave that where it is under way."""
        if self.is_busy:
            self._arranger.stop()
        elif choice.controls.rows:
            self._arranger.start(choice.request)

    def draw(self, canvas: FrontCanvas, area: Area, choice: Choice) -> tuple[str, dict[str, bytes]] | None:
        """Lay out the card's room; return the layout that was clicked with the files that it needs."""
        if self.is_busy:
            self._under_way(canvas, area, choice)
            return None
        if self.is_done:
            return self._prints.draw(canvas, area, choice)
        self._list(canvas, area, choice)
        return None

    def _under_way(self, canvas: FrontCanvas, area: Area, choice: Choice) -> None:
        """How far it is: a bar of a width that stays, and words under it."""
        palette, progress = self._desk.widgets.palette, self._arranger.progress
        assert progress is not None
        wide = min(360.0, area.wide)
        bar = Area(area.x + (area.wide - wide) / 2, area.y + area.tall / 2 - 12, wide, 4.0)
        canvas.fill(bar, palette.chosen, 2.0)
        canvas.fill(Area(bar.x, bar.y, bar.wide * progress.share, bar.tall), palette.chalk, 2.0)
        self._desk.widgets.places["front.progress"] = (bar.x, bar.y, bar.right, bar.low)
        middle = area.x + area.wide / 2
        said = progress.words(choice.request.box)
        canvas.text((middle, bar.low + 10), said, theme.TEXT_PX, palette.second, share=0.5)

    # The list

    def _list(self, canvas: FrontCanvas, area: Area, choice: Choice) -> None:
        self._line(canvas, Area(area.x, area.y, area.wide, _LINE), choice)
        columns = max(min(int(area.wide // _COLUMN), 4), 2)
        wide = (area.wide - (columns - 1) * _GAP) / columns
        y = area.y + _LINE + _GAP
        for index in range(len(CHIPS) + 1):
            place = Area(area.x + index % columns * (wide + _GAP), y + index // columns * (_CHIP + 6), wide, _CHIP)
            if index < len(CHIPS):
                self._chip(canvas, place, CHIPS[index], choice)
            else:
                self._other(canvas, place, choice)
        y += -(-(len(CHIPS) + 1) // columns) * (_CHIP + 6) + 4
        rows = 1 if area.wide >= 600 else 2
        boxes = rows * _BOX + (rows - 1) * 6
        self._names(canvas, Area(area.x, y, area.wide, area.low - boxes - _GAP - y), choice, columns)
        self._boxes(canvas, Area(area.x, area.low - boxes, area.wide, boxes), choice, rows)

    def _line(self, canvas: FrontCanvas, area: Area, choice: Choice) -> None:
        """The line to type the list into; Enter adds what it says."""
        widgets = self._desk.widgets
        canvas.go(area.x, area.y)
        imgui.set_next_item_width(area.wide * canvas.scale)
        widgets.focus.take("front.list")
        flags = imgui.InputTextFlags_.enter_returns_true
        done, self._typed = imgui.input_text_with_hint("##front.list", _HINT, self._typed, flags)
        widgets.rule()
        widgets.mark("front.list")
        if done and self._typed.strip():
            self._change(choice, partial(choice.controls.typed, self._typed))
            widgets.focus.ask("front.list")

    def _chip(self, canvas: FrontCanvas, area: Area, chip: Chip, choice: Choice) -> None:
        """A kind with how many there are; a click adds one, the minus takes one away."""
        palette, count = self._desk.widgets.palette, len(choice.controls.of(chip))
        name = chip.word.lower().replace(" ", "-")
        add = Area(area.x, area.y, area.wide - (30 if count else 0), area.tall)
        if canvas.pressed(f"front.add.{name}", add, tip="One more"):
            self._change(choice, partial(choice.controls.more, chip.kind, chip.name))
        is_over = imgui.is_item_hovered()
        canvas.fill(area, palette.hover if is_over else palette.raised, theme.BUTTON_ROUND)
        canvas.text((area.x + 12, area.y + 6), chip.word, theme.TEXT_PX, palette.text, is_bold=count > 0)
        said = str(count) if count else icon("plus")
        tint = palette.text if count else palette.second
        canvas.text((area.right - (36 if count else 12), area.y + 6), said, theme.TEXT_PX, tint, is_bold=True, share=1)
        if count:
            canvas.go(area.right - 30, area.y + 2)
            if self._desk.widgets.icon_button("minus", f"front.less.{name}", tip="One less"):
                self._change(choice, partial(choice.controls.fewer, chip))

    def _other(self, canvas: FrontCanvas, area: Area, choice: Choice) -> None:
        """Every other kind, in a list that opens."""
        widgets, listed = self._desk.widgets, {chip.kind for chip in CHIPS}
        canvas.go(area.x, area.y)
        if widgets.button(
            "Another part", "front.other", wide=area.wide * canvas.scale, tall=area.tall * canvas.scale, look="quiet"
        ):
            imgui.open_popup("front.other")
        imgui.set_next_window_pos(canvas.at(area.x, area.low + 4))
        if imgui.begin_popup("front.other"):
            for shelf in catalogue.shelves({name: kind for name, kind in kinds().items() if name not in listed}):
                widgets.note(shelf.title)
                for kind in shelf.kinds:
                    if widgets.button(catalogue.title(kind), f"front.other.{kind.name}", look="quiet"):
                        self._change(choice, partial(choice.controls.more, kind.name))
                        imgui.close_current_popup()
            imgui.end_popup()

    def _names(self, canvas: FrontCanvas, area: Area, choice: Choice, columns: int) -> None:
        """Each part's name, to be typed over, with its kind; as many rows as there is room for, the rest scrolls."""
        widgets, scale, rows = self._desk.widgets, canvas.scale, choice.controls.rows
        canvas.go(area.x, area.y)
        imgui.push_style_color(imgui.Col_.child_bg, ImVec4(0, 0, 0, 0))
        flags = imgui.ChildFlags_.nav_flattened
        imgui.begin_child("front.names", ImVec2(area.wide * scale, max(area.tall, _NAME) * scale), flags)
        imgui.pop_style_color()
        inner = FrontCanvas(widgets)
        wide = (area.wide - (columns - 1) * _GAP) / columns
        for index, row in enumerate(rows):
            x, y = index % columns * (wide + _GAP), 2 + index // columns * (_NAME + 4)
            field = wide * 0.5
            inner.go(x, y)
            imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(8 * scale, 3 * scale))
            typed = widgets.field(
                f"front.control.{index}", row.name, wide=field * scale, tip="Its name", is_taken_on_leaving=True
            )
            imgui.pop_style_var()
            if typed is not None:
                self._change(choice, partial(choice.controls.renamed, index, typed))
            word = catalogue.title(kinds()[row.kind])
            said = widgets.shortened(word, (wide - field - 10) * scale, widgets.faces.small)
            inner.text((x + field + 8, y + 6), said, theme.SMALL_PX, widgets.palette.second)
        imgui.end_child()

    def _boxes(self, canvas: FrontCanvas, area: Area, choice: Choice, rows: int) -> None:
        """The box: the smallest that holds them, one of the sizes, or one's own measures."""
        has_own = choice.own not in SIZES.values()  # measured among the empty boxes
        names = (SMALLEST, *SIZES, *((OWN,) if has_own else ()))
        columns = -(-len(names) // rows)
        wide = (area.wide - (columns - 1) * 6) / columns
        scale = _PLAN_TALL / max(box.length_mm for box in SIZES.values())
        for index, name in enumerate(names):
            place = Area(area.x + index % columns * (wide + 6), area.y + index // columns * (_BOX + 6), wide, _BOX)
            self._box(canvas, place, name, choice, scale)

    def _box(self, canvas: FrontCanvas, area: Area, name: str, choice: Choice, scale: float) -> None:
        palette, is_on = self._desk.widgets.palette, name == choice.list_size
        box = choice.own if name == OWN else SIZES.get(name)
        tip = "The smallest box that holds them" if box is None else f"{box.height_mm:g} mm high"
        if canvas.pressed(f"front.list-box.{name}", area, tip=tip):
            self._take(replace(choice, list_size=name))
        is_over = imgui.is_item_hovered()
        fill = palette.chosen if is_on else palette.hover if is_over else palette.raised
        canvas.fill(area, fill, theme.BUTTON_ROUND)
        tint = palette.text if is_on else palette.second
        middle = area.x + area.wide / 2
        word = "Your own" if name == OWN else "Smallest" if box is None else f"{box.length_mm:g} × {box.width_mm:g}"
        canvas.text((middle, area.low - 22), word, theme.SMALL_PX, tint, is_bold=is_on, share=0.5)
        if box is None:
            canvas.text((middle, area.y + 10), icon("arrows-to-dot"), theme.TEXT_PX + 2, tint, share=0.5)
        else:
            tall = min(box.length_mm * scale, _PLAN_TALL)
            across = tall * box.width_mm / box.length_mm
            canvas.outline(Area(middle - across / 2, area.low - 26 - tall, across, tall), tint, 1.2, 2.0)
        if is_on:
            foot = Area(area.x + 2, area.low - 2, area.wide - 4, 2.0)
            canvas.fill(foot, palette.chalk, 0.0)

    def _change(self, choice: Choice, change: Callable[[], ControlList]) -> None:
        """Take a change of the list; what it does not allow is said in a line."""
        try:
            controls = change()
        except ValueError as error:
            self._desk.messages.say(str(error))
            return
        self._typed = ""
        self._take(replace(choice, controls=controls))
