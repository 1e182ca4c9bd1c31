"""Plug-ins: one file per check.

A plug-in is a module with the names of `Check`; the first line of its docstring is its help text.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from mockup.plugins import Folder

if TYPE_CHECKING:
    from mockup.checks.panel.built import Built
    from mockup.model.finding import Finding

CHECKS = Folder("mockup.checks")


@dataclass(frozen=True)
class Case:
    """A small layout to try a check on, on a white box of 112 x 60 x 31 mm unless it says otherwise.

    `layout` is what the layout file says besides its name and box. `art` is what is drawn on a film in the middle of
    the top: SVG elements in millimetres from its top left corner, 50 mm wide and 100 high (art.svg); or a whole
    picture file (art.png) that `layout` places.
    """

    layout: str = ""
    art: str | bytes = ""


def part_text(name: str, kind: str, **keys: object) -> str:
    """Return a part of a case as a layout has it: its name and kind, then its place, face, depth and knob."""
    return "[[part]]\n" + "".join(
        f"{key} = {_inline(value)}\n" for key, value in {"name": name, "kind": kind, **keys}.items()
    )


def _inline(value: object) -> str:
    if not isinstance(value, dict):
        return repr(value)
    return f"{{ {', '.join(f'{key} = {each!r}' for key, each in value.items())} }}"


class Check(Protocol):
    """A plug-in module of this folder.

    `READS` names the fields of a design that its findings depend on, the layout's limits aside: where those are
    equal in two designs, so are the findings. `PLANTED` has a fault that it must find, and `SOUND` is its twin
    without, of which it must find nothing at all. A module may also have `LIMITS`: those that it alone compares with,
    as TOML written like `mockup/limits.toml`; and `FIGURES`: the groups of a kind's figures (`Kind.sources`) that its
    findings rest on, so that one decided by figures from memory says so.
    """

    READS: tuple[str, ...]
    PLANTED: Case
    SOUND: Case

    def check(self, built: Built) -> Iterable[Finding]:
        """Return what is wrong with a built design; pure, never raises, changes nothing."""
        ...
