"""What the window tells in one strip: what is wrong until it is mended, and for a while what was done."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from dataclasses import dataclass

from mockup.model.errors import MockupError
from mockup.model.text import printable

SHOWN_S = 6.0  # long enough to read two lines: by eye
_FLAG = re.compile(r"(?<!\S)--([a-z]+(?:-[a-z]+)*)")
_COMMAND = re.compile(r"(?:(?:; |, or )start(?: one)?(?: with)?)?: mockup [a-z].*$")
_TABLE = re.compile(r'^\S+\.toml: \[\[?([a-z]+)\]\]?((?: "[^"]*")?):? ')
UNDO_S = 8.0  # a removal can be taken back in the strip for so long: our choice


@dataclass(frozen=True, kw_only=True)
class Remedy:
    """A button beside a message: what it says and what it does."""

    label: str
    does: Callable[[], object]


@dataclass(frozen=True, kw_only=True)
class Message:
    """One line, shown until a time of `time.perf_counter`; a fault, which has a `source`, until that is well again."""

    text: str
    source: str = ""
    remedy: Remedy | None = None
    until: float = 0.0

    @property
    def is_fault(self) -> bool:
        """True where something is wrong."""
        return bool(self.source)


class MessageLine:
    """Holds the faults that are not mended yet, one a source, and one message of the moment, which goes first.

    `touch` is called when what is shown changes.
    """

    def __init__(self, touch: Callable[[], None]) -> None:
        self._touch = touch
        self._moment: Message | None = None
        self._faults: dict[str, Message] = {}

    @property
    def now(self) -> Message | None:
        """What is shown: the message of the moment, else the fault that came first."""
        return self._moment or next(iter(self._faults.values()), None)

    @property
    def sources(self) -> tuple[str, ...]:
        """What is wrong now."""
        return tuple(self._faults)

    @property
    def more(self) -> int:
        """How many other faults there are while a fault is shown."""
        return len(self._faults) - 1 if self._faults and self._moment is None else 0

    def say(self, text: str, *, seconds: float = SHOWN_S, remedy: Remedy | None = None) -> None:
        """Tell what was done or cannot be done, for a while."""
        self._moment = Message(text=in_window(text), remedy=remedy, until=time.perf_counter() + seconds)
        self._touch()

    def say_error(self, error: Exception) -> None:
        """Tell why something that was asked for cannot be done, for a while."""
        self.say(error.lines[0] if isinstance(error, MockupError) else str(error).splitlines()[0])

    def fault(self, source: str, text: str, remedy: Remedy | None = None) -> None:
        """Tell what is wrong with a source, until `mended` is called for it."""
        found = Message(text=in_window(text), source=source, remedy=remedy)
        before = self._faults.get(source)
        if before is None or before.text != found.text:
            self._moment = None  # what is wrong now is more than what was done before
        self._faults[source] = found
        self._touch()

    def stand(self, source: str, text: str) -> None:
        """Tell what is wrong with a source; with no text it is well again."""
        if text:
            self.fault(source, text)
        else:
            self.mended(source)

    def mended(self, source: str) -> None:
        """Take back what was wrong with a source: all is well with it again."""
        if self._faults.pop(source, None) is not None:
            self._touch()

    def clear(self) -> None:
        """Show nothing."""
        self._moment, self._faults = None, {}

    def expire(self) -> float | None:
        """Clear a message that was shown long enough; return the seconds that it has left, None for no message."""
        if self._moment is None:
            return None
        left = self._moment.until - time.perf_counter()
        if left > 0:
            return left
        self._moment = None
        self._touch()
        return None


def in_window(text: str) -> str:
    """Return a message in one line, in the builder's words: options by their names, no commands to run, no tables."""
    line = _TABLE.sub(r"The \1\2: ", _COMMAND.sub("", " ".join(text.split())))
    return printable(_FLAG.sub(lambda found: found[1].replace("-", " "), line))
