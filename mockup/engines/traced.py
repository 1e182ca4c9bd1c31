"""Path traces on the CPU, then denoises: no GL needed, slower, the more truthful light."""

from __future__ import annotations

import importlib.util
import math
import time
from dataclasses import replace
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from mockup.engines import Session
from mockup.engines.appearance.anisotropy import round_axis
from mockup.engines.appearance.bloom import with_bloom
from mockup.engines.appearance.content import FADE, extent
from mockup.engines.appearance.grain import sides
from mockup.engines.appearance.lens import axis, in_table, table
from mockup.engines.appearance.surroundings import ground_hits, open_ground, room_radiance
from mockup.engines.tracing import shapes
from mockup.engines.tracing.denoise import clean_edges, denoised, over
from mockup.engines.tracing.grain import has_grain, tilted
from mockup.engines.tracing.materials import coordinates, finish, has_picture
from mockup.geometry.irradiance import form_factor, sky_irradiance
from mockup.geometry.poses import turn
from mockup.model.errors import EngineError
from mockup.model.material import Material
from mockup.model.mesh import Mesh, joined
from mockup.model.scene import Body, Frame, Group, Lighting, Point3, Quality, Scene, Shot, SoftBox

PREFERENCE = 20

SAMPLES: Final[dict[Quality, int]] = {"draft": 2, "normal": 4, "final": 16}  # per pixel: by eye
_LEAST, _MOST = 2, 1024  # samples per pixel that a time budget may come to
_EDGE_SAMPLES: Final = 16  # per pixel for outlines and flat colour: by eye
_CATCHER: Final = 0.5  # reflectance of the ground that catches a shadow; any would do, it divides out
_LENS_WEIGHT: Final = 0.04  # how often a lit lens is looked at, against 1 for the room: by eye
_LEAST_WEIGHT: Final = 0.15  # the same for a soft box that hardly reaches the top but may reach a side
_DEPTH: Final = 5  # bounces; what more would add is below one code: by eye
_SPARE: Final = 0.85  # share of a time budget spent on samples; the rest is the denoiser's: measured

Pixels = NDArray[np.float32]
Spindle = tuple[Point3, Point3]


def unavailable() -> str | None:
    """Return why no path can be traced here, or None."""
    for name in ("mitsuba", "pyoidn"):
        try:
            if importlib.util.find_spec(name) is None:
                return f"the library {name} is not installed"
        except (ImportError, ValueError):
            return f"the library {name} is broken here"
    return None


def still_preference(quality: Quality) -> int:
    """Return this engine's place for stills."""
    return PREFERENCE


def open(scene: Scene) -> Session:
    """Return a session for the scene; `EngineError` if the path tracer cannot be loaded."""
    try:
        return TracedSession(scene)
    except ImportError as error:
        raise EngineError(f"the path tracer cannot be loaded here: {error}") from error


