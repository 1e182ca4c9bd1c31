"""The die-cast box as numbers, its five drillable faces, and the outside of its lid.

World frame: x right, y away from the player, z up; the origin lies under the middle of the box,
on the underside of the lid. See DEVELOPERS.md for the drawing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from mockup.model.mesh import Floats

FaceName = Literal["top", "near", "far", "left", "right", "lid"]
FACES: tuple[FaceName, ...] = ("top", "near", "far", "left", "right")
"""What is drilled: parts stand there."""
DECAL_FACES: tuple[FaceName, ...] = (*FACES, "lid")
"""What film lies on: the lid is seen from below, the pedal turned over sideways."""
FACE_WORDS: dict[FaceName, str] = {name: name if name in ("top", "lid") else f"{name} side" for name in DECAL_FACES}
FOOT_MM = 10.0  # diameter of a rubber foot: from memory
_LID_EDGE_MM = 1.0  # of the lid that film keeps off its edge: our choice


@dataclass(frozen=True, kw_only=True)
class Enclosure:
    """A hollow drafted box, open below, closed by a flat lid with four screws.

    `width_mm` (left to right) and `length_mm` (far to near) are outer sizes at the open rim, where
    the draft makes the box largest; `height_mm` is overall, lid included. `wall_mm` is the side
    wall and `top_mm` the thickness of the drilled top; `draft_deg` leans every wall inward;
    `corner_mm` is the outer radius of the vertical corners at the rim; `edge_mm` rounds the top
    edge; `post_mm` is the diameter of the four posts that the lid's screws go into, at the rim: they
    widen upward by the draft; `screw_mm` is the screws' nominal size.

    `seam_mm` is the height of the line between body and lid. `lip_mm` is the height of the four bars
    on the lid that key into the hollow, one along each wall, and `lip_wall_mm` how thick they are.
    `feet_mm` is the height of the rubber feet under the lid. 0 means none of seam, lip or feet.
    """

    width_mm: float
    length_mm: float
    height_mm: float
    wall_mm: float = 2.0
    top_mm: float = 2.0
    draft_deg: float = 1.0
    corner_mm: float = 5.0
    edge_mm: float = 1.5
    lid_mm: float = 1.8
    post_mm: float = 7.0
    screw_mm: float = 3.0
    seam_mm: float = 0.3
    lip_mm: float = 1.5
    lip_wall_mm: float = 1.5
    feet_mm: float = 0.0

    @property
    def body_mm(self) -> float:
        """Height of the body without the lid."""
        return self.height_mm - self.lid_mm

    def inset_mm(self, z_mm: float) -> float:
        """How far the drafted outer wall has moved inward at height z above the ground."""
        return max(0.0, z_mm - self.lid_mm) * math.tan(math.radians(self.draft_deg))

    @property
    def post_top_mm(self) -> float:
        """Diameter of a screw post at the ceiling, where it is thickest."""
        return self.post_mm + 2.0 * self.inset_mm(self.height_mm - self.top_mm)

    @property
    def flat_inset_mm(self) -> float:
        """From the sharp top edge (wall plane meets top plane) to where the top is flat.

        Tangent length of the edge rounding: R tan((90 - draft) / 2).
        """
        return self.edge_mm * math.tan(math.radians((90.0 - self.draft_deg) / 2.0))


@dataclass(frozen=True, kw_only=True, eq=False)
class Face:
    """One outside face as a ruler sees it, looking straight at it.

    Face coordinates (u right, v down) start at the top-left corner of the face's sharp outline,
    where its plane meets the planes of its neighbours. `origin` (3,) is that corner in the world;
    `right`, `down` and `out` are unit vectors, and right x down = -out. A drafted side face is a
    trapezoid: its top edge is `width_mm` long and each end moves outward by `taper` millimetres per
    millimetre of v. `height_mm` is along the face. `flat` (left, top, right, bottom) bounds the
    part of it that is flat, in (u, v).
    """

    name: FaceName
    origin: Floats
    right: Floats
    down: Floats
    out: Floats
    width_mm: float
    height_mm: float
    taper: float
    flat: tuple[float, float, float, float]

    def left_edge(self, v_mm: float) -> float:
        """Return u of the face's left edge at v."""
        return -self.taper * v_mm

    def right_edge(self, v_mm: float) -> float:
        """Return u of the face's right edge at v."""
        return self.width_mm + self.taper * v_mm

    def holds(self, u_mm: float, v_mm: float) -> bool:
        """Return whether a point lies on the face."""
        return 0 <= v_mm <= self.height_mm and self.left_edge(v_mm) <= u_mm <= self.right_edge(v_mm)

    def to_world(self, uv: Floats, out_mm: float = 0.0) -> Floats:
        """Map (..., 2) face coordinates to (..., 3) world points `out_mm` above the face."""
        uv = np.asarray(uv, dtype=np.float64)
        return self.origin + uv[..., :1] * self.right + uv[..., 1:] * self.down + out_mm * self.out

    def from_world(self, points: Floats) -> Floats:
        """Map (..., 3) world points to (..., 3) face coordinates (u, v, height above the face)."""
        relative = np.asarray(points, dtype=np.float64) - self.origin
        return relative @ np.stack([self.right, self.down, self.out], axis=-1)

    def pose(self, u_mm: float, v_mm: float, rotation_deg: float = 0.0, out_mm: float = 0.0) -> Floats:
        """Return the (4, 4) pose of a part frame (x right, y up, z out) at a point of the face.

        `rotation_deg` turns the part clockwise as seen from outside.
        """
        angle = math.radians(rotation_deg)
        up = -self.down
        pose = np.eye(4)
        pose[:3, 0] = math.cos(angle) * self.right - math.sin(angle) * up
        pose[:3, 1] = math.sin(angle) * self.right + math.cos(angle) * up
        pose[:3, 2] = self.out
        pose[:3, 3] = self.to_world(np.array([u_mm, v_mm]), out_mm)
        return pose


