"""Check: what stands in the way of building it, worst first."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.checks.report import rows
from mockup.model.finding import SEVERITIES, Severity
from mockup.window import remedies
from mockup.window.desk import Desk
from mockup.window.station import RailState, Station
from mockup.window.stations.causes import rings
from mockup.window.stations.causes.cause_card import CauseCards, headline
from mockup.window.stations.causes.cure_foot import CureFoot
from mockup.window.tools.tool import PointerTool
from mockup.window.widgets.marks import MARK_PX, draw_mark

WORD, ICON = "Check", "list-check"
_WORDS: dict[Severity, tuple[str, str]] = {
    "stop": ("stop", "stops"), "warn": ("likely trouble", "likely troubles"), "note": ("to know", "to know"),
}  # fmt: skip


class Page(Station):
    """All findings by cause, those that are accepted, and their rings in the picture."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._cards = CauseCards(desk)
        self._cure = CureFoot(desk)
        self._is_accepted_open = False

    def rail_state(self) -> RailState:
        """Return how many stops there are, else how many findings."""
        counts = self._counts()
        if counts["stop"]:
            return RailState(text=f"{counts['stop']} stop{'s' * (counts['stop'] > 1)}", severity="stop")
        total = sum(counts.values())
        return RailState(text=str(total) if total else "")

    def draw_head(self) -> None:
        """Draw the title, and the counts beside their marks."""
        widgets, scale, palette = self._desk.widgets, self._desk.widgets.scale, self._desk.widgets.palette
        with widgets.font(widgets.faces.title):
            imgui.text_unformatted("What stands in the way")
        if self._desk.work.found.checked is None:
            widgets.text("Checking", colour=palette.second)
            return
        counts = {each: count for each, count in self._counts().items() if count}
        if not counts:
            widgets.text("Nothing", colour=palette.second)
        at, canvas = imgui.get_cursor_screen_pos(), imgui.get_window_draw_list()
        x, y = at.x, at.y - 3 * scale
        words = {each: _WORDS[each][count > 1] for each, count in counts.items()}
        room = sum(widgets.text_size(word, widgets.faces.text)[0] for word in words.values())
        if room + len(words) * (MARK_PX + 18) * scale > widgets.wide:
            words = {each: word.removeprefix("likely ") for each, word in words.items()}
        for severity, count in counts.items():
            middle = ImVec2(x + MARK_PX / 2 * scale, y + MARK_PX / 2 * scale)
            draw_mark(widgets, canvas, middle, severity, str(count))
            word = words[severity]
            x += (MARK_PX + 6) * scale
            widgets.draw_text(canvas, (x, y), word, widgets.faces.text, palette.second)
            x += widgets.text_size(word, widgets.faces.text)[0] + 12 * scale

    def draw_sheet(self) -> None:
        """List the causes, the worst first, then what is accepted."""
        desk, widgets = self._desk, self._desk.widgets
        found = remedies.found(desk)
        if desk.work.found.checked is not None and not found:
            widgets.text("Nothing in the way.")
        self._cards.hot = None
        for number, cause in enumerate(found):
            self._cards.draw(number, cause)
        if desk.work.found.accepted:
            self._accepted()

    def foot_height(self) -> float:
        """Return how high the foot is in which all is cured at once."""
        return self._cure.height()

    def draw_foot(self) -> None:
        """Offer to cure all at once."""
        self._cure.draw()

    def tool_at(self, x: float, y: float) -> PointerTool | None:
        """Look at the finding whose mark is pressed; nothing is in hand then."""
        for number, cause in enumerate(remedies.found(self._desk)):
            place = self._desk.widgets.places.get(f"mark.{number + 1}")
            if place is not None and place[0] <= x < place[2] and place[1] <= y < place[3]:
                remedies.look_at(self._desk, cause.first)
                return PointerTool(self._desk)
        return None

    def draw_marks(self, canvas: imgui.ImDrawList) -> None:
        """Draw rings and margin marks, and the remedy that is on trial."""
        if self._desk.view.state.has_findings:
            found = remedies.found(self._desk)
            chosen = remedies.chosen(self._desk, found)
            rings.draw(self._desk, canvas, found, self._cards.hot if self._cards.hot is not None else chosen)
        rings.draw_trial(self._desk, canvas)

    def _accepted(self) -> None:
        """List what is accepted, with the reasons, once it is opened."""
        desk, widgets = self._desk, self._desk.widgets
        accepted = desk.work.found.accepted
        widgets.hairline()
        label = f"Accepted   {len(accepted)}"
        glyph = "chevron-down" if self._is_accepted_open else "chevron-right"
        if widgets.button(label, "accepted", look="quiet", glyph=glyph):
            self._is_accepted_open = not self._is_accepted_open
        if not self._is_accepted_open:
            return
        for number, finding in enumerate(accepted):
            shown = rows.row(finding, desk.work.units)
            with widgets.semibold():
                widgets.text(headline(shown.subjects, finding))
            widgets.text(finding.accepted, colour=widgets.palette.second)
            if widgets.button("Open it again", f"accepted.{number + 1}.open", look="quiet"):
                remedies.open_again(desk, finding)

    def _counts(self) -> dict[Severity, int]:
        findings = self._desk.work.findings
        return {each: sum(finding.severity == each for finding in findings) for each in SEVERITIES}
