"""What is drawn in one call, and its own colour as the shaders read it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

import numpy as np
from OpenGL import GL

from mockup.engines.appearance.film import FilmMap
from mockup.engines.appearance.grain import Side, flake_grid, sides
from mockup.engines.appearance.lens import axis
from mockup.engines.appearance.samples import Floats
from mockup.engines.gl.resources import GpuMesh, ImageTexture, Program, Programs, bind
from mockup.model.material import SEAM, Material
from mockup.model.mesh import Mesh, joined
from mockup.model.scene import Body, Group, Point3, Scene, Seam


@dataclass(frozen=True, kw_only=True, eq=False)
class Batch:
    """Bodies of one group and one material, drawn in one call. `axis` is that of lit lenses or of a lathe, unit length.

    `centre` is a point on the axis of what was turned (None: no marks). `is_lifted`
    marks the part that is being moved: it is drawn where the session's `pose` says. `seam` is the z of a dark line
    on it, low and high, that is mixed into its colour. `sides` are the pieces that its flakes are laid out on.
    `bounds` (n, 2, 3) hold its bodies, mm; `face` is the name of the box's face that it is, and the plane (4,) of that.
    """

    group: Group
    material: Material
    solid: GpuMesh
    picture: ImageTexture | None
    film: tuple[FilmMap, ImageTexture] | None
    axis: Point3
    bounds: Floats
    centre: Point3 | None = None
    is_lifted: bool = False
    seam: tuple[float, float] = (0.0, 0.0)
    sides: tuple[Side, ...] = ()
    face: tuple[str, Floats] | None = None


Cast = tuple[tuple[GpuMesh, Floats | None], ...]
"""Solids for depth alone, each with its pose on the body (None: as it is)."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Casters:
    """Everything in view: `whole` for the camera's depth, coarser for shadow maps and the ground."""

    whole: Cast
    shadow: Cast
    ground: Cast


def gathered(scene: Scene, centre: Floats, is_lifted: Callable[[Body], bool]) -> list[tuple[Point3, list[Body]]]:
    """Gather bodies that can share one draw call, each list with its axis.

    They are of one group and material, uv on all or none; lit lenses of one axis, turned ones of one spindle; each face
    of the box and what is lifted on their own.
    """
    found: dict[tuple[object, ...], tuple[Point3, list[Body]]] = {}
    for body in scene.bodies:
        if len(body.mesh.faces):
            m = body.material
            look = (m.base_color, m.metallic, m.roughness, m.coat, m.coat_roughness, m.transmission, m.flake)
            x, y, z = body.spindle[1] if body.spindle is not None else (0.0, 0.0, 1.0)
            if max(m.emission) > 0.0 or m.transmission > 0.0:
                x, y, z = (round(float(v), 3) for v in axis(body, centre))
            key = (
                body.group, *look, m.hammer, m.flake_mm, m.dent_mm,
                m.anisotropy, m.gloss, m.waves, body.spindle, m.emission, (x, y, z),
                id(m.texture) if m.texture else None, body.mesh.uv is not None, is_lifted(body), m is SEAM,
                body.name if is_face(body) else None,
            )  # fmt: skip
            found.setdefault(key, ((x, y, z), []))[1].append(body)
    return list(found.values())


def is_face(body: Body) -> bool:
    """Return whether a body is one of the faces of the box, which may mirror what stands on it."""
    return body.group == "box" and body.mesh.uv is not None


_ON_BOX: frozenset[Group] = frozenset({"box", "lid"})


def seen_once(batches: Iterable[Batch], seam: Seam) -> list[Batch]:
    """Return batches for a single look at each pixel, which would find a line thinner than a pixel here and there only.

    Paint fills the line, and each pixel of paint is dark by what it holds of it.
    """
    line = (seam.low, seam.high)
    return [
        replace(each, seam=line, material=seam.paint if each.material is SEAM else each.material)
        if each.group in _ON_BOX
        else each
        for each in batches
    ]


_ONE_PASS_READS = 8.0  # texture reads along a slanted pixel when one pass must do: common practice
_MANY_PASS_READS = (2.0, 4.0)  # the same in each of several passes, and the share that their jitter fills


def set_paint(program: Program, batch: Batch, passes: int) -> None:
    """Set a batch's own colour and its picture's filter for a number of jittered passes."""
    sharper = -0.5 * min(math.log2(passes), 2.0)  # the passes' jitter filters too
    taps = (_ONE_PASS_READS, 1.0) if passes == 1 else _MANY_PASS_READS
    program.set(uBase=batch.material.base_color, uSharper=sharper, uPictureTaps=taps, uSeam=batch.seam)
    texture = batch.material.texture
    if texture is not None and batch.picture is not None:
        bind(0, batch.picture.id)
        program.set(
            uPicture=0, uPicturePlace=(texture.u_mm, texture.v_mm, 1.0 / texture.width_mm, 1.0 / texture.height_mm)
        )


def set_film(program: Program, batch: Batch, unit: int) -> None:
    """Set where a batch's film lies, if any, and how it shows."""
    texture, found = batch.material.texture, batch.film
    if texture is None or texture.film is None or found is None:
        return
    film, place = texture.film, found[0]
    bind(unit, found[1].id)
    program.set(
        uFilm=unit, uFilmPlace=(place.u_mm, place.v_mm, 1.0 / place.width_mm, 1.0 / place.height_mm),
        uFilmKind=(film.roughness, film.step_mm / film.run_mm, film.run_mm),
    )  # fmt: skip


def flake_sides(meshes: Iterable[Mesh], material: Material) -> tuple[Side, ...]:
    """Return the pieces that a material's flakes are laid out on, none without flakes: the path tracer's own."""
    return tuple(sides(joined(meshes), is_one=material.texture is not None)) if material.flake > 0.0 else ()


def set_flakes(program: Program, batch: Batch) -> None:
    """Set where a batch's flakes lie, if it has any."""
    if batch.sides:
        corner, layer = flake_grid(batch.sides, batch.material.flake_mm)
        program.set(uFlakeGrid=corner, uFlakeLayer=layer, uFlakeWay=-1)
        if batch.picture is not None:
            program.set(uFlakeWay=batch.sides[0].way, uFlakeFace=batch.sides[0].on_face())


def posed(model: Floats, pose: Floats | None) -> Floats:
    """Return body to world for something that may have a pose of its own on the body."""
    return model if pose is None else np.asarray(model @ pose)


def depth_prepass(programs: Programs, matrix: Floats, model: Floats, cast: Cast) -> None:
    """Draw depth alone into the bound target, a hair behind the true surface.

    Drivers do not keep two programs' depths equal to the last bit, whatever `invariant` says;
    without the hair, a tenth of a slanted surface's pixels stayed empty.
    """
    GL.glEnable(GL.GL_POLYGON_OFFSET_FILL)
    GL.glPolygonOffset(0.25, 8.0)
    GL.glColorMask(False, False, False, False)
    program = programs.use("surface.vert", "depth.frag")
    for solid, pose in cast:
        program.set(uModel=posed(model, pose), uViewProj=matrix)
        solid.draw()
    GL.glColorMask(True, True, True, True)
    GL.glDisable(GL.GL_POLYGON_OFFSET_FILL)
