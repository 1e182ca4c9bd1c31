"""The design: one pedal, decided. Immutable, millimetres, absolute, valid.

Everything that is made of a layout (pictures, findings, pages) is made from a `Design`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from mockup.model.acceptance import Acceptance
from mockup.model.enclosure import Enclosure, FaceName
from mockup.model.finish import Decal, Finish
from mockup.model.label import Label, LostInk
from mockup.model.making import Making
from mockup.model.part import Kind, Knob, Lamp
from mockup.model.printer import Rule
from mockup.model.units import Unit


@dataclass(frozen=True, kw_only=True, eq=False)
class Placement:
    """One part in its place: its axis meets `face` at (`u_mm`, `v_mm`) in face coordinates.

    `rotation_deg` turns it clockwise as seen from outside. For a part mounted inside, `depth_mm` is
    the distance from the panel's inner surface down to the top of the part.
    """

    name: str
    kind: Kind
    face: FaceName
    u_mm: float
    v_mm: float
    rotation_deg: float = 0.0
    knob: Knob | None = None
    lamp: Lamp | None = None
    depth_mm: float = 0.0


@dataclass(frozen=True, kw_only=True, eq=False)
class Design:
    """A whole pedal. `source` is the layout file's name, `variant` the variant's, if any.

    `labels` lists the lettering that is known of, whether the art holds it or the tool has drawn it
    into the decals already; `lost` is what the tool draws past the flat of a face. `limits` are the layout's own
    values for limits of the checks, by name;
    `accepted` the findings that it accepts.
    `drills_mm` are the diameters of the builder's own drills, none where the layout does not say.
    `making` is what the builder wrote down, and where pictures and fonts come from.
    `rule` says how true to size the chosen printer prints, where that was measured.
    """

    name: str
    source: str
    enclosure: Enclosure
    finish: Finish
    decals: tuple[Decal, ...] = ()
    parts: tuple[Placement, ...] = ()
    labels: tuple[Label, ...] = ()
    lost: tuple[LostInk, ...] = ()
    limits: Mapping[str, float] = field(default_factory=dict)
    accepted: tuple[Acceptance, ...] = ()
    drills_mm: tuple[float, ...] = ()
    making: Making = field(default_factory=Making)
    variant: str | None = None
    units: Unit = "mm"
    rule: Rule | None = None
