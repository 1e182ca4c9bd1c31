"""What the window tells the user, in one line at the foot of the picture."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

SHOWN_S = 6.0  # long enough to read two lines: by eye


@dataclass(frozen=True, kw_only=True)
class Message:
    """One line for the user, shown until a time of `time.perf_counter`. Faults stay until all is well again."""

    text: str
    is_fault: bool = False
    until: float = 0.0


class MessageLine:
    """Holds at most one message; `touch` is called when it changes."""

    def __init__(self, touch: Callable[[], None]) -> None:
        self._touch = touch
        self.now: Message | None = None

    def say(self, text: str, *, is_fault: bool = False, seconds: float = SHOWN_S) -> None:
        """Show a message instead of the one before."""
        self.now = Message(text=" ".join(text.split()), is_fault=is_fault, until=time.perf_counter() + seconds)
        self._touch()

    def say_error(self, error: Exception, *, is_fault: bool = True) -> None:
        """Show the first line of an error."""
        self.say(str(error).splitlines()[0], is_fault=is_fault)

    def clear(self) -> None:
        """Show nothing."""
        self.now = None

    def clear_fault(self) -> None:
        """Show nothing more of a fault: all is well again."""
        if self.now is not None and self.now.is_fault:
            self.now = None

    def expire(self) -> float | None:
        """Clear a message that was shown long enough; return the seconds that it has left, None for no message."""
        if self.now is None or self.now.is_fault:
            return None
        left = self.now.until - time.perf_counter()
        if left > 0:
            return left
        self.now = None
        self._touch()
        return None
