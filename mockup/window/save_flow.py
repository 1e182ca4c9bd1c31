"""Saving an output of what is shown."""

from __future__ import annotations

from mockup.window.desk import Desk
from mockup.window.work import output_options
from mockup.window.work.pane_pictures import PicturedPanes
from mockup.window.work.save_worker import SaveJob


def save_output(desk: Desk, output: str) -> None:
    """Make an output with what is chosen for it; a still shows all panes, all else the active one."""
    project, state = desk.work.project, desk.view.state
    if project is None or desk.work.pane is None:
        return
    desk.saves.chosen = output
    desk.view.change(state.at_station("take-away"))
    contents = state.contents
    is_all = output == "still"
    panes = PicturedPanes(
        contents=contents if is_all else (desk.work.content,),
        shot=state.shot(desk.camera.camera, desk.view.pane_size()),
        view=state.view,
        wipe=state.wipe if is_all and state.is_wipe else None,
    )
    desk.saves.start(
        SaveJob(
            output=output,
            suffix=desk.saves.suffix.get(output) or output_options.suffixes(output)[0],
            project=project,
            panes=panes,
            text=desk.work.unsaved_text,
            given=dict(desk.saves.given.get(output, {})),
        )
    )
