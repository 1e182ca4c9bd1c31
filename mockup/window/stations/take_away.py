"""Take away: everything that can be made of the pedal, with its options; progress, and a way to stop."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.options import OptionField
from mockup.outputs import OUTPUTS
from mockup.window import action_buttons
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.station import RailState, Station
from mockup.window.work import output_options
from mockup.window.work.output_options import Given
from mockup.window.work.pane_pictures import saved_size
from mockup.window.work.save_jobs import SaveProgress

_MOST_CHANGES = 12  # listed, so that the outputs stay in sight: by eye
_COLUMNS = 3


WORD, ICON = "Take away", "box-open"


class Page(Station):
    """The outputs; the button stays at the foot, however many options there are."""

    def rail_state(self) -> RailState:
        """Return how far the output is that is being made."""
        progress = self._desk.saves.progress
        busy = progress is not None and not progress.is_over
        return RailState(text=f"{progress.share:.0%}" if progress is not None and busy else "")

    def title(self) -> tuple[str, str]:
        """Return the station's name and what the chosen output is."""
        return "Take away", OUTPUTS.summary(self._desk.saves.chosen)

    def draw_sheet(self) -> None:
        """Lay out what is unsaved, what is being made, and the options of the chosen output."""
        desk = self._desk
        widgets, saves = desk.widgets, desk.saves
        _layout(desk)
        if saves.progress is not None:
            _progress(desk, saves.progress)
        widgets.title("What to make")
        rows = [(name, name.replace("-", " ").capitalize()) for name in OUTPUTS.names()]
        tips = [OUTPUTS.summary(name) for name in OUTPUTS.names()]
        saves.chosen = widgets.choose("output", rows, saves.chosen, columns=_COLUMNS, tips=tips) or saves.chosen
        _options(desk, saves.chosen)

    def foot_height(self) -> float:
        """Return the height of the button with a line under it."""
        return 84.0

    def draw_foot(self) -> None:
        """Draw the button that makes the chosen output."""
        desk = self._desk
        action_buttons.button(
            desk, f"save-{desk.saves.chosen}", page="save", wide=desk.widgets.wide, look="chalk",
            tall=theme.CHALK_BUTTON * desk.widgets.scale,
        )  # fmt: skip
        desk.widgets.note("It is saved beside the pedal's file.")


def _layout(desk: Desk) -> None:
    """The changes that are not saved."""
    widgets, document = desk.widgets, desk.work.document
    widgets.title("Layout", is_first=True)
    if document is None or not desk.work.is_changed:
        widgets.note("Nothing to save: the picture shows the file as it is.")
        return
    for each in document.unsaved[:_MOST_CHANGES]:
        widgets.pair(each.subject if len(each.subject) < 30 else each.subject[-30:], each.what, at=0.66)
    action_buttons.row(desk, ("save", "discard"), page="save")


def _progress(desk: Desk, progress: SaveProgress) -> None:
    widgets = desk.widgets
    widgets.title(f"The {progress.job.output}")
    if not progress.is_over:
        imgui.progress_bar(progress.share, ImVec2(widgets.wide - 80 * widgets.scale, 0), progress.what)
        widgets.mark("save.progress")
        imgui.same_line()
        action_buttons.button(desk, "cancel", page="save", wide=widgets.wide)
    elif progress.fault:
        widgets.text(progress.fault)
    else:
        with widgets.semibold():
            for path in progress.files:
                widgets.text(path.name)


def _options(desk: Desk, output: str) -> None:
    """One control for each option of an output, under the words that say what it is for."""
    widgets, saves = desk.widgets, desk.saves
    given = saves.given.setdefault(output, {})
    for field in output_options.fields(output):
        found = _control(desk, output, field, given.get(field.name, output_options.at_first(field)))
        if found is not None:
            given[field.name] = found
    kinds = output_options.suffixes(output)
    if len(kinds) > 1:
        widgets.note("Kind of file")
        rows = [(kind, kind.removeprefix(".").upper()) for kind in kinds]
        picked = widgets.combo(f"{output}.suffix", rows, saves.suffix.get(output, kinds[0]))
        saves.suffix[output] = picked or saves.suffix.get(output, kinds[0])
    if output == "still":
        times = int(str(given.get("larger", "2")))
        panes = 1 if desk.view.state.is_wipe else len(desk.view.state.variants)
        width, height = saved_size(desk.view.pane_size(), panes)
        widgets.note(f"{width * times} x {height * times} pixels: what you see, without numbers and outlines")


def _control(desk: Desk, output: str, field: OptionField, now: Given) -> Given | None:
    """Draw the control of an option; return what was chosen."""
    widgets, place = desk.widgets, f"{output}.{field.name}"
    about = field.help[0].upper() + field.help[1:]
    if isinstance(now, bool):
        is_changed = widgets.check("", place, now)
        imgui.same_line()
        with widgets.small():
            widgets.text(about)
        return not now if is_changed or imgui.is_item_clicked() else None
    widgets.note(about)
    choices = output_options.choices(field)
    if choices:
        return widgets.combo(place, [(each, each.capitalize() or "As usual") for each in choices], now)
    return widgets.field(place, now, is_taken_on_leaving=True)
