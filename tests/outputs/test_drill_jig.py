"""The drill jig as a slicer gets it, read with trimesh: closed, clear of the box, guides where the holes are."""

from __future__ import annotations

import io
import math
import xml.etree.ElementTree as ET
import zipfile
from pathlib import Path

import numpy as np
import pytest
import trimesh

from mockup.api import load
from mockup.drawing.jig import JigSizes, guide_places
from mockup.drawing.jig import jig as built
from mockup.enclosure.drilling import bores
from mockup.enclosure.shell import undrilled_body
from mockup.encode.stl import stl
from mockup.geometry.solids import gap, overlap_volume
from mockup.model.design import Design
from mockup.model.enclosure import faces
from mockup.model.errors import InputError
from mockup.outputs import jig

TOP_MM = (66 - 2 * 37.2 * math.tan(math.radians(1)), 121 - 2 * 37.2 * math.tan(math.radians(1)))


@pytest.fixture
def moth(examples: Path) -> Design:
    return load(examples / "lantern_moth" / "layout.toml")


def _mesh(design: Design, **options: object) -> trimesh.Trimesh:
    (data,) = jig.make(design, jig.Options(**options)).files.values()
    return trimesh.load(io.BytesIO(data), file_type="stl")


@pytest.mark.parametrize("example", ["lantern_moth", "copper_kettle", "night_ferry"])
@pytest.mark.parametrize("sides", [False, True])
def test_is_closed_and_in_one_piece(examples: Path, example: str, sides: bool) -> None:
    mesh = _mesh(load(examples / example / "layout.toml"), sides=sides)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.body_count == 1
    assert mesh.volume > 0


def test_guides_stand_over_the_holes(moth: Design) -> None:
    """Points of each guide hole's wall above the plate: their middle is the hole's place in the layout."""
    mesh = _mesh(moth)
    tips = mesh.vertices[np.abs(mesh.vertices[:, 2] - (39 + 4 + 4 - 0.6)) < 1e-3]  # box, plate, bush, countersink
    places = {  # x from the middle to the right, y from the middle to the far edge: hand-calculated
        "SPEED": (14.85 - TOP_MM[0] / 2, TOP_MM[1] / 2 - 17.85),
        "DEPTH": (TOP_MM[0] / 2 - 14.85, TOP_MM[1] / 2 - 17.85),
        "GLOW": (0.0, TOP_MM[1] / 2 - 35.85),
        "LANTERN": (0.0, TOP_MM[1] / 2 - 60.75),
        "BYPASS": (0.0, 12.85 - TOP_MM[1] / 2),
    }
    for place in places.values():
        away = np.linalg.norm(tips[:, :2] - place, axis=1)
        wall = tips[away < 2.0, :2]
        assert len(wall) >= 12
        assert (wall.min(axis=0) + wall.max(axis=0)) / 2 == pytest.approx(place, abs=0.01)
        assert np.ptp(wall, axis=0) == pytest.approx((3.2, 3.2), abs=0.02)


def test_is_marked_so_that_it_goes_on_the_right_way_round(moth: Design) -> None:
    """FAR is cut 0.6 deep into the plate (its top at 39 + 4) at the far edge, and reads from outside.

    F alone of its letters encloses nothing: of the cut's floors it has Euler number 1, A and R have 0. Read from
    outside, with the far edge away, F comes first.
    """
    mesh = _mesh(moth)
    is_floor = (np.abs(mesh.triangles[:, :, 2] - 42.4) < 1e-3).all(axis=1)
    floors = mesh.submesh([np.flatnonzero(is_floor)], append=True, repair=False)
    letters = [each for each in floors.split(only_watertight=False) if each.centroid[1] > TOP_MM[1] / 2 - 9.0]
    letters.sort(key=lambda each: each.centroid[0])
    assert [each.euler_number for each in letters] == [1, 0, 0]
    assert sum(each.bounds.mean(axis=0)[0] for each in letters) / 3 == pytest.approx(0.0, abs=10.0)
    assert letters[0].extents[1] == pytest.approx(4.0, abs=0.05)  # height of its capitals
    (result,) = [jig.make(moth, jig.Options())]
    assert result.facts["engraved"] == ["FAR", "1", "2", "3", "4", "5", "6"]


def test_bushes_have_walls_that_print(moth: Design) -> None:
    """Three lines of a 0.4 mm nozzle and no less, for walls and bushes; a guide hole opens at 45 degrees."""
    for options, flag in (({"wall": 1.1}, "--wall"), ({"bush": 5.5}, "--bush")):
        with pytest.raises(InputError, match=flag):
            jig.make(moth, jig.Options(**options))
    mesh = _mesh(moth)
    tip = mesh.vertices[np.abs(mesh.vertices[:, 2] - 47) < 1e-3]
    x, y = TOP_MM[0] / 2 - 14.85, TOP_MM[1] / 2 - 17.85  # DEPTH
    radii = np.linalg.norm(tip[:, :2] - (x, y), axis=1)
    assert sorted({round(float(each), 1) for each in radii[radii < 6.0]}) == [2.2, 4.5]  # 3.2 / 2 + 0.6; 9 / 2


