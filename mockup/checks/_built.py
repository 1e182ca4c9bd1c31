"""A design built once for all checks: what is costly is made when first asked for, and kept."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from mockup.enclosure import shell
from mockup.enclosure.drilling import bores
from mockup.model.bore import Bore
from mockup.model.design import Design, Placement
from mockup.model.enclosure import Face, FaceName, faces


@dataclass(frozen=True, eq=False)
class Built:
    """A design with its geometry at hand. Not slotted, so that parts of it can be made lazily."""

    design: Design

    @cached_property
    def faces(self) -> dict[FaceName, Face]:
        """The five face frames."""
        return faces(self.design.enclosure)

    @cached_property
    def bores(self) -> tuple[Bore, ...]:
        """Every hole, named PART/purpose."""
        return bores(self.design)

    @cached_property
    def shell(self) -> shell.Shell:
        """The drilled box."""
        return shell.build(self.design.enclosure, self.bores)

    def part(self, name: str) -> Placement:
        """Return a part by name; `KeyError` if there is none."""
        for each in self.design.parts:
            if each.name == name:
                return each
        raise KeyError(name)
