"""Art drawn on the spot with Pillow, and pedals to lay it on; no test itself.

All places are in face millimetres of the top of a 60 x 112 x 31 mm box (top face 58 by 110, flat 55.04
by 107.04 from (1.47, 1.47)); the film covers 52 by 102 mm in its middle unless told otherwise.
"""

from __future__ import annotations

import importlib
from collections.abc import Iterable, Sequence
from dataclasses import replace
from importlib import resources

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from mockup import knobs
from mockup.checks.panel.built import Built
from mockup.checks.report.sentences import named
from mockup.enclosure.sizes import SIZES
from mockup.films import films
from mockup.finishes import sheens
from mockup.hardware import kinds
from mockup.model.design import Design, Placement
from mockup.model.enclosure import FaceName, faces
from mockup.model.finding import Finding
from mockup.model.finish import Artwork, Decal, Finish
from mockup.model.label import Label
from mockup.model.part import Lamp

BOX = SIZES["112x60x31"]
TOP = faces(BOX)["top"]
MIDDLE = TOP.width_mm / 2
FILM = (52.0, 102.0)
KINDS = kinds()
WHITE, BLACK = (1.0, 1.0, 1.0), (0.0, 0.0, 0.0)
READING = ("visibility", "contrast", "pointer_contrast", "letter_height", "swallowed_colour", "colour_shift")
LAYING_OUT = ("resolution", "sharpness", "proportion", "margins")
PRINTING = ("thin_lines", "background_layer", "guide_lines", "registration")
CHECKS = (*READING, *LAYING_OUT, *PRINTING)