def test_a_guide_runs_right_through(moth: Design) -> None:
    """A shell without holes has no handle; every guide is one (Euler: V - E + F = 2 - 2 handles)."""
    mesh = _mesh(moth)
    assert 1 - mesh.euler_number // 2 == 6
    assert 1 - _mesh(moth, sides=True).euler_number // 2 == 9


def test_volume_is_the_solids_own(moth: Design) -> None:
    box_faces = faces(moth.enclosure)
    top = [bore for bore in bores(moth) if bore.face == "top"]
    solid = built(moth.enclosure, box_faces, guide_places(box_faces, top), JigSizes())
    written = trimesh.load(io.BytesIO(stl(solid.welded())), file_type="stl")
    assert written.volume == pytest.approx(solid.volume, rel=1e-5)
    # Lettering takes away its own area, 0.6 deep: six figures and three letters of about 5 mm2 each.
    assert 9 < solid.volume - _mesh(moth).volume < 9 * 5 * 2 * 0.6


@pytest.mark.parametrize("sides", [False, True])
def test_3mf_holds_the_same_closed_body_in_millimetres(moth: Design, sides: bool) -> None:
    """Read with the standard library's ZIP and XML: every edge runs once each way, the volume is the STL's.

    By hand, lib3mf 2.x opens it in strict mode without a warning and finds it manifold and oriented.
    """
    (data,) = jig.make(moth, jig.Options(sides=sides, output="jig.3mf")).files.values()
    space = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        assert packed.testzip() is None
        assert packed.namelist()[0] == "[Content_Types].xml"
        relation = next(iter(ET.fromstring(packed.read("_rels/.rels"))))
        model = ET.fromstring(packed.read(relation.attrib["Target"].removeprefix("/")))
    assert model.attrib["unit"] == "millimeter"
    assert [each.attrib["objectid"] for each in model.iter(f"{space}item")] == ["1"]
    places = np.array([[float(each.attrib[axis]) for axis in "xyz"] for each in model.iter(f"{space}vertex")])
    faces = np.array([[int(each.attrib[key]) for key in ("v1", "v2", "v3")] for each in model.iter(f"{space}triangle")])
    edges = faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
    forward, counts = np.unique(edges, axis=0, return_counts=True)
    assert (counts == 1).all()
    assert np.array_equal(forward, np.unique(edges[:, ::-1], axis=0))
    a, b, c = (places[faces[:, i]] for i in range(3))
    volume = float((np.cross(a, b) * c).sum() / 6)
    assert volume == pytest.approx(_mesh(moth, sides=sides).volume, rel=1e-5)
    assert np.ptp(places, axis=0) == pytest.approx(_mesh(moth, sides=sides).extents, abs=1e-4)


def test_sits_on_the_box_with_the_fit_asked_for(moth: Design) -> None:
    box_faces = faces(moth.enclosure)
    body = undrilled_body(moth.enclosure)
    around = [bore for bore in bores(moth) if bore.face != "top"]
    for fit in (0.2, 0.6):
        solid = built(moth.enclosure, box_faces, guide_places(box_faces, around), JigSizes(fit_mm=fit))
        assert overlap_volume(solid, body) < 1e-3
        assert gap(solid, body, 1.0) < 1e-6  # the plate lies on the top
    mesh = _mesh(moth, sides=False, skirt=25.0, fit=0.5)
    level = mesh.vertices[np.abs(mesh.vertices[:, 2] - 14.0) < 1e-3]  # the skirt's end, 25 under the top
    inner = np.abs(level[:, 0])[np.abs(level[:, 1]) < 55.6].min()  # the ends of its straight sides
    wall = 33.0 - (14.0 - 1.8) * math.tan(math.radians(1))  # the box's own half width at that height
    assert inner - wall == pytest.approx(0.5, abs=0.01)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"output": "jig.obj"}, "--output: 'jig.obj' is neither STL nor 3MF"),
        ({"fit": -1.0}, "--fit: must be 0 to 2 mm, found -1 mm"),
        ({"guide": 8.0}, "--bush: 9 mm is too thin for a guide hole of 8 mm"),
        ({"wall": float("nan")}, "--wall: must be"),
        ({"bush_height": 99.0}, "--bush-height: must be"),
    ],
)
def test_bad_input_is_one_line(moth: Design, options: dict[str, object], words: str) -> None:
    with pytest.raises(InputError) as caught:
        jig.make(moth, jig.Options(**options))
    assert str(caught.value).startswith(words)
    assert "\n" not in str(caught.value)
