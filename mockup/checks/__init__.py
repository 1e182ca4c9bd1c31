"""Plug-ins: one file per check.

A plug-in is a module with the names of `Check`; the first line of its docstring is its help text.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Protocol

from mockup.plugins import Folder

if TYPE_CHECKING:
    from mockup.checks.panel.built import Built
    from mockup.model.finding import Finding
    from mockup.model.limits import Limits

CHECKS = Folder("mockup.checks")


class Check(Protocol):
    """A plug-in module of this folder.

    `READS` names the fields of a design that its findings depend on, the layout's limits aside: where those are
    equal in two designs, so are the findings.
    """

    READS: tuple[str, ...]

    def check(self, built: Built, limits: Limits) -> Iterable[Finding]:
        """Return what is wrong with a built design; pure, never raises, changes nothing."""
        ...
