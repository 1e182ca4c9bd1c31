"""What is unchanged between two scenes is the same object, and what changed is as if made anew."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from mockup import api
from mockup.finishes import sheens
from mockup.lights import presets
from mockup.memo import MEMORY
from mockup.model.scene import Scene
from mockup.scene.assemble import assemble

LIGHT = presets()["bench"]


def meshes(scene: Scene) -> list[int]:
    return [id(body.mesh) for body in scene.bodies]


def same(one: Scene, two: Scene) -> None:
    assert [body.name for body in one.bodies] == [body.name for body in two.bodies]
    for first, second in zip(one.bodies, two.bodies, strict=True):
        for name in ("vertices", "normals", "faces"):
            assert (getattr(first.mesh, name) == getattr(second.mesh, name)).all(), first.name
        assert (first.group, first.part, first.material.base_color) == (
            second.group,
            second.part,
            second.material.base_color,
        )


def test_a_scene_assembled_again_holds_the_same_objects(examples: Path) -> None:
    layout = examples / "copper_kettle" / "layout.toml"
    first, second = (assemble(api.load(layout), LIGHT) for _ in range(2))  # other objects, equal content
    assert meshes(first) == meshes(second)
    textures = [[id(body.material.texture) for body in scene.bodies] for scene in (first, second)]
    assert textures[0] == textures[1]


@pytest.mark.parametrize("is_flipped", [False, True])
def test_what_is_remembered_changes_nothing_of_what_comes_out(examples: Path, is_flipped: bool) -> None:
    design = api.load(examples / "copper_kettle" / "layout.toml")
    assemble(design, LIGHT)
    part = design.parts[0]
    assert part.knob is not None
    turned = replace(part, u_mm=part.u_mm + 1.5, rotation_deg=30.0, knob=replace(part.knob, pointer=0.9))
    dark = [replace(each, lamp=replace(each.lamp, is_lit=False)) if each.lamp else each for each in design.parts[1:]]
    changed = replace(design, parts=(turned, *dark))
    remembered = assemble(changed, LIGHT, is_flipped=is_flipped)
    MEMORY.clear()
    same(remembered, assemble(changed, LIGHT, is_flipped=is_flipped))


def test_a_moved_part_makes_new_its_own_meshes_and_its_holes_face_only(examples: Path) -> None:
    design = api.load(examples / "copper_kettle" / "layout.toml")
    part = design.parts[0]
    before = assemble(design, LIGHT)
    after = assemble(replace(design, parts=(replace(part, v_mm=part.v_mm + 0.5), *design.parts[1:])), LIGHT)
    new = {one.name for one in after.bodies if not any(one.mesh is other.mesh for other in before.bodies)}
    holes = {"top", "inner"} | {name for name in new if name.startswith(f"bore:{part.name}/")}
    own = {body.name for body in after.bodies if body.part == part.name}
    assert own
    assert new <= own | holes
    top, again = (
        next(body.material.texture for body in scene.bodies if body.name == "top") for scene in (before, after)
    )
    assert top is again


def test_two_knobs_that_only_point_elsewhere_share_no_pose(examples: Path) -> None:
    design = api.load(examples / "copper_kettle" / "layout.toml")
    part = design.parts[0]
    assert part.knob is not None
    shapes = []
    for pointer in (0.1, 0.9):
        moved = replace(design, parts=(replace(part, knob=replace(part.knob, pointer=pointer)),))
        scene = assemble(moved, LIGHT)
        shapes.append(next(body.mesh.vertices for body in scene.bodies if "pointer" in body.name))
    assert np.abs(shapes[0] - shapes[1]).max() > 1.0


def test_a_proofs_paint_goes_on_where_its_film_ends(examples: Path) -> None:
    """Round its film a texture has a border of bare paint: beyond it the paint must be of the same colour."""
    from mockup.colour import rgb

    design = api.load(examples / "copper_kettle" / "layout.toml")
    for sheen in ("matte", "satin", "gloss"):
        finish = replace(design.finish, sheen=sheens()[sheen], paint=(0.02, 0.02, 0.02), has_clear_coat=False)
        scene = assemble(replace(design, finish=finish), LIGHT, look="proof")
        (top,) = [body.material for body in scene.bodies if body.name == "top"]
        assert top.texture is not None
        border = top.texture.pixels[0, 0]
        assert np.abs(rgb.to_8bit(rgb.encoded_colour(top.base_color)).astype(int) - border).max() <= 1


def test_the_decals_film_lies_where_the_decal_does_and_a_coat_buries_it(examples: Path) -> None:
    design = api.load(examples / "lantern_moth" / "layout.toml")
    (decal,) = design.decals
    heights = []
    for has_coat in (False, True):
        coated = replace(design, finish=replace(design.finish, has_clear_coat=has_coat))
        for _ in range(2):  # made anew, and remembered
            (top,) = (body for body in assemble(coated, LIGHT).bodies if body.name == "top")
            assert top.material.texture is not None
            film = top.material.texture.film
            assert film is not None
            (patch,) = film.patches
            assert (patch.u_mm, patch.v_mm, patch.rotation_deg) == (decal.u_mm, decal.v_mm, decal.rotation_deg)
            pixel_mm2 = patch.width_mm * patch.height_mm / patch.inside_mm.size
            area = (patch.inside_mm > 0).sum() * pixel_mm2
            assert area == pytest.approx(decal.width_mm * decal.height_mm, rel=0.005)
        heights.append(film.step_mm)
    assert 0.010 <= heights[0] <= 0.020  # waterslide film: common practice, no source
    assert heights[1] < heights[0]
