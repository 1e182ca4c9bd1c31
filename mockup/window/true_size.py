"""Showing a face as large as it is, on a screen whose scale is known or measured."""

from __future__ import annotations

from mockup.model.errors import MockupError
from mockup.model.units import MM_PER_INCH
from mockup.window.desk import Desk
from mockup.window.shell import screen_scale

_USUAL_DPI = 96.0  # what systems take for granted: common practice, no source


def said(desk: Desk) -> str:
    """Return how large the picture is beside the pedal itself, such as "1.6 × true size"."""
    try:
        known = screen_scale.measured(desk.window.screen_name)
    except MockupError:
        known = None
    px_per_mm = known or desk.window.px_per_mm or _USUAL_DPI / MM_PER_INCH
    times = 1.0 / desk.camera.orbit.mm_per_px(desk.view.pane_size()[1]) / px_per_mm
    return f"{times:.2g} × true size" if times < 10 else f"{times:.0f} × true size"


def toggle_true_size(desk: Desk) -> None:
    """Show a face as large as it is, after measuring the screen where nobody knows its scale; again goes back."""
    if desk.view.state.true_size is not None:
        desk.camera.fit()
        return
    px_per_mm = None
    try:
        px_per_mm = screen_scale.measured(desk.window.screen_name)
    except MockupError as error:
        desk.messages.say(str(error))
    px_per_mm = px_per_mm or desk.window.px_per_mm
    if px_per_mm is None:
        measure_screen(desk)
    else:
        desk.camera.show_true_size(px_per_mm)


def measure_screen(desk: Desk) -> None:
    """Have the user measure the screen with a card, then show true size."""

    def keep(px_per_mm: float) -> None:
        try:
            screen_scale.keep(desk.window.screen_name, px_per_mm)
        except MockupError as error:
            desk.messages.say(str(error))
        desk.camera.show_true_size(px_per_mm)

    desk.dialog.measure_screen(desk.window.px_per_mm, keep)
