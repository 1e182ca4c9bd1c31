"""One column of a comparison: a pedal, what was found of it, and its pictures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from mockup.comparison.differences.figures import Figures
from mockup.model.design import Design
from mockup.model.finding import Finding
from mockup.model.picture import Picture


@dataclass(frozen=True, kw_only=True, eq=False)
class Entry:
    """One pedal of several: `label` is its caption, different from every other's; `near_mm` as of its column.

    `pictures` maps the names of views to pictures, all of one view taken by one camera at one size.
    """

    label: str
    design: Design
    findings: tuple[Finding, ...]
    figures: Figures
    pictures: Mapping[str, Picture] = field(default_factory=dict)
    near_mm: float = 0.0

    @property
    def variant(self) -> str | None:
        """The variant's name, if it is one."""
        return self.design.variant
