"""Plug-ins: one file per thing a builder can take away.

A plug-in is a module with these names and a frozen dataclass `Options`, whose fields (made with
`options.option`) become the command's flags; the first line of its docstring is its help text. A
field called `others` becomes no flag: it takes the designs of the layout's other variants. A module may
also offer `alone(options)`, which returns what can be made of no design, or None where its options ask for
nothing of the kind; its command then takes no layout.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Protocol

from mockup.plugins import Folder

if TYPE_CHECKING:
    from mockup.model.design import Design
    from mockup.options import Progress, Result

OUTPUTS = Folder("mockup.outputs")


class Output(Protocol):
    """A plug-in module of this folder."""

    Options: Any
    """The dataclass of its options; ``Options()`` holds the defaults."""

    def make(self, design: Design, options: Any, progress: Progress) -> Result:
        """Return the files made of a design, as bytes by path; `InputError` for a bad option."""
        ...
