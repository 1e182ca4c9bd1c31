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
from solid_gaps import gap, overlap_volume

from mockup.api import load, loads
from mockup.drawing.holes import holes
from mockup.drawing.jig_solid import JigSizes, guide_places
from mockup.drawing.jig_solid import jig as built
from mockup.enclosure.shell import undrilled_body
from mockup.encode.stl import stl
from mockup.model.design import Design
from mockup.model.enclosure import faces
from mockup.model.errors import InputError
from mockup.outputs import jig

pytestmark = pytest.mark.slow

BRIDGE_MM = 5.0  # what a common printer spans in the air without sagging: common practice, no source
BED_MM, PLATE_MM, BUSH_MM = 0.0, 4.0, 4.0  # the file lies on its plate: everything counts from the bed
TOP_MM = (66 - 2 * 37.2 * math.tan(math.radians(1)), 121 - 2 * 37.2 * math.tan(math.radians(1)))


@pytest.fixture
def moth(examples: Path) -> Design:
    return load(examples / "lantern_moth" / "layout.toml")


def _mesh(design: Design, **options: object) -> trimesh.Trimesh:
    data, _ = jig.make(design, jig.Options(**options)).files.values()
    return trimesh.load(io.BytesIO(data), file_type="stl")


@pytest.mark.parametrize("example", ["lantern_moth", "copper_kettle", "night_ferry"])
@pytest.mark.parametrize("sides", [False, True])
def test_is_closed_and_in_one_piece(examples: Path, example: str, sides: bool) -> None:
    mesh = _mesh(load(examples / example / "layout.toml"), sides=sides)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.body_count == 1
    assert mesh.volume > 0


@pytest.mark.parametrize("example", ["lantern_moth", "copper_kettle", "night_ferry"])
@pytest.mark.parametrize("options", [{}, {"sides": True}, {"sides": True, "bush_height": 12.0, "bush": 12.0}], ids=str)
def test_prints_without_supports(examples: Path, example: str, options: dict[str, object]) -> None:
    """It lies on its plate; nothing above the bed hangs over by more than 45 degrees, but for bridges.

    A bridge's span is the shorter side of the smallest rectangle round a patch that faces down, seen from above:
    the roof of a level guide hole, 3.2 mm wide, and the strokes of 4 mm lettering.
    """
    design = load(examples / example / "layout.toml")
    mesh = _mesh(design, **options)
    assert mesh.bounds[0, 2] == pytest.approx(0.0, abs=1e-4)
    is_bed = mesh.triangles[:, :, 2].max(axis=1) < 1e-3
    assert mesh.area_faces[is_bed].sum() > 0.9 * design.enclosure.width_mm * design.enclosure.length_mm
    hangs = (mesh.face_normals[:, 2] < -math.sin(math.radians(45.1))) & ~is_bed & (mesh.area_faces > 1e-6)
    patches = mesh.submesh([np.flatnonzero(hangs)], append=True, repair=False).split(only_watertight=False)
    assert len(patches) >= 4  # FAR and a number at least: the search finds something
    spans = [min(trimesh.bounds.oriented_bounds_2D(each.vertices[:, :2])[1]) for each in patches]
    assert max(spans) < BRIDGE_MM


def test_rests_on_a_rim_and_on_every_bush(moth: Design) -> None:
    """What touches the box's top, 8 from the bed: six rings of 9 / 3.2 mm, and the flat's rim, 3 and the fit wide."""
    mesh = _mesh(moth)
    level = PLATE_MM + BUSH_MM
    touches = (np.abs(mesh.triangles[:, :, 2] - level) < 1e-3).all(axis=1) & (mesh.face_normals[:, 2] > 0.99)
    box = moth.enclosure
    flat = [each - 2 * box.flat_inset_mm for each in TOP_MM]
    rim = (flat[0] + 0.6) * (flat[1] + 0.6) - (flat[0] - 6) * (flat[1] - 6)
    rings = 6 * math.pi / 4 * (9.0**2 - 3.2**2)
    corners = (4 - math.pi) * 6.0**2  # of both outlines together they take away less than this
    assert mesh.area_faces[touches].sum() == pytest.approx(rim + rings, abs=corners)
    floor = (np.abs(mesh.triangles[:, :, 2] - PLATE_MM) < 1e-3).all(axis=1)
    assert mesh.area_faces[floor].sum() == pytest.approx(
        (flat[0] - 6) * (flat[1] - 6) - 6 * math.pi / 4 * 9.0**2, abs=corners
    )


