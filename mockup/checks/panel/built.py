"""A design as it is built: what checks ask of its geometry.

Solids inside are drawn with a chord error of `CHORD_MM`, so that a gap between two round ones comes out
at most twice that too large; what stands outside with `OUTSIDE_CHORD_MM`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from mockup import knobs
from mockup.checks.panel.knob_travel import swept
from mockup.enclosure import shell
from mockup.enclosure.bores import bores
from mockup.enclosure.lid import lid_solid, screw_places
from mockup.enclosure.skin import inner_skin
from mockup.geometry.solids import Solid, common, cut, solid, united
from mockup.geometry.tessellate import tessellate
from mockup.limits import Limits, limits
from mockup.memo import memoize
from mockup.model import shape
from mockup.model.bore import Bore
from mockup.model.design import Design, Placement
from mockup.model.enclosure import Enclosure, Face, FaceName, faces
from mockup.model.material import CAST_ALUMINIUM, SOLDER
from mockup.model.mesh import Floats, Mesh
from mockup.model.part import Kind, Knob, Shaft

CHORD_MM = 0.005
OUTSIDE_CHORD_MM = 0.02  # threads and knobs above the panel have many turns; limits there are coarser
TOGGLE = "toggle"  # the family of parts with a lever that leans both ways
OWN_PANEL_MM = 0.1  # a part touches the panel it hangs from; metal that rises less than this is that panel
FAR_MM = 1000.0  # beyond every box
_HALF_TURN: Floats = np.diag([-1.0, -1.0, 1.0, 1.0])  # about a part's axis


@dataclass(frozen=True, eq=False)
class Built:
    """A design with its geometry at hand: each piece is a pure function of box and part, and remembered as such."""

    design: Design
    limits: Limits = field(init=False)
    """Every limit, the layout's own in place; a search for a remedy reads them far too often to look them up."""

    def __post_init__(self) -> None:
        """Look the limits up once."""
        object.__setattr__(self, "limits", limits(self.design.limits))

    @property
    def faces(self) -> dict[FaceName, Face]:
        """The five face frames."""
        return _faces(self.design.enclosure)

    @property
    def bores(self) -> tuple[Bore, ...]:
        """Every hole."""
        return bores(self.design)

    @property
    def shell(self) -> shell.Shell:
        """The drilled box."""
        return shell.build(self.design.enclosure, self.bores)

    @property
    def posts(self) -> tuple[tuple[float, float], ...]:
        """The screw posts' axes (x, y) in the world."""
        return screw_places(self.design.enclosure)

    @property
    def bodies(self) -> dict[str, Solid]:
        """What each part has inside the box, terminals included, by the part's name."""
        return {part.name: self.body(part) for part in self.design.parts if part.kind.below}

    @property
    def hardware(self) -> dict[str, Solid]:
        """What each part has above the panel, its knob left out, by the part's name."""
        return {part.name: self.hardware_at(part) for part in self.design.parts if part.kind.above}

    @property
    def knobs(self) -> dict[str, Solid]:
        """The room that each knob takes at any turn, by its part's name."""
        return {part.name: self.knob_at(part) for part in self.design.parts if part.knob and part.kind.shaft}

    def body(self, part: Placement) -> Solid:
        """Return what a part, wherever it is placed, has inside the box."""
        return _inside(self.design.enclosure, part, "below")

    def terminals(self, part: Placement) -> Solid | None:
        """Return the terminals of a part: whatever of it is made of solder-plated metal."""
        if not any(each.material.name == SOLDER.name for each in part.kind.below):
            return None
        return _inside(self.design.enclosure, part, "terminals")

    def hardware_at(self, part: Placement) -> Solid:
        """Return what a part, wherever it is placed, has above the panel; a toggle's lever both ways."""
        return _hardware(self.design.enclosure, part)

    def knob_at(self, part: Placement) -> Solid:
        """Return the room that a part's knob takes at any turn, wherever the part is placed."""
        return _knob(self.design.enclosure, part)

    def in_place(self, part: Placement, solids: Sequence[shape.Solid], out_mm: float = 0.0) -> Solid:
        """Return solids of a part's frame as one, where the part is; `out_mm` lifts them off the panel."""
        return _placed(self.design.enclosure, part, _one(tuple(solids)), -out_mm)

    @property
    def walls(self) -> dict[str, Solid]:
        """What stands in the way inside the box, by name: walls, top, screw posts, lid."""
        return self.walls_but(None)

    def walls_but(self, panel: FaceName | None) -> dict[str, Solid]:
        """Return what stands in the way inside the box, leaving out the panel that a part hangs from."""
        return _walls_but(self.design.enclosure, panel)

    def part(self, name: str) -> Placement:
        """Return a part by name; `KeyError` if there is none."""
        for each in self.design.parts:
            if each.name == name:
                return each
        raise KeyError(name)


def swept_knob(part: Placement) -> shape.Turned:
    """Return the room that a part's knob takes at any turn, in the part's frame; `KeyError` without one."""
    if part.knob is None or part.kind.shaft is None:
        raise KeyError(part.name)
    return swept(knobs.solids(part.knob, part.kind.shaft))


_faces = memoize(faces)


