"""The foot of the sheet Check: all that stands in the way cured at once, shown first, then kept or put back."""

from __future__ import annotations

from collections.abc import Callable

from imgui_bundle import ImVec2, imgui

from mockup.model.text import capitalized
from mockup.window import remedies
from mockup.window.desk import Desk
from mockup.window.findings.remedy_words import counted
from mockup.window.stations.causes import trial_buttons
from mockup.window.work.mender import Cure, CureResult

_LINE, _ROW = 18.0, 28.0  # units
_LOW, _HIGH = 64.0, 124.0  # units: heights of the foot, without and with what is shown


class CureFoot:
    """Draws the foot; a cure that has just been found is shown in the picture by itself."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._seen: CureResult | None = None

    def height(self) -> float:
        """Return how high the foot is, in units; 0 where nothing stops or warns."""
        found = remedies.cure_of_now(self._desk)
        if not any(each.severity != "note" for each in self._desk.work.findings):
            return 0.0
        is_told = found is not None and (self._on_trial(found) is not None or found.conceding is not None)
        return _HIGH if is_told else _LOW

    def draw(self) -> None:
        """Lay out the foot."""
        desk, mender = self._desk, self._desk.mender
        found = remedies.cure_of_now(desk)
        if found is not None and found is not self._seen:
            self._seen = found
            first = found.plain if found.plain.edits or found.conceding is None else found.conceding
            remedies.show_cure(desk, first)
        if mender.is_busy:
            self._search()
        elif found is None:
            self._row("Cure all at once", mender.fault or "Parts move as little as they can", "Show me", "cure.show")
        elif (cure := self._on_trial(found)) is not None:
            self._shown(found, cure)
        else:
            self._found(found)

    def _on_trial(self, found: CureResult) -> Cure | None:
        return next((each for each in _cures(found) if self._desk.trial.is_of(each.edits)), None)

    def _search(self) -> None:
        """Say what it is at, and how far."""
        desk, mender, scale = self._desk, self._desk.mender, self._desk.widgets.scale
        said = capitalized(mender.what)
        if self._row(said, "", "Stop", "cure.stop", does=mender.stop):
            return
        at = imgui.get_window_pos()
        imgui.set_cursor_screen_pos(ImVec2(imgui.get_cursor_screen_pos().x, at.y + 40 * scale))
        desk.widgets.bar(mender.share, wide=desk.widgets.wide - 96 * scale)

    def _shown(self, found: CureResult, cure: Cure) -> None:
        """Say what is shown and what the checks think of it."""
        widgets, trial = self._desk.widgets, self._desk.trial
        with widgets.semibold():
            widgets.text(_title(cure))
        widgets.text(trial.verdict or "Being looked at.", colour=widgets.palette.second)
        if cure.notes:
            with widgets.small():
                widgets.text(f"{cure.notes[0]}.", colour=widgets.palette.second)
        imgui.set_cursor_pos_y((_HIGH - _ROW - 18) * widgets.scale)
        trial_buttons.draw(self._desk, "cure")
        other = next((each for each in _cures(found) if each is not cure and each.edits), None)
        if other is not None:
            imgui.same_line(0, 8 * widgets.scale)
            imgui.set_cursor_pos_y((_HIGH - _ROW - 18) * widgets.scale)
            label = "Moves alone" if other is found.plain else "Cure the rest"
            if widgets.button(label, "cure.other", look="quiet", tip=_title(other)):
                remedies.show_cure(self._desk, other)

    def _found(self, found: CureResult) -> None:
        """Offer again what was put back, or say that nothing helps."""
        cures = [each for each in _cures(found) if each.edits]
        if not cures:
            self._row("No move of parts cures these", "Each is told above", "Try again", "cure.show")
            return
        first = cures[0]
        self._row(_title(first), "Put back", "Show me", "cure.show", does=lambda: remedies.show_cure(self._desk, first))

    def _row(self, title: str, line: str, label: str, name: str, *, does: Callable[[], object] | None = None) -> bool:
        """Draw a title over a line, a button at the right; do what it does, or look for a cure. True when pushed."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        at, right = imgui.get_cursor_screen_pos(), imgui.get_cursor_screen_pos().x + widgets.wide
        wide = widgets.text_size(label, widgets.faces.strong)[0] + 28 * scale
        room = right - at.x - wide - 8 * scale
        canvas = imgui.get_window_draw_list()
        head = widgets.shortened(title, room, widgets.faces.strong)
        widgets.draw_text(canvas, (at.x, at.y + 4 * scale), head, widgets.faces.strong, widgets.palette.text)
        said = widgets.shortened(line, room, widgets.faces.small)
        widgets.draw_text(canvas, (at.x, at.y + 26 * scale), said, widgets.faces.small, widgets.palette.second)
        imgui.set_cursor_screen_pos(ImVec2(right - wide, at.y + 7 * scale))
        is_pushed = widgets.button(label, name, wide=wide)
        if is_pushed:
            if does is not None:
                does()
            else:
                remedies.look_for_cure(self._desk)
        return is_pushed


def _cures(found: CureResult) -> tuple[Cure, ...]:
    return (found.plain, found.conceding) if found.conceding is not None else (found.plain,)


def _title(cure: Cure) -> str:
    """Return what a cure comes to: what is given up first, then what is moved."""
    said = f"{cure.concession}, {counted(cure.edits)}" if cure.concession else counted(cure.edits)
    return capitalized(said)
