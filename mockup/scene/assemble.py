"""From a design to a scene: every surface with its material, in its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from mockup import knobs
from mockup.decal.composite import face_texture
from mockup.decal.paint import film_on, paint_material
from mockup.enclosure import shell
from mockup.enclosure.bores import bores
from mockup.enclosure.skin import inner_skin, lofted
from mockup.geometry.poses import axis_under, turned_over
from mockup.geometry.tessellate import tessellate
from mockup.lights import suited
from mockup.memo import memoize, same
from mockup.model.design import Design, Placement
from mockup.model.enclosure import FACES, Enclosure, Face, FaceName, faces
from mockup.model.finish import Decal, Finish
from mockup.model.material import (
    CAST_ALUMINIUM,
    DRILLED_ALUMINIUM,
    RUBBER,
    SEAM,
    STEEL,
    THROAT,
    Material,
    Texture,
    plastic,
)
from mockup.model.mesh import Floats, Mesh, joined
from mockup.model.part import Kind, Knob, Lamp
from mockup.model.scene import Body, Cavity, Group, Lighting, Look, Scene, Seam
from mockup.model.shape import Solid
from mockup.scene import cavities
from mockup.scene.wear import worn

LAMP_RADIANCE = (
    30.0  # the crown of a lit indicator against a lit room, in units of white paper: common practice, no source
)
_UNLIT = 0.4  # of its light's colour: the resin of a lamp that is off is deeper: by eye
_LINING_MM = 0.2  # in front of the casting, which it hides: no less shows at any distance, our choice
BARE_OF_LID = {"lid inside": CAST_ALUMINIUM, "lid seam": SEAM, "lid screws": STEEL, "lid feet": RUBBER}
"""What of a lid is not painted."""
TRAVEL_START_DEG = -150.0  # pointer at 7 o'clock: common practice, no source


def assemble(design: Design, lighting: Lighting, *, look: Look = "photo", is_flipped: bool = False) -> Scene:
    """Return the finished pedal as a scene, standing on its lid (or lying on its knobs).

    `look` chooses how ink over paint is composed: "proof" holds the predicted colours as they are
    seen, "photo" the same without the paint's own veil, which the render adds. What is equal in two
    scenes, one assembled after the other, is the same object in both: meshes, and textures.
    """
    picture = design.finish.picture
    if picture is not None and picture.box != design.enclosure:  # another box is tried on
        design = replace(design, finish=replace(design.finish, picture=replace(picture, box=design.enclosure)))
    drilled = shell.build(design.enclosure, bores(design))
    bodies = [*_box(design, drilled, look), *_hardware(design, faces(design.enclosure))]
    holes_in_parts = tuple(_cavities(design, faces(design.enclosure)))
    if is_flipped:
        holes_in_parts = cavities.moved(holes_in_parts, flip(bodies))
        bodies = _flipped(bodies)
    return Scene(
        bodies=tuple(bodies),
        lighting=suited(lighting, design.finish.surface),
        notes=tuple(f"{problem.bore} {problem.what}" for problem in drilled.problems),
        cavities=holes_in_parts,
        seam=_seam(bodies, paint_material(design.finish, look)),
    )


def _seam(bodies: Sequence[Body], paint: Material) -> Seam | None:
    heights = [body.mesh.vertices[:, 2] for body in bodies if body.material is SEAM and len(body.mesh.faces)]
    return Seam(low=float(heights[0].min()), high=float(heights[0].max()), paint=paint) if heights else None


def alone(kind: Kind, lighting: Lighting, *, knob: Knob | None = None, lamp: Lamp | None = None) -> Scene:
    """Return a part without a box, standing at the origin on its lowest point: as it looks in the hand."""
    upright = np.eye(4)
    found = [
        *_bodies(kind.name, kind.below, upright, "hardware"),
        *_bodies(kind.name, _lit(kind, lamp), upright, "hardware"),
    ]
    if knob is not None and kind.shaft is not None:
        found += _bodies(kind.name, knobs.solids(knob, kind.shaft), upright, "hardware")
    upright[2, 3] = -min(float(body.mesh.vertices[:, 2].min()) for body in found)
    return Scene(
        bodies=tuple(_posed(body, upright) for body in found),
        lighting=lighting,
        cavities=tuple(cavities.cavities(kind, upright, kind.name)),
    )


def _posed(body: Body, pose: Floats) -> Body:
    spindle = axis_under(pose, body.spindle) if body.spindle else None
    return replace(body, mesh=_moved(body.mesh, pose), spindle=spindle)


def _box(design: Design, built: shell.Shell, look: Look) -> Iterator[Body]:
    paint = paint_material(design.finish, look)
    parts = {bore.name: bore.part for bore in bores(design)}
    for region, mesh in built.body.items():
        material, part = paint, None
        if region in FACES:
            material = _dressed(design, region, paint, look)
        elif region.startswith("bore:"):
            material, part = DRILLED_ALUMINIUM, parts[region.removeprefix("bore:")]
        elif region == "inner":
            material = CAST_ALUMINIUM
        yield Body(name=region, mesh=same(mesh), material=material, group="box", part=part)  # most of it has no hole
    if design.finish.edge_wear > 0.0 and design.finish.sheen.is_painted and look == "photo":
        bare = worn(design.enclosure, design.finish.edge_wear, design.decals, bores(design))
        yield Body(name="edge wear", mesh=same(bare), material=CAST_ALUMINIUM, group="box")
    # goes with the lid: what is seen through an open hole of a closed box is dark
    yield Body(name="throat", mesh=_lining(design.enclosure), material=THROAT, group="lid")
    for region, mesh in built.lid.items():
        painted = _dressed(design, "lid", paint, look) if region == "lid" else paint
        yield Body(name=region, mesh=mesh, material=BARE_OF_LID.get(region, painted), group="lid")


def _dressed(design: Design, face: FaceName, paint: Material, look: Look) -> Material:
    """Return the paint of a face with its decals over it."""
    decals = tuple(decal for decal in design.decals if decal.face == face)
    return replace(paint, texture=_texture(decals, design.finish, look, face))


@memoize
def _lining(box: Enclosure) -> Mesh:
    """Return walls and ceiling a hair inside the hollow of a box."""
    skin = inner_skin(box)
    within = replace(skin, width_mm=skin.width_mm - 2 * _LINING_MM, length_mm=skin.length_mm - 2 * _LINING_MM,
                     high_mm=skin.high_mm - _LINING_MM)  # fmt: skip
    return joined(mesh for name, mesh in lofted(within, _LINING_MM).items() if name != "rim|flat")


@memoize
def _texture(decals: tuple[Decal, ...], finish: Finish, look: Look, face: FaceName) -> Texture | None:
    texture = face_texture(decals, finish, look, face)
    return replace(texture, film=film_on(finish, decals)) if texture is not None and decals else texture


def _hardware(design: Design, frames: dict[FaceName, Face]) -> Iterator[Body]:
    for part in design.parts:
        face, shaft, knob = frames[part.face], part.kind.shaft, part.knob
        panel = face.pose(part.u_mm, part.v_mm, part.rotation_deg)
        behind = face.pose(part.u_mm, part.v_mm, part.rotation_deg, out_mm=-_panel_mm(design.enclosure, part))
        yield from _bodies(part.name, _lit(part.kind, part.lamp), panel, "hardware")
        yield from _bodies(part.name, part.kind.below, behind, "inside")
        if knob is not None and shaft is not None:
            angle = TRAVEL_START_DEG + knob.pointer * shaft.travel_deg
            turned = face.pose(part.u_mm, part.v_mm, part.rotation_deg + angle)
            still = replace(knob, pointer=0.0)  # the pose turns it
            yield from _bodies(part.name, knobs.solids(still, shaft), turned, "hardware")


def _cavities(design: Design, frames: dict[FaceName, Face]) -> Iterator[Cavity]:
    for part in design.parts:
        panel = frames[part.face].pose(part.u_mm, part.v_mm, part.rotation_deg)
        yield from cavities.cavities(part.kind, panel, part.name)


@memoize
def _lit(kind: Kind, lamp: Lamp | None) -> tuple[Solid, ...]:
    """Return what shows of a kind above the panel, its lenses in the lamp's colour."""
    return tuple(_lens(solid, lamp) if index in kind.lens else solid for index, solid in enumerate(kind.above))


