"""Toggle switches: a bat lever in a threaded bushing; full size, miniature and sub-miniature, one pole or two."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from mockup.hardware._fixings import FIFTEEN_32NDS, NO_10, QUARTER, Fixing, blade, hung, stack
from mockup.model.material import BLACK_PLASTIC, CHROME, PHENOLIC, STEEL
from mockup.model.part import MEMORY, PRACTICE, Kind
from mockup.model.shape import Point, Solid, Turned, block

LEAN_DEG = 12.5  # half the lever's throw: common practice, no source


@dataclass(frozen=True, kw_only=True)
class _Toggle:
    name: str
    about: str
    fixing: Fixing
    bushing_mm: float  # top above the panel
    bore_mm: float  # of the bushing, where the lever's ball sits
    lever_mm: float  # from the bushing's top to the tip, upright
    neck_mm: float  # diameter
    tip_mm: float  # diameter of the ball end
    body_mm: tuple[float, float, float]  # along x, along y (the throw), depth
    terminal_mm: tuple[float, float, float]  # width, length, pitch
    poles: int = 2
    inner: str = "nut"  # what is inside on the bushing
    source: str = PRACTICE  # of its body, bushing, lever and terminals


_MINI = _Toggle(
    name="toggle-mini",
    about="Miniature toggle switch, bat lever, 1/4 in bushing",
    fixing=QUARTER,
    bushing_mm=4.4,
    bore_mm=4.2,
    lever_mm=10.2,
    neck_mm=2.1,
    tip_mm=3.1,
    body_mm=(11.8, 13.0, 9.6),
    terminal_mm=(2.0, 4.2, 4.7),
)
# Changeover switches; a miniature bushing is 8.9 mm (0.35 in) long and a full-size one 12, from memory.
_TOGGLES = (
    _Toggle(
        name="toggle",
        about="Full-size toggle switch, bat lever, 15/32 in bushing",
        fixing=FIFTEEN_32NDS,
        bushing_mm=7.0,
        bore_mm=8.0,
        lever_mm=17.0,
        neck_mm=3.4,
        tip_mm=5.8,
        body_mm=(18.0, 29.0, 17.0),
        terminal_mm=(4.0, 7.0, 9.5),
    ),
    _MINI,
    replace(
        _MINI,
        name="toggle-mini-single",
        about="Miniature toggle switch, one pole, bat lever, 1/4 in bushing",
        body_mm=(7.9, 13.0, 9.6),
        poles=1,
        source=MEMORY,
    ),
    _Toggle(
        name="toggle-sub-mini",
        about="Sub-miniature toggle switch, one pole, bat lever, no. 10 bushing",
        fixing=NO_10,
        bushing_mm=3.6,
        bore_mm=3.2,
        lever_mm=8.0,
        neck_mm=1.6,
        tip_mm=2.4,
        body_mm=(5.1, 8.1, 7.0),
        terminal_mm=(1.2, 3.2, 2.5),
        poles=1,
        inner="lock washer",  # its bushing, 6 mm, is too short for a nut inside: from memory
        source=MEMORY,
    ),
)


def kinds() -> tuple[Kind, ...]:
    """Return the toggle switches, levers thrown towards 12 o'clock."""
    return tuple(_kind(size) for size in _TOGGLES)


def _kind(size: _Toggle) -> Kind:
    mounting = size.fixing.mounting(size.bushing_mm, inner=size.inner)
    return Kind(
        name=size.name,
        family="toggle",
        about=size.about,
        cutouts=(size.fixing.cutout,),
        above=(*stack(size.fixing, size.bushing_mm, bore_mm=size.bore_mm), *_lever(size)),
        below=hung(_body(size), mounting, size.fixing.thread.major_mm),
        thread=size.fixing.thread,
        mounting=mounting,
        sources={**size.fixing.sources, "lever": size.source, "body": size.source, "terminals": size.source},
    )


def _lever(size: _Toggle) -> tuple[Solid, ...]:
    """Return the bat and the ball it swings on; the bat widens to a round end."""
    ball = size.bore_mm / 2 - 0.15
    pivot = size.bushing_mm - 0.55 * ball
    tip, neck = size.tip_mm / 2, size.neck_mm / 2
    centre = size.bushing_mm + size.lever_mm - tip
    # The taper meets the ball end where both have the same slope.
    slope = math.asin((tip - neck) / (centre - pivot))
    start = -slope
    end: list[Point] = []
    for step in range(13):
        angle = start + (math.pi / 2 - start) * step / 12
        end.append((tip * math.cos(angle), centre + tip * math.sin(angle)))
    end[-1] = (0.0, centre + tip)
    bat = Turned(
        profile=((0.0, pivot), (neck, pivot), *end),
        material=CHROME,
        tilt_deg=LEAN_DEG,
        pivot_z_mm=pivot,
    )
    sphere: list[Point] = [
        (ball * math.cos(angle), pivot + ball * math.sin(angle))
        for angle in (math.radians(-90.0 + 11.25 * step) for step in range(17))
    ]
    sphere[0], sphere[-1] = (0.0, pivot - ball), (0.0, pivot + ball)
    return bat, Turned(profile=tuple(sphere), material=CHROME)


def _body(size: _Toggle) -> tuple[Solid, ...]:
    width, throw, depth = size.body_mm
    wide, length, pitch = size.terminal_mm
    frame = block((width, throw), (-1.2, 0.0), STEEL, corner_mm=0.5)
    straps = tuple(
        block((width * 0.5, 0.6), (-depth * 0.85, -1.2), STEEL, at=(0.0, side * (throw / 2 - 0.3))) for side in (-1, 1)
    )
    case = block(
        (width - 0.4, throw - 1.2), (-depth, -1.2), PHENOLIC if size.name == "toggle" else BLACK_PLASTIC, corner_mm=0.6
    )
    terminals = (
        blade((x * width / 4, y * pitch), width_mm=wide, thickness_mm=0.8, top_mm=-depth, length_mm=length)
        for x in ((-1, 1) if size.poles == 2 else (0,))
        for y in (-1, 0, 1)
    )
    return (frame, *straps, case, *terminals)
