"""Actions that go somewhere in the window: stations, cards, help; and its size and theme."""

from __future__ import annotations

from mockup.window.actions.action import Action, always, group, row, state
from mockup.window.state import STATIONS, StationName

TEXT_STEP = 1.1


def _station(name: StationName, number: int) -> Action:
    word = name.replace("-", " ").capitalize()
    return row(
        f"station-{name}", f"Station: {word}", f"ctrl+{number}",
        state(lambda desk: desk.view.state.at_station(name)), label=word,
        is_on=lambda desk: desk.view.state.station == name,
    )  # fmt: skip


ROWS = group(
    "Window",
    row(
        "help", "Help", "f1", lambda desk: desk.view.show_help(True), always, about="Help: how do I ...",
        glyph="circle-question",
    ),
    *(_station(name, number) for number, name in enumerate(STATIONS, 1)),
    row("next-card", "Keys to the next card; Esc: to the picture", "f6", lambda desk: desk.widgets.focus.step(1)),
    row("previous-card", "Keys to the card before", "shift+f6", lambda desk: desk.widgets.focus.step(-1)),
    row(
        "theme", "Light or dark window", "", lambda desk: desk.window.next_palette(), always, label="Theme",
        glyph="circle-half-stroke",
    ),
    row("bigger", "Larger text", "ctrl+shift+plus", lambda desk: desk.window.rescale(TEXT_STEP), always),
    row("smaller", "Smaller text", "ctrl+shift+minus", lambda desk: desk.window.rescale(1 / TEXT_STEP), always),
)  # fmt: skip
