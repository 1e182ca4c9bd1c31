"""Footswitches: a domed button in an M12 bushing, latching and momentary."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from mockup.hardware._fixings import M12, blade, hung, nut, threaded, washer
from mockup.model.material import BLACK_PLASTIC, CHROME, GREY_PLASTIC, NICKEL, STEEL, Material
from mockup.model.part import MEMORY, PRACTICE, Kind
from mockup.model.shape import Point, Solid, Turned, block

BUSHING_MM = 7.0  # top above the panel; with all that is inside it makes a thread of 12: from memory
BORE_MM = 10.4  # of the bushing, round the button: common practice, no source
WASHER_MM = 0.8  # thickness of the washer under the dress nut: common practice, no source


@dataclass(frozen=True, kw_only=True)
class _Type:
    name: str
    about: str
    button_mm: tuple[float, float]  # diameter, top above the bushing
    is_dressed: bool  # a nut with a cone that covers the thread, or a plain one
    body_mm: tuple[float, float, float]  # along x, along y, depth without terminals
    case: Material
    terminals: tuple[int, int]  # columns, rows
    terminal_mm: tuple[float, float]  # width, length


# Bodies (three-pole changeover; single pole), buttons and terminals: common practice, no source.
_TYPES = (
    _Type(
        name="footswitch",
        about="Latching footswitch, three poles, M12 bushing with dress nut",
        button_mm=(9.8, 6.2),
        is_dressed=True,
        body_mm=(17.2, 18.4, 17.0),
        case=GREY_PLASTIC,
        terminals=(3, 3),
        terminal_mm=(2.4, 4.5),
    ),
    _Type(
        name="footswitch-momentary",
        about="Momentary soft-touch footswitch, one pole, M12 bushing",
        button_mm=(9.8, 4.2),
        is_dressed=False,
        body_mm=(16.0, 16.0, 15.0),
        case=BLACK_PLASTIC,
        terminals=(2, 1),
        terminal_mm=(2.4, 4.5),
    ),
)


def kinds() -> tuple[Kind, ...]:
    """Return the footswitches, not pressed."""
    return tuple(_kind(each) for each in _TYPES)


def _kind(each: _Type) -> Kind:
    mounting = M12.mounting(BUSHING_MM, inner="nut")
    under = replace(M12.washer, thickness_mm=WASHER_MM)
    over = replace(M12.nut, name="dress nut") if each.is_dressed else M12.nut
    return Kind(
        name=each.name,
        family="footswitch",
        about=each.about,
        cutouts=(M12.cutout,),
        above=(
            washer(M12.washer_mm, M12.thread.major_mm, WASHER_MM, NICKEL),
            *_nut(each.is_dressed),
            threaded(M12.thread, BUSHING_MM, bore_mm=BORE_MM, material=NICKEL),
            _button(*each.button_mm),
        ),
        below=hung(_body(each), mounting, M12.thread.major_mm),
        thread=M12.thread,
        mounting=replace(mounting, outside=(under, over)),
        sources={
            **M12.sources,
            "bushing": PRACTICE,
            "button": PRACTICE,
            "body": f"{PRACTICE}; 24 to 26 mm deep in all with the inner nut (latching): {MEMORY}",
            "terminals": PRACTICE,
        },
    )


def _nut(is_dressed: bool) -> tuple[Solid, ...]:
    bore = M12.thread.major_mm
    foot = nut(M12.flats_mm, bore, WASHER_MM, M12.nut_mm, CHROME)
    if not is_dressed:
        return (foot,)
    low, wide, narrow = WASHER_MM + M12.nut_mm, M12.flats_mm / 2 - 0.15, bore / 2 + 0.45
    high = BUSHING_MM - 0.9  # leaves the bushing's last crest in sight
    crown: list[Point] = []
    for step in range(9):  # a quarter ellipse, steep at the hexagon and level at the top
        angle = math.radians(90.0 * step / 8)
        crown.append((narrow + (wide - narrow) * math.cos(angle), low + 0.6 + (high - low - 0.6) * math.sin(angle)))
    ring = ((bore / 2 + 0.05, low - 0.3), (wide, low - 0.3), *crown, (bore / 2 + 0.05, high))
    return foot, Turned(profile=ring, material=CHROME)


def _button(diameter: float, top: float) -> Turned:
    """Return the button: straight below, a soft shoulder, a shallow dome."""
    radius, summit = diameter / 2, BUSHING_MM + top
    rise, shoulder = 1.3, 0.9  # height of the dome, radius of its edge: common practice, no source
    inner = radius - shoulder
    sphere = (inner**2 + rise**2) / (2 * rise)  # dome over the inner circle: sagitta formula
    lean = math.asin(inner / sphere)
    edge: list[Point] = []
    for step in range(7):  # the shoulder turns from upright to the dome's slope
        angle = (math.pi / 2 - lean) * step / 6
        edge.append((inner + shoulder * math.cos(angle), summit - rise - shoulder + shoulder * math.sin(angle)))
    # The dome starts where the shoulder ends: same slope, so the two are one smooth curve.
    foot_r, foot_z = edge[-1]
    dome_r = foot_r / math.sin(lean)
    dome = [
        (dome_r * math.sin(lean * (1 - step / 8)), foot_z + dome_r * (math.cos(lean * (1 - step / 8)) - math.cos(lean)))
        for step in range(1, 9)
    ]
    low = BUSHING_MM - 3.0
    outline = [(0.0, low), (radius, low), *edge, *dome]
    shift = summit - outline[-1][1]
    lifted = [(r, z + shift if z > low else z) for r, z in outline]
    lifted[-1] = (0.0, summit)
    return Turned(profile=tuple(lifted), material=CHROME)


def _body(each: _Type) -> tuple[Solid, ...]:
    width, height, depth = each.body_mm
    columns, rows = each.terminals
    wide, length = each.terminal_mm
    frame = block((width, height), (-1.4, 0.0), STEEL, corner_mm=1.0)
    cheeks = tuple(
        block((0.8, height * 0.6), (-depth * 0.75, -1.4), STEEL, at=(side * (width / 2 - 0.4), 0.0)) for side in (-1, 1)
    )
    case = block((width - 1.2, height - 0.4), (-depth, -1.4), each.case, corner_mm=0.6)
    pitch_x, pitch_y = 5.3, 4.8  # common practice, no source
    terminals = (
        blade(
            ((column - (columns - 1) / 2) * pitch_x, (row - (rows - 1) / 2) * pitch_y),
            width_mm=wide,
            thickness_mm=0.8,
            top_mm=-depth,
            length_mm=length,
        )
        for column in range(columns)
        for row in range(rows)
    )
    return (frame, *cheeks, case, *terminals)
