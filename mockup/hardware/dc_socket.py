"""DC sockets: a plastic collar for a 5.5 mm plug round a 2.1 mm pin.

The pin is negative by habit in effects pedals, positive in most other gear (common practice, no
source): print the polarity beside it.
"""

from __future__ import annotations

from mockup.hardware._fixings import M12, blade, nut
from mockup.model.material import BLACK_PLASTIC, NICKEL, THROAT
from mockup.model.part import PRACTICE, Kind
from mockup.model.shape import Solid, Turned, rod

PLUG_MM = 5.5  # outer diameter of the plug: liquisearch.com/dc_connector; IEC 60130-10 from memory
PIN_MM = 2.1  # centre pin: as PLUG_MM
REACH_MM = 9.5  # length of the plug: as PLUG_MM
CLEARANCE_MM = 0.3  # of the mouth round the plug: common practice, no source
COLLAR_MM = (15.0, 2.4)  # diameter, height: common practice, no source
BODY_MM = 11.2  # diameter behind the nut: common practice, no source
DEPTH_MM = 12.0  # without terminals: common practice, no source
TERMINAL_MM = (2.2, 5.0)  # width, length: common practice, no source

_PLUG_SOURCE = "5.5 mm plug, 2.1 mm pin, 9.5 mm long: liquisearch.com/dc_connector; IEC 60130-10 type A, from memory"


def kinds() -> tuple[Kind, ...]:
    """Return the DC socket; its nut is inside the box."""
    return (
        Kind(
            name="dc-socket",
            family="dc-socket",
            about="DC socket for a 5.5 mm plug with 2.1 mm pin, M12 thread, nut inside",
            cutouts=(M12.cutout,),
            above=_collar(),
            below=_body(),
            thread=M12.thread,
            sources={
                **M12.sources,
                "collar": PRACTICE,
                "throat": _PLUG_SOURCE,
                "body": PRACTICE,
                "terminals": PRACTICE,
            },
        ),
    )


def _collar() -> tuple[Solid, ...]:
    outer, height = COLLAR_MM[0] / 2, COLLAR_MM[1]
    mouth = (PLUG_MM + CLEARANCE_MM) / 2
    floor = height - REACH_MM
    collar = Turned(
        profile=(
            (mouth, -1.5),
            (M12.thread.major_mm / 2 - 0.2, -1.5),
            (M12.thread.major_mm / 2 - 0.2, 0.0),
            (outer, 0.0),
            (outer, height - 1.0),
            (outer - 0.08, height - 0.62),
            (outer - 0.29, height - 0.29),
            (outer - 0.62, height - 0.08),
            (outer - 1.0, height),
            (mouth + 0.7, height),
            (mouth, height - 0.7),
        ),
        material=BLACK_PLASTIC,
    )
    throat = Turned(  # a cup: seen from the mouth it is a dark hole of the plug's own depth
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
    pin = PIN_MM / 2
    top = height - 1.2
    contact = Turned(
        profile=((0.0, floor), (pin, floor), (pin, top - 0.5), (pin - 0.14, top - 0.16), (pin - 0.5, top), (0.0, top)),
        material=NICKEL,
    )
    return collar, throat, contact


def _body() -> tuple[Solid, ...]:
    bore = (PLUG_MM + CLEARANCE_MM) / 2 + 0.3  # clear of the throat's cup
    radius = BODY_MM / 2
    case = rod(radius, (-DEPTH_MM + 1.0, 0.0), BLACK_PLASTIC, bore_radius_mm=bore)
    back = rod(radius, (-DEPTH_MM, -DEPTH_MM + 1.0), BLACK_PLASTIC)
    wide, length = TERMINAL_MM
    spots = ((0.0, 0.0), (-3.6, -1.5), (3.6, -1.5))
    terminals = (blade(at, width_mm=wide, thickness_mm=0.6, top_mm=-DEPTH_MM, length_mm=length) for at in spots)
    return (nut(M12.flats_mm, M12.thread.major_mm - 0.5, -2.5, 2.5, NICKEL), case, back, *terminals)
