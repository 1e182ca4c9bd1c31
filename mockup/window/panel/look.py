"""What is shown, and from where: variants, views, switches, light."""

from __future__ import annotations

from dataclasses import replace

from imgui_bundle import ImVec2, imgui

from mockup.colour import rgb
from mockup.lights import presets
from mockup.picture.options import NO_BACKGROUND, OWN_BACKGROUND
from mockup.scene.views import VIEWS
from mockup.window.desk import Desk
from mockup.window.panel import action_buttons
from mockup.window.shell import theme

LAYOUT_ITSELF = "the layout itself"
_SWITCHES = ("decal", "hardware", "lid", "see-through", "lamp", "clear-coat", "findings", "proof")
_PANES = ("one-pane", "two-panes", "three-panes", "four-panes", "wipe")


def draw(desk: Desk) -> None:
    """Lay out the page."""
    desk.widgets.title("Variants", is_first=True)
    _variants(desk)
    desk.widgets.title("View")
    action_buttons.row(desk, [f"view-{name}" for name in VIEWS], page="view", columns=3)
    action_buttons.row(desk, ("fit", "true-size", "perspective"), page="view")
    desk.widgets.title("Show")
    half, left = desk.widgets.wide / 2, imgui.get_cursor_pos_x()
    for index, name in enumerate(_SWITCHES):
        if index % 2:
            imgui.same_line(left + half)
        action_buttons.check(desk, name, page="show")
    desk.widgets.title("Light and background")
    _light(desk)


def _variants(desk: Desk) -> None:
    """Variants of the pedal, and how many are seen at once."""
    widgets, state = desk.widgets, desk.view.state
    for name in (None, *desk.work.variants):
        label = name or LAYOUT_ITSELF
        is_active = name == state.variant
        low = imgui.get_cursor_screen_pos()
        tall = imgui.get_text_line_height() + 4 * widgets.scale
        clicked, _ = imgui.selectable(f"##variant.{label}", is_active, 0, ImVec2(0, tall))
        widgets.mark(f"variant.{label}")
        canvas = imgui.get_window_draw_list()
        at = ImVec2(low.x + 24 * widgets.scale, low.y + 2 * widgets.scale)
        canvas.add_text(at, theme.packed(widgets.palette.text), label)
        if name in state.variants:
            middle = ImVec2(low.x + 12 * widgets.scale, low.y + tall / 2)
            dot = widgets.palette.chalk if is_active else widgets.palette.rule
            canvas.add_circle_filled(middle, (4.2 if is_active else 3.0) * widgets.scale, theme.packed(dot))
        if clicked and not is_active:
            desk.view.change(state.with_variant(name))
    if not desk.work.variants:
        widgets.note("A [variants.NAME] table in the layout makes another variant to compare.")
    action_buttons.row(desk, _PANES, page="panes")
    if len(state.variants) > 1 and not state.is_wipe:
        widgets.note("Click a picture, then choose its variant above.")


def _light(desk: Desk) -> None:
    """Light, and what is behind the pedal."""
    widgets, state = desk.widgets, desk.view.state
    half = (widgets.wide - 8 * widgets.scale) / 2
    lights = [(name, name.capitalize()) for name in presets()]
    picked = widgets.combo("light", lights, state.light, wide=half, tip=presets()[state.light].about)
    if picked is not None:
        desk.view.change(state.lit(picked))
    imgui.same_line()
    own = state.background
    kinds = [(OWN_BACKGROUND, "The light's own"), (NO_BACKGROUND, "Transparent"), ("colour", "A colour")]
    chosen = own if own in (OWN_BACKGROUND, NO_BACKGROUND) else "colour"
    picked = widgets.combo("background", kinds, chosen, wide=half)
    if picked is not None:
        desk.view.change(replace(state, background="#808080" if picked == "colour" else picked))
    if chosen == "colour":
        typed = widgets.field("background.colour", own, tip="#rrggbb, or a colour's name such as teal")
        if typed is not None:
            try:
                desk.view.change(replace(state, background=rgb.to_hex(rgb.parse(typed))))
            except ValueError as error:
                desk.messages.say(str(error))
