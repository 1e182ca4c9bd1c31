"""What the native window calls: work, drawing and events."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol


class PointerHandler(Protocol):
    """Answers the pointer on the picture. Pixels count from the top left corner, fractions allowed."""

    def press(self, x: float, y: float, button: str, key: str) -> None:
        """A button ("left", "middle", "right") went down on the picture; `key` holds ctrl+, alt+, shift+."""
        ...

    def drag(self, x: float, y: float, dx: float, dy: float, key: str) -> None:
        """The pointer moved with a button down."""
        ...

    def release(self, x: float, y: float) -> None:
        """The button went up."""
        ...

    def hover(self, x: float, y: float) -> None:
        """The pointer moved over the picture."""
        ...

    def scroll(self, x: float, y: float, lines: float) -> None:
        """The wheel turned over the picture, away from the user counting up."""
        ...


class EventHandler(Protocol):
    """Answers the native window."""

    def work(self) -> float | None:
        """Do a little; return seconds until there is more, 0 for at once, None for nothing."""
        ...

    def interface(self) -> None:
        """Lay out the panel."""
        ...

    def picture(self) -> None:
        """Draw what lies under the panel."""
        ...

    def is_panel(self, x: float, y: float) -> bool:
        """True where a pixel belongs to the panel."""
        ...

    @property
    def pointer(self) -> PointerHandler:
        """What the pointer does on the picture goes there."""
        ...

    def key(self, key: str) -> bool:
        """A key such as "ctrl+s" went down; True where it meant something."""
        ...

    def dropped(self, x: float, y: float, paths: tuple[Path, ...]) -> None:
        """Files or folders were let go over a place of the window."""
        ...

    def is_panel_focused(self) -> bool:
        """True while keys go to a card."""
        ...

    def is_asking(self) -> bool:
        """True while a question waits for its answer."""
        ...

    def failed(self, error: Exception) -> None:
        """An internal error was caught; report it."""
        ...

    def closing(self) -> bool:
        """The user wants to close; True where that may be done now."""
        ...
