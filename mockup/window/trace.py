"""For tests: what the window shows and where its controls lie, as lines in a file that the environment names."""

from __future__ import annotations

import json
import os
import time
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from imgui_bundle import imgui

from mockup.window.pointer.face_things import face_things

if TYPE_CHECKING:
    from mockup.window.desk import Desk

VARIABLE = "MOCKUP_WINDOW_TRACE"


class WindowTrace:
    """Writes one JSON line whenever something changed; nothing where no file is named."""

    def __init__(self) -> None:
        name = os.environ.get(VARIABLE)
        self._path = Path(name) if name else None
        self._last: dict[str, Any] | None = None

    def tell(self, desk: Desk) -> None:
        """Write what has changed since the last line."""
        if self._path is None:
            return
        work, view, message, orbit = desk.work, desk.view, desk.messages.now, desk.camera.goal
        now = {
            "project": str(work.project.layout) if work.project else None,
            **asdict(view.state),
            "selected": view.state.selected,
            "is_asking": desk.dialog.is_open and desk.window.is_answerable,
            "is_answerable": desk.window.is_answerable,
            "is_making": desk.saves.is_busy,
            "is_changed": work.is_changed,
            "clashes": list(work.clashes),
            "line": message.text if message else None,
            "is_fault": bool(message and message.is_fault),
            "faults": list(desk.messages.sources),
            "findings": len(work.findings),
            "stops": sum(each.severity == "stop" for each in work.findings),
            "trial": desk.trial.verdict,
            "has_picture": work.pane is not None and view.grid.drafts > 0,
            "is_fine": view.grid.is_fine,
            "drafts": view.grid.drafts,
            "is_waiting": work.is_waiting,
            "is_checking": work.found.is_checking,
            "is_moving": desk.camera.orbit != orbit or view.is_held,
            "pointer": [round(each) for each in imgui.get_io().mouse_pos],
            "measured": list(desk.tools.measure.shown.lines),
            "orbit": [orbit.azimuth_deg, orbit.elevation_deg, orbit.distance_mm],
            "parts": self._parts(desk),
            "things": self._things(desk),
            "places": {name: [round(side, 1) for side in place] for name, place in desk.widgets.places.items()},
            "focus": [desk.widgets.focus.card, desk.widgets.focus.on],
            "size": list(desk.window.size),
            "failures": desk.window.failures,
            "releases": desk.window.releases,
        }
        if now != self._last:
            self._last = now
            with self._path.open("a", encoding="utf-8") as handle:
                handle.write(json.dumps({"at": time.time(), **now}) + "\n")

    def _things(self, desk: Desk) -> dict[str, list[float]]:
        """Return where the middle of each picture and word is seen in the window."""
        found = {}
        for thing in face_things(desk.work.design) if desk.work.design is not None else ():
            at = desk.camera.seen_on(desk.work.faces[thing.face], (thing.lying.u_mm, thing.lying.v_mm))
            if at is not None:
                found[f"{thing.way[0]}.{thing.way[1]}"] = [round(at[0], 1), round(at[1], 1)]
        return found

    def _parts(self, desk: Desk) -> dict[str, list[float]]:
        """Return where each part's centre is seen in the window."""
        found = {}
        for part in desk.work.design.parts if desk.work.design is not None else ():
            top = part.kind.shaft.top_mm if part.kind.shaft is not None else 1.0
            at = desk.camera.seen_at(desk.work.faces[part.face].to_world(np.array([part.u_mm, part.v_mm]), top))
            if at is not None:
                found[part.name] = [round(at[0], 1), round(at[1], 1)]
        return found
