"""What is unchanged between two scenes is the same object, and what changed is as if made anew."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from mockup import api
from mockup.finishes import sheens
from mockup.lights import presets
from mockup.model.scene import Scene
from mockup.scene.assemble import assemble
from mockup.scene.kept import Kept

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
    design, kept = api.load(examples / "copper_kettle" / "layout.toml"), Kept()
    first, second = (assemble(design, LIGHT, kept=kept) for _ in range(2))
    assert meshes(first) == meshes(second)
    textures = [[id(body.material.texture) for body in scene.bodies] for scene in (first, second)]
    assert textures[0] == textures[1]


@pytest.mark.parametrize("is_flipped", [False, True])
def test_what_was_kept_changes_nothing_of_what_comes_out(examples: Path, is_flipped: bool) -> None:
    design, kept = api.load(examples / "copper_kettle" / "layout.toml"), Kept()
    assemble(design, LIGHT, kept=kept)
    part = design.parts[0]
    assert part.knob is not None
    turned = replace(part, u_mm=part.u_mm + 1.5, rotation_deg=30.0, knob=replace(part.knob, pointer=0.9))
    dark = [replace(each, lamp=replace(each.lamp, is_lit=False)) if each.lamp else each for each in design.parts[1:]]
    changed = replace(design, parts=(turned, *dark))
    same(assemble(changed, LIGHT, kept=kept, is_flipped=is_flipped), assemble(changed, LIGHT, is_flipped=is_flipped))


def test_two_knobs_that_only_point_elsewhere_share_no_pose(examples: Path) -> None:
    design, kept = api.load(examples / "copper_kettle" / "layout.toml"), Kept()
    part = design.parts[0]
    assert part.knob is not None
    shapes = []
    for pointer in (0.1, 0.9):
        moved = replace(design, parts=(replace(part, knob=replace(part.knob, pointer=pointer)),))
        scene = assemble(moved, LIGHT, kept=kept)
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


def test_the_oldest_goes_when_there_is_no_room() -> None:
    kept = Kept(room_bytes=250)
    made: list[str] = []

    def make(name: str) -> np.ndarray:
        made.append(name)
        return np.zeros(100, np.uint8)

    for name in ("a", "b", "a", "c", "a", "b"):
        kept.get(name, lambda name=name: make(name))  # type: ignore[misc]
    assert made == ["a", "b", "c", "b"], "b was used least lately when c came"


def test_too_many_small_things_go_too() -> None:
    kept = Kept(most=2)
    made: list[int] = []
    for number in (1, 2, 3, 1):
        kept.get(number, lambda number=number: made.append(number))  # type: ignore[misc]
    assert made == [1, 2, 3, 1]


def test_what_alone_is_too_large_is_kept_until_the_next() -> None:
    kept = Kept(room_bytes=10)
    large = kept.get("large", lambda: np.zeros(100, np.uint8))
    assert kept.get("large", lambda: np.zeros(1, np.uint8)) is large


def test_the_decals_film_lies_where_the_decal_does_and_a_coat_buries_it(examples: Path) -> None:
    design = api.load(examples / "lantern_moth" / "layout.toml")
    (decal,) = design.decals
    heights = []
    for has_coat in (False, True):
        coated = replace(design, finish=replace(design.finish, has_clear_coat=has_coat))
        kept = Kept()
        for _ in range(2):  # made anew, and kept
            (top,) = (body for body in assemble(coated, LIGHT, kept=kept).bodies if body.name == "top")
            assert top.material.texture is not None
            film = top.material.texture.film
            assert film is not None
            (patch,) = film.patches
            assert (patch.u_mm, patch.v_mm, patch.width_mm, patch.height_mm, patch.rotation_deg) == (
                decal.u_mm,
                decal.v_mm,
                decal.width_mm,
                decal.height_mm,
                decal.rotation_deg,
            )
        heights.append(film.step_mm)
    assert 0.010 <= heights[0] <= 0.020  # waterslide film: common practice, no source
    assert heights[1] < heights[0]
