"""A close shot of one part or label: where it lies, and the view it is taken in."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from mockup.geometry.planar import box_on_face
from mockup.model.design import Design
from mockup.model.enclosure import FaceName, faces
from mockup.model.errors import nearest
from mockup.model.mesh import Floats
from mockup.model.scene import Point3, Scene, Shot
from mockup.options import bad_option
from mockup.picture.options import PictureRequest
from mockup.picture.studio import Studio, shot
from mockup.scene.cameras import frame
from mockup.scene.views import VIEWS, View

DETAIL: Final = View(
    name="detail",
    about="close to one part or label",
    direction=(-0.35, -0.85, 0.75),
    margin=0.22,
    fov_deg=16.0,
    aperture_mm=1.8,
)
SIZE: Final = (1600, 1200)  # in pixels, where none is asked for
_FROM: Final[dict[FaceName, Point3]] = {
    "far": (0.35, 0.85, 0.6),
    "left": (-0.85, -0.35, 0.6),
    "right": (0.85, 0.35, 0.6),
}
"""From where what is on a face that the usual camera does not see is looked at: our choice."""
_ROUND_MM: Final = 8.0  # of panel that is shown round it: our choice


def detail(room: Studio, name: str, request: PictureRequest) -> Shot:
    """Return the close shot of a part or a label, sharp in its middle; `InputError` for an unknown name."""
    points, face = _points(room.design, room.scene, name)
    size = request.size or SIZE
    view = replace(DETAIL, direction=_FROM[face], rig=VIEWS[face].rig) if face in _FROM else DETAIL
    camera = frame(view, points, size[0] / size[1], focus=points.mean(axis=0))
    return shot(view, camera, size, request)


def _points(design: Design, scene: Scene, name: str) -> tuple[Floats, FaceName]:
    """Return what a picture of a part or a label holds, and the face that it is on."""
    plain = name.strip().casefold()
    sides = faces(design.enclosure)
    for part in design.parts:
        if part.name.casefold() == plain:
            shown = [b.mesh.vertices for b in scene.bodies if b.part == part.name and b.group == "hardware"]
            face = sides[part.face]
            middle = np.array([part.u_mm, part.v_mm])
            around = [face.to_world(middle + _ROUND_MM * np.array(way)) for way in ((1, 0), (-1, 0), (0, 1), (0, -1))]
            return np.concatenate([*shown, np.array(around)]), part.face
    for label in design.labels:
        if label.text.casefold() == plain:
            size = (label.width_mm + _ROUND_MM, label.height_mm + _ROUND_MM)
            corners = box_on_face(size, (label.u_mm, label.v_mm), label.rotation_deg)
            return sides[label.face].to_world(np.asarray(corners)), label.face
    known = [*(part.name for part in design.parts), *(label.text for label in design.labels)]
    raise bad_option("detail", f"there is no part or label {name!r}", nearest(name, known))