class Desk:
    """A sheet of film that is drawn on in face millimetres; drawn `fine` times larger, then averaged down."""

    def __init__(
        self, dpi: float = 300.0, film: tuple[float, float] = FILM, fine: int = 4, ground: str | None = None
    ) -> None:
        self.dpi, self.film, self.fine = dpi, film, fine
        self.size = (round(film[0] * dpi / 25.4), round(film[1] * dpi / 25.4))
        self.corner = (MIDDLE - film[0] / 2, TOP.height_mm / 2 - film[1] / 2)
        self.ground = ground or "#ffffff00"
        self.picture = Image.new("RGBA", (self.size[0] * fine, self.size[1] * fine), self.ground)
        self.pen = ImageDraw.Draw(self.picture)
        self.drawn = (*self.picture.size, 0, 0)  # left, top, right, bottom of all that was drawn

    def px(self, mm: float) -> float:
        return mm * self.dpi / 25.4 * self.fine

    def at(self, u: float, v: float) -> tuple[float, float]:
        return self.px(u - self.corner[0]), self.px(v - self.corner[1])

    def covers(self, left: float, top: float, right: float, bottom: float) -> None:
        """Remember that something was drawn in a rectangle of the fine picture."""
        one, two, three, four = self.drawn
        self.drawn = (
            min(one, int(left) - 2), min(two, int(top) - 2), max(three, int(right) + 3), max(four, int(bottom) + 3)
        )  # fmt: skip

    def box(self, u: float, v: float, width: float, height: float, colour: str = "black") -> Desk:
        """A filled rectangle about its middle."""
        left, top = self.at(u - width / 2, v - height / 2)
        right, bottom = self.at(u + width / 2, v + height / 2)
        self.pen.rectangle((round(left), round(top), round(right) - 1, round(bottom) - 1), fill=colour)
        self.covers(left, top, right, bottom)
        return self

    def line(self, u1: float, v1: float, u2: float, v2: float, width: float, colour: str = "black") -> Desk:
        """A straight line with square ends, as a polygon, so that its width is exact."""
        one, other = np.array(self.at(u1, v1)), np.array(self.at(u2, v2))
        side = np.array([one[1] - other[1], other[0] - one[0]]) / np.hypot(*(other - one)) * self.px(width) / 2
        corners = [one + side, other + side, other - side, one - side]
        low, high = np.min(corners, axis=0).round(), np.max(corners, axis=0).round()
        self.covers(*low, *high)
        if u1 == u2 or v1 == v2:
            self.pen.rectangle((*low, *(high - 1)), fill=colour)
        else:
            self.pen.polygon([tuple(each) for each in corners], fill=colour)
        return self

    def ring(self, u: float, v: float, radius: float, width: float, colour: str = "black") -> Desk:
        """A circle; `radius` is to the middle of its line."""
        x, y = self.at(u, v)
        reach = self.px(radius + width / 2)
        self.covers(x - reach, y - reach, x + reach, y + reach)
        self.pen.ellipse((x - reach, y - reach, x + reach, y + reach), outline=colour, width=round(self.px(width)))
        return self

    def disc(self, u: float, v: float, radius: float, colour: str = "black") -> Desk:
        x, y = self.at(u, v)
        reach = self.px(radius)
        self.covers(x - reach, y - reach, x + reach, y + reach)
        self.pen.ellipse((x - reach, y - reach, x + reach, y + reach), fill=colour)
        return self

    def frame(self, inset: float, width: float, radius: float = 3.0, colour: str = "black") -> Desk:
        """A rounded border at an inset from the film's edge."""
        edge, (x, y) = self.px(inset), self.picture.size
        self.covers(edge, edge, x - edge, y - edge)
        self.pen.rounded_rectangle(
            (edge, edge, x - edge, y - edge), self.px(radius), outline=colour, width=round(self.px(width))
        )
        return self

    def text(self, text: str, u: float, v: float, capital: float = 3.0, colour: str = "black") -> Desk:
        """A line of capitals about its middle."""
        with resources.as_file(resources.files("font_manrope") / "files" / "Manrope-Bold.ttf") as file:
            font = ImageFont.truetype(str(file), 1000)
            tall = font.getbbox("H")[3] - font.getbbox("H")[1]
            font = ImageFont.truetype(str(file), self.px(capital) * 1000 / tall)
            self.pen.text(self.at(u, v), text, font=font, fill=colour, anchor="mm")
            self.covers(*self.pen.textbbox(self.at(u, v), text, font=font, anchor="mm"))
        return self

    def ticks(self, u: float, v: float, radius: float, count: int = 11, colour: str = "black") -> Desk:
        """Scale marks over 300 degrees."""
        for angle in np.radians(np.linspace(-150, 150, count)):
            near, far = radius, radius + 1.5
            self.line(
                u + near * np.sin(angle),
                v - near * np.cos(angle),
                u + far * np.sin(angle),
                v - far * np.cos(angle),
                0.4,
                colour,
            )
        return self

    def pixels(self) -> NDArray[np.uint8]:
        """The art, averaged down with its transparency (premultiplied, as an editor does it)."""
        whole, fine = Image.new("RGBA", self.size, self.ground).convert("RGBa"), self.fine
        left, top = (max(0, each // fine) for each in self.drawn[:2])
        right, bottom = (min(most, -(-each // fine)) for each, most in zip(self.drawn[2:], self.size, strict=True))
        if left < right and top < bottom:  # what nothing was drawn on is the ground as it was
            there = self.picture.crop((left * fine, top * fine, right * fine, bottom * fine))
            small = there.convert("RGBa").resize((right - left, bottom - top), Image.Resampling.BOX)
            whole.paste(small, (left, top))
        return np.asarray(whole.convert("RGBA"))


def artwork(pixels: NDArray[np.uint8], name: str = "art.png") -> Artwork:
    if pixels.shape[-1] == 3:
        pixels = np.dstack([pixels, np.full(pixels.shape[:2], 255, np.uint8)])
    return Artwork(name=name, pixels=np.ascontiguousarray(pixels))


def decal(art: Desk | NDArray[np.uint8], **more) -> Decal:
    pixels = art.pixels() if isinstance(art, Desk) else art
    size = art.film if isinstance(art, Desk) else FILM
    where = {
        "u_mm": MIDDLE,
        "v_mm": TOP.height_mm / 2,
        "width_mm": size[0],
        "height_mm": size[1],
        "film": films()["clear"],
    } | more
    return Decal(art=artwork(pixels), face="top", **where)


def part(name: str, kind: str, u: float, v: float, *, style: str | None = None, face: FaceName = "top", **knob):
    chosen = KINDS[kind]
    return Placement(
        name=name,
        kind=chosen,
        face=face,
        u_mm=u,
        v_mm=v,
        knob=None if style is None else replace(knobs.default(style), **knob),
        lamp=Lamp(colour=(1.0, 0.0, 0.0), is_lit=True) if chosen.is_lamp else None,
    )


def label(text: str, u: float, v: float, width: float, height: float = 3.0, **more) -> Label:
    return Label(text=text, face="top", u_mm=u, v_mm=v, width_mm=width, height_mm=height, **more)


def pedal(
    decals: Decal | Sequence[Decal] = (),
    parts: Iterable[Placement] = (),
    labels: Iterable[Label] = (),
    paint=WHITE,
    sheen="gloss",
    **finish,
) -> Design:
    return Design(
        name="test",
        source="layout.toml",
        enclosure=BOX,
        finish=Finish(paint=paint, sheen=sheens()[sheen], **finish),
        decals=(decals,) if isinstance(decals, Decal) else tuple(decals),
        parts=tuple(parts),
        labels=tuple(labels),
    )


def run(design: Design, only: Iterable[str] = CHECKS) -> list[Finding]:
    """Return the findings of the checks of reading and printing."""
    built = Built(design)
    return [
        replace(finding, check=name.replace("_", "-"))
        for name in only
        for finding in importlib.import_module(f"mockup.checks.{name}").check(built)
    ]


def names(finding: Finding) -> tuple[str, ...]:
    """Return what a finding is about, as a reader is told in millimetres."""
    return tuple(named(subject, "mm") for subject in finding.subjects)


def cloudy(seed: int, size: tuple[int, int], *, grain: float = 4.0, slope: float = 1.1) -> NDArray[np.uint8]:
    """A picture (h, w, 3) with a photograph's statistics: amplitude falls with frequency, grain on top."""
    noise = np.random.default_rng(seed)
    width, height = size
    y, x = np.fft.fftfreq(height)[:, None], np.fft.rfftfreq(width)[None, :]
    reach = np.maximum(np.hypot(x, y), 1 / max(size)) ** -slope
    planes = []
    for _ in range(3):
        wave = np.fft.irfft2(reach * np.exp(2j * np.pi * noise.random(reach.shape)), (height, width))
        planes.append(wave / wave.std())
    mixed = np.stack([planes[0] + 0.4 * plane for plane in planes], axis=-1)
    picture = 128 + 45 * mixed / mixed.std() + noise.normal(0, grain, mixed.shape)
    return np.clip(picture, 0, 255).astype(np.uint8)
