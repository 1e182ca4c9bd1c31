"""The scene: what an engine renders, in no engine's terms.

World frame in millimetres: x right, y away, z up; colours linear sRGB.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, get_args

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mockup.model.material import Colour, Material
    from mockup.model.mesh import Mesh

Point3 = tuple[float, float, float]
Group = Literal["box", "lid", "hardware", "inside"]
Rig = Literal["above", "three-quarter", "near", "far", "left", "right", "underside", "hero"]
"""From where a set of lamps serves: the light of a product photograph depends on what is seen."""
Surface = Literal["mirror", "flake", "dented", "dull", "metal"]
"""What lamps must suit: paint that mirrors clearly, the same with metal flakes in it or in dents, any other paint,
bare metal."""
Look = Literal["photo", "proof"]
Quality = Literal["draft", "normal", "final"]
LOOKS: tuple[Look, ...] = get_args(Look)
Stage = Literal["finished", "drilled", "silvered", "plugged"]
STAGES: tuple[Stage, ...] = get_args(Stage)
LEFT_OUT: dict[Stage, frozenset[Group]] = {
    "finished": frozenset(),
    "drilled": frozenset({"hardware", "inside"}),
    "silvered": frozenset(),
    "plugged": frozenset(),
}
"""What a pedal does not have yet at each stage of the work."""
DAYLIGHT = "daylight"  # the light of a room that paint and ink are given for (D65)
ROOMS = (DAYLIGHT, "warm-led", "tungsten")
"""The lights of rooms that colours can be shown in."""
QUALITIES: tuple[Quality, ...] = get_args(Quality)


@dataclass(frozen=True, kw_only=True, eq=False)
class Body:
    """One surface of one material. `part` names the part it belongs to, if any.

    `spindle` is the axis that the marks of a turned material run round: a point on it (mm) and its unit direction.
    """

    name: str
    mesh: Mesh
    material: Material
    group: Group
    part: str | None = None
    spindle: tuple[Point3, Point3] | None = None


@dataclass(frozen=True, kw_only=True)
class Cavity:
    """A round hole in a part that one looks into, as a jack's: light reaches its walls by its mouth alone.

    `mouth` is the middle of its opening (mm), `way_out` the unit vector out of it; what lies within
    `radius_mm` of its axis and up to `depth_mm` behind the mouth is in it. `part` is whose it is.
    """

    mouth: Point3
    way_out: Point3
    radius_mm: float
    depth_mm: float
    part: str | None = None


@dataclass(frozen=True, kw_only=True)
class SoftBox:
    """A rectangular lamp that shines from one side.

    `centre` (mm); `right` and `up` are half-extent vectors (mm); it shines towards
    up x right (so towards `centre + cross(up, right)`); `radiance` is linear sRGB radiance
    at the lower edge, and falls evenly by the share `fade` of it to the upper one. `surfaces` are those that it is
    there for: a panel to be mirrored is a glare on dull paint.
    """

    centre: Point3
    right: Point3
    up: Point3
    radiance: Colour
    fade: float = 0.0
    surfaces: frozenset[Surface] = frozenset(get_args(Surface))

    @property
    def mean(self) -> Colour:
        """Its mean radiance."""
        red, green, blue = self.radiance
        share = 1.0 - 0.5 * self.fade
        return red * share, green * share, blue * share


@dataclass(frozen=True, kw_only=True)
class DarkCard:
    """A sheet of dark card that lies on the ground, out of the picture, to be mirrored in place of the ground.

    `middle` and `half` (half its size) are along x and y, mm; `reflectance` is what it sends back, 0 to 1.
    """

    middle: tuple[float, float]
    half: tuple[float, float]
    reflectance: float


@dataclass(frozen=True, kw_only=True)
class Lighting:
    """A light and ground preset; `name` is that of its file.

    `surround` is the radiance of the empty room (uniform, straight up) and `horizon` at eye level;
    `ground` is the ground's linear sRGB reflectance, None for no ground (transparent background);
    `backdrop` is the linear sRGB colour the ground fades into with distance, so that no horizon shows.
    `ground_roughness` (perceptual) polishes the ground, which then mirrors the pedal; None leaves it matt.
    `exposure` multiplies radiance before the view transform. `rig` says for which view the lamps stand.
    `sweep` is the azimuth (degrees, 0 away, 90 right) in which the ground curves up to a wall; None leaves it flat.
    `dark_card` lies on the ground, None for none.
    """

    name: str = ""
    about: str
    boxes: tuple[SoftBox, ...]
    surround: Colour
    horizon: Colour
    ground: Colour | None
    backdrop: Colour
    ground_roughness: float | None = None
    exposure: float = 1.0
    rig: Rig = "three-quarter"
    sweep: float | None = None
    dark_card: DarkCard | None = None


@dataclass(frozen=True, kw_only=True)
class Camera:
    """A camera at `eye` that looks at `target`; `up` points up in the picture.

    `fov_deg` is the vertical angle of view; where `ortho_mm` is set instead, the projection is
    orthographic and shows that many millimetres from top to bottom. A lens of radius `aperture_mm` draws sharply what
    lies `focus_mm` before the eye along its axis; with 0 all is sharp.
    """

    eye: Point3
    target: Point3
    up: Point3 = (0.0, 0.0, 1.0)
    fov_deg: float = 24.0
    ortho_mm: float | None = None
    aperture_mm: float = 0.0
    focus_mm: float = 0.0

    def basis(self) -> NDArray[np.float64]:
        """Return the (4, 4) camera-to-world pose: x right, y up, looking along -z."""
        import numpy as np  # here, so that looks and qualities can be listed without it

        back = np.subtract(self.eye, self.target).astype(np.float64)
        back /= np.linalg.norm(back)
        right = np.cross(self.up, back)
        right /= np.linalg.norm(right)
        pose = np.eye(4)
        pose[:3, 0], pose[:3, 1], pose[:3, 2], pose[:3, 3] = right, np.cross(back, right), back, self.eye
        return pose


@dataclass(frozen=True, kw_only=True, eq=False)
class Seam:
    """The dark line between lid and body: its z (mm) from `low` to `high`, and the paint on both sides of it."""

    low: float
    high: float
    paint: Material


@dataclass(frozen=True, kw_only=True, eq=False)
class Scene:
    """Everything an engine needs besides a camera. `notes` tell the user what is odd about it.

    `cavities` are for engines that follow no light into a hole, `seam` for those that look once a pixel.
    """

    bodies: tuple[Body, ...]
    lighting: Lighting
    notes: tuple[str, ...] = ()
    cavities: tuple[Cavity, ...] = ()
    seam: Seam | None = None


@dataclass(frozen=True, kw_only=True)
class Shot:
    """One picture of a scene.

    `turn_deg` turns all bodies about the world's z axis, anticlockwise seen from above, while
    camera, lights and ground stay: a turntable. `hidden` names groups that are left out, `see_through`
    groups that are drawn like thin glass over what they hold. `look` "proof" is unlit: every pixel is its
    surface's own colour. `seconds` is a time budget that overrides `quality` in an engine that can use one.
    `lighting` is the light of this picture, None for the scene's.
    """

    camera: Camera
    width_px: int
    height_px: int
    look: Look = "photo"
    quality: Quality = "normal"
    turn_deg: float = 0.0
    hidden: frozenset[Group] = frozenset()
    see_through: frozenset[Group] = frozenset()
    seconds: float | None = None
    lighting: Lighting | None = None


@dataclass(frozen=True, kw_only=True, eq=False)
class Frame:
    """A rendered picture: `pixels` (h, w, 4) float32, linear sRGB radiance times exposure, with
    premultiplied alpha; row 0 at the top. `facts` say how it was made, for captions and metadata."""

    pixels: NDArray[np.float32]
    facts: dict[str, str]
