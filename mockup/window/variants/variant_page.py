"""The sheet of a variant: how it is shown, what differs, what may be tried on, and what becomes of it."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup import knobs
from mockup.colour import rgb
from mockup.colour.paints import PAINTS
from mockup.decal.painting import paint_words
from mockup.layout.edit.parts import knobbed
from mockup.model.material import Colour
from mockup.window import action_buttons, art_flow, part_flow, variant_flow
from mockup.window.desk import Desk
from mockup.window.shelf.subjects import CELL_PX, KnobSubject, Thumbnail
from mockup.window.shell import theme
from mockup.window.station import Station
from mockup.window.variants.changes import changes
from mockup.window.widgets.marks import draw_mark
from mockup.window.widgets.tile import tile
from mockup.window.work.try_outs import TryRequest, TryResult, WordReading

AS_DESIGNED = "As designed"
"""What the pedal is called that no variant changes."""
_COLUMNS = 4
_CHIP_TALL = 44.0
_TRIES = (("paints", "Paints"), ("knobs", "Knobs"), ("films", "Films"))


class VariantPage(Station):
    """The sheet; it belongs to no station, and any station closes it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._trying = "paints"
        self._asked: TryRequest | None = None
        self._name = ""

    def title(self) -> tuple[str, str]:
        """Return the variant's name and what it stands beside."""
        state = self._desk.view.state
        others = [each or AS_DESIGNED for index, each in enumerate(state.variants) if index != state.active]
        line = f"beside {', '.join(others)}" if others else "a variant" if state.variant else "the design itself"
        return state.variant or AS_DESIGNED, line

    def draw_head(self) -> None:
        """Draw the name, to be typed over where it is a variant's, and the line under it."""
        widgets, scale, variant = self._desk.widgets, self._desk.widgets.scale, self._desk.view.state.variant
        if variant is None:
            super().draw_head()
            return
        imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(6 * scale, 2 * scale))
        with widgets.font(widgets.faces.title):
            typed = widgets.field("variant.name", variant, is_taken_on_leaving=True, tip="Type another name")
        imgui.pop_style_var()
        imgui.set_cursor_pos_y(imgui.get_cursor_pos_y() - 4 * scale)
        widgets.text(self.title()[1], colour=widgets.palette.second)
        if typed is not None:
            variant_flow.rename(self._desk, variant, typed)

    def draw_sheet(self) -> None:
        """Lay out how variants are shown, what differs, and what may be tried."""
        desk, widgets = self._desk, self._desk.widgets
        if not desk.work.variants:
            widgets.note("A variant is the same pedal with something changed. Make one, then change it.")
            return
        names, labels = ("one-pane", "side-by-side", "wipe"), ("One", "Side by side", "Wipe")
        imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(4 * widgets.scale, 6 * widgets.scale))
        for index, wide in widgets.side_by_side(3):
            action_buttons.button(desk, names[index], page="variants", wide=wide, label=labels[index])
        imgui.pop_style_var()
        variant = desk.view.state.variant
        if variant is None:
            widgets.space(8)
            widgets.note("What is changed here is changed in every variant that has no own.")
        else:
            self._differs(variant)
        self._tries()

    def actions(self) -> tuple[str, ...]:
        """Return nothing: the foot draws its own."""
        return ()

    def foot_height(self) -> float:
        """Return the height of one row."""
        return 60.0

    def draw_foot(self) -> None:
        """Make it the design, or remove it; without a variant, make one."""
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        variant, tall = desk.view.state.variant, theme.BUTTON * scale
        if variant is None:
            action_buttons.button(desk, "new-variant", page="variants", look="chalk", tall=tall)
            return
        if widgets.button("Make it the design", "variants.adopt", look="chalk", tall=tall,
                          tip="The design takes on all that it changes; the variant goes"):  # fmt: skip
            variant_flow.adopt(desk, variant)
        imgui.same_line()
        if widgets.button("Rename", "variants.rename", look="quiet", tall=tall, key="f2"):
            widgets.focus.ask("variant.name")
        imgui.same_line(imgui.get_cursor_pos_x() + widgets.wide - 32 * scale)
        if widgets.icon_button("trash-can", "variants.remove", tip=f"Remove {variant}", side=32.0):
            variant_flow.remove(desk, variant)

    def _differs(self, variant: str) -> None:
        """Each value then and now; a colour is shown as one."""
        widgets, document = self._desk.widgets, self._desk.work.document
        widgets.title("What differs")
        found = changes(document.raw, variant) if document is not None else ()
        if not found:
            widgets.note("Nothing yet. Change its paint, its knobs or its art.")
        scale, palette = widgets.scale, widgets.palette
        for change in found:
            at, wide = imgui.get_cursor_screen_pos(), widgets.wide
            canvas = imgui.get_window_draw_list()
            room = 0.34 * wide
            label = widgets.shortened(change.label, room - 8 * scale, widgets.faces.text)
            widgets.draw_text(canvas, (at.x, at.y), label, widgets.faces.text, palette.second)
            for text, left, colour in ((change.then, room, palette.second), (change.now, 0.70 * wide, palette.text)):
                x = at.x + left
                tint = _colour(text)
                if tint is not None:
                    middle = ImVec2(x + 8 * scale, at.y + 10 * scale)
                    canvas.add_circle_filled(middle, 8 * scale, theme.packed(tint), 32)
                    canvas.add_circle(middle, 8 * scale, theme.packed(palette.rule), 32, 1.0)
                    x += 22 * scale
                space = at.x + left + 0.30 * wide - x
                said = widgets.shortened(_paint_word(text), space, widgets.faces.text)
                widgets.draw_text(canvas, (x, at.y), said, widgets.faces.text, colour)
            widgets.draw_text(canvas, (at.x + 0.64 * wide, at.y), "›", widgets.faces.text, palette.second)
            imgui.dummy(ImVec2(wide, 26 * scale))

    # Trying on

    def _tries(self) -> None:
        desk, widgets = self._desk, self._desk.widgets
        hint = "best read first" if self._trying != "knobs" else ""
        widgets.title("Try", hint=hint)
        self._trying = widgets.choose("variants.try", _TRIES, self._trying) or self._trying
        widgets.space(12)
        result = self._ranked()
        if self._trying == "knobs":
            self._knobs()
        elif self._trying == "paints":
            shown = result.paints if result is not None else tuple((paint, None) for paint in PAINTS)
            design = desk.work.design
            now = paint_words(design.finish) if design is not None else ""
            for index, (paint, ratio) in enumerate(shown):
                name = f"variants.paint.{paint.name.lower()}"
                if self._chip(index, name, paint.name, ratio, paint.colour, is_on=rgb.to_hex(paint.colour) == now):
                    self._paint(paint.colour)
        else:
            self._films(result)

    def _ranked(self) -> TryResult | None:
        """Ask for what is shown to be tried on; return the last result of this pedal."""
        work = self._desk.work
        if work.project is None or work.document is None:
            return None
        known = {rgb.to_hex(paint.colour): paint for paint in (*work.paints, *PAINTS)}
        request = TryRequest(
            project=work.project, text=work.unsaved_text, variant=self._desk.view.state.variant,
            paints=tuple(known.values()),
        )  # fmt: skip
        if request != self._asked:
            self._asked = request
            self._desk.try_outs.request(request)
        result = self._desk.tried
        return result if result is not None and result.request.project == work.project else None

    def _chip(
        self, index: int, name: str, word: str, ratio: WordReading | None, colour: Colour | None, *, is_on: bool,
        thumbnail: Thumbnail | None = None,
    ) -> bool:  # fmt: skip
        """One thing to try: its look, its word, how the worst word would read; True when it was pushed."""
        widgets, scale, palette = self._desk.widgets, self._desk.widgets.scale, self._desk.widgets.palette
        gap = 12 * scale
        if index % _COLUMNS == 0:
            self._left, self._wide = imgui.get_cursor_screen_pos(), (widgets.wide - (_COLUMNS - 1) * gap) / _COLUMNS
        at = ImVec2(self._left.x + index % _COLUMNS * (self._wide + gap), self._left.y)
        tall = (_CHIP_TALL + (38 if ratio is not None else 22)) * scale
        imgui.set_cursor_screen_pos(at)
        chip = tile(widgets, name, self._wide, tall)
        look = chip.upper(_CHIP_TALL)
        look.fill(colour or palette.raised)
        look.picture(self._desk.shelf.texture(thumbnail) if thumbnail is not None else None)
        look.edge(palette.rule, 1)
        if is_on or chip.is_hovered:
            look.edge(palette.chalk, 2, away=3, alpha=1.0 if is_on else 0.5)
        low = look.high.y
        look.word(low + 5 * scale, word, widgets.faces.small, palette.text if is_on else palette.second)
        if ratio is not None:
            self._ratio(look.canvas, look.middle.x, low + 21 * scale, ratio)
        if index % _COLUMNS == _COLUMNS - 1:
            imgui.set_cursor_screen_pos(ImVec2(self._left.x, self._left.y + tall + 4 * scale))
            imgui.dummy(ImVec2(1, 1))
            imgui.set_cursor_screen_pos(ImVec2(self._left.x, self._left.y + tall + 4 * scale))
        return chip.is_pushed

    def _ratio(self, canvas: imgui.ImDrawList, middle: float, y: float, ratio: WordReading) -> None:
        widgets, scale, palette = self._desk.widgets, self._desk.widgets.scale, self._desk.widgets.palette
        is_enough = ratio.is_enough
        said = f"{ratio.ratio:.1f}"
        size = widgets.text_size(said, widgets.faces.small)
        x = middle - size[0] / 2 - (0 if is_enough else 6 * scale)
        tint = palette.second if is_enough else palette.warn
        widgets.draw_text(canvas, (x, y), said, widgets.faces.small, tint)
        if not is_enough:
            at = ImVec2(x + size[0] + 9 * scale, y + size[1] / 2)
            draw_mark(widgets, canvas, at, "warn", size=9.0)

    def _paint(self, colour: Colour) -> None:
        code = rgb.to_hex(colour)
        self._desk.work.edit(
            lambda document, scope: document.put(("finish", "paint"), code, "change the paint", **scope)
        )

    def _knobs(self) -> None:
        """Every style, on all knobs at once."""
        desk = self._desk
        design = desk.work.design
        worn = {part.knob.style for part in design.parts if part.knob is not None} if design is not None else set()
        if not worn:
            desk.widgets.note("There is no knob on this pedal yet.")
            return
        for index, style in enumerate(knobs.styles()):
            thumbnail = Thumbnail(subject=KnobSubject(knob=knobs.default(style)), size=CELL_PX)
            if self._chip(
                index, f"variants.knob.{style}", style.capitalize(), None, None, is_on=worn == {style},
                thumbnail=thumbnail,
            ):  # fmt: skip
                self._wear(style)

    def _wear(self, style: str) -> None:
        """Put knobs of one style on every shaft, one step of undo."""
        desk, design, scope = self._desk, self._desk.work.design, self._desk.work.scope
        if design is None:
            return
        names = [part.name for part in design.parts if part.knob is not None]
        part_flow.change(desk, f"change the knobs to {style}", lambda raw: knobbed(raw, names, "style", style, **scope))

    def _films(self, result: TryResult | None) -> None:
        desk, given = self._desk, art_flow.art_of(self._desk.work.design)
        if not given or result is None:
            desk.widgets.note("Being tried ..." if given else "There is no art on this pedal yet.")
            return
        worn = {decal.film.name for decal in given.values()}
        for index, (name, ratio) in enumerate(result.films):
            tint = (1.0, 1.0, 1.0) if name != "clear" else desk.widgets.palette.hover
            if self._chip(index, f"variants.film.{name}", name.capitalize(), ratio, tint, is_on=worn == {name}):
                art_flow.print_on(desk, tuple(given), name)


def _colour(text: str) -> Colour | None:
    try:
        return rgb.parse(text) if text.startswith("#") else None
    except ValueError:
        return None


def _paint_word(text: str) -> str:
    """Return a paint's own name where it is one of the candidates, else what the file says."""
    colour = _colour(text)
    if colour is None:
        return text
    return next((paint.name for paint in PAINTS if rgb.to_hex(paint.colour) == rgb.to_hex(colour)), text)
