"""A design as it is built: what checks ask of its geometry."""

from __future__ import annotations

from dataclasses import dataclass, field

from mockup.clearance import table
from mockup.clearance.table import Margin
from mockup.enclosure import shell
from mockup.enclosure.bores import bores
from mockup.limits import Limits, limits
from mockup.memo import memoize
from mockup.model.bore import Bore
from mockup.model.design import Design, Placement
from mockup.model.enclosure import Face, FaceName, faces


@dataclass(frozen=True, eq=False)
class Built:
    """A design with its geometry at hand: each piece is a pure function of box and part, and remembered as such."""

    design: Design
    limits: Limits = field(init=False)
    """Every limit, the layout's own in place; looked up once."""

    def __post_init__(self) -> None:
        """Look the limits up."""
        object.__setattr__(self, "limits", limits(self.design.limits))

    @property
    def faces(self) -> dict[FaceName, Face]:
        """The five face frames."""
        return _faces(self.design.enclosure)

    @property
    def bores(self) -> tuple[Bore, ...]:
        """Every hole."""
        return bores(self.design)

    @property
    def shell(self) -> shell.Shell:
        """The drilled box."""
        return shell.build(self.design.enclosure, self.bores)

    def broken(self, *rules: str) -> tuple[Margin, ...]:
        """Return where some rules of room (see `mockup.clearance.rules`) are broken, for more than rounding."""
        found = table.broken(self.design.enclosure, self.design.parts, self.design.limits)
        return tuple(each for each in found if each.rule in rules and each.is_told(self.design.units))

    def near(self, *rules: str) -> tuple[Margin, ...]:
        """Return where some rules of room are kept, but with little to spare; the least room first."""
        found = table.near(self.design.enclosure, self.design.parts, self.design.limits)
        told = (each for each in found if each.rule in rules and each.is_told(self.design.units))
        return tuple(sorted(told, key=lambda each: each.spare_mm))

    def part(self, name: str) -> Placement:
        """Return a part by name; `KeyError` if there is none."""
        for each in self.design.parts:
            if each.name == name:
                return each
        raise KeyError(name)


_faces = memoize(faces)
