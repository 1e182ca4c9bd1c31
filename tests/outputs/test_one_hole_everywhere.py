"""One hole in three things that a builder holds against each other: art guide, drill template, picture.

Each is measured in its own pixels, from the face's edge or from marks in the art, and all must say the
same place to half a pixel of the guide.
"""

from __future__ import annotations

import io

import numpy as np
import pypdfium2
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from mockup import api, engines
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.enclosure import faces
from mockup.model.scene import Camera, Shot
from mockup.outputs import guide, template
from mockup.scene.assemble import assemble

DPI = 300
PX = DPI / 25.4  # per millimetre: the definition of dpi
HALF_MM = 0.5 / PX
ART_PX, CORNER_MM = (720, 1340), (-1.0, -1.2)  # the art covers more than the face, so its guide shows the face's edge
MARKS_PX = ((60, 70), (650, 80), (70, 1260), (655, 1250))
HOLES = {"TONE": (19.3, 30.7, 7.5), "DRIVE": (40.1, 41.9, 7.5), "LAMP": (29.6, 63.2, 8.0), "BYPASS": (30.2, 95.4, 12.5)}
LAYOUT = """
name = "One hole"
[box]
size = "112x60x31"
edge = 1.5
[finish]
paint = "#d8d2c0"
clear_coat = false
[[decal]]
art = "art.png"
left = -1.0
top = -1.2
"""
KINDS = {"TONE": "pot-16", "DRIVE": "pot-16", "LAMP": "lamp-5", "BYPASS": "footswitch"}


@pytest.fixture(scope="module")
def design() -> Design:
    image = Image.new("RGB", ART_PX, "white")
    pen = ImageDraw.Draw(image)
    for x, y in MARKS_PX:
        pen.rectangle((x - 4, y - 4, x + 4, y + 4), fill="black")
    out = io.BytesIO()
    image.save(out, "PNG", dpi=(DPI, DPI))
    parts = "".join(
        f'[[part]]\nname = "{name}"\nkind = "{KINDS[name]}"\nleft = {u}\ntop = {v}\n'
        for name, (u, v, _) in HOLES.items()
    )
    return api.loads(LAYOUT + parts, {"art.png": out.getvalue()})


def ring_centre(is_dark: NDArray[np.bool_], x: float, y: float, radius: float) -> tuple[float, float]:
    """Return the middle of a ring of dark pixels near (x, y), crosses left out: least squares (Kasa)."""
    rows, columns = np.nonzero(is_dark)
    places = np.stack([columns + 0.5 - x, rows + 0.5 - y], axis=1)
    near = np.abs(np.hypot(*places.T) - radius) < 0.12 * radius
    off_cross = np.abs(places).min(axis=1) > 0.15 * radius
    ring = places[near & off_cross]
    assert len(ring) > radius, "no ring here"
    system = np.column_stack([2 * ring, np.ones(len(ring))])
    a, b, _ = np.linalg.lstsq(system, (ring**2).sum(axis=1), rcond=None)[0]
    return x + a, y + b


def edges(is_dark: NDArray[np.bool_], least: float) -> tuple[float, float]:
    """Return where the left and the top line of a long dark rectangle lie, in pixels (middle of the line)."""
    middles = []
    for counts in (is_dark.sum(axis=0), is_dark.sum(axis=1)):
        lines = np.flatnonzero(counts > least * counts.max())
        first = np.split(lines, np.flatnonzero(np.diff(lines) > 1) + 1)[0]
        middles.append(float((counts[first] * (first + 0.5)).sum() / counts[first].sum()))
    return middles[0], middles[1]


def in_guide(design: Design) -> dict[str, tuple[float, float]]:
    """Return the hole centres that the guide's PNG shows, in mm from the face's left and top edge."""
    drawn = {}
    for lines in ("edge", "holes"):
        result = guide.make(design, guide.Options(lines=lines, output="g.png"))
        with Image.open(io.BytesIO(result.files["g.png"])) as image:
            assert image.size == ART_PX
            drawn[lines] = np.asarray(image)[..., 3] > 100
    left, top = edges(drawn["edge"], 0.6)
    found = {}
    for name, (u, v, across) in HOLES.items():
        x, y = ring_centre(drawn["holes"], left + u * PX, top + v * PX, across / 2 * PX)
        found[name] = ((x - left) / PX, (y - top) / PX)
    return found


