"""The art guide: the art's own grid, and every line on it to half a pixel, against millimetres and the render."""

from __future__ import annotations

import io
import re
import struct
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from PIL import Image

from mockup import api, engines
from mockup.checks.panel.guide import SETS, TRAVEL_START_DEG
from mockup.checks.report.run import run
from mockup.enclosure.bores import bores
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.enclosure import faces
from mockup.model.errors import InputError
from mockup.model.scene import Camera, Shot
from mockup.outputs import guide
from mockup.scene.assemble import assemble

SVG = "{http://www.w3.org/2000/svg}"
DPI = 300
LAYOUT = """
[box]
size = "112x60x31"
edge = 1.5
[finish]
paint = "#ffffff"
clear_coat = false
[[decal]]
art = "art.png"
left = {left}
top = {top}
rotation = {rotation}
[[part]]
name = "TONE"
kind = "pot-16"
left = 19
top = 30
knob = {{ style = "bar", diameter = 15, pointer = 0.25 }}
[[part]]
name = "LAMP"
kind = "lamp-5"
left = 40
top = 60
[[label]]
part = "TONE"
text = "TONE"
height = 3
width = 12
"""


def art(size: tuple[int, int] = (600, 1140), dpi: int = DPI) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, "white").save(out, "PNG", dpi=(dpi, dpi))
    return out.getvalue()


def pedal(left: float = 4.0, top: float = 3.0, rotation: float = 0.0, size: tuple[int, int] = (600, 1140)) -> Design:
    return api.loads(LAYOUT.format(left=left, top=top, rotation=rotation), {"art.png": art(size)})


def groups(design: Design, **options: str) -> dict[str, ElementTree.Element]:
    root = ElementTree.fromstring(guide.svg(guide.layer(design, guide.Options(**options))))
    return {each.get("id", ""): each for each in root.iter(f"{SVG}g")}


def circles(group: ElementTree.Element) -> dict[str, tuple[float, float, float]]:
    return {
        each.get("aria-label", ""): (float(each.get("cx")), float(each.get("cy")), float(each.get("r")))
        for each in group.iter(f"{SVG}circle")
    }


def corners(path: ElementTree.Element) -> NDArray[np.float64]:
    return np.array(re.findall(r"-?\d+\.\d+", path.get("d", "")), float).reshape(-1, 2)


def test_a_hole_lies_at_its_millimetres_from_the_decals_edge() -> None:
    """Pixel = (u - decal left) * dpi / 25.4: by the definition of dpi, from what a ruler reads."""
    holes = circles(groups(pedal())["holes"])
    per_mm = DPI / 25.4
    (hole,) = [value for name, value in holes.items() if name.startswith("TONE/bushing")]
    assert hole[:2] == pytest.approx(
        ((19 - 4) * per_mm, (30 - 3) * per_mm), abs=0.01
    )  # 300 dpi is 299.9994 in the file
    (lens,) = [value for name, value in holes.items() if name.startswith("LAMP/")]
    assert lens[:2] == pytest.approx(
        ((40 - 4) * per_mm, (60 - 3) * per_mm), abs=0.01
    )  # 300 dpi is 299.9994 in the file
    (bore,) = [each for each in bores(pedal()) if each.name == "TONE/bushing"]
    assert hole[2] == pytest.approx(bore.outline.width_mm / 2 * per_mm, abs=0.01)  # 300 dpi is 299.9994 in the file


def test_face_edge_and_flat_lie_where_the_ruler_starts() -> None:
    """The top of a 60 x 112 mm box, 1 degree of draft: its sharp edge lies h tan(1 deg) inside the rim."""
    design, per_mm = pedal(), DPI / 25.4
    box = design.enclosure
    width = 60 - 2 * (31 - box.lid_mm) * np.tan(np.radians(1.0))
    flat = 1.5 * np.tan(np.radians((90 - 1.0) / 2))  # tangent length of the rounding
    found = groups(design)
    for name, inset in (("edge", 0.0), ("rounding", flat), ("margin", flat + 0.8)):
        (path,) = found[name].iter(f"{SVG}path")
        points = corners(path)
        left, top = points.min(axis=0)
        assert (left, top) == pytest.approx(((inset - 4) * per_mm, (inset - 3) * per_mm), abs=0.01), name
        assert np.ptp(points[:, 0]) == pytest.approx((width - 2 * inset) * per_mm, abs=0.01), name


