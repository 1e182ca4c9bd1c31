"""All that the window shows, as one value; every verb returns a new one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal, Self, get_args

from mockup.lights import presets
from mockup.model.enclosure import FaceName
from mockup.model.scene import Camera, Group, Look, Quality, Shot
from mockup.picture.options import PictureRequest
from mockup.scene.views import STRAIGHT_AT, VIEWS
from mockup.window.pane_content import PaneContent
from mockup.window.pointer.snapping import GRIDS

Tool = Literal["look", "measure"]
Toggle = Literal[
    "decal",
    "hardware",
    "lid",
    "see-through",
    "lamp",
    "clear-coat",
    "silvering",
    "plugs",
    "as-built",
    "findings",
    "snapping",
]
StationName = Literal["box", "parts", "paint", "art", "letters", "check", "take-away"]
PageName = Literal["variants", "photograph"]
PhotoShown = Literal["lines", "wipe", "both"]
Way = tuple[str | int, ...]
"""A thing of the pedal, by the steps to it in the layout: ("part", "TONE"), ("decal", 0), ("box",), ("lid",)."""

TOGGLES: tuple[Toggle, ...] = get_args(Toggle)
_FIELDS: dict[Toggle, str] = {
    "decal": "has_decal", "hardware": "has_hardware", "lid": "has_lid", "see-through": "is_see_through",
    "lamp": "is_lamp_lit", "clear-coat": "has_clear_coat", "silvering": "is_silvered", "plugs": "has_plugs",
    "as-built": "is_as_built",
    "findings": "has_findings", "snapping": "is_snapping",
}  # fmt: skip
STATIONS: tuple[StationName, ...] = get_args(StationName)
"""The stations in the order of work."""
_STATION_OF: dict[str | int, StationName] = {
    "box": "box", "lid": "box", "part": "parts", "decal": "art", "label": "letters", "scale": "letters",
    "border": "letters",
}  # fmt: skip
MOST_PANES = 4
FIRST_VIEW = "three-quarter"
DRAFTS = "MOCKUP_WINDOW_DRAFTS"
"""For tests that look at no picture: where the environment has it, drafts do, and small pictures that lie on disk."""


@dataclass(frozen=True, kw_only=True)
class State:
    """What the window shows.

    `view` is the named view last taken; the eye itself moves on from there (see `orbit`). `variants` has
    one entry per pane, None for the file itself; with `is_wipe` the first two share one picture, parted at
    `wipe` (0 left to 1 right). `is_lamp_lit` and `has_clear_coat` are None while they are as in the file.
    `picked` are the things that are picked, the last one picked last, and `finding` the number in the list of the one
    looked at. `naming` is the part whose name is open for typing, and `is_lettering` letters the name of each new part.
    `true_size` is the face shown at physical size, if one is. `is_sheet_open` counts where the sheet lies
    over the picture. `is_walking` while the first walk is taken. `page` stands in the place of the station's sheet;
    of a photograph beside its picture, `photo_shown` says how both are shown.
    """

    look: Look = PictureRequest.look
    view: str = FIRST_VIEW
    has_decal: bool = True
    has_hardware: bool = True
    has_lid: bool = True
    is_see_through: bool = False
    is_lamp_lit: bool | None = None
    has_clear_coat: bool | None = None
    is_silvered: bool = False
    has_plugs: bool = False
    is_as_built: bool = False
    has_findings: bool = True
    light: str = PictureRequest.light
    room: str = PictureRequest.room
    background: str = PictureRequest.background
    quality: Quality = PictureRequest.quality
    variants: tuple[str | None, ...] = (None,)
    is_wipe: bool = False
    wipe: float = 0.5
    active: int = 0
    picked: tuple[Way, ...] = ()
    tool: Tool = "look"
    is_snapping: bool = True
    grid: str = "0.5 mm"
    true_size: FaceName | None = None
    finding: int | None = None
    station: StationName = "parts"
    is_sheet_open: bool = False
    naming: str | None = None
    is_lettering: bool = True
    has_help: bool = False
    has_settings: bool = False
    is_walking: bool = False
    page: PageName | None = None
    photo_shown: PhotoShown = "lines"

    @property
    def variant(self) -> str | None:
        """The variant in the active pane: the one that changes are made in."""
        return self.variants[self.active]

    @property
    def is_covered(self) -> bool:
        """True while help or settings take all keys."""
        return self.has_help or self.has_settings

    @property
    def selected(self) -> str | None:
        """The name of the part that alone is picked, None where nothing, several things or something else is."""
        if len(self.picked) == 1 and self.picked[0][0] == "part":
            return str(self.picked[0][1])
        return None

    @property
    def picked_parts(self) -> tuple[str, ...]:
        """The names of all parts that are picked."""
        return tuple(str(way[1]) for way in self.picked if way[0] == "part")

    def picking(self, *ways: Way) -> Self:
        """Return the state with these things picked alone, at the station of the last one; with none, nothing picked.

        A label of a part leads to the letters, whatever it belongs to.
        """
        station = _STATION_OF[ways[-1][0]] if ways else self.station
        is_open = bool(ways) or self.is_sheet_open
        page = None if ways else self.page
        return replace(self, picked=ways, station=station, is_sheet_open=is_open, page=page)

    def at_station(self, station: StationName) -> Self:
        """Return the state at a station, nothing picked that belongs to another."""
        kept = tuple(way for way in self.picked if _STATION_OF[way[0]] == station)
        return replace(self, station=station, picked=kept, is_sheet_open=True, page=None)

    def with_page(self, page: PageName) -> Self:
        """Return the state with a page in the place of the station's sheet; a photograph goes with one picture."""
        one = replace(self, variants=(self.variant,), active=0, is_wipe=False) if page == "photograph" else self
        return replace(one, page=page, is_sheet_open=True)

    def photo_as(self, shown: PhotoShown) -> Self:
        """Return the state that shows a photograph and its picture in another way."""
        return replace(self, photo_shown=shown)

    @property
    def has_wipe_line(self) -> bool:
        """True where two pictures share one place, parted by a line: two variants, or a photograph and its picture."""
        return self.is_wipe or (self.page == "photograph" and self.photo_shown == "wipe")

    def with_tool(self, tool: Tool) -> Self:
        """Return the state with another tool in hand."""
        return replace(self, tool=tool)

    def with_sheet(self, is_open: bool) -> Self:
        """Return the state with the sheet open or closed, where it lies over the picture."""
        return replace(self, is_sheet_open=is_open)

    @property
    def is_flipped(self) -> bool:
        """True where the pedal lies on its knobs."""
        return VIEWS[self.view].is_flipped

    @property
    def dressed_face(self) -> FaceName:
        """The face that film and lettering go onto where none is pointed at: the lid while the underside is seen."""
        return "lid" if self.view == STRAIGHT_AT["lid"] else "top"

    @property
    def grid_mm(self) -> float | None:
        """The grid in millimetres, None for none."""
        return GRIDS[self.grid]

    @property
    def contents(self) -> tuple[PaneContent, ...]:
        """What each pane shows, in order of panes."""
        content = PaneContent(
            look=self.look, is_flipped=self.is_flipped, has_decal=self.has_decal, is_lamp_lit=self.is_lamp_lit,
            has_clear_coat=self.has_clear_coat, light=self.light, room=self.room,
            stage="silvered" if self.is_silvered else "finished",
            background=self.background, is_as_built=self.is_as_built, has_plugs=self.has_plugs,
        )  # fmt: skip
        return tuple(replace(content, variant=variant) for variant in self.variants)

    @property
    def hidden(self) -> frozenset[Group]:
        """The groups that are left out of the picture."""
        hardware: tuple[Group, ...] = () if self.has_hardware else ("hardware", "inside")
        lid: tuple[Group, ...] = () if self.has_lid else ("lid",)
        return frozenset((*hardware, *lid))

    @property
    def see_through(self) -> frozenset[Group]:
        """The groups that are drawn like glass."""
        return frozenset({"box", "lid"}) if self.is_see_through else frozenset()

    def shot(self, camera: Camera, size_px: tuple[int, int]) -> Shot:
        """Return the shot of one pane."""
        width, height = size_px
        return Shot(
            camera=camera, width_px=width, height_px=height, look=self.look, quality=self.quality,
            hidden=self.hidden, see_through=self.see_through,
        )  # fmt: skip

    def is_on(self, toggle: Toggle) -> bool | None:
        """Return whether a toggle is on; None where it is left as the file has it."""
        found: bool | None = getattr(self, _FIELDS[toggle])
        return found

    def toggled(self, toggle: Toggle, is_on_in_file: bool = True) -> Self:
        """Return the state with a toggle the other way; `is_on_in_file` is what counts where it was untouched."""
        before = self.is_on(toggle)
        return self.switched(toggle, not (is_on_in_file if before is None else before))

    def switched(self, toggle: Toggle, is_on: bool) -> Self:
        """Return the state with a toggle on or off."""
        changed: dict[str, Any] = {_FIELDS[toggle]: is_on}
        return replace(self, **changed)

    def seen(self, view: str) -> Self:
        """Return the state in a named view; `KeyError` where there is none."""
        page = None if self.page == "photograph" else self.page  # it has a camera of its own
        return replace(self, view=VIEWS[view].name, true_size=None, has_lid="lid" not in VIEWS[view].hidden, page=page)

    def is_seen(self, view: str) -> bool:
        """Return whether the pedal is seen in a named view: not at true size, nor through a photograph's camera."""
        return self.view == view and self.true_size is None and self.page != "photograph"

    def at_true_size(self, face: FaceName | None) -> Self:
        """Return the state that shows a face at physical size, the pedal standing on its lid; None ends it."""
        return replace(self, true_size=face, view=self.view if face is None else STRAIGHT_AT[face])

    def next_look(self) -> Self:
        """Return the state as a proof, or as a photo again."""
        return replace(self, look="photo" if self.look == "proof" else "proof")

    def lit(self, light: str) -> Self:
        """Return the state under another light; `KeyError` where there is none."""
        return replace(self, light=presets()[light].name)

    def next_light(self) -> Self:
        """Return the state under the next light, round and round."""
        names = tuple(presets())
        return replace(self, light=names[(names.index(self.light) + 1) % len(names)])

    def with_panes(self, count: int, known: Sequence[str] = ()) -> Self:
        """Return the state with 1 to 4 pictures side by side; new ones take the variants not shown yet."""
        count = min(max(count, 1), MOST_PANES)
        shown = list(self.variants[:count])
        rest = [name for name in (None, *known) if name not in shown]
        while len(shown) < count:
            shown.append(rest.pop(0) if rest else shown[-1])
        is_open = self.is_sheet_open and count == 1  # where it lies over the picture it would hide the second
        active = min(self.active, count - 1)
        return replace(self, variants=tuple(shown), is_wipe=False, active=active, is_sheet_open=is_open)

    def wiped(self, known: Sequence[str] = ()) -> Self:
        """Return the state with a wipe between two variants; without it where it was on."""
        if self.is_wipe:
            return self.with_panes(1)
        return replace(self.with_panes(2, known), is_wipe=True)

    def wiped_to(self, place: float) -> Self:
        """Return the state with the wipe's line at `place`, 0 left to 1 right."""
        return replace(self, wipe=min(max(place, 0.0), 1.0))

    def activated(self, pane: int) -> Self:
        """Return the state with another pane active."""
        return replace(self, active=min(max(pane, 0), len(self.variants) - 1))

    def with_variant(self, variant: str | None, pane: int | None = None) -> Self:
        """Return the state with a variant (None: the file itself) in a pane, the active one by default."""
        at = self.active if pane is None else pane
        shown = tuple(variant if index == at else name for index, name in enumerate(self.variants))
        return replace(self, variants=shown)

    def next_variant(self, known: Sequence[str], step: int = 1) -> Self:
        """Return the state with the next of the file's variants in the active pane, round and round."""
        names = (None, *known)
        at = names.index(self.variant) if self.variant in names else 0
        return self.with_variant(names[(at + step) % len(names)])

    def kept_to(self, known: Sequence[str], parts: Sequence[str]) -> Self:
        """Return the state without variants and picked parts that the file no longer has."""
        shown = tuple(name if name in known else None for name in self.variants)
        picked = tuple(way for way in self.picked if way[0] != "part" or way[1] in parts)
        return replace(self, variants=shown, picked=picked)

    def next_thing(self, ways: Sequence[Way], step: int = 1) -> Self:
        """Return the state with the next of all things picked, round and round."""
        if not ways:
            return self.picking()
        if not self.picked or self.picked[-1] not in ways:
            return self.picking(ways[0 if step > 0 else -1])
        return self.picking(ways[(ways.index(self.picked[-1]) + step) % len(ways)])

    def with_finding(self, index: int | None) -> Self:
        """Return the state that looks at a finding, its numbers shown, or at none."""
        return replace(self, finding=index, has_findings=self.has_findings or index is not None)

    def with_grid(self, grid: str) -> Self:
        """Return the state with a grid by name; `KeyError` where there is none."""
        if grid not in GRIDS:
            raise KeyError(grid)
        return replace(self, grid=grid)

    def next_grid(self) -> Self:
        """Return the state with the next grid, round and round."""
        names = tuple(GRIDS)
        return replace(self, grid=names[(names.index(self.grid) + 1) % len(names)])
