"""The named views: from where a pedal is looked at, as plain data that costs nothing to list."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from mockup.model.scene import Group, Point3, Rig

if TYPE_CHECKING:
    from mockup.model.enclosure import FaceName


@dataclass(frozen=True, kw_only=True)
class View:
    """One named view. `direction` points from the pedal to the camera.

    `is_true_size` views are orthographic: every millimetre of the face they look at is equally long
    in the picture. `is_flipped` shows the pedal lying on its knobs. `hidden` groups are left out. `rig` says where the
    lamps stand for it. `fov_deg` is the vertical angle of view, `aperture_mm` the radius of the lens (0: all is sharp).
    """

    name: str
    about: str
    direction: Point3
    up: Point3 = (0.0, 0.0, 1.0)
    is_true_size: bool = False
    is_flipped: bool = False
    is_player: bool = False
    hidden: frozenset[Group] = frozenset()
    margin: float = 0.08
    rig: Rig = "three-quarter"
    fov_deg: float = 20.0
    aperture_mm: float = 0.0


_AWAY = (0.0, 1.0, 0.0)
VIEWS: dict[str, View] = {
    view.name: view
    for view in (
        View(
            name="above",
            about="straight down, true to size",
            direction=(0, 0, 1),
            up=_AWAY,
            is_true_size=True,
            rig="above",
        ),
        View(name="three-quarter", about="from the front left, as in a shop window", direction=(-0.52, -0.92, 0.88)),
        View(
            name="hero",
            about="low, before a graded wall, through a portrait lens",
            direction=(-0.5, -1.0, 0.62),
            margin=0.13,
            rig="hero",
            fov_deg=16.0,
            aperture_mm=3.6,  # 100 mm at f/14: common practice for a product of this size, no source
        ),
        View(
            name="player",
            about="down from a standing player's eye",
            direction=(0, -0.4, 1),
            up=_AWAY,
            is_player=True,
            rig="above",
        ),
        View(
            name="near",
            about="the side towards the player, true to size",
            direction=(0, -1, 0),
            is_true_size=True,
            rig="near",
        ),
        View(
            name="far",
            about="the side away from the player, true to size",
            direction=(0, 1, 0),
            is_true_size=True,
            rig="far",
        ),
        View(name="left", about="the left side, true to size", direction=(-1, 0, 0), is_true_size=True, rig="left"),
        View(name="right", about="the right side, true to size", direction=(1, 0, 0), is_true_size=True, rig="right"),
        View(
            name="underside",
            about="turned over, lid on",
            direction=(0.25, -0.75, 1.2),
            rig="underside",
            is_flipped=True,
        ),
        View(
            name="inside",
            about="turned over, lid off",
            direction=(0.12, -0.42, 1.2),
            rig="above",
            is_flipped=True,
            hidden=frozenset({"lid"}),
        ),
    )
}

STRAIGHT_AT: dict[FaceName, str] = {
    "top": "above",
    "near": "near",
    "far": "far",
    "left": "left",
    "right": "right",
    "lid": "underside",
}
"""The named view that looks straight at each face, at the lid aslant."""
