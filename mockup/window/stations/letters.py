"""Letters: words, labels of parts, scales round knobs, borders."""

from __future__ import annotations

from mockup.window.station import RailState, Station

WORD, ICON = "Letters", "stamp"


class Page(Station):
    """All words on the pedal."""

    def rail_state(self) -> RailState:
        """Return how many words there are."""
        design = self._desk.work.design
        return RailState(text=str(len(design.labels)) if design is not None and design.labels else "")

    def title(self) -> tuple[str, str]:
        """Return the station's name and how many words there are."""
        count = self.rail_state().text
        return "Letters", f"{count} on this pedal" if count else "none yet"

    def draw_sheet(self) -> None:
        """List the words by face."""
        widgets, design = self._desk.widgets, self._desk.work.design
        if design is None or not design.labels:
            widgets.note("Nothing is written on this pedal yet.")
            return
        for label in design.labels:
            widgets.pair(label.text, f"{label.face} face" + (f", {label.part}" if label.part else ""), at=0.5)
