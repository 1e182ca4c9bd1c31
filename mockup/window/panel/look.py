"""What is shown, and from where: variants, views, toggles, light."""

from __future__ import annotations

from typing import get_args

from imgui_bundle import ImVec2, imgui

from mockup.lights import presets
from mockup.picture.studio import NO_BACKGROUND, OWN_BACKGROUND
from mockup.scene.cameras import VIEWS
from mockup.window.doing import Doing
from mockup.window.shell import theme
from mockup.window.shell.widgets import Widgets
from mockup.window.state import Toggle
from mockup.window.view.scene_view import App

_VIEW_WORDS = {
    "above": "Above", "three-quarter": "Three-quarter", "player": "Player", "near": "Near", "far": "Far",
    "left": "Left", "right": "Right", "underside": "Underside", "inside": "Inside",
}  # fmt: skip
_TOGGLES: tuple[tuple[Toggle, str, str], ...] = (
    ("decal", "Decal", "The printed film"),
    ("hardware", "Hardware", "Knobs, switches, sockets and what hangs behind them"),
    ("lid", "Lid", "The plate that closes the box from below"),
    ("see-through", "See-through box", "See the hardware inside through the box"),
    ("lamp", "Lamps lit", "All lamps lit, or all dark; until then as in the layout"),
    ("clear-coat", "Clear coat", "Clear lacquer over everything; here it is only tried, Finish keeps it"),
    ("findings", "Findings", "Numbers in the picture where the checks found something"),
)
AS_FILE = "the layout itself"


def draw(app: App, kit: Widgets, doing: Doing) -> None:
    """Lay out the page."""
    variants(app, kit)
    views(app, kit, doing)
    show(app, kit, doing)
    light(app, kit)


def variants(app: App, kit: Widgets) -> None:
    """Versions of the pedal, and how many are seen at once."""
    kit.title("Variants", is_first=True)
    state = app.state
    for name in (None, *app.variants):
        label = name or AS_FILE
        is_here = name == state.variant
        low = imgui.get_cursor_screen_pos()
        tall = imgui.get_text_line_height() + 4 * kit.scale
        clicked, _ = imgui.selectable(f"##variant.{label}", is_here, 0, ImVec2(0, tall))
        kit.mark(f"variant.{label}")
        canvas = imgui.get_window_draw_list()
        canvas.add_text(ImVec2(low.x + 24 * kit.scale, low.y + 2 * kit.scale), theme.grey(0.95), label)
        middle = ImVec2(low.x + 12 * kit.scale, low.y + tall / 2)
        if name in state.variants:
            radius = (4.2 if is_here else 3.0) * kit.scale
            canvas.add_circle_filled(middle, radius, theme.grey(0.95 if is_here else 0.55))
        if clicked and not is_here:
            app.change(state.with_variant(name))
    if not app.variants:
        kit.note("A [variants.NAME] table in the layout makes another version to compare.")
    rows = [("1", "1"), ("2", "2"), ("3", "3"), ("4", "4"), ("wipe", "Wipe")]
    chosen = "wipe" if state.is_wipe else str(len(state.variants))
    tips = ["One picture", "Two side by side", "Three side by side", "Four", "Two in one picture, parted by a line"]
    actions = ["one-pane", "two-panes", "three-panes", "four-panes", "wipe"]
    pushed = kit.choose("panes", rows, chosen, tips=tips, actions=actions)
    if pushed == "wipe":
        app.change(state.wiped(app.variants))
    elif pushed is not None:
        app.change(state.with_panes(int(pushed), app.variants))
    if len(state.variants) > 1 and not state.is_wipe:
        kit.note("Click a picture, then choose its variant above.")


def views(app: App, kit: Widgets, doing: Doing) -> None:
    """Where the eye stands."""
    kit.title("View")
    rows = [(name, _VIEW_WORDS[name]) for name in VIEWS]
    tips = [view.about[0].upper() + view.about[1:] for view in VIEWS.values()]
    actions = [f"view-{name}" for name in VIEWS]
    chosen = None if app.state.true_size else app.state.view
    pushed = kit.choose("view", rows, chosen, columns=3, tips=tips, actions=actions)
    if pushed is not None:
        app.take_view(pushed)
    gap = 4 * kit.scale
    wide = (kit.wide - 2 * gap) / 3
    is_flat = app.orbit.ortho_mm is not None
    for index, (label, action, tip, is_on) in enumerate(
        (
            ("Fit", "fit", "The whole pedal in the picture", False),
            ("True size", "true-size", "As large as the pedal itself, on this screen", app.state.true_size is not None),
            ("Perspective", "perspective", "Or without: all equally long", not is_flat),
        )
    ):
        if index:
            imgui.same_line(0, gap)
        if kit.button(label, f"view.{action}", tip=tip, action=action, wide=wide, is_on=is_on):
            doing.act(action)


def show(app: App, kit: Widgets, doing: Doing) -> None:
    """What is in the picture."""
    kit.title("Show")
    half = kit.wide / 2
    left = imgui.get_cursor_pos_x()
    rows = [*_TOGGLES, ("proof", "Flat colours", "The predicted colours alone, without light: the proof")]
    for index, (name, label, tip) in enumerate(rows):
        if index % 2:
            imgui.same_line(left + half)
        is_on = app.state.look == "proof" if name == "proof" else bool(doing.is_on(name))
        if kit.check(label, f"show.{name}", is_on, tip=tip, action=name):
            doing.act(name)
    assert {name for name, _, _ in _TOGGLES} <= set(get_args(Toggle))


def light(app: App, kit: Widgets) -> None:
    """Light, and what stands behind the pedal."""
    kit.title("Light and background")
    rows = [(name, f"{name[0].upper()}{name[1:]}") for name in presets()]
    half = (kit.wide - 8 * kit.scale) / 2
    picked = kit.combo("light", rows, app.state.light, wide=half)
    kit.tip(presets()[app.state.light].about, "next-light")
    if picked is not None:
        app.change(app.state.lit(picked))
    imgui.same_line()
    own = app.state.background
    kinds = [(OWN_BACKGROUND, "The light's own"), (NO_BACKGROUND, "Transparent"), ("colour", "A colour")]
    chosen = own if own in (OWN_BACKGROUND, NO_BACKGROUND) else "colour"
    picked = kit.combo("background", kinds, chosen, wide=half)
    if picked is not None:
        app.change(app.state.before("#808080" if picked == "colour" else picked))
    if chosen == "colour":
        from mockup.colour import rgb

        changed, colour = imgui.color_edit3(
            "##background.colour", list(rgb.parse(own)), imgui.ColorEditFlags_.display_hex
        )
        kit.mark("background.colour")
        if changed:
            app.change(app.state.before(rgb.to_hex(colour)))
