"""A calibrated printer: what its ink and its film were measured to do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from mockup.model.finish import Film

RULE_MM = 100.0  # both rules of the measuring page: long enough to read to a fifth of a per cent, fits any page


@dataclass(frozen=True, kw_only=True)
class Rule:
    """How long a printer made the two rules of the measuring page, each `RULE_MM` by right; its name is `printer`."""

    printer: str
    across_mm: float
    down_mm: float

    @property
    def stretch(self) -> tuple[float, float]:
        """By how much pages must be stretched, across and down the paper's feed, to come out true."""
        return RULE_MM / self.across_mm, RULE_MM / self.down_mm

    def stretch_of(self, width_mm: float, height_mm: float) -> tuple[float, float]:
        """Return the same for a page of some size, along its width and its height.

        The measuring page stands upright; a page that is wider than high goes through the same printer
        turned by a quarter, so its width runs down the feed.
        """
        across, down = self.stretch
        return (down, across) if width_mm > height_mm else (across, down)

    @property
    def words(self) -> str:
        """One sentence that says on a page how it was corrected."""
        across, down = self.stretch
        return (
            f'Corrected for printer "{self.printer}", which prints {self.across_mm:g} x {self.down_mm:g} mm for '
            f"{RULE_MM:g}: stretched {across:.4f} x {down:.4f} (across x along the feed)."
        )


@dataclass(frozen=True, kw_only=True)
class Printer:
    """The figures of one printer, ink and film, by the name that its owner gave it.

    `ink_strength` and `internal_reflection` (k) are those of a `Finish`; `film` is the strip's, with what it
    showed of it. `errors` holds the standard error of each fitted figure by its field's
    name (a film's as "reflectance" and "transmittance"); what the readings could not tell has none and
    keeps its default. `mean_difference` and `worst_difference` are CIEDE2000 between the strip over paint
    as read and as then predicted. `rule` is what its measuring page showed, if it was measured;
    `has_ink` is False for a printer of which nothing but that is known.
    """

    name: str
    film: Film
    ink_strength: float
    internal_reflection: float
    errors: Mapping[str, float] = field(default_factory=dict)
    mean_difference: float = 0.0
    worst_difference: float = 0.0
    rule: Rule | None = None
    has_ink: bool = True