def _panel_mm(box: Enclosure, part: Placement) -> float:
    """Return how far behind the face's outer surface the part's `below` begins."""
    wall = box.top_mm if part.face == "top" else box.wall_mm
    return wall + part.depth_mm


@memoize
def _bodies(name: str, solids: Sequence[Solid], pose: Floats, group: Group) -> tuple[Body, ...]:
    """Return one body per material, so that an engine draws as few as it can."""
    return tuple(
        Body(
            name=f"{name} {material.name}",
            mesh=mesh.moved(pose),
            material=material,
            group=group,
            part=name,
            spindle=axis_under(pose) if material.anisotropy > 0.0 else None,
        )
        for material, mesh in _by_material(solids)
    )


@memoize
def _by_material(solids: Sequence[Solid]) -> tuple[tuple[Material, Mesh], ...]:
    found: dict[int, tuple[Material, list[Mesh]]] = {}
    for solid in solids:
        found.setdefault(id(solid.material), (solid.material, []))[1].append(tessellate(solid))
    return tuple((material, joined(meshes)) for material, meshes in found.values())


def _lens(solid: Solid, lamp: Lamp | None) -> Solid:
    if lamp is None:
        return solid
    red, green, blue = lamp.colour
    glow = LAMP_RADIANCE if lamp.is_lit else 0.0
    own = lamp.colour if lamp.is_lit else (_UNLIT * red, _UNLIT * green, _UNLIT * blue)
    lens = replace(
        plastic(own, name="lit-lens" if lamp.is_lit else "lens", roughness=0.06),
        transmission=0.6,
        emission=(red * glow, green * glow, blue * glow),
    )
    return replace(solid, material=lens)


def flip(bodies: Sequence[Body]) -> Floats:
    """Return the (4, 4) pose that turns a standing pedal over about the y axis and rests it on the ground."""
    return turned_over(max(float(body.mesh.vertices[:, 2].max()) for body in bodies))


def _flipped(bodies: Sequence[Body]) -> list[Body]:
    pose = flip(bodies)
    return [_posed(body, pose) for body in bodies]


_moved = memoize(Mesh.moved)
