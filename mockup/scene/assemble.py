"""From a design to a scene: every surface with its material, in its place."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from mockup import knobs
from mockup.decal.composite import Laid, laid
from mockup.decal.paint import paint_material
from mockup.enclosure import shell
from mockup.enclosure.drilling import bores
from mockup.geometry.poses import axis_under, turned_over
from mockup.geometry.tessellate import tessellate
from mockup.model.bore import Bore, BoreProblem
from mockup.model.design import Design, Placement
from mockup.model.digest import digest
from mockup.model.enclosure import FACES, Enclosure, Face, FaceName, faces
from mockup.model.finish import Decal
from mockup.model.material import CAST_ALUMINIUM, DRILLED_ALUMINIUM, STEEL, Material, Texture, plastic
from mockup.model.mesh import Floats, Mesh, joined
from mockup.model.part import Lamp
from mockup.model.scene import Body, Group, Lighting, Look, Scene, Throat
from mockup.model.shape import Solid
from mockup.scene import throats
from mockup.scene.kept import Kept

LAMP_RADIANCE = (
    7.0  # the crown of a lit indicator against a lit room, in units of white paper: common practice, no source
)
TRAVEL_START_DEG = -150.0  # pointer at 7 o'clock: common practice, no source


def assemble(
    design: Design, lighting: Lighting, *, look: Look = "photo", is_flipped: bool = False, kept: Kept | None = None
) -> Scene:
    """Return the finished pedal as a scene, standing on its lid (or lying on its knobs).

    `look` chooses how ink over paint is composed: "proof" holds the predicted colours as they are
    seen, "photo" the same without the paint's own veil, which the render adds. What is unchanged since
    another scene was assembled with the same `kept` is the same object in both: meshes, and textures of
    the same art (by identity) on the same paint.
    """
    kept = Kept() if kept is None else kept
    holes = bores(design)
    drilled = kept.get(("drilled", design.enclosure, holes), lambda: _drilled(design.enclosure, holes, kept))
    bodies = [*_box(design, drilled, look, kept), *_hardware(design, faces(design.enclosure), kept)]
    holes_in_parts = tuple(_throats(design, faces(design.enclosure), kept))
    if is_flipped:
        holes_in_parts = throats.moved(holes_in_parts, flip(bodies))
        bodies = _flipped(bodies, kept)
    return Scene(
        bodies=tuple(bodies),
        lighting=lighting,
        notes=tuple(f"{problem.bore} {problem.what}" for problem in drilled.problems),
        throats=holes_in_parts,
    )


@dataclass(frozen=True, kw_only=True, eq=False)
class _Drilled:
    """What a scene needs of a drilled box: its regions, its lid, what is wrong with its holes."""

    body: Mapping[str, Mesh]
    lid: Mapping[str, Mesh]
    problems: tuple[BoreProblem, ...]


def _drilled(box: Enclosure, holes: Sequence[Bore], kept: Kept) -> _Drilled:
    built = shell.build(box, holes)
    return _Drilled(body=_known(built.body, kept), lid=_known(built.lid, kept), problems=built.problems)


def _known(regions: Mapping[str, Mesh], kept: Kept) -> dict[str, Mesh]:
    """Return regions, each the same object as one of equal shape before: a hole leaves most of a box as it was."""
    return {name: kept.get(("region", digest(mesh)), partial(_itself, mesh)) for name, mesh in regions.items()}


def _itself(mesh: Mesh) -> Mesh:
    return mesh


def _box(design: Design, built: _Drilled, look: Look, kept: Kept) -> Iterator[Body]:
    paint = paint_material(design.finish, look)
    for region, mesh in built.body.items():
        material, part = paint, None
        if region in FACES:
            decals = tuple(decal for decal in design.decals if decal.face == region)
            texture = _texture(decals, design, look, kept) if decals else None
            material = replace(paint, texture=texture)
        elif region.startswith("bore:"):
            material, part = DRILLED_ALUMINIUM, region.removeprefix("bore:").partition("/")[0]
        elif region == "inner":
            material = CAST_ALUMINIUM
        yield Body(name=region, mesh=mesh, material=material, group="box", part=part)
    for region, mesh in built.lid.items():
        is_screw = "screw" in region
        yield Body(name=region, mesh=mesh, material=STEEL if is_screw else paint, group="lid")


def _texture(decals: tuple[Decal, ...], design: Design, look: Look, kept: Kept) -> Texture:
    places = tuple((each.face, each.u_mm, each.v_mm, each.width_mm, each.height_mm, each.film) for each in decals)
    turns = tuple(each.rotation_deg for each in decals)
    place = ("texture", places, turns, design.finish, look)
    # What it is made of is kept beside it, so that no other art can come to have the same identity meanwhile.
    key = (*place, *(id(each.art) for each in decals))
    last: list[Laid] = kept.get(place, list)
    found = kept.get(key, lambda: laid(decals, design.finish, look, last[-1] if last else None))
    last[:] = [found]
    return found.texture


def _hardware(design: Design, frames: dict[FaceName, Face], kept: Kept) -> Iterator[Body]:
    for part in design.parts:
        face, shaft, knob = frames[part.face], part.kind.shaft, part.knob
        panel = face.pose(part.u_mm, part.v_mm, part.rotation_deg)
        behind = face.pose(part.u_mm, part.v_mm, part.rotation_deg, out_mm=-_panel_mm(design.enclosure, part))
        content = kept.content(part.kind)
        yield from _bodies(part.name, (content, "above", part.lamp), partial(_above, part), panel, "hardware", kept)
        yield from _bodies(part.name, (content, "below"), partial(_below, part), behind, "inside", kept)
        if knob is not None and shaft is not None:
            angle = TRAVEL_START_DEG + knob.pointer * shaft.travel_deg
            turned = face.pose(part.u_mm, part.v_mm, part.rotation_deg + angle)
            still = replace(knob, pointer=0.0)  # the pose turns it
            make = partial(knobs.solids, still, shaft)
            yield from _bodies(part.name, ("knob", still, shaft), make, turned, "hardware", kept)


def _throats(design: Design, frames: dict[FaceName, Face], kept: Kept) -> Iterator[Throat]:
    for part in design.parts:
        panel = frames[part.face].pose(part.u_mm, part.v_mm, part.rotation_deg)
        key = ("throats", part.name, kept.content(part.kind), panel.tobytes())
        yield from kept.get(key, partial(throats.throats, part.kind, panel, part.name))


def _above(part: Placement) -> Sequence[Solid]:
    return [_lens(solid, part.lamp) if i in part.kind.lens else solid for i, solid in enumerate(part.kind.above)]


def _below(part: Placement) -> Sequence[Solid]:
    return part.kind.below


def _panel_mm(box: Enclosure, part: Placement) -> float:
    """Return how far behind the face's outer surface the part's `below` begins."""
    wall = box.top_mm if part.face == "top" else box.wall_mm
    return wall + part.depth_mm


def _bodies(
    name: str, key: Hashable, solids: Callable[[], Sequence[Solid]], pose: Floats, group: Group, kept: Kept
) -> tuple[Body, ...]:
    """Return one body per material, so that an engine draws as few as it can; `key` says what the solids are."""

    def placed() -> tuple[Body, ...]:
        return tuple(
            Body(
                name=f"{name} {material.name}",
                mesh=mesh.moved(pose),
                material=material,
                group=group,
                part=name,
                spindle=axis_under(pose) if material.turned > 0.0 else None,
            )
            for material, mesh in kept.get(key, lambda: _by_material(solids()))
        )

    return kept.get(("placed", name, key, pose.tobytes(), group), placed)


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
    lens = replace(
        plastic(lamp.colour, name="lit-lens" if lamp.is_lit else "lens", roughness=0.06),
        transmission=0.6,
        emission=(red * glow, green * glow, blue * glow),
    )
    return replace(solid, material=lens)


def flip(bodies: Sequence[Body]) -> Floats:
    """Return the (4, 4) pose that turns a standing pedal over about the y axis and rests it on the ground."""
    return turned_over(max(float(body.mesh.vertices[:, 2].max()) for body in bodies))


def _flipped(bodies: Sequence[Body], kept: Kept) -> list[Body]:
    pose = flip(bodies)

    def over(mesh: Mesh) -> Mesh:
        # The mesh is kept beside it, so that no other one can come to have the same identity meanwhile.
        return kept.get(("flipped", id(mesh), pose.tobytes()), lambda: (mesh.moved(pose), mesh))[0]

    return [
        replace(body, mesh=over(body.mesh), spindle=axis_under(pose, body.spindle) if body.spindle else None)
        for body in bodies
    ]