def test_guides_stand_over_the_holes(moth: Design) -> None:
    """Points of each guide hole's wall: their middle is the hole's place in the layout, turned over left to right."""
    mesh = _mesh(moth)
    tips = mesh.vertices[np.abs(mesh.vertices[:, 2] - 0.6) < 1e-3] * (-1.0, 1.0, 1.0)  # where the countersink ends
    places = {  # x from the middle to the right, y from the middle to the far edge: hand-calculated
        "FLUTTER": (14.85 - TOP_MM[0] / 2, TOP_MM[1] / 2 - 17.85),
        "HOVER": (TOP_MM[0] / 2 - 14.85, TOP_MM[1] / 2 - 17.85),
        "GLOW": (0.0, TOP_MM[1] / 2 - 35.85),
        "LANTERN": (0.0, TOP_MM[1] / 2 - 60.75),
        "BYPASS": (0.0, 12.85 - TOP_MM[1] / 2),
    }
    (made,) = [jig.make(moth, jig.Options())]
    told = {each["name"]: each["at_mm"] for each in made.facts["guides"]}
    for name, place in places.items():
        (at,) = [found for full, found in told.items() if full.startswith(name)]
        assert at == pytest.approx([-place[0], place[1], PLATE_MM + BUSH_MM], abs=1e-3)
        away = np.linalg.norm(tips[:, :2] - place, axis=1)
        wall = tips[away < 2.0, :2]
        assert len(wall) >= 12
        assert (wall.min(axis=0) + wall.max(axis=0)) / 2 == pytest.approx(place, abs=0.01)
        assert np.ptp(wall, axis=0) == pytest.approx((3.2, 3.2), abs=0.02)


def test_is_marked_so_that_it_goes_on_the_right_way_round(moth: Design) -> None:
    """FAR is cut 0.6 deep into the plate, from the bed, at the far edge, and reads from outside.

    F alone of its letters encloses nothing: of the cut's floors it has Euler number 1, A and R have 0. Read from
    outside, with the far edge away, F comes first: as it is printed, that is from the right.
    """
    mesh = _mesh(moth)
    is_floor = (np.abs(mesh.triangles[:, :, 2] - 0.6) < 1e-3).all(axis=1)
    floors = mesh.submesh([np.flatnonzero(is_floor)], append=True, repair=False)
    letters = [each for each in floors.split(only_watertight=False) if each.centroid[1] > TOP_MM[1] / 2 - 9.0]
    letters.sort(key=lambda each: -each.centroid[0])
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
    x, y = 14.85 - TOP_MM[0] / 2, TOP_MM[1] / 2 - 17.85  # HOVER, turned over
    for level, expected in ((BED_MM, [2.2]), (PLATE_MM + BUSH_MM, [1.6, 4.5])):  # 3.2 / 2 + 0.6; 3.2 / 2 and 9 / 2
        there = mesh.vertices[np.abs(mesh.vertices[:, 2] - level) < 1e-3]
        radii = np.linalg.norm(there[:, :2] - (x, y), axis=1)
        near = radii[(radii < 6.0) & (radii < 2.5 if level == BED_MM else True)]  # numbers stand beside it
        assert sorted({round(float(each), 1) for each in near}) == expected


def test_a_guide_runs_right_through(moth: Design) -> None:
    """A shell without holes has no handle; every guide is one (Euler: V - E + F = 2 - 2 handles)."""
    mesh = _mesh(moth)
    assert 1 - mesh.euler_number // 2 == 6
    assert 1 - _mesh(moth, sides=True).euler_number // 2 == 9


def test_volume_is_the_solids_own(moth: Design) -> None:
    box_faces = faces(moth.enclosure)
    top = [each for each in holes(moth, box_faces, "mm") if each.bore.face == "top"]
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
    data, beside = jig.make(moth, jig.Options(sides=sides, output="jig.3mf")).files.values()
    space = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        assert packed.testzip() is None
        assert packed.namelist()[0] == "[Content_Types].xml"
        relation = next(iter(ET.fromstring(packed.read("_rels/.rels"))))
        model = ET.fromstring(packed.read(relation.attrib["Target"].removeprefix("/")))
    assert model.attrib["unit"] == "millimeter"
    about = {each.attrib["name"]: each.text for each in model.iter(f"{space}metadata")}
    assert about["Description"] == beside.decode()
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
    around = [each for each in holes(moth, box_faces, "mm") if each.bore.face != "top"]
    for fit in (0.2, 0.6):
        solid = built(moth.enclosure, box_faces, guide_places(box_faces, around), JigSizes(fit_mm=fit))
        assert overlap_volume(solid, body) < 1e-3
        assert gap(solid, body, 1.0) < 1e-6  # rim and bushes lie on the top
    mesh = _mesh(moth, sides=False, skirt=25.0, fit=0.5)
    end = PLATE_MM + BUSH_MM + 25.0  # of the skirt, above the bed; 14 above the lid's underside on the box
    level = mesh.vertices[np.abs(mesh.vertices[:, 2] - end) < 1e-3]
    inner = np.abs(level[:, 0])[np.abs(level[:, 1]) < 55.6].min()  # the ends of its straight sides
    wall = 33.0 - (14.0 - 1.8) * math.tan(math.radians(1))  # the box's own half width at that height
    assert inner - wall == pytest.approx(0.5, abs=0.01)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"output": "jig.obj"}, "--output: 'jig.obj' has an unknown ending"),
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


def test_a_jig_that_guides_nothing_says_so() -> None:
    bare = loads('name = "Bare"\n[box]\nsize = "112x60x31"\n')
    made = jig.make(bare, jig.Options())
    assert made.notes[0] == "the jig guides nothing: Bare has no holes to drill"
    assert "by their numbers" not in made.files["bare-jig.txt"].decode()
    aside = loads('name = "Bare"\n[box]\nsize = "112x60x31"\n[[part]]\nname = "IN"\nkind = "jack-open"\nface = "far"\n')
    assert jig.make(aside, jig.Options()).notes[0].endswith("no holes on the top; --sides guides the others")
