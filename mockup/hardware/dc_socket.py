"""DC sockets: a collar for a 5.5 mm plug round a 2.1 mm pin; nut inside or outside, 12 or 8 mm thread.

The pin is negative by habit in effects pedals, positive in most other gear (common practice, no
source): print the polarity beside it.
"""

from __future__ import annotations

from dataclasses import dataclass

from mockup.hardware._fixings import INTO_HOLE_MM, M8, M12, Fixing, blade, hung, stack
from mockup.model.material import BLACK_PLASTIC, NICKEL, THROAT, Material
from mockup.model.part import MEMORY, PRACTICE, Fitting, Kind, Mounting
from mockup.model.shape import Point, Solid, Turned, rod

PLUG_MM = 5.5  # outer diameter of the plug: liquisearch.com/dc_connector; IEC 60130-10 from memory
PIN_MM = 2.1  # centre pin: as PLUG_MM
REACH_MM = 9.5  # length of the plug: as PLUG_MM
CLEARANCE_MM = 0.3  # of the mouth round the plug: common practice, no source
MOUTH_MM = PLUG_MM + CLEARANCE_MM

_PLUG_SOURCE = "5.5 mm plug, 2.1 mm pin, 9.5 mm long: liquisearch.com/dc_connector; IEC 60130-10 type A, from memory"


@dataclass(frozen=True, kw_only=True)
class _Socket:
    name: str
    about: str
    fixing: Fixing
    top_mm: float  # its mouth above the panel
    collar_mm: float  # diameter of the collar outside where the nut is inside, 0 where it is outside
    body_mm: float  # diameter behind the panel
    depth_mm: float  # behind the panel without terminals
    terminal_mm: Point  # width, length
    source: str


# The 12 mm kind with its nut inside: common practice, no source. The other two: from memory.
_SOCKETS = (
    _Socket(
        name="dc-socket",
        about="DC socket for a 5.5 mm plug with 2.1 mm pin, M12 thread, nut inside",
        fixing=M12,
        top_mm=2.4,
        collar_mm=15.0,
        body_mm=11.2,
        depth_mm=12.0,
        terminal_mm=(2.2, 5.0),
        source=PRACTICE,
    ),
    _Socket(
        name="dc-socket-nut-outside",
        about="DC socket for a 5.5 mm plug with 2.1 mm pin, M12 thread, nut outside",
        fixing=M12,
        top_mm=4.6,
        collar_mm=0.0,
        body_mm=14.0,
        depth_mm=11.0,
        terminal_mm=(2.2, 5.0),
        source=MEMORY,
    ),
    _Socket(
        name="dc-socket-8",
        about="DC socket for a 5.5 mm plug with 2.1 mm pin, M8 thread, metal, nut inside",
        fixing=M8,
        top_mm=2.0,
        collar_mm=10.0,
        body_mm=7.8,
        depth_mm=14.0,
        terminal_mm=(1.6, 4.5),
        source=MEMORY,
    ),
)


def kinds() -> tuple[Kind, ...]:
    """Return the DC sockets."""
    return tuple(_kind(each) for each in _SOCKETS)


def _kind(each: _Socket) -> Kind:
    is_inside, fixing = each.collar_mm > 0.0, each.fixing
    mounting = _nut_inside(each) if is_inside else fixing.mounting(each.top_mm, inner="")
    front = (_collar(each),) if is_inside else stack(fixing, each.top_mm, bore_mm=MOUTH_MM, bushing=BLACK_PLASTIC)
    return Kind(
        name=each.name,
        family="dc-socket",
        about=each.about,
        cutouts=(fixing.cutout,),
        above=(*front, *_contact(each.top_mm)),
        below=hung(_body(each), mounting, fixing.thread.major_mm),
        thread=fixing.thread,
        mounting=mounting,
        sources={
            **fixing.sources,
            "collar": each.source,
            "throat": _PLUG_SOURCE,
            "body": each.source,
            "terminals": each.source,
        },
    )


def _nut_inside(each: _Socket) -> Mounting:
    """Return the nut inside, its shoulder being the collar outside; the thread runs down the body."""
    fixing = each.fixing
    held = Fitting(name="nut", across_mm=fixing.flats_mm, thickness_mm=2.5 if fixing is M12 else fixing.nut_mm)
    return Mounting(inside=(held,), thread_mm=8.0)  # from memory


def _collar(each: _Socket) -> Turned:
    """Return the rounded collar that lies on the panel, and the bushing under it."""
    outer, height, mouth = each.collar_mm / 2, each.top_mm, MOUTH_MM / 2
    bushing, lip = each.fixing.thread.major_mm / 2 - 0.2, 0.7 if each.fixing is M12 else 0.4
    return Turned(
        profile=(
            (mouth, INTO_HOLE_MM),
            (bushing, INTO_HOLE_MM),
            (bushing, 0.0),
            (outer, 0.0),
            (outer, height - 1.0),
            (outer - 0.08, height - 0.62),
            (outer - 0.29, height - 0.29),
            (outer - 0.62, height - 0.08),
            (outer - 1.0, height),
            (mouth + lip, height),
            (mouth, height - lip),
        ),
        material=_case(each.fixing),
    )


def _case(fixing: Fixing) -> Material:
    return BLACK_PLASTIC if fixing is M12 else NICKEL


def _contact(top_mm: float) -> tuple[Solid, ...]:
    """Return a cup, from the mouth a dark hole of the plug's own depth, and the pin in it."""
    mouth, floor = MOUTH_MM / 2, top_mm - REACH_MM
    throat = Turned(
        profile=(
            (0.0, floor - 0.4),
            (mouth + 0.2, floor - 0.4),
            (mouth + 0.2, -0.5),
            (mouth - 0.01, -0.5),
            (mouth - 0.01, floor),
            (0.0, floor),
        ),
        material=THROAT,
    )
    pin, top = PIN_MM / 2, top_mm - 1.2
    contact = Turned(
        profile=((0.0, floor), (pin, floor), (pin, top - 0.5), (pin - 0.14, top - 0.16), (pin - 0.5, top), (0.0, top)),
        material=NICKEL,
    )
    return throat, contact


def _body(each: _Socket) -> tuple[Solid, ...]:
    bore = MOUTH_MM / 2 + 0.3  # clear of the throat's cup
    radius, depth, material = each.body_mm / 2, each.depth_mm, _case(each.fixing)
    case = rod(radius, (-depth + 1.0, 0.0), material, bore_radius_mm=bore)
    back = rod(radius, (-depth, -depth + 1.0), BLACK_PLASTIC)
    wide, length = each.terminal_mm
    aside = 3.6 * each.body_mm / 11.2  # as the 12 mm kind has them
    spots = ((0.0, 0.0), (-aside, -1.5), (aside, -1.5))
    terminals = (blade(at, width_mm=wide, thickness_mm=0.6, top_mm=-depth, length_mm=length) for at in spots)
    return (case, back, *terminals)
