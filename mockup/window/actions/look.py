"""Actions on the view: where the camera stands, what is shown, under which light."""

from __future__ import annotations

from mockup.model.text import capitalized
from mockup.scene.views import VIEWS
from mockup.window import built_flow, remedies, true_size
from mockup.window.actions.action import Action, group, row, state, toggle
from mockup.window.actions.things import WAYS
from mockup.window.desk import Desk

PAN_PX = 40.0  # units, one press of an arrow: by eye
ZOOM = 1.15
FOOT_VIEWS = ("three-quarter", "above", "player", "inside")
"""The views with a button of their own at the foot."""
MORE_VIEWS = (*(name for name in VIEWS if name not in (*FOOT_VIEWS, "hero")), "hero")
"""The others; faces and underside come first, for they are looked at more often while one builds."""


def _view(name: str, number: int) -> Action:
    about = VIEWS[name].about
    return row(
        f"view-{name}", name.capitalize(), f"alt+{number % 10}", lambda desk: desk.camera.take_view(name),
        about=capitalized(about),
        is_on=lambda desk: desk.view.state.is_seen(name),
    )  # fmt: skip


def _pan(way: str) -> Action:
    across, down = WAYS[way]
    return row(
        f"pan-{way}", f"Shift the picture {way}", f"ctrl+{way}",
        lambda desk: desk.camera.pan(across * PAN_PX * desk.window.scale, down * PAN_PX * desk.window.scale),
    )  # fmt: skip


def _measure(desk: Desk) -> None:
    now = desk.view.state
    desk.tools.measure.clear()
    desk.view.change(now.with_tool("look" if now.tool == "measure" else "measure"))


VIEW_ROWS = group(
    "View",
    *(_view(name, number) for number, name in enumerate((*FOOT_VIEWS, *MORE_VIEWS), 1)),
    row("fit", "Fit the pedal into the picture", "ctrl+0", lambda desk: desk.camera.fit(), label="Fit"),
    row("fit-part", "Fit the picked part into the picture", "", lambda desk: desk.camera.fit_part()),
    row(
        "true-size", "True size on this screen", "ctrl+shift+0", true_size.toggle_true_size, label="True size",
        about="As large as the pedal itself, on this screen",
        is_on=lambda desk: desk.view.state.true_size is not None,
    ),
    row("measure-screen", "Measure this screen with a card", "", true_size.measure_screen),
    row(
        "perspective", "Perspective", "", lambda desk: desk.camera.toggle_perspective(),
        about="With perspective, or without: then all lengths compare",
        is_on=lambda desk: desk.camera.orbit.ortho_mm is None,
    ),
    *(_pan(way) for way in WAYS),
    row("zoom-in", "Nearer", "ctrl+plus", lambda desk: desk.camera.zoom(ZOOM)),
    row("zoom-out", "Farther", "ctrl+minus", lambda desk: desk.camera.zoom(1 / ZOOM)),
)  # fmt: skip

SHOW_ROWS = group(
    "Show",
    toggle("decal", "Decal", "The printed film"),
    toggle("hardware", "Hardware", "Knobs, switches, sockets and what is behind them"),
    toggle("lid", "Lid", "The plate that closes the box from below"),
    toggle("see-through", "See-through box", "See the parts inside through the box"),
    toggle("lamp", "Lamps lit", "All lamps lit, or all dark; at first as in the pedal"),
    toggle("clear-coat", "Clear coat", "Try clear lacquer over everything; Paint keeps it"),
    toggle("plugs", "Plugs", "A plug in every socket, as the pedal lies on the board"),
    toggle("silvering", "Air under the film", "How film looks that was laid on rough paint without a gloss coat"),
    row(
        "as-built", "As built", "", built_flow.switch, is_on=lambda desk: desk.view.is_on("as-built"),
        about="The holes where they were drilled; at first their scan or photograph is asked for",
    ),
    toggle("findings", "Findings", "Mark the places where something was found"),
    row(
        "proof", "Flat colours", "", state(lambda desk: desk.view.state.next_look()),
        about="The predicted colours alone, without light",
        is_on=lambda desk: desk.view.state.look == "proof",
    ),
    row(
        "measure", "Measure", "", _measure, is_on=lambda desk: desk.view.state.tool == "measure",
        about="Click a point for its distance from the edges, a second one for what lies between",
        glyph="ruler-combined",
    ),
    row("next-finding", "Next finding", "f7", lambda desk: remedies.step(desk, 1)),
    row("previous-finding", "Previous finding", "shift+f7", lambda desk: remedies.step(desk, -1)),
    row("do-it", "Show the remedy of the finding; Enter keeps it", "f8", remedies.show_next, label="Do it"),
    row("next-light", "Next light", "", state(lambda desk: desk.view.state.next_light())),
)  # fmt: skip
