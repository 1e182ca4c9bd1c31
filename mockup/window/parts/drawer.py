"""The drawer of parts: found by plain words, in groups, each kind in a picture; a click or a drag brings one."""

from __future__ import annotations

from dataclasses import replace

from imgui_bundle import ImVec2, imgui

from mockup import knobs
from mockup.layout import resolve
from mockup.model.part import Kind
from mockup.model.text import capitalized
from mockup.window import new_part, part_flow
from mockup.window.desk import Desk
from mockup.window.parts.catalogue import OWN, Shelf, shelves, title
from mockup.window.parts.own_kind import OwnKind
from mockup.window.shelf.subjects import CELL_PX, PartSubject, Thumbnail
from mockup.window.shell import theme
from mockup.window.widgets.tile import tile

DRAWER = 212.0  # units, width of the drawer: the window's design
_CELL, _PICTURE = (90.0, 84.0), 64.0  # units, a cell and the height of its picture: the window's design
_INSET, _FOOT = 12.0, 48.0
_DRAG = 6.0  # units that the pointer goes before a click becomes a drag: the window's design
_FIELD = 36.0


class Drawer:
    """Draws the drawer; it holds what was typed into its search and what is pressed."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._wanted = ""
        self._pressed: Kind | None = None
        self.own_kind = OwnKind(desk)

    def draw(self) -> None:
        """Lay out search, groups and foot."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        card = self._desk.view.cards.drawer
        if card is None:
            return
        found = shelves(part_flow.catalogue(self._desk), self._wanted)
        self._search((card.x + _INSET * scale, card.y + _INSET * scale), found)
        top = (_INSET + _FIELD + 4) * scale
        imgui.set_cursor_screen_pos(ImVec2(card.x, card.y + top))
        imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(_INSET * scale, 4 * scale))
        imgui.begin_child(
            "drawer.shelves", ImVec2(card.width, card.height - top - _FOOT * scale),
            imgui.ChildFlags_.always_use_window_padding | imgui.ChildFlags_.nav_flattened,
        )  # fmt: skip
        imgui.pop_style_var()
        for index, shelf in enumerate(found):
            self._shelf(shelf, is_first=index == 0)
        if not found and self._wanted:
            widgets.note("No part is called that. Measure your own?")
        self._measure_cell()
        imgui.end_child()
        self._foot(card.x, card.bottom)
        self._drag()

    def find(self) -> None:
        """Send what is typed to the search."""
        self._desk.widgets.focus.ask("drawer.find")

    def _search(self, at: tuple[float, float], found: tuple[Shelf, ...]) -> None:
        """Draw the search field; Enter adds the first that it finds."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        imgui.set_cursor_screen_pos(ImVec2(*at))
        imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(10 * scale, 8 * scale))
        imgui.set_next_item_width((DRAWER - 2 * _INSET) * scale)
        widgets.focus.take("drawer.find")
        flags = imgui.InputTextFlags_.enter_returns_true | imgui.InputTextFlags_.escape_clears_all
        done, now = imgui.input_text_with_hint("##drawer.find", "Find a part", self._wanted, flags)
        imgui.pop_style_var()
        widgets.rule()
        widgets.mark("drawer.find")
        widgets.tip("Plain words: knob, 9 volt, in", "f3")
        self._wanted = str(now)
        if done and found:
            self._wanted = ""
            new_part.add(self._desk, found[0].kinds[0], called=title(found[0].kinds[0]))

    def _shelf(self, shelf: Shelf, *, is_first: bool) -> None:
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        if not is_first:
            widgets.space(10)
        with widgets.small():
            widgets.text(shelf.title, colour=widgets.palette.second)
        beside = shelf.kinds if shelf.title != OWN else ()
        gap = (DRAWER - 2 * _INSET - 2 * _CELL[0]) * scale
        for index, kind in enumerate(shelf.kinds):
            if index % 2:
                imgui.same_line(0, gap)
            self._cell(kind, beside)

    def _cell(self, kind: Kind, beside: tuple[Kind, ...]) -> None:
        """Draw one kind: its picture over its name."""
        widgets, scale, palette = self._desk.widgets, self._desk.widgets.scale, self._desk.widgets.palette
        tip = capitalized(kind.about)
        cell = tile(widgets, f"drawer.{kind.name}", _CELL[0] * scale, _CELL[1] * scale, tip=tip)
        is_held = imgui.is_item_active()
        if imgui.is_item_activated():
            self._pressed = kind
        print_ = cell.upper(_PICTURE)
        print_.fill(palette.raised)
        texture = self._desk.shelf.texture(self._thumbnail(kind, beside), slot=f"drawer.{kind.name}")
        print_.picture(texture, 0.5 if is_held else 1.0)
        if cell.is_hovered:
            print_.edge(palette.rule, 1.5)
        tint = palette.text if cell.is_hovered else palette.second
        cell.word(print_.high.y + 2 * scale, title(kind), widgets.faces.small, tint)
        if cell.is_pushed and self._pressed is kind:
            self._pressed = None
            new_part.add(self._desk, kind, called=title(kind))

    def _thumbnail(self, kind: Kind, beside: tuple[Kind, ...]) -> Thumbnail:
        knob = knobs.default(resolve.favourite_style()) if kind.shaft is not None else None
        lamp = part_flow.LAMP if kind.is_lamp else None
        return Thumbnail(subject=PartSubject(kind=kind, knob=knob, lamp=lamp, beside=beside), size=CELL_PX)

    def _measure_cell(self) -> None:
        widgets = self._desk.widgets
        widgets.space(10)
        wide = (DRAWER - 2 * _INSET) * widgets.scale
        if widgets.button(
            "Measure your own", "drawer.measure-own", wide=wide, glyph="ruler-combined",
            tip="Three figures by caliper make a kind of your own",
        ):  # fmt: skip
            self.own_kind.open()
        widgets.space(8)

    def _foot(self, left: float, bottom: float) -> None:
        """Draw the switch that letters names."""
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        canvas, top = imgui.get_window_draw_list(), bottom - _FOOT * scale
        canvas.add_line(ImVec2(left, top), ImVec2(left + DRAWER * scale, top), theme.packed(widgets.palette.line), 1.0)
        imgui.set_cursor_screen_pos(ImVec2(left + _INSET * scale, top + 10 * scale))
        if widgets.check(
            "Letter names as I go", "drawer.letter", desk.view.state.is_lettering,
            tip="Each new part's name is written by it; not for jacks, sockets and lamps",
        ):  # fmt: skip
            desk.view.change(replace(desk.view.state, is_lettering=not desk.view.state.is_lettering))

    def _drag(self) -> None:
        """Take a kind in hand once it is dragged out of its cell."""
        kind = self._pressed
        if kind is None:
            return
        if not imgui.is_mouse_down(0):
            self._pressed = None
            return
        moved = imgui.get_mouse_drag_delta(0, 0.0)
        if (moved.x**2 + moved.y**2) ** 0.5 > _DRAG * self._desk.widgets.scale:
            self._pressed = None
            part_flow.end_naming(self._desk)
            self._take(kind)

    def _take(self, kind: Kind) -> None:
        """Take a kind in hand: it stands where it is let go."""
        desk, design = self._desk, part_flow.pedal(self._desk)
        if design is not None:
            new = part_flow.fresh(design, kind)
            desk.tools.take_new(new, lambda placed: new_part.add(desk, kind, placed))