def faces(box: Enclosure) -> dict[FaceName, Face]:
    """Return the box's faces, the lid's outside last. The rim of the body is the side faces' lower edge.

    The flat of the lid is what lies between its screws, and its feet where it has any, along its longer side.
    """
    draft = math.radians(box.draft_deg)
    inset = box.inset_mm(box.height_mm)
    half_w, half_l = box.width_mm / 2 - inset, box.length_mm / 2 - inset
    top, flat = box.height_mm, box.flat_inset_mm
    result: dict[FaceName, Face] = {
        "top": Face(
            name="top",
            origin=np.array([-half_w, half_l, top]),
            right=np.array([1.0, 0.0, 0.0]),
            down=np.array([0.0, -1.0, 0.0]),
            out=np.array([0.0, 0.0, 1.0]),
            width_mm=2 * half_w,
            height_mm=2 * half_l,
            taper=0.0,
            flat=(flat, flat, 2 * half_w - flat, 2 * half_l - flat),
        )
    }
    slant = box.body_mm / math.cos(draft)
    outward: tuple[tuple[FaceName, tuple[float, float], float, float], ...] = (
        ("near", (0.0, -1.0), half_l, half_w),
        ("far", (0.0, 1.0), half_l, half_w),
        ("left", (-1.0, 0.0), half_w, half_l),
        ("right", (1.0, 0.0), half_w, half_l),
    )
    for name, (x, y), distance, half in outward:
        right = np.array([-y, x, 0.0])
        down = np.array([x * math.sin(draft), y * math.sin(draft), -math.cos(draft)])
        corner = box.corner_mm - inset  # vertical corner radius where the wall meets the top
        result[name] = Face(
            name=name,
            origin=np.array([x * distance, y * distance, top]) - half * right,
            right=right,
            down=down,
            out=np.array([x * math.cos(draft), y * math.cos(draft), math.sin(draft)]),
            width_mm=2 * half,
            height_mm=slant,
            taper=math.sin(draft),
            flat=(corner, flat, 2 * half - corner, slant),
        )
    result["lid"] = _lid(box)
    return result


def _lid(box: Enclosure) -> Face:
    """Return the lid as it is seen when the pedal is turned over sideways: its far end stays on top."""
    wide, long, edge = box.width_mm, box.length_mm, _LID_EDGE_MM
    screws = min(box.post_mm + box.wall_mm + (FOOT_MM if box.feet_mm > 0 else 0.0), max(wide, long) / 3)
    across, along = (edge, screws) if long >= wide else (screws, edge)
    return Face(
        name="lid",
        origin=np.array([wide / 2, long / 2, 0.0]),
        right=np.array([-1.0, 0.0, 0.0]),
        down=np.array([0.0, -1.0, 0.0]),
        out=np.array([0.0, 0.0, -1.0]),
        width_mm=wide,
        height_mm=long,
        taper=0.0,
        flat=(across, along, wide - across, long - along),
    )
