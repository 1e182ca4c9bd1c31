"""From a design to a scene: every surface with its material, in its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from mockup.enclosure import shell
from mockup.enclosure.drilling import bores
from mockup.geometry.tessellate import tessellate
from mockup.knobs import _catalogue as knobs
from mockup.model.design import Design, Placement
from mockup.model.enclosure import FACES, Enclosure, Face, FaceName, faces
from mockup.model.material import CAST_ALUMINIUM, DRILLED_ALUMINIUM, STEEL, Material, plastic
from mockup.model.mesh import Floats, Mesh, joined
from mockup.model.part import Lamp
from mockup.model.scene import Body, Group, Lighting, Look, Scene
from mockup.model.shape import Solid
from mockup.surface.composite import face_texture
from mockup.surface.paint import film_on, paint_material

LAMP_RADIANCE = (
    7.0  # the crown of a lit indicator against a lit room, in units of white paper: common practice, no source
)
TRAVEL_START_DEG = -150.0  # pointer at 7 o'clock: common practice, no source


def assemble(design: Design, lighting: Lighting, *, look: Look = "photo", is_flipped: bool = False) -> Scene:
    """Return the finished pedal as a scene, standing on its lid (or lying on its knobs).

    `look` chooses how ink over paint is composed: "proof" holds the predicted colours as they are
    seen, "photo" the same without the paint's own veil, which the render adds.
    """
    built = shell.build(design.enclosure, bores(design))
    bodies = [*_box(design, built, look), *_hardware(design, faces(design.enclosure))]
    if is_flipped:
        bodies = _flipped(bodies)
    return Scene(
        bodies=tuple(bodies),
        lighting=lighting,
        notes=tuple(f"{problem.bore} {problem.what}" for problem in built.problems),
    )


def _box(design: Design, built: shell.Shell, look: Look) -> Iterator[Body]:
    paint = paint_material(design.finish)
    for region, mesh in built.body.items():
        material, part = paint, None
        if region in FACES:
            decals = tuple(decal for decal in design.decals if decal.face == region)
            texture = face_texture(decals, design.finish, look)
            if texture is not None:
                texture = replace(texture, film=film_on(design.finish, decals))
            material = replace(paint, texture=texture)
        elif region.startswith("bore:"):
            material, part = DRILLED_ALUMINIUM, region.removeprefix("bore:").partition("/")[0]
        elif region == "inner":
            material = CAST_ALUMINIUM
        yield Body(name=region, mesh=mesh, material=material, group="box", part=part)
    for region, mesh in built.lid.items():
        is_screw = "screw" in region
        yield Body(name=region, mesh=mesh, material=STEEL if is_screw else paint, group="lid")


def _hardware(design: Design, frames: dict[FaceName, Face]) -> Iterator[Body]:
    for part in design.parts:
        face = frames[part.face]
        panel = face.pose(part.u_mm, part.v_mm, part.rotation_deg)
        behind = face.pose(part.u_mm, part.v_mm, part.rotation_deg, out_mm=-_panel_mm(design.enclosure, part))
        above = [_lens(solid, part.lamp) if i in part.kind.lens else solid for i, solid in enumerate(part.kind.above)]
        yield from _bodies(part.name, above, panel, "hardware")
        yield from _bodies(part.name, part.kind.below, behind, "inside")
        if part.knob is not None and part.kind.shaft is not None:
            angle = TRAVEL_START_DEG + part.knob.pointer * part.kind.shaft.travel_deg
            turned = face.pose(part.u_mm, part.v_mm, part.rotation_deg + angle)
            yield from _bodies(part.name, knobs.solids(part.knob, part.kind.shaft), turned, "hardware")


def _panel_mm(box: Enclosure, part: Placement) -> float:
    """Return how far behind the face's outer surface the part's `below` begins."""
    wall = box.top_mm if part.face == "top" else box.wall_mm
    return wall + part.depth_mm


def _bodies(name: str, solids: Sequence[Solid], pose: Floats, group: Group) -> Iterator[Body]:
    """Yield one body per material, so that an engine draws as few as it can."""
    by_material: dict[int, tuple[Material, list[Mesh]]] = {}
    for solid in solids:
        material = solid.material
        by_material.setdefault(id(material), (material, []))[1].append(tessellate(solid).moved(pose))
    for material, meshes in by_material.values():
        yield Body(name=f"{name} {material.name}", mesh=joined(meshes), material=material, group=group, part=name)


def _lens(solid: Solid, lamp: Lamp | None) -> Solid:
    if lamp is None:
        return solid
    red, green, blue = lamp.colour
    glow = LAMP_RADIANCE if lamp.is_lit else 0.0
    lens = replace(
        plastic(lamp.colour, name="lit-lens" if lamp.is_lit else "lens", roughness=0.06),
        transmission=0.6,
        emission=(red * glow, green * glow, blue * glow),
    )
    return replace(solid, material=lens)


def _flipped(bodies: Sequence[Body]) -> list[Body]:
    """Turn the pedal over about the y axis and rest its highest part on the ground."""
    top = max(float(body.mesh.vertices[:, 2].max()) for body in bodies)
    pose = np.diag([-1.0, 1.0, -1.0, 1.0])
    pose[2, 3] = top
    return [replace(body, mesh=body.mesh.moved(pose)) for body in bodies]