def in_template(design: Design) -> dict[str, tuple[float, float]]:
    """Return those of the drill template, drawn at 1200 dpi, from the edges of its outline."""
    (data,) = template.make(design, template.Options(faces="each")).files.values()
    document = pypdfium2.PdfDocument(data)
    picture = document[0].render(scale=1200 / 72, grayscale=True).to_numpy()
    document.close()
    per_mm = 1200 / 25.4
    rows = slice(round(28 * per_mm), round(258 * per_mm))  # less the page's own head and foot
    is_dark = picture.reshape(picture.shape[:2])[rows] < 110
    left, top = edges(is_dark, 0.9)
    found = {}
    for name, (u, v, across) in HOLES.items():
        x, y = ring_centre(is_dark, left + u * per_mm, top + v * per_mm, across / 2 * per_mm)
        found[name] = ((x - left) / per_mm, (y - top) / per_mm)
    return found


def middle(weight: NDArray[np.float32], x: float, y: float, reach: float) -> tuple[float, float]:
    """Return the middle of what has weight within a square about (x, y), all in pixels."""
    left, top, side = round(x - reach), round(y - reach), round(2 * reach)
    patch = np.clip(weight[top : top + side, left : left + side], 0.0, 1.0)
    assert patch.sum() > 10, "nothing here"
    rows, columns = np.mgrid[:side, :side] + 0.5
    return left + float((patch * columns).sum() / patch.sum()), top + float((patch * rows).sum() / patch.sum())


def in_picture(design: Design, engine: str) -> dict[str, tuple[float, float]]:
    """Return those of an unlit picture from above, hardware and lid left out, from the marks of the art in it.

    One pixel of it is one of the guide's; the holes show the empty background.
    """
    face = faces(design.enclosure)["top"]
    size = (round(face.width_mm * PX) + 20, round(face.height_mm * PX) + 20)
    centre = face.to_world(np.array([face.width_mm / 2 + 0.013, face.height_mm / 2 - 0.017]))  # on no pixel's corner
    camera = Camera(eye=tuple(centre + 300 * face.out), target=tuple(centre), up=(0, 1, 0), ortho_mm=size[1] / PX)
    bare = frozenset({"hardware", "inside", "lid"})
    _, module, _ = engines.choose(engine)
    with module.open(assemble(design, presets()["cutout"], look="proof")) as session:
        shot = Shot(camera=camera, width_px=size[0], height_px=size[1], look="proof", hidden=bare)  # type: ignore[arg-type]
        seen = session.render(shot).pixels
    solid, light = seen[..., 3], seen[..., :3].mean(axis=2)
    near = (10 + CORNER_MM[0] * PX, 10 + CORNER_MM[1] * PX)  # about where the art's corner lies
    darkness = np.where(solid > 0.99, np.clip(1.0 - light / np.median(light), 0.0, 1.0), 0.0)
    offsets = []
    for x, y in MARKS_PX:
        got = middle(np.where(darkness > 0.1, darkness, 0.0), near[0] + x + 0.5, near[1] + y + 0.5, 12.0)
        offsets.append((got[0] - x - 0.5, got[1] - y - 0.5))
    assert np.ptp(np.array(offsets), axis=0) == pytest.approx((0.0, 0.0), abs=0.5)
    left, top = np.mean(offsets, axis=0) - np.array(CORNER_MM) * PX
    found = {}
    for name, (u, v, across) in HOLES.items():
        x, y = middle(1.0 - solid, left + u * PX, top + v * PX, 0.7 * across * PX)
        found[name] = ((x - left) / PX, (y - top) / PX)
    return found


def test_guide_template_and_layout_agree(design: Design) -> None:
    drawn, printed = in_guide(design), in_template(design)
    for name, (u, v, _) in HOLES.items():
        assert drawn[name] == pytest.approx((u, v), abs=HALF_MM), name
        assert printed[name] == pytest.approx((u, v), abs=HALF_MM), name
        assert drawn[name] == pytest.approx(printed[name], abs=HALF_MM), name


@pytest.mark.gl
def test_picture_agrees(design: Design) -> None:
    drawn, seen = in_guide(design), in_picture(design, "raster")
    for name in HOLES:
        assert seen[name] == pytest.approx(drawn[name], abs=HALF_MM), name
