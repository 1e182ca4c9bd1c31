"""How two solids stand to each other: in one place, touching, or so far apart."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from mockup.geometry.solids import Solid, gap, overlap_volume
from mockup.model.finding import Limit, Quantity, mm

TOUCH_MM3 = 0.01  # shared volume below this is rounding


@dataclass(frozen=True, kw_only=True)
class Contact:
    """The volume that two solids share, or else the gap between them."""

    shared_mm3: float = 0.0
    gap_mm: float = 0.0

    @property
    def is_overlap(self) -> bool:
        """Whether both are in one place."""
        return self.shared_mm3 > 0

    @property
    def measured(self) -> Quantity:
        """The figure that says how bad it is."""
        return Quantity(self.shared_mm3, "mm³") if self.is_overlap else mm(self.gap_mm)

    @property
    def cube(self) -> Quantity:
        """The side of a cube as large as what they share."""
        return mm(self.shared_mm3 ** (1 / 3))

    def limit(self, limit: Limit) -> Quantity:
        """Return what the figure has to keep: no shared volume, or the limit's gap."""
        return Quantity(0.0, "mm³") if self.is_overlap else limit


def contact(one: Solid, other: Solid, within_mm: float) -> Contact:
    """Return how two solids stand to each other; a gap wider than `within_mm` counts as that."""
    if not are_near(one, other, within_mm):
        return Contact(gap_mm=within_mm)
    shared = overlap_volume(one, other)
    return Contact(shared_mm3=shared) if shared > TOUCH_MM3 else Contact(gap_mm=gap(one, other, within_mm))


def are_clear(ones: Iterable[Solid], others: Iterable[Solid], least_mm: float) -> bool:
    """Return whether each of some solids is at least so far from each of others."""
    rest = list(others)
    return all(room(one, other, least_mm) >= least_mm for one in ones for other in rest)


def room(one: Solid, other: Solid, within_mm: float) -> float:
    """Return the gap between two solids, 0 where they overlap, `within_mm` where it is wider than that."""
    return gap(one, other, within_mm) if are_near(one, other, within_mm) else within_mm


def are_near(one: Solid, other: Solid, within_mm: float) -> bool:
    """Return whether the boxes round two solids come closer than that along every axis."""
    (low, high), (first, last) = one.bounds(), other.bounds()
    return bool(((low - within_mm < last) & (first - within_mm < high)).all())
