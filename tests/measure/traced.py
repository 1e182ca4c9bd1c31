"""Photographs and scans of drilled boxes made by the path tracer: walls in the holes, sheen, shadows, lamps.

A real sensor's noise and a lens's distortion are laid on afterwards, simulated.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from mockup import api
from mockup.colour import rgb
from mockup.engines import traced
from mockup.measure.frame import BAND_MM, mark_mm, middles_mm
from mockup.model.design import Design
from mockup.model.enclosure import Face, faces
from mockup.model.material import Material
from mockup.model.mesh import Mesh
from mockup.model.scene import LEFT_OUT, Body, Camera, Lighting, Scene, Shot, SoftBox
from mockup.scene.assemble import assemble

Floats = NDArray[np.float64]
PAPER = Material(name="paper", base_color=(0.75, 0.75, 0.74), roughness=0.95)
TONER = Material(name="toner", base_color=(0.02, 0.02, 0.02), roughness=0.9)
_PAPER_MM = 0.15  # how high the printed side lies over the face


@dataclass(frozen=True, kw_only=True)
class Case:
    """A box with its paint, how its holes wander (mm along each axis), how it is seen."""

    seed: int
    paint: str = "#2f6f73"
    sheen: str = "gloss"
    wander_mm: float = 0.35
    tilt_deg: float = 8.0
    around_deg: float = 30.0
    lens: float = 0.04
    glare: float = 0.0
    size_px: tuple[int, int] = (1600, 1200)
    samples: str = "draft"


DESIGNED = np.array([(14.5, 19.0), (44.5, 19.0), (29.5, 40.0), (20.0, 73.0), (29.5, 93.0)])
KINDS = ("pot-16", "pot-16", "pot-16", "lamp-5", "footswitch")


def layout(places: Floats, case: Case) -> str:
    """Return a layout whose holes lie at places."""
    return (
        f'name = "Traced"\n[box]\nsize = "112x60x31"\n[finish]\npaint = "{case.paint}"\nsheen = "{case.sheen}"\n'
        + "".join(
            f'[[part]]\nname = "P{index}"\nkind = "{kind}"\nleft = {left}\ntop = {top}\n'
            for index, (kind, (left, top)) in enumerate(zip(KINDS, places.tolist(), strict=True))
        )
    )


def drilled_places(case: Case) -> Floats:
    """Return where a hand drills the holes."""
    return DESIGNED + np.random.default_rng(case.seed).normal(size=DESIGNED.shape) * case.wander_mm


def box(folder: Path, case: Case, drilled: Floats | None = None) -> tuple[Scene, Face, Design]:
    """Return the drilled box as a scene, its top, and its design."""
    path = folder / f"drilled{case.seed}.toml"
    path.write_text(layout(drilled_places(case) if drilled is None else drilled, case))
    design = api.load(path)
    scene = assemble(design, _light(case), look="photo")
    bodies = tuple(each for each in scene.bodies if each.group not in LEFT_OUT["drilled"])
    return replace(scene, bodies=bodies), faces(design.enclosure)["top"], design


def _light(case: Case) -> Lighting:
    """A room with one large lamp off to a side; with `glare` another one that a glossy face mirrors in part."""
    side = SoftBox(centre=(-500.0, 200.0, 700.0), right=(150.0, 0, 107.0), up=(0.0, 180.0, 0.0), radiance=(6.0,) * 3)
    shine = SoftBox(centre=(140.0, -260.0, 600.0), right=(60.0, 0, 0), up=(0.0, 60.0, 20.0), radiance=(case.glare,) * 3)
    return Lighting(
        name="desk", about="", boxes=(side, shine) if case.glare else (side,), surround=(0.5,) * 3,
        horizon=(0.35,) * 3, ground=(0.08, 0.08, 0.08), backdrop=(0.05,) * 3,
    )  # fmt: skip


def _sheet(face: Face, name: str, material: Material, left: float, top: float, right: float, low: float, up: float):
    corners = face.to_world(np.array([(left, low), (right, low), (right, top), (left, top)]), up)
    mesh = Mesh(
        vertices=corners,
        normals=np.tile(np.asarray(face.out, float), (4, 1)),
        faces=np.array([(0, 1, 2), (0, 2, 3)]),
    )
    return Body(name=name, mesh=mesh, material=material, group="box")


def framed(scene: Scene, face: Face) -> Scene:
    """Return the scene with the frame of marks on the face."""
    wide, high = face.width_mm, face.height_mm
    out, inner = BAND_MM, 5.0
    bands = (
        (-out, -out, wide + out, inner), (-out, high - inner, wide + out, high + out),
        (-out, inner, inner, high - inner), (wide - inner, inner, wide + out, high - inner),
    )  # fmt: skip
    bodies = [_sheet(face, f"band{at}", PAPER, *each, _PAPER_MM) for at, each in enumerate(bands)]
    half = mark_mm((wide, high)) / 2
    for at, (x, y) in enumerate(middles_mm((wide, high)).tolist()):
        bodies.append(_sheet(face, f"mark{at}a", TONER, x - half, y - half, x, y, _PAPER_MM + 0.02))
        bodies.append(_sheet(face, f"mark{at}b", TONER, x, y, x + half, y + half, _PAPER_MM + 0.02))
    return replace(scene, bodies=(*scene.bodies, *bodies))


def photograph(scene: Scene, face: Face, case: Case) -> NDArray[np.uint8]:
    """Return a photograph (h, w, 3), encoded sRGB, taken by hand over the face."""
    middle = face.to_world(np.array([face.width_mm / 2, face.height_mm / 2]))
    tilt, around = np.radians(case.tilt_deg), np.radians(case.around_deg)
    way = np.array([np.sin(tilt) * np.cos(around), np.sin(tilt) * np.sin(around), np.cos(tilt)])
    eye = middle + way * 420.0
    fov = np.degrees(2 * np.arctan((face.width_mm + 2 * BAND_MM + 22.0) / 2 / 420.0))
    camera = Camera(eye=tuple(eye), target=tuple(middle), up=(-1.0, 0.05, 0.0), fov_deg=float(fov))
    return _sensor(_rendered(scene, camera, case), case, lens=case.lens * 4.0 * np.tan(np.radians(fov / 2)) ** 2)


def scan(
    scene: Scene,
    face: Face,
    case: Case,
    *,
    dpi: float = 200.0,
    turn_deg: float = 0.0,
    tilt_deg: float = 0.0,
    stretch: tuple[float, float] = (1.0, 1.0),
) -> NDArray[np.uint8]:
    """Return a scan (h, w, 3) of the face on the glass: a lamp to one side that travels with the sensor.

    The box lies turned on the glass and does not lie quite flat; `stretch` is by how much the scanner draws longer.
    """
    turn, tilt = np.radians(turn_deg), np.radians(tilt_deg)
    across, along = np.array([np.cos(turn), np.sin(turn), 0.0]), np.array([-np.sin(turn), np.cos(turn), 0.0])
    centre, up = along * 900.0 + (0.0, 0.0, 900.0), along * 60.0 - (0.0, 0.0, 60.0)
    lamp = SoftBox(centre=tuple(centre), right=tuple(across * 900.0), up=tuple(up), radiance=(40.0,) * 3)
    dark = Lighting(
        name="scanner",
        about="",
        boxes=(lamp,),
        surround=(0.0,) * 3,
        horizon=(0.0,) * 3,
        ground=None,
        backdrop=(0.0,) * 3,
    )
    middle = face.to_world(np.array([face.width_mm / 2, face.height_mm / 2]))
    high_mm = face.height_mm + 24.0
    side = round(high_mm / 25.4 * dpi)
    eye = middle + 560.0 * (np.array([0.0, 0.0, np.cos(tilt)]) + across * np.sin(tilt))
    camera = Camera(eye=tuple(eye), target=tuple(middle), up=tuple(along), ortho_mm=side / dpi * 25.4)
    pixels = _rendered(replace(scene, lighting=dark), camera, replace(case, size_px=(side, side)))
    return _sensor(ndimage.zoom(pixels, (stretch[1], stretch[0], 1.0), order=1), case)


def _rendered(scene: Scene, camera: Camera, case: Case) -> Floats:
    with traced.open(scene) as session:
        shot = Shot(
            camera=camera, width_px=case.size_px[0], height_px=case.size_px[1], look="photo", quality=case.samples
        )
        return np.asarray(session.render(shot).pixels[..., :3], np.float64)


def _sensor(pixels: Floats, case: Case, lens: float = 0.0) -> NDArray[np.uint8]:
    """Return what a sensor makes of it: a lens that bends, a soft pixel, noise, the exposure of its brightest part."""
    chance = np.random.default_rng(case.seed + 1000)
    high, wide = pixels.shape[:2]
    rows, columns = np.mgrid[:high, :wide].astype(float)
    x, y = (columns - wide / 2) / (wide / 2), (rows - high / 2) / (wide / 2)
    reach = x**2 + y**2
    factor = 1.0 + lens * reach
    at = [y * factor * wide / 2 + high / 2, x * factor * wide / 2 + wide / 2]
    light = np.stack(
        [
            ndimage.gaussian_filter(ndimage.map_coordinates(pixels[..., each], at, order=1, mode="nearest"), 0.6)
            for each in range(3)
        ],
        axis=-1,
    )
    light = light / np.percentile(light, 99.5) * 0.85
    light += chance.normal(size=light.shape) * (0.002 + 0.012 * np.sqrt(np.clip(light, 0, 1)))
    return rgb.to_8bit(rgb.encode(np.clip(light, 0.0, 1.0)))
