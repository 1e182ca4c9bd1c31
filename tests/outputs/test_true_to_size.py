"""The decal lies where a ruler says: a straight-down picture at the art's own resolution."""

from __future__ import annotations

import io

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageDraw

import mockup
from mockup import api, engines
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.enclosure import Face, faces
from mockup.model.scene import Camera, Shot
from mockup.scene.assemble import assemble

pytestmark = pytest.mark.slow

DPI = 300
PX_PER_MM = DPI / 25.4  # the definition of dpi
ART_PX = (630, 1260)
MARKS_PX = [(40, 40), (590, 40), (40, 1220), (590, 1220), (315, 630), (123, 456)]
LAYOUT = """
[box]
size = "112x60x31"
[finish]
paint = "#d8d2c0"
clear_coat = false
[[decal]]
face = "{face}"
art = "art.png"
{place}
"""


def marked_art(size: tuple[int, int], marks: list[tuple[int, int]]) -> bytes:
    """Draw 9 x 9 px black squares centred on the centre of the pixel (x, y), on white."""
    image = Image.new("RGB", size, "white")
    pen = ImageDraw.Draw(image)
    for x, y in marks:
        pen.rectangle((x - 4, y - 4, x + 4, y + 4), fill="black")
    out = io.BytesIO()
    image.save(out, "PNG", dpi=(DPI, DPI))
    return out.getvalue()


def looking_straight_at(face: Face, engine: str, design: Design) -> NDArray[np.float32]:
    """Return a proof picture with one pixel per art pixel, whose left edge is the face's left edge."""
    width, height = int(np.ceil(face.width_mm * PX_PER_MM)), int(np.ceil(face.height_mm * PX_PER_MM))
    centre = face.to_world(np.array([width / PX_PER_MM / 2, height / PX_PER_MM / 2]))
    camera = Camera(
        eye=tuple(centre + 300 * face.out),
        target=tuple(centre),
        up=tuple(-face.down),
        ortho_mm=height / PX_PER_MM,
    )
    _, module, _ = engines.choose(engine)
    with module.open(assemble(design, presets()["bench"], look="proof")) as session:
        frame = session.render(Shot(camera=camera, width_px=width, height_px=height, look="proof"))
    return frame.pixels[..., :3].mean(axis=2)


def dark_centre(picture: NDArray[np.float32], x: float, y: float) -> tuple[float, float]:
    """Return the centre of the dark mark near (x, y), in pixels from the picture's top-left corner."""
    column, row, reach = round(x), round(y), 12
    patch = picture[row - reach : row + reach, column - reach : column + reach]
    dark = np.clip(picture.max() - patch - 0.1, 0, None)
    assert dark.sum() > 10, "no mark here"
    rows, columns = np.mgrid[: 2 * reach, : 2 * reach]
    middle_x, middle_y = (dark * columns).sum() / dark.sum(), (dark * rows).sum() / dark.sum()
    return column - reach + middle_x + 0.5, row - reach + middle_y + 0.5


@pytest.mark.parametrize("engine", [pytest.param("raster", marks=pytest.mark.gl), "traced"])
def test_a_point_d_mm_from_the_edge_lies_on_pixel_d_times_dpi_over_25_4(engine: str) -> None:
    """The art's corner lies 3 mm from the left and 2 mm from the top edge, so every mark's place
    from the face's edge is known in millimetres: (pixel + 0.5) / dpi * 25.4 more."""
    text = LAYOUT.format(face="top", place="left = 3\ntop = 2")
    design = api.loads(text, {"art.png": marked_art(ART_PX, MARKS_PX)})
    picture = looking_straight_at(faces(design.enclosure)["top"], engine, design)
    for x, y in MARKS_PX:
        want_x, want_y = x + 0.5 + 3 * PX_PER_MM, y + 0.5 + 2 * PX_PER_MM
        got_x, got_y = dark_centre(picture, want_x, want_y)
        assert abs(got_x - want_x) < 0.5, (x, y)
        assert abs(got_y - want_y) < 0.5, (x, y)


