"""Whole comparisons, rendered small: one scale for all, every file that was asked for, pictures taken once."""

from __future__ import annotations

import io
import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from command import typed
from pedal_bench import PLAIN, pedal, project
from PIL import Image
from scipy import ndimage

from mockup.comparison import files as comparison_files
from mockup.comparison.columns import Column
from mockup.comparison.options import CompareOptions
from mockup.comparison.sights import across, sights
from mockup.model.design import Design
from mockup.model.errors import InputError
from mockup.picture import framing
from mockup.picture.open_engine import take as usual
from mockup.picture.options import PictureRequest
from mockup.picture.shots import Sight, Taken
from mockup.scene.views import VIEWS

pytestmark = pytest.mark.slow

DRAFT = {"quality": "draft", "look": "proof", "background": "#ffffff", "light": "white"}
MAGENTA = 'paint = "#ff00ff"'


def bare(width_mm: float) -> Design:
    """Return a magenta box without parts or film, so wide at its rim and 100 mm long."""
    text = f'name = "Box"\n[box]\nlength = 100\nwidth = {width_mm}\nheight = 30\n[finish]\n{MAGENTA}\n'
    design = pedal(text)
    assert design.enclosure.width_mm == width_mm
    return design


@pytest.mark.gl
def test_a_box_120_wide_is_a_fifth_wider_on_the_sheet_than_one_of_100() -> None:
    columns = [Column(label=str(width), design=bare(width)) for width in (100.0, 120.0)]
    options = CompareOptions(view=("above",), **DRAFT, output=("sheet.png",), size=(400, 360))
    result = comparison_files.make(columns, options)
    with Image.open(io.BytesIO(result.files["sheet.png"])) as image:
        pixels = np.asarray(image.convert("RGB")).astype(int)
    is_paint = (pixels[..., 0] > 150) & (pixels[..., 2] > 150) & (pixels[..., 1] < 90)
    found, count = ndimage.label(is_paint)
    boxes = [each for each in ndimage.find_objects(found) if each[0].stop - each[0].start > 100]
    assert count >= 2 and len(boxes) == 2
    (tall, wide), (other_tall, other_wide) = ([side.stop - side.start for side in each] for each in boxes)
    assert other_wide / wide == pytest.approx(1.2, abs=1.5 / wide)  # to the pixel, either way
    assert other_tall == pytest.approx(tall, abs=1)
    assert other_wide / other_tall == pytest.approx(1.2, abs=2 / tall)


def test_one_camera_holds_every_pedal_and_the_largest_fills_the_crop() -> None:
    designs = [bare(60.0), bare(120.0)]
    for view in ("above", "three-quarter", "player"):
        (sight,) = sights(designs, CompareOptions(view=(view,)))
        size = (sight.width_px, sight.height_px)
        for design in designs:
            seen = framing.projected(sight.camera, size, framing.extent(design))
            assert (seen > 0).all() and (seen < size).all()
        widest = framing.projected(sight.camera, size, framing.extent(designs[1]))
        filled = (widest.max(axis=0) - widest.min(axis=0)) / size
        # The margin is 8 % a side; a crop's other side is rounded to even pixels.
        assert filled.max() == pytest.approx(1.0 - 2 * VIEWS[view].margin, abs=0.02)


def test_an_extent_is_all_that_a_camera_needs_of_a_scene() -> None:
    from mockup.api import build
    from mockup.scene.cameras import frame

    design = pedal()
    points = np.concatenate([body.mesh.vertices for body in build(design).bodies])
    hull = framing.extent(design)
    assert len(hull) < len(points) / 4
    for name in ("above", "three-quarter", "player", "left"):
        whole, quick = (frame(VIEWS[name], each, 1.3) for each in (points, hull))
        assert np.allclose(whole.eye, quick.eye, atol=1e-6)
        assert np.allclose(whole.basis(), quick.basis(), atol=1e-6)  # how far along its axis it aims is no matter
        assert (whole.ortho_mm, whole.fov_deg) == pytest.approx((quick.ortho_mm, quick.fov_deg))


class Counted:
    """Takes blank pictures in place of rendered ones, and counts them."""

    def __init__(self) -> None:
        self.taken: Counter[tuple[str | None, Sight]] = Counter()
        self.sessions = 0

    def __call__(self, design: Design, sights: Sequence[Sight], request: PictureRequest) -> Taken:
        from mockup.model.picture import Picture

        self.sessions += 1
        self.taken.update((design.variant, sight) for sight in sights)
        blank = tuple(Picture(pixels=np.full((sight.height_px, sight.width_px, 3), 128, np.uint8)) for sight in sights)
        return Taken(pictures=blank, notes=("said once",))


