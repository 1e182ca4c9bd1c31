"""Saving outputs of what is shown: one, or several as one go; a stop that is open is asked about first."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from mockup.checks.report import rows
from mockup.window import questions
from mockup.window.desk import Desk
from mockup.window.saves import output_options
from mockup.window.saves.pane_pictures import PicturedPanes
from mockup.window.saves.save_worker import PACK, SaveJob

PAGES_FOLDER = "pages"  # in the pedal's own folder: our choice


def save_output(desk: Desk, output: str) -> None:
    """Make one output with what is chosen for it."""
    desk.saves.chosen = output
    desk.view.change(desk.view.state.at_station("take-away"))
    save_outputs(desk, (output,))


def save_outputs(desk: Desk, outputs: Sequence[str]) -> None:
    """Make outputs one after the other; where a page would be marked with an open stop, ask first."""
    stops = open_stops(desk)
    marked = [output for output in outputs if output != PACK and output_options.stop_options(output)]
    if not (stops and marked):
        _start(desk, outputs)
        return
    worst = next(finding for finding in desk.work.findings if finding.severity == "stop")
    units = desk.work.units
    desk.dialog.ask(
        questions.open_stops(
            stops,
            rows.row(worst, units).what,
            show=lambda: desk.view.change(desk.view.state.at_station("check").with_finding(0)),
            save=lambda: _start(desk, outputs),
        )
    )


def open_stops(desk: Desk) -> int:
    """Return how many findings stop the build of the variant that is shown, as far as is known."""
    return sum(finding.severity == "stop" for finding in desk.work.findings)


def job(desk: Desk, output: str) -> SaveJob | None:
    """Return the job of an output with what is chosen for it; a still shows all panes, all else the active one."""
    project, state = desk.work.project, desk.view.state
    if project is None or desk.work.pane is None:
        return None
    is_all = output == "still"
    panes = PicturedPanes(
        contents=state.contents if is_all else (desk.work.content,),
        shot=state.shot(desk.camera.uncovered(), desk.view.pane_size()),
        view=state.view,
        wipe=state.wipe if is_all and state.is_wipe else None,
    )
    is_known = desk.work.found.checked is not None and not desk.work.found.is_checking
    return SaveJob(
        output=output,
        suffix=suffix(desk, output),
        project=project,
        panes=panes,
        text=desk.work.unsaved_text,
        given=dict(desk.saves.given.get(output, {})),
        folder=folder(desk),
        stops=open_stops(desk) if is_known else None,
    )


def suffix(desk: Desk, output: str) -> str:
    """Return the ending of an output's file."""
    return ".zip" if output == PACK else desk.saves.suffix.get(output) or output_options.suffixes(output)[0]


def folder(desk: Desk) -> Path:
    """Return where files go: the folder chosen, or that for pages in the pedal's own."""
    if desk.saves.folder is not None or desk.work.project is None:
        return desk.saves.folder or Path.home()
    return desk.work.project.folder / PAGES_FOLDER


def _start(desk: Desk, outputs: Sequence[str]) -> None:
    for output in outputs:
        found = job(desk, output)
        if found is not None:
            desk.saves.start(found)
