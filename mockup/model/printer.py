"""A calibrated printer: what its strip and its measuring page showed."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.model.finish import Film, InkProfile

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
    """One printer, ink and film, by the name that its owner gave it.

    `film` is the strip's, with what it showed of it and of the ink; that has no profile where the strip showed that
    the printer needs none. `strip` is what was read. `forecast` and `plain` are the mean CIEDE2000 to expect of the
    profile (from patches left out in turn) and what the patches were off without it. `date`, `paper` and `settings` are
    the owner's words: when the strip was printed, on what, and what was chosen in the print dialog. `rule` is what its
    measuring page showed, if it was measured; `has_ink` is False for a printer of which nothing but that is known.
    """

    name: str
    film: Film
    strip: InkProfile | None = None
    forecast: float = 0.0
    plain: float = 0.0
    date: str = ""
    paper: str = ""
    settings: str = ""
    rule: Rule | None = None
    has_ink: bool = True

    @property
    def print_words(self) -> str:
        """How its strip was printed, in its owner's words, "" where nothing was noted."""
        return "; ".join(each for each in (self.date, self.paper, self.settings) if each)
