"""One line on how well a word reads over this paint."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.limits import limits, wanted_contrast
from mockup.model.design import Design
from mockup.model.label import Label
from mockup.window.desk import Desk
from mockup.window.widgets.marks import MARK_PX, draw_mark


def draw_reads(desk: Desk, design: Design, label: Label, ratio: float, whose: str = "") -> None:
    """Draw whether a word stands out enough, with the ratio and what is enough, as the checks have it."""
    widgets, scale = desk.widgets, desk.widgets.scale
    under = _found_under(desk, label)
    enough = wanted_contrast(limits(design.limits), label.height_mm).value
    over = "this paint"
    if under is not None and ratio >= enough:  # the picture under it is what swallows it
        ratio, over = under, "what is printed there"
    is_good = ratio >= enough
    at, left = imgui.get_cursor_screen_pos(), imgui.get_cursor_pos_x()
    middle = ImVec2(at.x + MARK_PX / 2 * scale, at.y + 10 * scale)
    draw_mark(widgets, imgui.get_window_draw_list(), middle, "clear" if is_good else "warn")
    imgui.set_cursor_pos_x(left + (MARK_PX + 12) * scale)
    imgui.begin_group()
    with widgets.semibold():
        imgui.text_unformatted(f"{whose} {'reads' if whose else 'Reads'} {'well' if is_good else 'badly'}".strip())
    with widgets.small():
        widgets.text(f"{ratio:.1f} to 1 over {over}; {enough:g} is enough", is_dim=True)
    imgui.end_group()


def _found_under(desk: Desk, label: Label) -> float | None:
    """Return the ratio that the checks found of a word over the art that it lies on, None where nothing was found."""
    return next(
        (
            each.measured.value
            for each in desk.work.findings
            if each.check == "contrast"
            if each.measured is not None and any(subject.name == label.text for subject in each.subjects)
        ),
        None,
    )
