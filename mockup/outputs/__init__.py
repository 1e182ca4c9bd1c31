"""Plug-ins: one file per thing a builder can take away: a command, a Python function and a line in the window.

A plug-in is a module with these names and a frozen dataclass `Options`, whose fields (made with
`options.option`) become the command's flags, the function's keywords and the window's controls; the first line
of its docstring is its help text. A field that reads "variants" becomes no flag: it takes the designs of the
layout's other variants. A module may also offer `alone(options)`, which returns what can be made of no design, or
None where its options ask for nothing of the kind; its command then takes no layout.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol

from mockup.options import OptionField, option_fields
from mockup.plugins import Folder

if TYPE_CHECKING:
    from mockup.model.design import Design
    from mockup.options import Progress, Result

OUTPUTS = Folder("mockup.outputs")


@dataclass(frozen=True, kw_only=True)
class Offer:
    """One output as it is offered: its name, and its help in one line. Neither needs the plug-in to be loaded."""

    name: str
    about: str

    @property
    def options(self) -> tuple[OptionField, ...]:
        """Its options, in order, each with its help, default and choices."""
        return option_fields(OUTPUTS.load(self.name).Options)


def offers() -> tuple[Offer, ...]:
    """Return every output there is, by name."""
    return tuple(Offer(name=name, about=OUTPUTS.summary(name)) for name in OUTPUTS.names())


class Output(Protocol):
    """A plug-in module of this folder."""

    Options: Any
    """The dataclass of its options; ``Options()`` holds the defaults."""

    def make(self, design: Design, options: Any, progress: Progress) -> Result:
        """Return the files made of a design, as bytes by path; `InputError` for a bad option."""
        ...
