"""One cause as a card of the sheet Check: what, by how much, what to do; trying, taking or accepting it."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.checks.report import rows
from mockup.checks.report.sentences import listed
from mockup.model.finding import Finding
from mockup.model.text import capitalized, uncapitalized
from mockup.window import remedies
from mockup.window.desk import Desk
from mockup.window.findings.causes import Cause
from mockup.window.shell import theme
from mockup.window.shell.icons import icon
from mockup.window.stations.causes import trial_buttons
from mockup.window.widgets.marks import MARK_PX, draw_mark

_INSET = 30.0  # units from the card's mark to its words
_PAD = 10.0
_MOST_ALSO = 3
_LONGEST_SUBJECTS = 44  # letters: two lines of the card; by eye


class CauseCards:
    """Draws cards; holds which one asks for a reason, and the reason that is being typed."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._accepting: tuple[Finding, ...] = ()
        self.hot: int | None = None

    def draw(self, number: int, cause: Cause) -> None:
        """Draw a card; it is `hot` while the pointer or the focus is on it."""
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        findings = desk.work.findings
        found = tuple(findings[each] for each in cause.findings)
        is_chosen = desk.view.state.finding in cause.findings or desk.trial.is_of(cause.offered)
        start, wide = imgui.get_cursor_screen_pos(), widgets.wide
        canvas = imgui.get_window_draw_list()
        canvas.channels_split(2)
        canvas.channels_set_current(1)
        imgui.begin_group()
        widgets.space(_PAD)
        imgui.indent(_INSET * scale)
        self._words(cause, found)
        self._buttons(number, cause, found)
        imgui.unindent(_INSET * scale)
        widgets.space(_PAD)
        imgui.end_group()
        after = imgui.get_cursor_screen_pos()
        low, high = ImVec2(start.x - 8 * scale, start.y), ImVec2(start.x + wide + 8 * scale, after.y - 4 * scale)
        middle = ImVec2(start.x + MARK_PX / 2 * scale, start.y + (_PAD + MARK_PX / 2) * scale)
        draw_mark(widgets, canvas, middle, cause.severity, str(number + 1))
        is_hovered = imgui.is_window_hovered(imgui.HoveredFlags_.child_windows) and imgui.is_mouse_hovering_rect(
            low, high
        )
        canvas.channels_set_current(0)
        if is_chosen:
            canvas.add_rect_filled(low, high, theme.packed(widgets.palette.raised, 0.55), theme.BUTTON_ROUND * scale)
        canvas.channels_merge()
        if is_hovered:
            self.hot = number
            if imgui.is_mouse_clicked(0) and not imgui.is_any_item_hovered():
                remedies.look_at(desk, cause.first)
        widgets.places[f"finding.{number + 1}"] = (low.x, low.y, high.x, low.y + 2 * (_PAD + MARK_PX) * scale)

    def _words(self, cause: Cause, found: tuple[Finding, ...]) -> None:
        desk, widgets = self._desk, self._desk.widgets
        first = found[0]
        if cause.is_failure:
            with widgets.semibold():
                widgets.text(f"One check could not finish: {first.check.replace('-', ' ')}.")
            widgets.text("Nothing is said about it.", colour=widgets.palette.second)
            return
        shown = rows.row(first, desk.work.units)
        with widgets.semibold():
            widgets.text(f"{shown.subjects}: {uncapitalized(first.title)}" if shown.subjects else first.title)
        what = shown.what.removeprefix(f"{first.title}: ")
        widgets.text(capitalized(what), colour=widgets.palette.second)
        also = [uncapitalized(each.title) for each in found[1:]]
        if also:
            more = f" and {len(also) - _MOST_ALSO} more" if len(also) > _MOST_ALSO else ""
            widgets.text(f"Also: {', '.join(dict.fromkeys(also[:_MOST_ALSO]))}{more}.", colour=widgets.palette.second)
        if cause.against:
            others = listed([str(number + 1) for number in cause.against])
            widgets.text(f"What cures this undoes what cures {others}. Cure all at once finds a way for both.")
        elif shown.remedy:
            widgets.text(shown.remedy)

    def _buttons(self, number: int, cause: Cause, found: tuple[Finding, ...]) -> None:
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        if self._accepting == found:
            self._reasons(cause)
            return
        widgets.space(4.0)
        if desk.trial.is_of(cause.offered):
            self._trial(number)
            return
        if cause.offered:
            if widgets.button("Do it", f"finding.{number + 1}.do", tip="Shown in the picture first", key="f8"):
                remedies.show(desk, cause)
            imgui.same_line(0, 8 * scale)
        if not cause.is_failure and widgets.button("Accept", f"finding.{number + 1}.accept", look="quiet"):
            self._accepting = found
        if found[0].marks:
            imgui.same_line(0, 8 * scale)
            if widgets.button("Show me", f"finding.{number + 1}.show", look="quiet"):
                remedies.look_at(desk, cause.first, is_kept=True)

    def _trial(self, number: int) -> None:
        desk, widgets = self._desk, self._desk.widgets
        verdict = desk.trial.verdict or "Being looked at."
        widgets.text(f"{icon('eye')}  Shown in the picture. {verdict}", colour=widgets.palette.second)
        widgets.space(4.0)
        trial_buttons.draw(desk, f"finding.{number + 1}")

    def _reasons(self, cause: Cause) -> None:
        """Ask why it is accepted."""
        desk, widgets = self._desk, self._desk.widgets
        widgets.space(4.0)
        widgets.text("Why?", colour=widgets.palette.second)
        why = ""
        for index, reason in enumerate(remedies.REASONS):
            if widgets.button(reason, f"accept.{index + 1}", wide=widgets.wide):
                why = reason
        typed = widgets.field("accept.own", "", tip="In your own words; Enter takes them")
        why = typed.strip() if typed else why
        if widgets.button("Back", "accept.back", look="quiet"):
            self._accepting = ()
        if why:
            self._accepting = ()
            remedies.accept(desk, cause, why)


def headline(subjects: str, finding: Finding) -> str:
    """Return what a finding is about and what it is, in a few words."""
    if not subjects or len(subjects) > _LONGEST_SUBJECTS:
        return finding.title
    return f"{subjects}: {uncapitalized(finding.title)}"
