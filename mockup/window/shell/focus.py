"""Where keys go: to the picture, or to a card and the widget on it that was asked for."""

from __future__ import annotations

from imgui_bundle import imgui


class KeyboardFocus:
    """Sends keys to the picture, or into the cards, to the widget that was asked for."""

    def __init__(self) -> None:
        self.is_in_panel = False
        self._asked = ""

    def ask(self, name: str) -> None:
        """Send keys to the cards, to the widget of that name once it is drawn."""
        self.is_in_panel, self._asked = True, name

    def take(self, name: str) -> bool:
        """Return whether the widget of that name was asked for, once; it is drawn next and gets the keys."""
        if self._asked != name:
            return False
        self._asked = ""
        imgui.set_keyboard_focus_here()
        imgui.set_nav_cursor_visible(True)
        return True

    def is_asked(self, name: str) -> bool:
        """Return whether the widget of that name is asked for and not drawn yet."""
        return self._asked == name

    def leave_panel(self) -> None:
        """Send keys to the picture again."""
        if self.is_in_panel:
            self.is_in_panel, self._asked = False, ""
            imgui.set_window_focus(None)
