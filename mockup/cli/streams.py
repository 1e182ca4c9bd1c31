"""Standard output and error that never raise: their reader may go, a disc be full, a terminal know few letters.

A reader that goes (``mockup check ... | head``) takes the rest of the output with it, not the exit status. What the
terminal's encoding does not know is a question mark, and so is a control character: names of files may hold any.
"""

from __future__ import annotations

import errno
import io
import re
import sys
from typing import Any

from mockup.model.errors import reason
from mockup.model.text import HIDDEN, MARK, printable

_CONTROLS = re.compile(rf"[{HIDDEN}](?<![\t\n])")
_BUT_STYLES = re.compile(rf"[{HIDDEN}](?<![\t\n\r\x1b])")
"""The same for a terminal, which colours and bars are written to with ESC and carriage returns."""
_GONE = (errno.EPIPE, errno.EINVAL, errno.ESHUTDOWN)  # EINVAL: Windows, of a pipe without a reader; from memory


def settle() -> None:
    """Put such streams in the place of standard output and standard error."""
    sys.stdout, sys.stderr = _settled(sys.stdout), _settled(sys.stderr)


def fault() -> str:
    """Return why standard output could not be written, "" where it could."""
    if sys.stdout is not None:
        sys.stdout.flush()
    end = getattr(sys.stdout, "end", None)
    error = end.fault if isinstance(end, _End) else None
    return reason(error) if error is not None else ""


class _End(io.RawIOBase):
    """The end of a stream, where bytes leave: it swallows what cannot be written any more, and keeps the reason."""

    def __init__(self, raw: Any) -> None:
        self._raw = raw
        self._is_gone = False
        self.fault: OSError | None = None

    def writable(self) -> bool:
        return True

    def fileno(self) -> int:
        return int(self._raw.fileno())

    def isatty(self) -> bool:
        return bool(self._raw.isatty())

    def write(self, data: Any) -> int | None:
        if not self._is_gone:
            try:
                written: int | None = self._raw.write(data)
                return written
            except OSError as error:
                self._is_gone = True
                self.fault = None if error.errno in _GONE else error
        return len(data)


class _Text(io.TextIOWrapper):
    """A stream of text over such an end."""

    def __init__(self, end: _End, encoding: str) -> None:
        self.end = end
        is_terminal = end.isatty()
        self._hidden = _BUT_STYLES if is_terminal else _CONTROLS
        super().__init__(io.BufferedWriter(end), encoding=encoding, errors="replace", line_buffering=is_terminal)

    def write(self, text: str) -> int:
        return super().write(self._hidden.sub(MARK, text))


def _settled(stream: Any) -> Any:
    """Return a stream as one that never raises; one that is no file, as it is."""
    if stream is None and sys.platform != "win32":  # closed by whoever began us; on Windows, none was ever there
        return io.StringIO()
    raw = getattr(getattr(stream, "buffer", None), "raw", None) or getattr(stream, "buffer", None)
    if raw is None or isinstance(stream, _Text) or not hasattr(raw, "fileno"):
        return stream
    stream.flush()
    made = _Text(_End(raw), stream.encoding or "utf-8")
    made.kept = stream  # type: ignore[attr-defined]  # else it would close what lies under both
    return made


def is_shown(text: str) -> bool:
    """Return whether standard output shows every character of a text as it is; ends of lines are no matter."""
    try:
        text.encode(sys.stdout.encoding or "utf-8")
    except (UnicodeEncodeError, AttributeError, LookupError):
        return False
    return all(printable(line) == line for line in text.split("\n"))