def test_knob_travel_and_label() -> None:
    design, per_mm = pedal(), DPI / 25.4
    found = groups(design)
    middle = np.array([15.0, 27.0]) * per_mm
    (path,) = found["knobs"].iter(f"{SVG}path")
    knob = corners(path) - middle
    far = knob[np.hypot(*knob.T).argmax()]
    reach = float(np.hypot(*far))
    assert circles(found["travel"])["TONE"] == pytest.approx((*middle, reach), abs=0.3)
    assert reach >= 7.5 * per_mm - 0.3
    ticks = [corners(each) - middle for each in found["travel"].iter(f"{SVG}path")]
    angles = sorted(float(np.degrees(np.arctan2(each[0, 0], -each[0, 1]))) for each in ticks)
    assert angles == pytest.approx([-150.0, 150.0], abs=0.01)  # five o'clock and seven o'clock
    assert TRAVEL_START_DEG == -150.0
    (label,) = found["labels"].iter(f"{SVG}path")
    box = corners(label)
    assert np.ptp(box, axis=0) == pytest.approx((12 * per_mm, 3 * per_mm), abs=0.01)
    assert box[:, 0].mean() == pytest.approx(middle[0], abs=0.01)


def test_png_is_the_arts_grid_and_stays_transparent() -> None:
    design = pedal()
    result = guide.make(design, guide.Options())
    assert [Path(name).suffix for name in result.files] == [".png", ".svg"]
    assert all("-guide-top" in name for name in result.files)
    data = next(iter(result.files.values()))
    at = data.index(b"pHYs") + 4
    assert struct.unpack(">IIB", data[at : at + 9]) == (11811, 11811, 1)  # 300 / 0.0254, per metre
    with Image.open(io.BytesIO(data)) as image:
        assert image.size == (600, 1140)
        assert image.mode == "RGBA"
        pixels = np.asarray(image)
    assert (pixels[..., 3] == 0).mean() > 0.9


@settings(max_examples=12)
@given(
    left=st.floats(-3, 12),
    top=st.floats(-3, 12),
    rotation=st.sampled_from([0.0, 90.0, 180.0, 270.0, 12.5]),
    size=st.tuples(st.integers(430, 700), st.integers(700, 1200)),
)
def test_the_drawn_ring_is_centred_on_the_hole_to_half_a_pixel(
    left: float, top: float, rotation: float, size: tuple[int, int]
) -> None:
    """The cross's arms are left out by masking; the ring's centroid comes from the alpha of the PNG alone."""
    design = pedal(left, top, rotation, size)
    decal = design.decals[0]
    options = guide.Options(lines="holes", output="g.png")
    with Image.open(io.BytesIO(guide.make(design, options).files["g.png"])) as image:
        alpha = np.asarray(image)[..., 3].astype(float)
    turn = np.radians(decal.rotation_deg)
    per_mm = DPI / 25.4
    for u, v, radius in ((19.0, 30.0, 5.0), (40.0, 60.0, 5.0)):
        away = np.array([u - decal.u_mm, v - decal.v_mm])
        x = (away @ (np.cos(turn), np.sin(turn)) + decal.width_mm / 2) * per_mm
        y = (away @ (-np.sin(turn), np.cos(turn)) + decal.height_mm / 2) * per_mm
        reach = radius * per_mm
        if not (reach < x < size[0] - reach and reach < y < size[1] - reach):
            continue
        rows, columns = np.mgrid[: size[1], : size[0]]
        near = np.hypot(columns + 0.5 - x, rows + 0.5 - y)
        ring = np.where((near < reach) & (near > 1.6 * per_mm), alpha, 0.0)
        assert ring.sum() > 0
        got = ((columns + 0.5) * ring).sum() / ring.sum(), ((rows + 0.5) * ring).sum() / ring.sum()
        assert got == pytest.approx((x, y), abs=0.5)


