"""Paint and lacquer, film under the decals: changes that go into the layout."""

from __future__ import annotations

from dataclasses import replace

from imgui_bundle import ImVec2, imgui

from mockup.films import films
from mockup.finishes import sheens
from mockup.model.material import Colour
from mockup.window.desk import Desk
from mockup.window.panel.paint_picker import PaintPicker


class FinishPage:
    """The page, with its paint picker."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._picker = PaintPicker(desk.widgets, "paint")
        self._was_dragged = False

    def draw(self) -> None:
        """Lay out the page."""
        desk, widgets, work = self._desk, self._desk.widgets, self._desk.work
        design = work.design
        if design is None or work.document is None:
            return
        own_edit(desk)
        widgets.title("Paint", is_first=True)
        if not design.finish.sheen.is_painted:
            widgets.note("The box is bare metal; choose another sheen to paint it.")
        else:
            self._paint(design.finish.paint)
        widgets.title("Sheen")
        rows = [(name, name.capitalize()) for name in sheens()]
        tips = [sheen.about[0].upper() + sheen.about[1:] for sheen in sheens().values()]
        sheen = widgets.choose("sheen", rows, design.finish.sheen.name, columns=3, tips=tips)
        if sheen is not None:
            work.edit(lambda document, scope: document.sheened(sheen, **scope))
        is_coated = design.finish.has_clear_coat
        if widgets.check("Clear coat over everything", "coat", is_coated, tip="Lacquer over paint and film"):
            work.edit(lambda document, scope: document.clear_coated(not is_coated, **scope))
            desk.view.change(replace(desk.view.state, is_lamp_lit=None, has_clear_coat=None))
        if desk.view.state.has_clear_coat is not None:
            widgets.note("The picture tries another clear coat; see Look.")
        widgets.title("Film")
        if not design.decals:
            widgets.note("No decal in this variant.")
        for index, decal in enumerate(design.decals):
            if len(design.decals) > 1:
                widgets.note(f"{decal.art.name}, {decal.face} face")
            rows = [(name, f"{name.capitalize()} film") for name in films()]
            film = widgets.choose(f"film.{index}", rows, decal.film.name)
            if film is not None and film != decal.film.name:
                self._film(index, film)

    def _film(self, decal: int, film: str) -> None:
        self._desk.work.edit(lambda document, scope: document.filmed(decal, film, variant=scope["variant"]))

    def _paint(self, paint: Colour) -> None:
        work = self._desk.work
        try:
            chosen = self._picker.draw(paint, work.paints, is_settled=not work.is_waiting)
        except ValueError as error:
            self._desk.messages.say(str(error))
            return
        if chosen is not None:
            is_step = not self._picker.is_dragged
            work.edit(lambda document, scope: document.painted(chosen, **scope), is_step=is_step)
        elif self._was_dragged and not self._picker.is_dragged:
            work.end_step()
        self._was_dragged = self._picker.is_dragged


def own_edit(desk: Desk) -> None:
    """With a variant open: say and choose whether edits are for it alone."""
    work, variant = desk.work, desk.view.state.variant
    if variant is None:
        return
    tip = "Otherwise what the layout itself gives is changed for all variants"
    if desk.widgets.check(f"Change only the variant {variant}", "own", work.is_own_edit, tip=tip):
        work.is_own_edit = not work.is_own_edit
    imgui.dummy(ImVec2(0, 2 * desk.widgets.scale))
