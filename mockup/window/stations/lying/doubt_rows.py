"""The colours of a picture that are most in doubt: as drawn, then the darkest, likely and lightest they come out."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.colour import rgb
from mockup.model.material import Colour
from mockup.model.text import capitalized
from mockup.window.actions.table import BY_NAME, act
from mockup.window.desk import Desk
from mockup.window.shell import theme

_HEADS = ("As drawn", "Darkest", "Likely", "Lightest")
_TALL, _GAP, _BREAK = 22.0, 3.0, 10.0  # units: a chip, between those of what comes out, before them


def draw(desk: Desk, decal: int) -> None:
    """Lay out a row of chips for each colour, its cause under it, and the way to the whole page."""
    widgets, design = desk.widgets, desk.work.design
    assert design is not None
    widgets.title("Colours in doubt")
    worst = desk.doubts.worst(design, decal)
    if worst is None:
        widgets.note("Being worked out ...")
    elif not worst:
        widgets.note("No ink of this picture is in doubt.")
    else:
        _heads(desk)
        for number, row in enumerate(worst):
            _chips(desk, f"doubt.{number}", (row.drawn, row.darkest, row.likely, row.lightest))
            if {each.cause for each in worst[number + 1 : number + 2]} != {row.cause}:  # told once of several alike
                widgets.note(f"Why: {row.cause}.")
    widgets.space(4)
    tip = "A page of the main colours, and how far each may come out from the picture"
    if widgets.button("All colours on a page", "art.doubt", glyph="palette", wide=widgets.wide, tip=tip):
        desk.saves.chosen = "doubt"
        act(desk, BY_NAME["station-take-away"])


def _lefts(wide: float, scale: float) -> tuple[list[float], float]:
    """Return where the four chips of a row begin, and how wide each is; the colour as drawn stands apart."""
    each = (wide - (_BREAK + 2 * _GAP) * scale) / 4
    after = each + _BREAK * scale
    return [0.0, *(after + number * (each + _GAP * scale) for number in range(3))], each


def _heads(desk: Desk) -> None:
    widgets, scale = desk.widgets, desk.widgets.scale
    at, canvas = imgui.get_cursor_screen_pos(), imgui.get_window_draw_list()
    for left, word in zip(_lefts(widgets.wide, scale)[0], _HEADS, strict=True):
        place = (at.x + left, at.y)
        widgets.draw_text(canvas, place, word, widgets.faces.small, widgets.palette.second)
    imgui.dummy(ImVec2(widgets.wide, 17 * scale))


def _chips(desk: Desk, name: str, colours: tuple[Colour, ...]) -> None:
    widgets, scale = desk.widgets, desk.widgets.scale
    at, canvas = imgui.get_cursor_screen_pos(), imgui.get_window_draw_list()
    lefts, wide = _lefts(widgets.wide, scale)
    tall = _TALL * scale
    for left, colour in zip(lefts, colours, strict=True):
        low = ImVec2(at.x + left, at.y)
        high = ImVec2(low.x + wide, low.y + tall)
        canvas.add_rect_filled(low, high, theme.packed(colour), theme.BUTTON_ROUND * scale)
        canvas.add_rect(low, high, theme.packed(widgets.palette.rule), theme.BUTTON_ROUND * scale, 1.0)
    imgui.invisible_button(f"##{name}", ImVec2(widgets.wide, tall))
    widgets.mark(name)
    said = ", ".join(f"{word.lower()} {rgb.to_hex(each)}" for word, each in zip(_HEADS, colours, strict=True))
    widgets.tip(capitalized(said))
