"""A design built once for all checks: what is costly is made when first asked for, and kept.

Solids inside are drawn with a chord error of `CHORD_MM`, so that a gap between two round ones comes out
at most twice that too large; what stands outside with `OUTSIDE_CHORD_MM`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from mockup import knobs
from mockup.checks.panel.knob_travel import swept
from mockup.enclosure import shell
from mockup.enclosure.drilling import bores
from mockup.enclosure.lid import lid_solid, screw_places
from mockup.enclosure.skin import inner_skin
from mockup.geometry.solids import Solid, common, cut, solid, united
from mockup.geometry.tessellate import tessellate
from mockup.model import shape
from mockup.model.bore import Bore
from mockup.model.design import Design, Placement
from mockup.model.enclosure import Face, FaceName, faces
from mockup.model.material import CAST_ALUMINIUM, SOLDER
from mockup.model.mesh import Floats, Mesh
from mockup.model.part import Kind, Knob, Shaft

CHORD_MM = 0.005
OUTSIDE_CHORD_MM = 0.02  # threads and knobs above the panel have many turns; limits there are coarser
TOGGLE = "toggle"  # the family of parts with a lever that leans both ways
OWN_PANEL_MM = 0.1  # a part touches the panel it hangs from; metal that rises less than this is that panel
FAR_MM = 1000.0  # beyond every box


@dataclass(frozen=True, eq=False)
class Built:
    """A design with its geometry at hand. Not slotted, so that parts of it can be made lazily."""

    design: Design

    def of(self, design: Design) -> Built:
        """Return another design, of the same box and the very same parts, with all that was made so far at hand.

        Nothing here depends on more of a design than that.
        """
        made = Built(design)
        made.__dict__.update({name: value for name, value in self.__dict__.items() if name != "design"})
        return made

    @cached_property
    def faces(self) -> dict[FaceName, Face]:
        """The five face frames."""
        return faces(self.design.enclosure)

    @cached_property
    def bores(self) -> tuple[Bore, ...]:
        """Every hole, named PART/purpose."""
        return bores(self.design)

    def bores_of(self, *parts: Placement) -> tuple[Bore, ...]:
        """Return the holes of some parts, wherever they are placed."""
        for part in parts:
            if part not in self._bores_of:
                self._bores_of[part] = bores(replace(self.design, parts=(part,)))
        return tuple(bore for part in parts for bore in self._bores_of[part])

    @cached_property
    def _bores_of(self) -> dict[Placement, tuple[Bore, ...]]:
        return {}

    @cached_property
    def shell(self) -> shell.Shell:
        """The drilled box."""
        return shell.build(self.design.enclosure, self.bores)

    @cached_property
    def posts(self) -> tuple[tuple[float, float], ...]:
        """The screw posts' axes (x, y) in the world."""
        return screw_places(self.design.enclosure)

    @cached_property
    def bodies(self) -> dict[str, Solid]:
        """What each part has inside the box, terminals included, by the part's name."""
        return {part.name: self.body(part) for part in self.design.parts if part.kind.below}

    @cached_property
    def hardware(self) -> dict[str, Solid]:
        """What each part has above the panel, its knob left out, by the part's name."""
        return {part.name: self.hardware_at(part) for part in self.design.parts if part.kind.above}

    def hardware_at(self, part: Placement) -> Solid:
        """Return what a part, wherever it is placed, has above the panel; a toggle's lever both ways."""
        shown = self._placed(part, self._mesh(part.kind, "above"), 0.0)
        if part.kind.family != TOGGLE:
            return shown
        return united(
            [
                shown,
                self._placed(
                    replace(part, rotation_deg=part.rotation_deg + 180.0), self._mesh(part.kind, "above"), 0.0
                ),
            ]
        )

    @cached_property
    def knobs(self) -> dict[str, Solid]:
        """The room that each knob takes at any turn, by its part's name."""
        return {part.name: self.knob_at(part) for part in self.design.parts if part.knob and part.kind.shaft}

    def knob_at(self, part: Placement) -> Solid:
        """Return the room that a part's knob takes at any turn, wherever the part is placed."""
        return self._placed(part, tessellate(self.swept_knob(part), OUTSIDE_CHORD_MM), 0.0)

    def swept_knob(self, part: Placement) -> shape.Turned:
        """Return the room that a part's knob takes at any turn, in the part's frame; `KeyError` without one."""
        if part.knob is None or part.kind.shaft is None:
            raise KeyError(part.name)
        key = (part.knob, part.kind.shaft)
        if key not in self._swept:
            self._swept[key] = swept(knobs.solids(*key))
        return self._swept[key]

    @cached_property
    def _swept(self) -> dict[tuple[Knob, Shaft], shape.Turned]:
        return {}

    def body(self, part: Placement) -> Solid:
        """Return what a part, wherever it is placed, has inside the box."""
        return self._placed(part, self._mesh(part.kind, "below"), self._behind_mm(part))

    def terminals(self, part: Placement) -> Solid | None:
        """Return the terminals of a part: whatever of it is made of solder-plated metal."""
        if not any(each.material.name == SOLDER.name for each in part.kind.below):
            return None
        return self._placed(part, self._mesh(part.kind, "terminals"), self._behind_mm(part))

    def in_place(self, part: Placement, solids: Sequence[shape.Solid], out_mm: float = 0.0) -> Solid:
        """Return solids of a part's frame as one, where the part is; `out_mm` lifts them off the panel."""
        return self._placed(part, _one(solids), -out_mm)

    @cached_property
    def walls(self) -> dict[str, Solid]:
        """What stands in the way inside the box, by name: walls, top, screw posts, lid."""
        return self.walls_but(None)

    def walls_but(self, panel: FaceName | None) -> dict[str, Solid]:
        """Return what stands in the way inside the box, leaving out the panel that a part hangs from."""
        if panel not in self._walls:
            self._walls[panel] = {
                name: left
                for name, each in self._all_walls.items()
                if not (left := self._without(each, panel)).is_empty
            }
        return self._walls[panel]

    @cached_property
    def _walls(self) -> dict[FaceName | None, dict[str, Solid]]:
        return {}

    @cached_property
    def _all_walls(self) -> dict[str, Solid]:
        box = self.design.enclosure
        inner = inner_skin(box)
        rods = [_rod(at, box.post_mm, box.lid_mm, box.height_mm - box.top_mm) for at in self.posts]
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

    def _without(self, metal: Solid, panel: FaceName | None) -> Solid:
        if panel is None:
            return metal
        face = self.faces[panel]
        thick = self.design.enclosure.top_mm if panel == "top" else self.design.enclosure.wall_mm
        slab = _block((-FAR_MM, FAR_MM), (-FAR_MM, FAR_MM), (-thick - OWN_PANEL_MM, FAR_MM), face.pose(0.0, 0.0))
        return cut(metal, [slab])

    def part(self, name: str) -> Placement:
        """Return a part by name; `KeyError` if there is none."""
        for each in self.design.parts:
            if each.name == name:
                return each
        raise KeyError(name)

    @cached_property
    def _meshes(self) -> dict[tuple[Kind, str], Mesh]:
        return {}

    def _mesh(self, kind: Kind, group: str) -> Mesh:
        """Return one group of a kind's solids as one closed mesh in the part frame; made once per kind."""
        if (kind, group) not in self._meshes:
            solids = kind.above if group == "above" else kind.below
            if group == "terminals":
                solids = tuple(each for each in solids if each.material.name == SOLDER.name)
            self._meshes[kind, group] = _one(solids, OUTSIDE_CHORD_MM if group == "above" else CHORD_MM)
        return self._meshes[kind, group]

    def _behind_mm(self, part: Placement) -> float:
        box = self.design.enclosure
        return (box.top_mm if part.face == "top" else box.wall_mm) + part.depth_mm

    def _placed(self, part: Placement, mesh: Mesh, behind_mm: float) -> Solid:
        pose = self.faces[part.face].pose(part.u_mm, part.v_mm, part.rotation_deg, out_mm=-behind_mm)
        return solid({part.name: mesh.moved(pose)})


def _one(solids: Sequence[shape.Solid], chord_mm: float = CHORD_MM) -> Mesh:
    meshes = [tessellate(each, chord_mm) for each in solids]
    return united([solid({str(index): mesh}) for index, mesh in enumerate(meshes)]).welded()


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
