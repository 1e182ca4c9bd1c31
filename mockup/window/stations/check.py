"""Check: what stands in the way of building it, the worst first."""

from __future__ import annotations

from mockup.model.finding import SEVERITIES, Severity
from mockup.window.finding_rows import finding_row
from mockup.window.shell import theme
from mockup.window.station import RailState, Station

WORD, ICON = "Check", "list-check"


class Page(Station):
    """All findings."""

    def rail_state(self) -> RailState:
        """Return how many stops there are, else how many findings."""
        counts = self._counts()
        if counts["stop"]:
            return RailState(text=f"{counts['stop']} stop{'s' * (counts['stop'] > 1)}", severity="stop")
        total = sum(counts.values())
        return RailState(text=str(total) if total else "")

    def title(self) -> tuple[str, str]:
        """Return what the page is for, and the counts."""
        work, counts = self._desk.work, self._counts()
        if work.checked is None:
            return "What stands in the way", "Being looked at"
        words = [f"{theme.SEVERITY_WORDS[word]}: {count}" for word, count in counts.items() if count]
        return "What stands in the way", "   ".join(words) or "Nothing"

    def draw_sheet(self) -> None:
        """List the findings."""
        desk, widgets = self._desk, self._desk.widgets
        if desk.work.checked is not None and not desk.work.findings:
            widgets.text("Nothing found: as far as the checks see, it can be built.")
        for index, finding in enumerate(desk.work.findings):
            finding_row(desk, index, finding, "finding")

    def _counts(self) -> dict[Severity, int]:
        findings = self._desk.work.findings
        return {each: sum(finding.severity == each for finding in findings) for each in SEVERITIES}
