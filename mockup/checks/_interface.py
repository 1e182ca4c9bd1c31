"""What a check offers: the shape of every plug-in in this folder.

A plug-in is a module with these names; the first line of its docstring is its help text.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from mockup.checks._built import Built
from mockup.model.finding import Finding
from mockup.model.limits import Limits


class Check(Protocol):
    """A plug-in module of this folder."""

    def check(self, built: Built, limits: Limits) -> Iterable[Finding]:
        """Return what is wrong with a built design; pure, never raises, changes nothing."""
        ...