@pytest.mark.gl
@pytest.mark.parametrize("name", ["near", "left"])
def test_sides_are_as_true_as_the_top(name: str) -> None:
    """On a drafted side the ruler's left edge moves with height, so the centred decal is checked:
    its middle lies on the middle of the face's flat."""
    marks = [(20, 20), (150, 100), (280, 180)]
    design = api.loads(LAYOUT.format(face=name, place=""), {"art.png": marked_art((301, 201), marks)})
    face = faces(design.enclosure)[name]  # type: ignore[index]
    picture = looking_straight_at(face, "raster", design)
    left, top, right, bottom = (edge * PX_PER_MM for edge in face.flat)
    for x, y in marks:
        want_x, want_y = (left + right) / 2 + x - 150, (top + bottom) / 2 + y - 100
        got_x, got_y = dark_centre(picture, want_x, want_y)
        assert abs(got_x - want_x) < 0.5, (x, y)
        assert abs(got_y - want_y) < 0.5, (x, y)


@pytest.mark.gl
def test_flat_colours_are_the_predicted_ones() -> None:
    """Unlit, a patch is the composite's own colour, and bare paint the paint's, within 1 of 255."""
    from mockup.colour.view import view
    from mockup.decal.composite import composite

    image = Image.new("RGB", (300, 300), "white")
    pen = ImageDraw.Draw(image)
    colours = ["#203a8f", "#c23b22", "#f2c230", "#3f8f4a"]
    for i, colour in enumerate(colours):
        pen.rectangle((20 + 70 * i, 60, 20 + 70 * i + 50, 240), fill=colour)
    out = io.BytesIO()
    image.save(out, "PNG", dpi=(DPI, DPI))
    design = api.loads(LAYOUT.format(face="top", place="left = 10\ntop = 20"), {"art.png": out.getvalue()})
    face = faces(design.enclosure)["top"]
    decal = design.decals[0]
    expected = composite(decal, design.finish, "proof")
    height = round(face.height_mm * PX_PER_MM)
    centre = face.to_world(np.array([face.width_mm / 2, face.height_mm / 2]))
    camera = Camera(eye=tuple(centre + (0, 0, 300)), target=tuple(centre), up=(0, 1, 0), ortho_mm=face.height_mm)
    size = (round(face.width_mm * PX_PER_MM), height)
    _, module, _ = engines.choose("raster")
    with module.open(assemble(design, presets()["bench"], look="proof")) as session:
        frame = session.render(Shot(camera=camera, width_px=size[0], height_px=size[1], look="proof"))
    pixels = view(frame.pixels, "proof")
    for i in range(len(colours)):
        x, y = 45 + 70 * i, 150
        got = pixels[round(y + 20 * PX_PER_MM), round(x + 10 * PX_PER_MM), :3].astype(int)
        assert np.abs(got - expected[y, x]).max() <= 1
    paint = pixels[round(5 * PX_PER_MM), round(30 * PX_PER_MM), :3].astype(int)
    assert np.abs(paint - [0xD8, 0xD2, 0xC0]).max() <= 1


@pytest.mark.gl
@pytest.mark.parametrize("view", ["above", "near", "left"])
def test_true_size_picture_carries_the_resolution_at_which_it_prints_life_size(view: str) -> None:
    """The silhouette's width in pixels / dpi * 25.4 is the box's width in millimetres (60 x 112)."""
    design = api.loads('[box]\nsize = "112x60x31"\n[finish]\npaint = "#ffffff"\nclear_coat = false')
    picture = mockup.still(design, view=view, size=(900, 900), look="proof", background="#000000").picture
    assert picture.dpi is not None
    solid = (picture.pixels[..., :3] > 128).all(axis=2)
    across = solid.any(axis=0).sum() * 25.4 / picture.dpi
    wanted = {"above": 60.0, "near": 60.0, "left": 112.0}[view]
    assert across == pytest.approx(wanted, abs=2 * 25.4 / picture.dpi)