class TracedSession(Session):
    """A scene with its meshes and materials ready; a turntable turns camera and lamps the other way."""

    def __init__(self, scene: Scene) -> None:
        shapes.library()
        self._scene = scene
        self._extent = extent(scene)
        shining = [body for body in scene.bodies if max(body.material.emission) > 0.0 and len(body.mesh.faces)]
        dull = tuple(body for body in scene.bodies if max(body.material.emission) == 0.0)
        self._lit = [(g, each) for g, mesh, m, spindle in _grouped(dull) for each in _lit(mesh, m, spindle)]
        self._shining = [(body, axis(body, self._extent.centre)) for body in shining]
        self._flat: list[tuple[Group, Any]] | None = None
        self._grain: list[tuple[Group, Any]] | None = None
        self._closed = False

    def render(self, shot: Shot) -> Frame:
        """Return one picture; `EngineError` once the session is closed."""
        if self._closed:
            raise EngineError("this render session is closed")
        if shot.see_through:
            raise EngineError("the path tracer draws no see-through box; take the engine raster")
        back = turn(-shot.turn_deg)
        reach = FADE[1] * self._extent.reach
        camera = shapes.sensor(shot.camera, shot.width_px, shot.height_px, back, reach)
        if shot.look == "proof":
            samples = max(SAMPLES[shot.quality], _EDGE_SAMPLES)
            pixels = self._proof(shot, camera, samples)
        else:
            pixels, samples = self._photo(shot, camera, back)
        facts = {"engine": "traced", "look": shot.look, "samples": str(samples)}
        return Frame(pixels=pixels, facts=facts)

    def close(self) -> None:
        """Let the scene go."""
        self._closed = True
        self._lit, self._shining, self._flat, self._grain = [], [], None, None

    def _photo(self, shot: Shot, camera: Any, back: NDArray[np.float64]) -> tuple[Pixels, int]:
        lighting, mi = shot.lighting or self._scene.lighting, shapes.library()
        visible = _shown([*self._lit, *self._lenses(shot, back)], shot)
        lamps = {
            f"lamp{i}": shapes.soft_box(box, back, self._weight(box, lighting)) for i, box in enumerate(lighting.boxes)
        }
        world = visible | lamps | {"room": mi.load_dict(shapes.room(lighting))}
        has_ground = lighting.ground is not None
        floor = {"ground": shapes.ground(lighting, self._extent)} if has_ground else {}
        if lighting.dark_card is not None:
            floor["card"] = shapes.dark_card(lighting.dark_card, back, self._extent.low)
        scene = _scene(world | floor, _DEPTH)
        own = self._proof(shot, camera, _EDGE_SAMPLES)
        guide = over(own, lighting.ground) if lighting.ground is not None else own[..., :3]
        noisy, samples, seed = _sampled(scene, camera, shot)
        is_flaked = any(body.material.flake > 0.0 for body in self._scene.bodies)
        grain = self._grain_guide(shot, camera, samples, seed)
        radiance = denoised(noisy, guide, grain, flake_samples=samples if is_flaked else 0)
        cover = own[..., 3]
        if has_ground:
            radiance = clean_edges(radiance, cover, behind=True)
            empty = ~ground_hits(shot)
            alpha = np.ones(radiance.shape[:2], np.float32)
            if empty.any():  # some of the picture shows the room over the horizon: the backdrop goes there
                behind = room_radiance(shot, lighting)
                swap = np.array(lighting.backdrop) / lighting.exposure - behind
                radiance = np.asarray(radiance + (empty * (1.0 - cover))[..., None] * swap, np.float32)
                radiance[empty & (cover < 0.001)] = np.array(lighting.backdrop) / lighting.exposure  # no lamp either
        else:
            room = (1.0 - cover)[..., None] * room_radiance(shot, lighting)
            radiance = clean_edges(np.maximum(radiance - room, 0.0).astype(np.float32), cover, behind=False)
            alpha = cover + (1.0 - cover) * self._shadow(world, camera, shot, own, samples)
        pixels = np.concatenate([radiance * lighting.exposure, alpha[..., None]], axis=2)
        return with_bloom(np.asarray(pixels, np.float32)), samples

    def _lenses(self, shot: Shot, back: NDArray[np.float64]) -> list[tuple[Group, Any]]:
        """Return the lit lenses as they shine towards the camera."""
        camera = shot.camera
        eye = np.array(camera.eye) if camera.ortho_mm is None else camera.basis()[:3, 2]
        is_near = float(camera.ortho_mm is None)
        eye = back @ np.append(eye, is_near)
        return [
            (body.group, _lens(body.mesh, body.material, in_table(body.mesh, way, eye))) for body, way in self._shining
        ]

    def _weight(self, box: SoftBox, lighting: Lighting) -> float:
        """Return how much light a soft box gives the pedal's top, against the room's."""
        up = np.array((0.0, 0.0, 1.0))
        here = math.pi * form_factor(box, self._extent.centre, up) * sum(box.mean)
        return max(here / max(sum(sky_irradiance(lighting, 1.0)), 1e-6), _LEAST_WEIGHT)

    def _shadow(self, world: dict[str, Any], camera: Any, shot: Shot, own: Pixels, samples: int) -> Pixels:
        """Return how much of the open ground's light the pedal takes away, 0 to 1, per pixel."""
        lighting = shot.lighting or self._scene.lighting
        catcher = shapes.library().load_dict(shapes.plain_ground(self._extent, _CATCHER))
        scene = _scene(world | {"ground": catcher}, 3)  # a lamp that hides nothing costs a bounce
        seen = np.array(shapes.library().render(scene, sensor=camera, spp=samples, seed=3))
        lit = denoised(seen, over(own, (_CATCHER,) * 3))
        full, there = open_ground(shot, lighting, self._extent, _CATCHER)
        share = 1.0 - lit.mean(axis=2) / np.maximum(full, 1e-6)
        return np.asarray(np.clip(share, 0.0, 1.0) * there, np.float32)

    def _proof(self, shot: Shot, camera: Any, samples: int) -> Pixels:
        """Render every surface as its own flat colour."""
        if self._flat is None:
            self._flat = [(group, _flat(mesh, m)) for group, mesh, m, _ in _grouped(self._scene.bodies)]
        visible = _shown(self._flat, shot)
        scene = _scene(visible, 1)
        colour = np.array(shapes.library().render(scene, sensor=camera, spp=samples, seed=0))
        return np.asarray(colour, np.float32)

    def _grain_guide(self, shot: Shot, camera: Any, samples: int, seed: int) -> Pixels | None:
        """Return the grain that these very samples see, so that the denoiser keeps it; None without any."""
        if self._grain is None:
            bodies = self._scene.bodies
            is_any = any(has_grain(body.material) for body in bodies)
            self._grain = (
                [(g, each) for g, mesh, m, _ in _grouped(bodies) for each in tilted(mesh, m)] if is_any else []
            )
        if not self._grain:
            return None
        scene = _scene(_shown(self._grain, shot), 1)
        seen = shapes.library().render(scene, sensor=camera, spp=min(samples, _EDGE_SAMPLES), seed=seed)
        return np.asarray(np.array(seen)[..., :3], np.float32)


