"""Art: pictures printed on film, where they lie and what they are printed on."""

from __future__ import annotations

from mockup.films import films
from mockup.window.station import RailState, Station

WORD, ICON = "Art", "image"


class Page(Station):
    """The decals of the pedal and their film."""

    def rail_state(self) -> RailState:
        """Return how many decals there are."""
        design = self._desk.work.design
        return RailState(text=str(len(design.decals)) if design is not None and design.decals else "")

    def title(self) -> tuple[str, str]:
        """Return the station's name and how many decals there are."""
        count = self.rail_state().text
        return "Art", f"{count} on this pedal" if count else "none yet"

    def draw_sheet(self) -> None:
        """List the decals, each with its film."""
        widgets, design = self._desk.widgets, self._desk.work.design
        if design is None:
            return
        if not design.decals:
            widgets.note("No decal on this pedal.")
        for index, decal in enumerate(design.decals):
            widgets.title(decal.art.name, is_first=index == 0, hint=f"{decal.face} face")
            rows = [(name, f"{name.capitalize()} film") for name in films()]
            film = widgets.choose(f"film.{index}", rows, decal.film.name)
            if film is not None and film != decal.film.name:
                self._film(index, film)

    def _film(self, decal: int, film: str) -> None:
        self._desk.work.edit(lambda document, scope: document.filmed(decal, film, variant=scope["variant"]))
