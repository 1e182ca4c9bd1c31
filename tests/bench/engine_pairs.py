"""Both engines' pictures of one pedal and how far apart they are: for the bench, and for the sheet that shows it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

import mockup
from mockup.colour.difference import difference
from mockup.colour.view import view as encoded
from mockup.engines import raster, traced
from mockup.model.scene import Camera, Scene, Shot
from mockup.picture.options import PictureRequest
from mockup.scene.assemble import assemble
from mockup.scene.cameras import frame
from mockup.scene.views import VIEWS

GALLERY: Final = Path(__file__).parent.parent.parent / "examples" / "gallery"
# none of these was looked at while the raster engine's light was set against the path tracer's
UNTUNED: Final = ("lemon_drum", "velvet_anvil", "quiet_storm", "chalk_river")
SIZE: Final = (400, 300)
SAMPLES: Final = 64  # of the path trace that counts as true, denoised: half as far from 256 as 16 are
VIEW: Final = "three-quarter"
WORST_SHOWN: Final = 12.0  # CIEDE2000; more is shown alike
_STOPS: Final = (0.0, 2.0, 4.0, 8.0, WORST_SHOWN)
_RAMP: Final = np.array([(16, 18, 26), (34, 92, 150), (228, 196, 74), (206, 52, 40), (255, 255, 255)])
_TICKS: Final = (0, 2, 4, 6, 8, 10, 12)
_WORDS: Final = "About 1 is just seen with both side by side (common practice, no source)."
_INK: Final = (20, 20, 20)

Pixels = NDArray[np.uint8]
Floats = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True, eq=False)
class Pair:
    """One pedal by both engines: encoded pictures (h, w, 3), their CIEDE2000 (h, w), which pixels are pedal."""

    name: str
    quick: Pixels
    true: Pixels
    gap: Floats
    pedal: NDArray[np.bool_]
    few: Floats | None = None

    @property
    def line(self) -> str:
        """What is said of it, over the pedal's own pixels."""
        return f"mean {self.gap[self.pedal].mean():.2f}, median {np.median(self.gap[self.pedal]):.2f}"


def three_quarter(scene: Scene, size: tuple[int, int]) -> Camera:
    """Return the turntable's camera."""
    points = np.concatenate([body.mesh.vertices for body in scene.bodies])
    return frame(VIEWS[VIEW], points, size[0] / size[1], turns_deg=[15.0 * i for i in range(24)])


def pair(name: str, *, with_few: bool = False) -> Pair:
    """Return one of the gallery's pedals, by both engines; `few` is the gap of a traced still of normal quality."""
    scene = assemble(mockup.load(GALLERY / name / "layout.toml"), PictureRequest().lighting)
    shot = Shot(camera=three_quarter(scene, SIZE), width_px=SIZE[0], height_px=SIZE[1], quality="final")
    with raster.open(scene) as session:
        quick = _shown(session.render(shot).pixels)
    few = None
    with traced.open(scene) as session:
        flat = session.render(Shot(**{**vars(shot), "look": "proof"})).pixels
        normal = session.render(Shot(**{**vars(shot), "quality": "normal"})).pixels if with_few else None
        kept = traced.SAMPLES["final"]
        traced.SAMPLES["final"] = SAMPLES  # type: ignore[index]
        try:
            true = _shown(session.render(shot).pixels)
        finally:
            traced.SAMPLES["final"] = kept  # type: ignore[index]
    if normal is not None:
        few = difference(_shown(normal) / 255.0, true / 255.0)
    gap = difference(quick / 255.0, true / 255.0)
    return Pair(name=name, quick=quick, true=true, gap=gap, pedal=flat[..., 3] > 0.999, few=few)


def _shown(pixels: NDArray[np.float32]) -> Pixels:
    return np.asarray(encoded(pixels, "photo")[..., :3])


def sheet(pairs: Sequence[Pair], width_px: int = SIZE[0]) -> Image.Image:
    """Return rows of raster, path trace and their difference, captioned, with one scale of its colours below.

    `width_px` is that of each picture on the sheet.
    """
    wide, high = width_px, round(width_px * SIZE[1] / SIZE[0])
    margin, gutter, head, line, scale = 20, 8, 44, 28, 64
    page = Image.new("RGB", (3 * wide + 2 * gutter + 2 * margin, head + len(pairs) * (high + line) + scale), "white")
    pen, font, bold = ImageDraw.Draw(page), ImageFont.load_default(size=15), ImageFont.load_default(size=17)
    lefts = [margin + place * (wide + gutter) for place in range(3)]
    captions = (
        "raster",
        f"path traced, {SAMPLES} samples a pixel",
        "how far apart: CIEDE2000 per pixel",
    )
    for left, caption in zip(lefts, captions, strict=True):
        pen.text((left + wide / 2, head / 2), caption, _INK, bold, anchor="mm")
    for row, each in enumerate(pairs):
        top = head + row * (high + line)
        for left, pixels in zip(lefts, (each.quick, each.true, coloured(each.gap)), strict=True):
            page.paste(Image.fromarray(pixels).resize((wide, high), Image.Resampling.LANCZOS), (left, top))
        title = each.name.replace("_", " ").title()
        pen.text((margin, top + high + 5), f"{title}: over the pedal, {each.line}", _INK, font)
    left, top = lefts[2], head + len(pairs) * (high + line) + 10
    bar = coloured(np.repeat(np.linspace(0.0, WORST_SHOWN, wide)[None], 14, axis=0))
    page.paste(Image.fromarray(bar), (left, top))
    pen.rectangle([(left - 1, top - 1), (left + wide, top + 14)], outline=_INK)
    for tick in _TICKS:
        x = left + tick / WORST_SHOWN * (wide - 1)
        pen.line([(x, top + 14), (x, top + 19)], _INK)
        end = {_TICKS[0]: "la", _TICKS[-1]: "ra"}.get(tick, "ma")
        pen.text((x, top + 21), f"{tick}" if tick < WORST_SHOWN else f"{tick}+", _INK, font, anchor=end)
    pen.text((margin, top + 4), _WORDS, _INK, font)
    return page


def coloured(gap: Floats) -> Pixels:
    """Return differences as colours: dark for none, then blue, yellow, red and white."""
    return np.stack([np.interp(gap, _STOPS, _RAMP[:, k]) for k in range(3)], axis=2).astype(np.uint8)
