"""Where keys go: to the picture, or to a card and the widget on it that was asked for."""

from __future__ import annotations

from imgui_bundle import imgui

PICTURE = "picture"
ORDER = ("head", "rail", "drawer", PICTURE, "net", "foot", "sheet", "sheet.foot")
"""The cards in the order in which the focus goes from one to the next."""

_FRAMES = 4  # until a caret that was asked for is there: the panel library takes three, measured


class KeyboardFocus:
    """Sends keys to the picture, or to a card. `drawn` are the cards of the last frame, `on` the widget with the keys.

    `stops` are widgets of a page without cards that the keys go to one after the other, the first one first.

    `is_seen` is true once the keyboard moved the focus: then it is shown where it stands, on the picture too.
    """

    def __init__(self) -> None:
        self.card, self.on = PICTURE, ""
        self.drawn: set[str] = set()
        self._drawing: set[str] = set()
        self.is_seen = False
        self._asked = self._due = self._sent = ""
        self._wait = self._left = 0
        self._entered = self._on_card = ""
        self._pages: dict[str, str] = {}
        self.stops: tuple[str, ...] = ()
        self._stop = ""

    @property
    def is_in_panel(self) -> bool:
        """True while keys go to a card."""
        return self.card != PICTURE

    @property
    def is_shown(self) -> bool:
        """True while the focus stands on a widget by the keyboard's doing."""
        return bool(imgui.get_io().nav_visible)

    def begin_frame(self) -> None:
        """Begin to note which cards are drawn."""
        self._follow_up()
        self.drawn, self._drawing, self.on, self.stops = self._drawing, set(), "", ()

    def enter(self, card: str) -> None:
        """Note that a card is drawn; its first widget gets the keys where the card was asked for."""
        self._drawing.add(card)
        self._entered = card
        if self.take(card):
            self._sent, self._left = card, _FRAMES

    def reach(self, name: str) -> None:
        """Note that a widget of the card that is being drawn has the keys."""
        self.on, self._on_card = name, self._entered

    def _follow_up(self) -> None:
        """Send the keys to a card once more where no widget of it got them: it may have been empty, as while it waits.

        Whoever has taken to the mouse meanwhile is let alone.
        """
        is_there = bool(self.on) and self._on_card in (self._sent, f"{self._sent}.foot")  # a page may be empty
        if is_there or self._sent != self.card or any(imgui.is_mouse_down(button) for button in (0, 1, 2)):
            self._sent = ""
        elif self._sent and not self._asked:
            self._left -= 1
            if self._left <= 0:
                self._asked = self._sent

    def miss(self, card: str) -> None:
        """Note that a card takes no keys, though it is drawn: it is on its way out of sight."""
        self._drawing.discard(card)

    def show(self, card: str, page: str) -> None:
        """Note which page a card shows; where it has the keys and the page is a new one, its first widget gets them."""
        before, self._pages[card] = self._pages.get(card, page), page
        if self.card == card and before != page and not self._asked:
            self._due, self._wait = card, _FRAMES
        elif self._due == card:  # a new page takes no keys yet, and a caret on its way goes first
            self._wait -= 1
            if self._wait <= 0:
                self._due = ""
                if self.card == card and not self._asked and not imgui.get_io().want_text_input:
                    self._asked = card

    def ask(self, name: str, card: str = "sheet") -> None:
        """Send keys to a card, to the widget of that name once it is drawn."""
        self.card, self._asked = card, name

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

    def step(self, by: int) -> None:
        """Go to the next card or stop that is there, or the one before, round and round."""
        if self.stops:
            at = self.stops.index(self._stop) if self._stop in self.stops else 0
            self._stop = self.stops[(at + by) % len(self.stops)]
            self.is_seen = True
            self.ask(self._stop)
            return
        there = [name for name in ORDER if name == PICTURE or name in self.drawn]
        at = there.index(self.card) if self.card in there else 0
        found = there[(at + by) % len(there)]
        self.is_seen = True
        if found == PICTURE:
            self.leave_panel()
        else:
            self.ask(found, found)

    def leave_panel(self) -> None:
        """Send keys to the picture again."""
        if self.is_in_panel:
            self.card, self._asked = PICTURE, ""
            imgui.set_nav_cursor_visible(False)
            if not any(imgui.is_mouse_down(button) for button in (0, 1, 2)):
                imgui.set_window_focus(None)  # it would let go what is pressed just now, and that click were lost