def _sampled(scene: Any, camera: Any, shot: Shot) -> tuple[NDArray[np.floating[Any]], int, int]:
    """Return radiance by quality, or by what a timed one-sample probe says fits the time budget.

    With it go the samples of each pixel, and the seed of most of them.
    """
    mi = shapes.library()
    samples = SAMPLES[shot.quality]
    if shot.seconds is not None:
        started = time.perf_counter()
        first = np.array(mi.render(scene, sensor=camera, spp=1, seed=11))
        each = max(time.perf_counter() - started, 1e-4)
        samples = int(np.clip(_SPARE * shot.seconds / each - 1.0, _LEAST - 1, _MOST - 1))
        rest = np.array(mi.render(scene, sensor=camera, spp=samples, seed=12))
        return (first + rest * samples) / (samples + 1), samples + 1, 12
    return np.array(mi.render(scene, sensor=camera, spp=samples, seed=11)), samples, 11


def _scene(world: dict[str, Any], depth: int) -> Any:
    path = {"type": "path", "max_depth": depth, "rr_depth": 16}
    return shapes.library().load_dict({"type": "scene", "integrator": path, **world})


def _shown(made: list[tuple[Group, Any]], shot: Shot) -> dict[str, Any]:
    return {f"body{i}": shape for i, (group, shape) in enumerate(made) if group not in shot.hidden}


def _grouped(bodies: tuple[Body, ...]) -> list[tuple[Group, Mesh, Material, Spindle | None]]:
    """Gather bodies of one group, material object and spindle into one mesh."""
    found: dict[tuple[Group, int, bool, Spindle | None], list[Body]] = {}
    for body in bodies:
        if len(body.mesh.faces):
            found.setdefault((body.group, id(body.material), body.mesh.uv is not None, body.spindle), []).append(body)
    return [(k[0], joined(b.mesh for b in each), each[0].material, k[3]) for k, each in found.items()]


def _lit(mesh: Mesh, material: Material, spindle: Spindle | None = None) -> list[Any]:
    """Return a mesh that answers light, in one piece or, where its finish has a grain, in as many as it has sides."""
    mi = shapes.library()
    if material.hammer > 0.0 or material.flake > 0.0:
        return [
            shapes.shape(side.mesh, material, {"mesh_bsdf": mi.load_dict(finish(material, side, side.mesh))},
                         coordinates(material, side.mesh, side))
            for side in sides(mesh, is_one=has_picture(mesh, material))
        ]  # fmt: skip
    if spindle is not None and material.anisotropy > 0.0 and material.texture is None:
        fine, at = round_axis(mesh, spindle)
        return [shapes.shape(fine, material, {"mesh_bsdf": mi.load_dict(finish(material))}, at)]
    bsdf = mi.load_dict(finish(replace(material, anisotropy=0.0), mesh=mesh))
    own = coordinates(material, mesh, None) if mesh.uv is not None else None
    return [shapes.shape(mesh, material, {"mesh_bsdf": bsdf}, own)]


def _lens(mesh: Mesh, material: Material, at: NDArray[np.float64]) -> Any:
    """Return a lit lens, its vertices' places in the table of what it shines with at `at` (n, 2)."""
    mi = shapes.library()
    light = {
        "type": "area", "radiance": shapes.bitmap(table(material.emission)), "sampling_weight": _LENS_WEIGHT
    }  # fmt: skip
    extra = {"mesh_bsdf": mi.load_dict(finish(material)), "mesh_emitter": mi.load_dict(light)}
    return shapes.shape(mesh, material, extra, at)


def _flat(mesh: Any, material: Material) -> Any:
    shine = shapes.library().load_dict({"type": "area", "radiance": shapes.own_colour(material)})
    at = coordinates(material, mesh, None) if has_picture(mesh, material) else None
    return shapes.shape(mesh, material, {"mesh_bsdf": shapes.black(), "mesh_emitter": shine}, at)
