"""What hardware is, as data: holes it needs, what shows above the panel, what hangs below."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from mockup.model.material import Colour
from mockup.model.shape import Outline, Point, Solid, Turned

PRACTICE = "common practice, no source"
MEMORY = "from memory"
STATED_PANEL_MM = 2.0  # panel that the heights of the table's parts above it are stated for: common practice, no source

Mount = Literal["panel", "inside"]


@dataclass(frozen=True, kw_only=True)
class Cutout:
    """One hole through the panel, in the part frame (x right, y up, seen from outside).

    `purpose` is one of the trade's words: bushing, lens, slot, anti-turn tab, screw, socket.
    """

    outline: Outline
    at: Point = (0.0, 0.0)
    rotation_deg: float = 0.0
    purpose: str = "bushing"


@dataclass(frozen=True, kw_only=True)
class Thread:
    """A panel thread: its designation, basic major diameter and pitch in millimetres."""

    designation: str
    major_mm: float
    pitch_mm: float


@dataclass(frozen=True, kw_only=True)
class Fitting:
    """One sort of nut, washer, spacer or screw that holds a part to its panel, `count` of it.

    `across_mm` is across a nut's flats, or a washer's or screw head's diameter.
    """

    name: str
    across_mm: float
    thickness_mm: float
    count: int = 1


@dataclass(frozen=True, kw_only=True)
class Mounting:
    """What holds a part: `inside` and `outside` of the panel, each in order from the panel away.

    The shoulder lies `shoulder_mm` behind the panel's inner surface; it is 0 where that lies on the panel itself,
    from within or from without. `thread_mm` is the length of the thread from there, 0 where it has none.
    """

    inside: tuple[Fitting, ...] = ()
    outside: tuple[Fitting, ...] = ()
    shoulder_mm: float = 0.0
    thread_mm: float = 0.0

    @property
    def out_mm(self) -> float:
        """How far the thread stands out of a panel of `STATED_PANEL_MM`, where the shoulder is inside."""
        return self.thread_mm - self.shoulder_mm - STATED_PANEL_MM


TRAVEL_DEG = 300.0  # mechanical travel of a rotary control: common practice, no source


@dataclass(frozen=True, kw_only=True)
class Shaft:
    """A shaft that takes a knob: diameter, and the height of its end above the panel.

    `nut_mm` is across the corners of the nut that a knob goes over, and `nut_top_mm` its top above
    the panel; the defaults suit the widest usual one.
    """

    diameter_mm: float
    top_mm: float
    nut_mm: float = 14.8  # 12.7 mm / cos 30: common practice, no source
    nut_top_mm: float = 3.2  # washer and nut: common practice, no source
    travel_deg: float = TRAVEL_DEG


@dataclass(frozen=True, kw_only=True, eq=False)
class Kind:
    """One kind of part in one size.

    `above`: solids that show outside, z = 0 on the panel's outer surface. `below`: solids inside
    the box, z = 0 on the panel's inner surface and negative inward (terminals included).
    `mount` "inside" means that it sits in the box without touching the panel (battery, board);
    then `below` starts at z = 0 at the part's own top. `lens` marks the solids in `above` (by
    index) that take the lamp's colour. `sources` names where each group of figures comes from; `is_own` is true of a
    kind that the builder described.

    `mounting` is what holds it, drawn in `below` and `above`. `used` is the room above the panel that it takes at any
    position of what slides, empty where nothing does.
    """

    name: str
    family: str
    about: str
    cutouts: tuple[Cutout, ...] = ()
    above: tuple[Solid, ...] = ()
    below: tuple[Solid, ...] = ()
    mount: Mount = "panel"
    thread: Thread | None = None
    shaft: Shaft | None = None
    lens: tuple[int, ...] = ()
    mounting: Mounting = Mounting()
    used: tuple[Solid, ...] = ()
    sources: dict[str, str] = field(default_factory=dict)
    is_own: bool = False

    @property
    def is_lamp(self) -> bool:
        """True where the part has a lens that can be lit."""
        return bool(self.lens)

    @property
    def depth_mm(self) -> float:
        """Depth of the body behind the panel's inner surface, millimetres."""
        return -min((_lowest(solid) for solid in self.below), default=0.0)

    def is_measured(self, group: str) -> bool:
        """Whether a group of figures, if it has that, was measured or published, and not taken from memory or habit."""
        source = self.sources.get(group, "")
        return MEMORY not in source and PRACTICE not in source


@dataclass(frozen=True, kw_only=True)
class Knob:
    """A knob as chosen for one control; colours are linear sRGB.

    `style` is that of its file. `pointer` is its position as a fraction of the travel: 0 fully anticlockwise, 1 fully
    clockwise.
    """

    style: str = ""
    diameter_mm: float
    height_mm: float
    colour: Colour
    pointer_colour: Colour
    pointer: float = 0.5


@dataclass(frozen=True, kw_only=True)
class Lamp:
    """A lamp as chosen: its colour (linear sRGB) and whether it is lit."""

    colour: Colour
    is_lit: bool


def _lowest(solid: Solid) -> float:
    if isinstance(solid, Turned):
        lean, pivot = math.radians(solid.tilt_deg), solid.pivot_z_mm
        return min(pivot + (z - pivot) * math.cos(lean) - r * abs(math.sin(lean)) for r, z in solid.profile)
    return solid.bottom_mm
