"""The lid's outside as a face: it reads right when the pedal is turned over, and its flat keeps clear of screws."""

from __future__ import annotations

import numpy as np
import pytest

from mockup import api
from mockup.checks import lid_screws
from mockup.checks.panel.built import Built
from mockup.enclosure.lid import countersink, foot_places, lid, screw_places
from mockup.enclosure.sizes import SIZES
from mockup.geometry.poses import turned_over
from mockup.lights import presets
from mockup.model.enclosure import FOOT_MM, Enclosure, faces
from mockup.model.errors import InputError
from mockup.scene.assemble import assemble


def test_the_lid_reads_right_when_the_pedal_is_turned_over() -> None:
    """Turned over about the y axis, the lid is looked at from +z: u runs right (+x), v towards the viewer (-y)."""
    face = faces(Enclosure(width_mm=60, length_mm=112, height_mm=31))["lid"]
    assert np.allclose(np.cross(face.right, face.down), -face.out)
    over = turned_over(31.0)[:3, :3]
    assert np.allclose(over @ face.right, (1, 0, 0))
    assert np.allclose(over @ face.down, (0, -1, 0))
    assert np.allclose(face.to_world(np.array([0.0, 0.0])), (30, 56, 0))  # a quarter of the plate, by hand


@pytest.mark.parametrize("feet", [0.0, 3.0])
def test_the_flat_of_every_lid_keeps_clear_of_screws_and_feet(feet: float) -> None:
    for size, plain in SIZES.items():
        box = Enclosure(**{**vars(plain), "feet_mm": feet})
        face = faces(box)["lid"]
        left, top, right, bottom = face.flat
        for places, radius in ((screw_places(box), countersink(box)[0] / 2), (foot_places(box), FOOT_MM / 2)):
            for at in places:
                u, v = face.from_world(np.array([*at, 0.0]))[:2]
                apart = np.hypot(max(left - u, u - right, 0.0), max(top - v, v - bottom, 0.0))
                assert apart >= radius + lid_screws_mm(), size


def lid_screws_mm() -> float:
    """The room that the check of the lid's screws asks for."""
    return Built(api.loads(LAYOUT.format(""))).limits["lid_screw_mm"].value


LAYOUT = """
name = "Sea Foam"
units = "mm"
[box]
size = "112x60x31"
{}
"""
_PART = '[[part]]\nname = "IN"\nkind = "jack-enclosed"\nface = "lid"'
_FILM = '[[decal]]\nart = "art.svg"\nface = "lid"\nwidth = {}'
_ART = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 56 108"><rect width="56" height="108" fill="red"/></svg>'


def test_film_on_the_lid_is_in_the_picture_and_checked_against_the_screws() -> None:
    design = api.loads(LAYOUT.format(_FILM.format(56)), {"art.svg": _ART})
    plate = next(body for body in assemble(design, presets()["bench"]).bodies if body.name == "lid")
    assert plate.material.texture is not None
    assert plate.mesh.uv is not None
    found = list(lid_screws.check(Built(design)))
    assert [each.facts["count"] for each in found] == ["4 screws"]
    small = api.loads(LAYOUT.format(_FILM.format(30)), {"art.svg": _ART})
    assert list(lid_screws.check(Built(small))) == []


def test_no_part_stands_on_the_lid() -> None:
    with pytest.raises(InputError, match=r"unknown name .lid.; use one of: far, left, near, right, top"):
        api.loads(LAYOUT.format(_PART))


def test_the_plate_carries_the_coordinates_of_its_face() -> None:
    box = Enclosure(width_mm=60, length_mm=112, height_mm=31)
    mesh = lid(box)["lid"]
    assert mesh.uv is not None
    assert np.allclose(faces(box)["lid"].to_world(mesh.uv)[:, :2], mesh.vertices[:, :2])
