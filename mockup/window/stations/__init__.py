"""The stations of the work, one file each: Box, Parts, Paint, Art, Letters, Check, Take away.

A station is one file of this folder. Its name in `mockup.window.state.STATIONS` is the file's name with hyphens; the
order there is the order of work. The file gives

- `WORD`, what the rail calls it, and `ICON`, the name of its icon;
- a docstring, whose first line says what the station is for (the rail's tip);
- a class `Page`, a `mockup.window.station.Station`: `rail_state` (what the rail says under the word), `title` and
  `draw_head`, `draw_sheet` (what is picked, else the station's own page), `actions` or `draw_foot`, and where it has
  them `drawer` and `draw_drawer`, `draw_marks` (over the picture) and `tool_at` (what a press on the picture takes in
  hand).

What stations share is in the rooms of this folder. Everything that changes the pedal goes through
`desk.work.edit`; what is shown or picked is in `desk.view.state`. A station never holds what the layout says.
"""

from __future__ import annotations

from dataclasses import dataclass

from mockup.plugins import Folder
from mockup.window.desk import Desk
from mockup.window.state import STATIONS, StationName
from mockup.window.station import Station

_FOLDER = Folder("mockup.window.stations")


@dataclass(frozen=True, kw_only=True)
class RailRow:
    """A station on the rail: its name, its word, its icon, its tip and its page."""

    name: StationName
    word: str
    icon: str
    about: str
    page: Station


def rail(desk: Desk) -> dict[StationName, RailRow]:
    """Return every station by name, in the order of work."""
    found = {}
    for name in STATIONS:
        module = _FOLDER.load(name)
        page: Station = module.Page(desk)
        found[name] = RailRow(
            name=name, word=module.WORD, icon=module.ICON, about=_FOLDER.summary(name).rstrip("."), page=page
        )
    return found