@pytest.fixture
def three() -> list[Column]:
    text = PLAIN + '[variants.night]\nfinish = { paint = "#26324a" }\n[variants.dawn]\nfinish = { sheen = "matte" }\n'
    from pedal_bench import ART

    from mockup import api

    return [Column(label=str(name), design=api.loads(text, {"art.png": ART}, name)) for name in (None, "night", "dawn")]


def test_each_picture_is_taken_once_for_all_files_and_each_pedal_in_one_go(three: list[Column]) -> None:
    take = Counted()
    options = CompareOptions(size=(64, 64), output=("a.png", "a.pdf", "a.html"), turntable="a.gif", frames=3)
    result = comparison_files.make(three, options, take=take)
    assert list(result.files) == ["a.png", "a.pdf", "a.html", "a.gif"]
    assert set(take.taken.values()) == {1}
    assert len(take.taken) == 3 * (2 + 3)  # two views and three angles
    assert take.sessions == 3 * 2
    assert result.notes == ("said once",)
    assert result.files["a.pdf"].startswith(b"%PDF") and result.files["a.html"].startswith(b"<!DOCTYPE html>")
    assert result.facts["files"] == list(result.files)
    json.dumps(result.facts)


@pytest.mark.parametrize(("name", "kind"), [("t.gif", "GIF"), ("t.webp", "WEBP"), ("t.apng", "PNG")])
def test_columns_turn_together(three: list[Column], name: str, kind: str) -> None:
    take = Counted()
    result = comparison_files.make(three, CompareOptions(size=(64, 48), turntable=name, frames=4), take=take)
    assert list(result.files) == [name]
    with Image.open(io.BytesIO(result.files[name])) as image:
        assert image.format == kind
        assert image.n_frames == 1 or kind == "PNG" or image.n_frames == 4
        assert image.size[0] > across(3, [64 / 48]) * 64
    angles = {(sight.turn_deg, sight.camera) for _, sight in take.taken}
    assert sorted(angle for angle, _ in angles) == [0.0, 90.0, 180.0, 270.0]
    assert len({camera for _, camera in angles}) == 1


def test_a_film_plays(three: list[Column]) -> None:
    result = comparison_files.make(
        three[:2], CompareOptions(size=(64, 48), turntable="t.mp4", frames=3), take=Counted()
    )
    assert result.files["t.mp4"][4:8] == b"ftyp"  # ISO/IEC 14496-12 4.3


def test_too_large_a_turn_is_refused_before_it_is_rendered(three: list[Column]) -> None:
    take = Counted()
    with pytest.raises(InputError, match="megapixels"):
        comparison_files.make(three, CompareOptions(size=(4000, 4000), turntable="t.gif", frames=360), take=take)
    assert take.sessions == 0
    with pytest.raises(InputError, match="a turn lasts"):
        CompareOptions(turntable="t.gif", turn_seconds=0.0)


@pytest.mark.gl
def test_pictures_come_in_the_order_asked_for_each_at_its_own_angle() -> None:
    design = bare(60.0)  # 100 mm long
    (sight,) = sights([design], CompareOptions(view=("above",), size=(120, 120)))
    taken = usual(design, [replace(sight, turn_deg=90.0), sight], PictureRequest(**DRAFT))
    sides = []
    for picture in taken.pictures:
        rows, columns = np.nonzero((picture.pixels[..., 0] > 150) & (picture.pixels[..., 1] < 90))
        sides.append((np.ptp(columns) + 1, np.ptp(rows) + 1))
    assert sides[0] == pytest.approx(sides[1][::-1], abs=1)
    assert sides[0][0] / sides[0][1] == pytest.approx(100 / 60, rel=0.04)


@pytest.mark.gl
@pytest.mark.slow
def test_the_command_writes_what_it_is_asked_for(tmp_path: Path) -> None:
    text = PLAIN + '[variants.night]\nfinish = { paint = "#26324a" }\n'
    layout = project(tmp_path / "tide", text)
    asked = "--size 96x96 --quality draft --view above -o one/a.png -o a.pdf --turntable a.webp --frames 2 --json"
    done = typed("compare", str(layout), *asked.split(), cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert told["files"] == ["one/a.png", "a.pdf", "a.webp"]
    assert all((tmp_path / name).stat().st_size > 1000 for name in told["files"])
    assert [each["label"] for each in told["pedals"]] == ["as designed", "night"]
    assert told["pedals"][1]["differences"][0]["text"].startswith("paint: #7fa8a3 becomes #26324a")
