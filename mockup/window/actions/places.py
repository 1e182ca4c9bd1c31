"""Actions that go somewhere in the window: stations, cards, help; and its size and theme."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from mockup.window.actions.action import Action, always, group, row, state
from mockup.window.desk import Desk
from mockup.window.shell.theme import LARGEST, SMALLEST
from mockup.window.state import STATIONS, StationName
from mockup.window.work.settings import TEXT_STEP


def _next_theme(desk: Desk) -> None:
    desk.settle(replace(desk.settings, theme="dark" if desk.settings.theme == "light" else "light"))


def _rescale(desk: Desk, factor: float) -> None:
    desk.settle(replace(desk.settings, scale=min(max(desk.window.scale * factor, SMALLEST), LARGEST)))


def _step(desk: Desk, by: int) -> None:
    desk.widgets.focus.step(by)


def _walk(desk: Desk) -> None:
    """Begin the walk at the parts, where it begins for everybody."""
    desk.view.change(replace(desk.view.state.at_station("parts"), picked=(), has_help=False, is_walking=True))


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
    row("next-card", "Keys to the next card; Esc: to the picture", "f6", partial(_step, by=1), always),
    row("previous-card", "Keys to the previous card", "shift+f6", partial(_step, by=-1), always),
    row(
        "theme", "Light or dark window", "", _next_theme, always, label="Theme", glyph="circle-half-stroke",
    ),
    row("bigger", "Larger text", "ctrl+shift+plus", lambda desk: _rescale(desk, TEXT_STEP), always),
    row("smaller", "Smaller text", "ctrl+shift+minus", lambda desk: _rescale(desk, 1 / TEXT_STEP), always),
    row(
        "settings", "Settings", "ctrl+comma", lambda desk: desk.view.show_settings(True), always,
        about="Settings: theme, size of text, units", glyph="sliders",
    ),
    row(
        "walk", "Take the first walk again", "", _walk, label="The first walk",
        about="Five cards, from the first part to the pages", glyph="shoe-prints",
    ),
)  # fmt: skip
