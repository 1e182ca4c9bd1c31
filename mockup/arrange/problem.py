"""What is to be placed: parts in a box, which of them may move or turn, and what they have to keep to."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from mockup.clearance.table import Margin, broken
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure
from mockup.model.units import Unit

Places = tuple[Placement, ...]
KEPT_MM = 0.0049  # a rule that lacks less than this is kept: what `is_enough` lets pass

ORDER_MM = 0.06  # out of order by no more than this is in order: what rounding to a tenth of a millimetre leaves


@dataclass(frozen=True, kw_only=True)
class Relation:
    """Something that has to stay true of a few parts: ``sum of weight * (u or v) = value``, in face millimetres.

    `terms` lists (part, axis, weight), the axis 0 for u and 1 for v. `kind` is row, column, pair, middle or spacing.
    """

    kind: str
    parts: tuple[str, ...]
    terms: tuple[tuple[str, int, float], ...]
    value: float

    def is_kept(self, parts: Sequence[Placement]) -> bool:
        """Return whether it is true of parts in their places, but for rounding."""
        at = {part.name: (part.u_mm, part.v_mm) for part in parts}
        return abs(sum(weight * at[name][axis] for name, axis, weight in self.terms) - self.value) <= ORDER_MM


@dataclass(frozen=True, kw_only=True, eq=False)
class Problem:
    """Parts where they stand, what is fixed, and the layout's own limits.

    `pinned` parts stay; `relations` hold together what should; `deep` parts, which lie inside, may also lie deeper or
    higher. `reach_mm` is how far a part may be moved at most.
    """

    box: Enclosure
    parts: Places
    own: Mapping[str, float] = field(default_factory=dict)
    units: Unit = "mm"
    pinned: frozenset[str] = frozenset()
    relations: tuple[Relation, ...] = ()
    reach_mm: float = 25.0

    def lacking(self, parts: Places) -> tuple[Margin, ...]:
        """Return the rules that parts break, beyond rounding."""
        return tuple(each for each in broken(self.box, parts, self.own) if each.spare_mm < -KEPT_MM)

    def is_in_order(self, parts: Places) -> bool:
        """Return whether everything that should stay true of places is true of these."""
        return all(each.is_kept(parts) for each in self.relations)

    def is_free(self, part: Placement) -> bool:
        """Return whether a part may move."""
        return part.name not in self.pinned


def named(parts: Sequence[Placement], name: str) -> Placement:
    """Return a part by name."""
    return next(each for each in parts if each.name == name)


def total_mm(margins: Sequence[Margin]) -> float:
    """Return how much room is lacking altogether."""
    return sum(-each.spare_mm for each in margins)
