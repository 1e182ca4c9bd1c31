"""For tests: what the window shows and where its controls lie, as lines in a file that the environment names."""

from __future__ import annotations

import json
import os
import time
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from mockup.window.shell.widgets import Widgets
    from mockup.window.view.scene_view import App

VARIABLE = "MOCKUP_WINDOW_TRACE"


class WindowTrace:
    """Writes one JSON line whenever something changed; nothing where no file is named."""

    def __init__(self) -> None:
        name = os.environ.get(VARIABLE)
        self._path = Path(name) if name else None
        self._last: dict[str, Any] | None = None

    @property
    def is_on(self) -> bool:
        """True where a file is named."""
        return self._path is not None

    def tell(self, app: App, kit: Widgets, **more: Any) -> None:
        """Write what has changed since the last line."""
        if self._path is None:
            return
        state = app.state
        now = {
            "project": str(app.project.layout) if app.project else None,
            "state": asdict(state),
            "view": state.view,
            "variants": list(state.variants),
            "selected": state.selected,
            "tool": state.tool,
            "is_changed": app.is_changed,
            "clashes": list(app.clashes),
            "line": app.line.text if app.line else None,
            "is_fault": bool(app.line and app.line.is_fault),
            "findings": len(app.findings),
            "has_picture": app.pane is not None and app.stage.drafts > 0,
            "is_fine": app.stage.is_fine,
            "drafts": app.stage.drafts,
            "is_waiting": app.is_waiting,
            "is_checking": app.is_checking,
            "measured": list(app.measured.lines),
            "orbit": [app.orbit.azimuth_deg, app.orbit.elevation_deg, app.orbit.distance_mm],
            "parts": self._parts(app),
            "places": {name: [round(side, 1) for side in place] for name, place in kit.places.items()},
            "size": list(app.host.size),
            **more,
        }
        if now != self._last:
            self._last = now
            with self._path.open("a", encoding="utf-8") as handle:
                handle.write(json.dumps({"at": time.time(), **now}) + "\n")

    def _parts(self, app: App) -> dict[str, list[float]]:
        """Return where each part's centre is seen in the window."""
        import numpy as np

        from mockup.window.pointer.picture import seen_at

        if app.design is None or not app.stage.rects:
            return {}
        found = {}
        for part in app.design.parts:
            top = part.kind.shaft.top_mm if part.kind.shaft is not None else 1.0
            at = seen_at(app, app.faces[part.face].to_world(np.array([part.u_mm, part.v_mm]), top))
            if at is not None:
                found[part.name] = [round(at[0], 1), round(at[1], 1)]
        return found
