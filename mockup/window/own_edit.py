"""Whether changes are for the shown variant alone: said and chosen where something is changed."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk


def own_edit(desk: Desk) -> None:
    """With a variant shown: say and choose whether edits are for it alone."""
    work, variant = desk.work, desk.view.state.variant
    if variant is None:
        return
    tip = "Otherwise what the layout itself gives is changed for all variants"
    if desk.widgets.check(f"Change only the variant {variant}", "own", work.is_own_edit, tip=tip):
        work.is_own_edit = not work.is_own_edit
    imgui.dummy(ImVec2(0, 2 * desk.widgets.scale))
