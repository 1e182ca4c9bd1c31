"""What to do where the program itself is wrong: one line for the user, and a file for whoever mends it."""

from __future__ import annotations

import os
import platform
import sys
import traceback
from pathlib import Path

from mockup import __version__, files
from mockup.model.errors import DEBUG, OutputError
from mockup.model.text import printable

STATUS = 3
"""The exit status of a failure of the program's own."""
_last = ""  # details that were kept
_MOST_WORDS = 160  # characters of what an error says that are shown in a line: our choice


def noted(error: BaseException, what: str = "this went wrong") -> str:
    """Return one line about a failure, and keep its details in a file that the line names.

    `what` says in words what did not work. Under `MOCKUP_DEBUG` the details go to standard error too.
    """
    details = _details(error)
    if os.environ.get(DEBUG) and sys.stderr is not None:
        sys.stderr.write(details)
    words = printable(" ".join(str(error).split()))[:_MOST_WORDS]
    line = f"{what} inside mockup, not in your files ({type(error).__name__}{f': {words}' if words else ''})"
    place = _kept(details)
    if place is None:
        return f"{line}; please report it with what this prints once more with --debug"
    return f"{line}; please report it with the details in {printable(str(place))}"


def _details(error: BaseException) -> str:
    """Return what a report needs; what people typed is in it, so the file says so."""
    told = "".join(traceback.format_exception(error))
    inner = getattr(error, "details", "")  # of what went wrong in a process of its own
    return (
        f"mockup {__version__}, Python {platform.python_version()}, {platform.platform()}\n"
        f"command: {sys.argv}\n"
        "Read it before you pass it on: names of your files and folders may be in it.\n\n"
        f"{told}\n{inner}\n"
    )


def _kept(details: str) -> Path | None:
    """Return the file that the details were written to, None where that cannot be."""
    global _last
    place = files.failure_file()
    if details == _last:  # the window may meet the same one with every frame
        return place
    try:
        files.write_all({place: details.encode("utf-8", "backslashreplace")})
    except (OutputError, OSError):
        return None
    _last = details
    return place
