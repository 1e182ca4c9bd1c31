"""Parts and boxes as exact solids, to measure what the clearances say: made with the solid library, piece by piece."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from solid_gaps import gap, overlap_volume

from mockup.clearance.placed import TOGGLE, swept_knob
from mockup.clearance.walls import OWN_PANEL_MM
from mockup.enclosure import shell
from mockup.enclosure.lid import lid_solid, screw_places
from mockup.enclosure.skin import inner_skin
from mockup.geometry.solids import Solid, common, cut, solid, united
from mockup.geometry.tessellate import tessellate
from mockup.model import shape
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, FaceName, faces
from mockup.model.material import CAST_ALUMINIUM
from mockup.model.mesh import Floats

CHORD_MM = 0.005
FAR_MM = 1000.0  # beyond every box
TOUCH_MM3 = 1e-3  # shared volume below this is rounding


def placed(box: Enclosure, part: Placement, solids: Sequence[shape.Solid], out_mm: float = 0.0) -> Solid:
    """Return solids of a part's frame as one, where the part is."""
    pose = faces(box)[part.face].pose(part.u_mm, part.v_mm, part.rotation_deg, out_mm=out_mm)
    meshes = [tessellate(each, CHORD_MM).moved(pose) for each in solids]
    return united([solid({str(index): mesh}) for index, mesh in enumerate(meshes)])


def body(box: Enclosure, part: Placement) -> Solid:
    wall = box.top_mm if part.face == "top" else box.wall_mm
    return placed(box, part, part.kind.below, -wall - part.depth_mm)


def hardware(box: Enclosure, part: Placement) -> Solid:
    ways = (0.0, 180.0) if part.kind.family == TOGGLE else (0.0,)
    turned = [replace(part, rotation_deg=part.rotation_deg + way) for way in ways]
    return united([placed(box, each, each.kind.used or each.kind.above) for each in turned])


def knob(box: Enclosure, part: Placement) -> Solid:
    travel = swept_knob(part)
    assert travel is not None
    return placed(box, part, (travel,))


def room(first: Solid, second: Solid, within_mm: float) -> float:
    """Return the gap between two solids, at most `within_mm`, or -1 where they overlap."""
    return -1.0 if overlap_volume(first, second) > TOUCH_MM3 else gap(first, second, within_mm)


def walls(box: Enclosure, panel: FaceName | None) -> dict[str, Solid]:
    """Return what stands in the way inside a box, by name, without the panel that a part hangs from."""
    inner = inner_skin(box)
    rods = [_post(box, at) for at in screw_places(box)]
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
    found |= {"a screw post": united(rods), "the lid": lid_solid(box, CHORD_MM)}
    left = {name: _without(box, each, panel) for name, each in found.items()}
    return {name: each for name, each in left.items() if not each.is_empty}


def _without(box: Enclosure, metal: Solid, panel: FaceName | None) -> Solid:
    if panel is None:
        return metal
    thick = box.top_mm if panel == "top" else box.wall_mm
    pose = faces(box)[panel].pose(0.0, 0.0)
    return cut(metal, [_block((-FAR_MM, FAR_MM), (-FAR_MM, FAR_MM), (-thick - OWN_PANEL_MM, FAR_MM), pose)])


def _post(box: Enclosure, at: tuple[float, float]) -> Solid:
    ceiling = box.height_mm - box.top_mm
    profile = ((0.0, box.lid_mm), (box.post_mm / 2, box.lid_mm), (box.post_top_mm / 2, ceiling), (0.0, ceiling))
    post = shape.Turned(profile=profile, at=at, material=CAST_ALUMINIUM)
    return solid({"post": tessellate(post, CHORD_MM)})


def _block(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float], pose: Floats | None = None) -> Solid:
    prism = shape.Extruded(
        outline=shape.Outline(kind="rectangle", width_mm=x[1] - x[0], height_mm=y[1] - y[0]),
        bottom_mm=z[0],
        top_mm=z[1],
        at=((x[0] + x[1]) / 2, (y[0] + y[1]) / 2),
        material=CAST_ALUMINIUM,
    )
    return solid({"block": tessellate(prism).moved(np.eye(4) if pose is None else pose)})