@memoize
def _inside(box: Enclosure, part: Placement, group: str) -> Solid:
    wall = box.top_mm if part.face == "top" else box.wall_mm
    return _placed(box, part, _mesh(part.kind, group), wall + part.depth_mm)


@memoize
def _hardware(box: Enclosure, part: Placement) -> Solid:
    return _standing(box, part, _above(part.name, part.kind))


@memoize
def _above(name: str, kind: Kind) -> Solid:
    upright = _at_origin(name, _mesh(kind, "above"))
    return united([upright, upright.moved(_HALF_TURN)]) if kind.family == TOGGLE else upright


@memoize
def _knob(box: Enclosure, part: Placement) -> Solid:
    assert part.knob is not None
    assert part.kind.shaft is not None
    return _placed(box, part, _swept_mesh(part.knob, part.kind.shaft))


@memoize
def _swept_mesh(knob: Knob, shaft: Shaft) -> Mesh:
    return tessellate(swept(knobs.solids(knob, shaft)), OUTSIDE_CHORD_MM)


def _placed(box: Enclosure, part: Placement, mesh: Mesh, behind_mm: float = 0.0) -> Solid:
    return _standing(box, part, _at_origin(part.name, mesh), behind_mm)


def _standing(box: Enclosure, part: Placement, made: Solid, behind_mm: float = 0.0) -> Solid:
    pose = _faces(box)[part.face].pose(part.u_mm, part.v_mm, part.rotation_deg, out_mm=-behind_mm)
    return made.moved(pose)


@memoize
def _at_origin(name: str, mesh: Mesh) -> Solid:
    return solid({name: mesh})


@memoize
def _mesh(kind: Kind, group: str) -> Mesh:
    """Return one group of a kind's solids as one closed mesh in the part frame."""
    solids = kind.above if group == "above" else kind.below
    if group == "terminals":
        solids = tuple(each for each in solids if each.material.name == SOLDER.name)
    return _one(solids, OUTSIDE_CHORD_MM if group == "above" else CHORD_MM)


@memoize
def _one(solids: tuple[shape.Solid, ...], chord_mm: float = CHORD_MM) -> Mesh:
    meshes = [tessellate(each, chord_mm) for each in solids]
    return united([solid({str(index): mesh}) for index, mesh in enumerate(meshes)]).welded()


@memoize
def _walls_but(box: Enclosure, panel: FaceName | None) -> dict[str, Solid]:
    return {name: left for name, each in _walls(box).items() if not (left := _without(box, each, panel)).is_empty}


@memoize
def _walls(box: Enclosure) -> dict[str, Solid]:
    inner = inner_skin(box)
    rods = [_rod(at, box.post_mm, box.lid_mm, box.height_mm - box.top_mm) for at in screw_places(box)]
    metal = cut(shell.undrilled_body(box, CHORD_MM), rods)
    a, b = inner.core  # beyond these the corners begin, which belong to both their walls
    flat_x, flat_y = inner.width_mm / 2 - inner.top_inset_mm, inner.length_mm / 2 - inner.top_inset_mm
    below = (-FAR_MM, inner.high_mm)  # the rounding under the ceiling goes with the walls
    blocks = {
        "the left wall": _block((-FAR_MM, -a), (-FAR_MM, FAR_MM), below),
        "the right wall": _block((a, FAR_MM), (-FAR_MM, FAR_MM), below),
        "the near wall": _block((-FAR_MM, FAR_MM), (-FAR_MM, -b), below),
        "the far wall": _block((-FAR_MM, FAR_MM), (b, FAR_MM), below),
        "the top": _block((-flat_x, flat_x), (-flat_y, flat_y), (inner.high_mm, FAR_MM)),
    }
    found = {name: common(metal, block) for name, block in blocks.items()}
    return {**found, "a screw post": united(rods), "the lid": lid_solid(box, CHORD_MM)}


def _without(box: Enclosure, metal: Solid, panel: FaceName | None) -> Solid:
    if panel is None:
        return metal
    thick = box.top_mm if panel == "top" else box.wall_mm
    pose = _faces(box)[panel].pose(0.0, 0.0)
    return cut(metal, [_block((-FAR_MM, FAR_MM), (-FAR_MM, FAR_MM), (-thick - OWN_PANEL_MM, FAR_MM), pose)])


def _rod(at: tuple[float, float], diameter_mm: float, low_mm: float, high_mm: float) -> Solid:
    outline = shape.Outline(kind="circle", width_mm=diameter_mm)
    return solid(
        {
            "rod": tessellate(
                shape.Extruded(outline=outline, bottom_mm=low_mm, top_mm=high_mm, at=at, material=CAST_ALUMINIUM),
                CHORD_MM,
            )
        }
    )


def _block(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float], pose: Floats | None = None) -> Solid:
    prism = shape.Extruded(
        outline=shape.Outline(kind="rectangle", width_mm=x[1] - x[0], height_mm=y[1] - y[0]),
        bottom_mm=z[0],
        top_mm=z[1],
        at=((x[0] + x[1]) / 2, (y[0] + y[1]) / 2),
        material=CAST_ALUMINIUM,
    )
    return solid({"block": tessellate(prism).moved(np.eye(4) if pose is None else pose)})
