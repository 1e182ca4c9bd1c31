"""The examples are the gallery and a test at once: they load, hold no bad hole, and look as they did."""

from __future__ import annotations

import importlib.util
import io
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
from PIL import Image

import mockup
from mockup import api

pytestmark = pytest.mark.slow

EXAMPLES = Path(__file__).parent.parent / "examples"
LAYOUTS = sorted(EXAMPLES.glob("*/layout.toml"))
GALLERY = sorted(EXAMPLES.glob("gallery/*/layout.toml"))
VERSIONS = [(path, name) for path in [*LAYOUTS, *GALLERY] for name in (None, *api.variants(path))]


def script(path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """Load what draws the art of examples, with nothing compiled left beside it: examples are copied whole."""
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    monkeypatch.setattr(sys, "path", [str(EXAMPLES), *sys.path])
    spec = importlib.util.spec_from_file_location(f"draw_{path.parent.name}", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    sys.modules.pop("press", None)
    return module


def test_there_are_three() -> None:
    assert len(LAYOUTS) >= 3


def test_the_gallery_ranges_over_paints_knobs_and_boxes() -> None:
    designs = [mockup.load(path) for path in GALLERY]
    assert len(designs) == 12
    assert {design.finish.sheen.name for design in designs} == {"gloss", "satin", "matte", "hammered", "flake", "bare"}
    assert len({part.knob.style for design in designs for part in design.parts if part.knob}) == 7
    assert {design.enclosure.width_mm > design.enclosure.length_mm for design in designs} == {True, False}
    assert {decal.film.name for design in designs for decal in design.decals} == {"clear", "white"}


def test_gallery_script_draws_the_committed_art(monkeypatch: pytest.MonkeyPatch) -> None:
    module = script(EXAMPLES / "gallery" / "draw.py", monkeypatch)
    drawn = module.draw()
    assert set(drawn) == {f"{path.parent.name}/art.svg" for path in GALLERY}
    for name, data in drawn.items():
        assert (EXAMPLES / "gallery" / name).read_bytes() == data, name
        assert len(data) < 40_000, "small enough to read"


@pytest.mark.parametrize(("path", "variant"), VERSIONS, ids=lambda each: getattr(each, "parent", Path(str(each))).name)
def test_every_version_builds_with_no_bad_hole(path: Path, variant: str | None) -> None:
    scene = mockup.build(mockup.load(path, variant))
    assert scene.notes == ()
    assert {"box", "lid", "hardware", "inside"} == {body.group for body in scene.bodies}


@pytest.mark.parametrize(("path", "variant"), VERSIONS, ids=lambda each: getattr(each, "parent", Path(str(each))).name)
def test_every_version_can_be_built_by_our_own_checks(path: Path, variant: str | None) -> None:
    """Nobody should learn a layout from an example that its own program would stop."""
    found = [each for each in mockup.check(mockup.load(path, variant)) if each.severity == "stop"]
    assert [each.title for each in found] == []


def test_art_of_600_dpi_is_as_large_as_its_pixels_make_it() -> None:
    """1420 and 2660 px at 600 dpi are 1420 x 25.4 / 600 = 60.113 mm and 112.607 mm, by arithmetic."""
    (decal,) = mockup.load(EXAMPLES / "lantern_moth" / "layout.toml").decals
    assert (decal.art.width_px, decal.art.height_px) == (1420, 2660)
    assert decal.width_mm == pytest.approx(60.113, abs=0.001)
    assert decal.height_mm == pytest.approx(112.607, abs=0.001)


def test_one_is_in_inches_and_one_has_side_and_end_hardware() -> None:
    assert mockup.load(EXAMPLES / "copper_kettle" / "layout.toml").units == "in"
    faces = {part.face for part in mockup.load(EXAMPLES / "night_ferry" / "layout.toml").parts}
    assert faces == {"top", "far", "left", "right"}


@pytest.mark.parametrize("folder", [path.parent for path in LAYOUTS], ids=lambda path: path.name)
def test_art_script_draws_the_committed_art(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Fonts and rasteriser may differ by a hair between versions; the drawing may not."""
    module = script(folder / "draw.py", monkeypatch)
    drawn = module.draw()
    assert drawn == module.draw(), "drawn twice, the same bytes"
    for name, data in drawn.items():
        if name.endswith(".svg"):
            assert (folder / name).read_bytes() == data
            continue
        with Image.open(folder / name) as kept, Image.open(io.BytesIO(data)) as fresh:
            assert kept.size == fresh.size
            gap = np.abs(np.asarray(kept).astype(int) - np.asarray(fresh).astype(int))
        assert gap.mean() < 0.5


@pytest.mark.gl
@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.parent.name)
@pytest.mark.parametrize("look", ["photo", "proof"])
def test_it_looks_as_it_did(path: Path, look: str, matches_golden: Callable[..., None]) -> None:
    view = "three-quarter" if look == "photo" else "above"
    picture = mockup.still(mockup.load(path), view=view, size=(400, 300), quality="draft", look=look).picture
    matches_golden(f"{path.parent.name}-{look}", picture.pixels)


@pytest.mark.gl
def test_the_pedal_fills_its_own_picture_and_the_lamp_shines() -> None:
    """An independent look at one picture: paint where paint is, dark knobs, an orange lamp."""
    design = mockup.load(EXAMPLES / "lantern_moth" / "layout.toml")
    pixels = mockup.still(design, view="above", size=(300, 400), quality="draft").picture.pixels.astype(int)
    ivory = (np.abs(pixels - [0xEA, 0xDF, 0xC0]).max(axis=2) < 45).mean()
    assert 0.15 < ivory < 0.6
    red, green, blue = pixels[..., 0], pixels[..., 1], pixels[..., 2]
    assert ((red > 200) & (green > 90) & (green < 190) & (blue < 110)).sum() > 20, "the lamp is orange, not pink"
    assert (pixels.max(axis=2) < 60).mean() > 0.01, "black knobs"