@pytest.mark.gl
def test_the_guide_lies_on_the_holes_of_the_render() -> None:
    """Looking straight down at the drilled box without hardware, one pixel a pixel of art: dark holes, white film."""
    design = pedal()
    decal, face = design.decals[0], faces(design.enclosure)["top"]
    scene = assemble(design, presets()["bench"], look="proof")
    bare = [each for each in scene.bodies if each.group != "hardware"]
    centre = face.to_world(np.array([decal.u_mm, decal.v_mm]))
    camera = Camera(
        eye=tuple(centre + 300 * face.out), target=tuple(centre), up=tuple(-face.down), ortho_mm=decal.height_mm
    )
    shot = Shot(
        camera=camera, width_px=600, height_px=1140, look="proof", hidden=frozenset({"hardware", "inside", "lid"})
    )
    assert bare
    _, module, _ = engines.choose("raster")
    with module.open(scene) as session:
        light = session.render(shot).pixels[..., :3].mean(axis=2)
    rows, columns = np.mgrid[:1140, :600]
    for x, y, radius in circles(groups(design)["holes"]).values():
        near = np.hypot(columns + 0.5 - x, rows + 0.5 - y) < radius + 12
        dark = np.where(near, np.clip(light.max() - light, 0, None) > 0.25, False).astype(float)
        got = ((columns + 0.5) * dark).sum() / dark.sum(), ((rows + 0.5) * dark).sum() / dark.sum()
        assert got == pytest.approx((x, y), abs=0.5)
        assert np.sqrt(dark.sum() / np.pi) == pytest.approx(radius, abs=1.0)


def test_a_guide_left_in_the_art_is_found_on_the_true_edge() -> None:
    """Another part of the program that looks for such lines finds it, within its own step of 0.04 mm."""
    design = pedal()
    drawn = guide.make(design, guide.Options(lines="holes", output="g.png")).files["g.png"]
    text = LAYOUT.format(left=4, top=3, rotation=0)
    (found,) = run(api.loads(text, {"art.png": drawn}), ("guide-lines",))
    assert found.title == "Guide layer left on"
    assert found.facts["many"] == "6"  # two holes, and a cross of two strokes in each
    assert found.measured is not None
    assert found.measured.value <= 0.05


def test_sets_can_be_chosen_and_keep_their_looks() -> None:
    found = groups(pedal(), lines="holes, edge")
    assert list(found) == ["edge", "holes"]
    looks = {(look.colour, look.dash_mm) for look in SETS.values()}
    assert len(looks) == len(SETS) == len({look.colour for look in SETS.values()})


def test_every_example_and_every_face_has_a_guide(examples: Path) -> None:
    for layout in sorted(examples.glob("*/layout.toml")):
        design = api.load(layout)
        for face in ("top", "near", "far", "left", "right"):
            ready = guide.layer(design, guide.Options(face=face))
            wanted = [each.name for each in bores(design) if each.face == face]
            drawn = next(found for name, _, found in ready.sets if name == "holes")
            assert {each.about for each in drawn} == set(wanted)


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"lines": "hole,edge"}, "--lines: there is no line set 'hole'; did you mean 'holes'?"),
        ({"lines": " , "}, "--lines: names no line set; use some of: edge,rounding"),
        ({"face": "bottom"}, "--face: there is no face 'bottom'; use one of: far, left, lid, near, right, top"),
        ({"art": "arts.png"}, "--art: the top face has no art 'arts.png'; did you mean 'art.png'?"),
        ({"face": "left", "art": "x.png"}, "--art: the left face has no art 'x.png'; leave --art out"),
        (
            {"output": "guide.jpg"},
            "--output: 'guide.jpg' has an unknown ending; end the name in .png, .svg: a guide is",
        ),
        ({"output": "guide.pdf"}, "--output: 'guide.pdf' has an unknown ending"),
    ],
)
def test_bad_options_are_one_line(options: dict[str, str], said: str) -> None:
    with pytest.raises(InputError) as caught:
        guide.make(pedal(), guide.Options(**options))
    assert str(caught.value).startswith(said)
    assert "\n" not in str(caught.value)
