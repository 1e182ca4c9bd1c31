"""Keys that are sent to a card arrive, also where the card was empty when they came."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from mockup.window.shell import focus
from mockup.window.shell.focus import KeyboardFocus


@pytest.fixture
def library(monkeypatch):
    """A stand-in for the panel library: it counts how often keys were sent to what is drawn next."""
    made = SimpleNamespace(sent=0, is_pressed=False)

    def send():
        made.sent += 1

    made.set_keyboard_focus_here = send
    made.set_nav_cursor_visible = made.set_window_focus = lambda _: None
    made.is_mouse_down = lambda _: made.is_pressed
    made.get_io = lambda: SimpleNamespace(nav_visible=True, want_text_input=False)
    monkeypatch.setattr(focus, "imgui", made)
    return made


def frames(keys, count, widget=""):
    """Draw so many frames of the sheet; a widget in it has the keys, none where it is empty."""
    for _ in range(count):
        keys.begin_frame()
        keys.enter("sheet")
        if widget:
            keys.reach(widget)


def test_keys_go_to_the_first_widget_once(library):
    keys = KeyboardFocus()
    keys.ask("sheet")
    frames(keys, 20, "own")
    assert (library.sent, keys.card, keys.on) == (1, "sheet", "own")


def test_an_empty_card_gets_them_as_soon_as_there_is_something(library):
    keys = KeyboardFocus()
    keys.ask("sheet")
    frames(keys, 20)
    before = library.sent
    assert before > 1
    frames(keys, 20, "own")
    assert library.sent <= before + 1  # one may be on its way
    assert keys.on == "own"


def test_whoever_has_taken_to_the_mouse_is_let_alone(library):
    keys = KeyboardFocus()
    keys.ask("sheet")
    frames(keys, 2)
    library.is_pressed = True
    frames(keys, 1)
    library.is_pressed = False
    before = library.sent
    frames(keys, 20)
    assert library.sent == before


def test_a_widget_of_another_card_is_no_answer(library):
    keys = KeyboardFocus()
    keys.ask("sheet")
    for _ in range(20):
        keys.begin_frame()
        keys.enter("foot")
        keys.reach("view.above")  # where the keys were before
        keys.enter("sheet")
    assert library.sent > 1
