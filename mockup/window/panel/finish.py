"""Paint and lacquer, film under the decals: changes that go into the layout."""

from __future__ import annotations

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.colour import rgb
from mockup.films import films
from mockup.finishes import sheens
from mockup.model.material import Colour
from mockup.window.editing import Document
from mockup.window.shell.widgets import Widgets
from mockup.window.view.scene_view import App

_PICKER = (
    imgui.ColorEditFlags_.no_side_preview
    | imgui.ColorEditFlags_.no_small_preview
    | imgui.ColorEditFlags_.no_label
    | imgui.ColorEditFlags_.no_inputs
    | imgui.ColorEditFlags_.picker_hue_bar
)

_PICKER_SHARE = 0.8  # of the panel's width, so that sheen and film are seen without scrolling: by eye


def draw(app: App, kit: Widgets) -> None:
    """Lay out the page."""
    design = app.design
    if design is None or app.document is None:
        return
    own_only(app, kit)
    kit.title("Paint", is_first=True)
    if not design.finish.sheen.is_painted:
        kit.note("The box is bare metal; choose another sheen to paint it.")
    else:
        _paint(app, kit, design.finish.paint)
    kit.title("Sheen")
    rows = [(name, name.capitalize()) for name in sheens()]
    tips = tuple(f"{sheen.about[0].upper()}{sheen.about[1:]}" for sheen in sheens().values())
    pushed = kit.choose("sheen", rows, design.finish.sheen.name, columns=3, tips=tips)
    if pushed is not None:
        _edit(app, lambda document, **own: document.closed().sheened(pushed, **own))
    if kit.check("Clear coat over everything", "coat", design.finish.has_clear_coat, tip="Lacquer over paint and film"):
        is_coated = not design.finish.has_clear_coat
        _edit(app, lambda document, **own: document.closed().clear_coated(is_coated, **own))
        app.change(app.state.as_in_file())
    if app.state.has_clear_coat is not None:
        kit.note("The picture tries another clear coat; see Look.")
    kit.title("Film")
    if not design.decals:
        kit.note("No decal in this version.")
    for index, decal in enumerate(design.decals):
        if len(design.decals) > 1:
            kit.note(f"{decal.art.name}, {decal.face} face")
        rows = [(name, f"{name.capitalize()} film") for name in films()]
        pushed = kit.choose(f"film.{index}", rows, decal.film.name)
        if pushed is not None and pushed != decal.film.name:
            app.try_edit(
                lambda document, index=index, film=pushed: document.closed().filmed(  # type: ignore[misc]
                    index, film, variant=app.state.variant
                )
            )


def own_only(app: App, kit: Widgets) -> None:
    """With a variant open: say and choose whether changes are for it alone."""
    if app.state.variant is None:
        app.is_own_change = False
        return
    label = f"Change only the variant {app.state.variant}"
    if kit.check(label, "own", app.is_own_change, tip="Otherwise what the layout itself gives is changed for all"):
        app.is_own_change = not app.is_own_change
    imgui.dummy(ImVec2(0, 2 * kit.scale))


def _edit(app: App, change: object) -> None:
    app.try_edit(
        lambda document: change(document, variant=app.state.variant, is_own=app.is_own_change)  # type: ignore[operator]
    )


def _paint(app: App, kit: Widgets, paint: Colour) -> None:
    wide = kit.wide
    imgui.set_next_item_width(_PICKER_SHARE * wide)  # it is as high as wide
    changed, colour = imgui.color_picker3("##paint", list(paint), _PICKER)
    kit.mark("paint")
    if imgui.is_item_deactivated_after_edit() and app.document is not None:
        app.document = app.document.closed()
    imgui.set_next_item_width(wide * 0.42)
    typed, text = imgui.input_text(
        "##paint.hex",
        rgb.to_hex(paint),
        imgui.InputTextFlags_.enter_returns_true | imgui.InputTextFlags_.auto_select_all,
    )
    kit.mark("paint.hex")
    kit.tip("#rrggbb, or a colour's name such as teal; Enter takes it")
    if changed:
        _set(app, (colour[0], colour[1], colour[2]))
    elif typed:
        try:
            _set(app, rgb.parse(text), is_closed=True)
        except ValueError as error:
            app.say(str(error))
    if app.paints:
        imgui.dummy(ImVec2(0, 0))
        kit.note("Paints in this project")
        _swatches(app, kit, paint)


def _swatches(app: App, kit: Widgets, paint: Colour) -> None:
    side, gap = 30 * kit.scale, 6 * kit.scale
    across = max(int((kit.wide + gap) // (side + gap)), 1)
    here = rgb.to_hex(paint)
    for index, each in enumerate(app.paints):
        if index % across:
            imgui.same_line(0, gap)
        pushed = imgui.color_button(
            f"##candidate.{index}",
            ImVec4(*each.colour, 1.0),
            imgui.ColorEditFlags_.no_tooltip | imgui.ColorEditFlags_.no_alpha,
            ImVec2(side, side),
        )
        kit.mark(f"candidate.{index}")
        kit.tip(f"{each.name}, {rgb.to_hex(each.colour)}")
        if rgb.to_hex(each.colour) == here:
            low, high = imgui.get_item_rect_min(), imgui.get_item_rect_max()
            draw_list = imgui.get_window_draw_list()
            draw_list.add_rect(low, high, 0xFF101010, 4 * kit.scale, 4 * kit.scale)
            draw_list.add_rect(low, high, 0xFFFFFFFF, 4 * kit.scale, 2 * kit.scale)
        if pushed:
            _set(app, each.colour, is_closed=True)


def _set(app: App, colour: Colour, *, is_closed: bool = False) -> None:
    def change(document: Document, **own: object) -> Document:
        before = document.closed() if is_closed else document
        return before.painted(colour, **own)  # type: ignore[arg-type]

    _edit(app, change)
