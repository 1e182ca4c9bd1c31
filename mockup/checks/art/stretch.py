"""How a picture is stretched that lies on a place of other proportions."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.model.finding import Fact, Limit, Quantity, mm


@dataclass(frozen=True, kw_only=True)
class Stretch:
    """A picture of `size_px` (columns, rows) on `size_mm` (across, down).

    `pixel` is the width of one of its pixels over its height, as its file has them.
    """

    size_px: tuple[int, int]
    size_mm: tuple[float, float]
    pixel: float = 1.0

    @property
    def ratio(self) -> float:
        """How many times wider than in its file it comes out; below 1 it is taller."""
        (columns, rows), (across, down) = self.size_px, self.size_mm
        return (across / columns) / (down / rows) / self.pixel

    def exceeds(self, limit: Limit) -> bool:
        """Return whether it is stretched by more than a limit in percent; a side is a whole number of pixels."""
        return self._percent > limit.value + 100 * sum(1 / side for side in self.size_px)

    @property
    def _percent(self) -> float:
        return 100 * (max(self.ratio, 1 / self.ratio) - 1)

    def measured(self, limit: Limit) -> Quantity:
        """Return by how much, in the limit's unit."""
        return Quantity(round(self._percent, 1), limit.unit)

    @property
    def facts(self) -> dict[str, Fact]:
        """What a finding about it says."""
        return {
            "way": "wider" if self.ratio > 1 else "taller",
            "pixels": f"{self.size_px[0]} by {self.size_px[1]}",
            "width": mm(self.size_mm[0]),
            "height": mm(self.size_mm[1]),
        }
